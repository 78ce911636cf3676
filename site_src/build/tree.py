"""Draws every state of the short path as a real page."""

import html
import os
import re
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import jinja2
from mkdocs.config.defaults import MkDocsConfig

from engine.model.guide import Guide
from engine.respond import Page, conversation_of, respond_to
from engine.tree import states

FIELDS = ("title", "description", "path", "content")
MARK = re.compile(r"@@rig-(" + "|".join(FIELDS) + ")@@")
FEWEST_FOR_PROCESSES = 100
PAGES_A_TASK = 20
REPORT_EVERY = 200


@dataclass(frozen=True, slots=True)
class Shell:
    """What surrounds a page of the guide: rendered once for each kind and depth, then stamped."""

    env: jinja2.Environment
    config: MkDocsConfig
    archive: str

    def parts(self, kind: str, depth: int) -> tuple[str, ...]:
        """Return the shell for one kind of page at one depth below the site's root.

        The parts alternate between ready text and the name of the field that belongs there.
        """
        text = self.env.get_template("guide.html").render(
            config=self.config,
            base_url="/".join([".."] * depth),
            page=None,
            kind=kind,
            archive=self.archive,
            **{name: f"@@rig-{name}@@" for name in FIELDS},
        )
        return tuple(MARK.split(text))


def stamp(parts: tuple[str, ...], page: Page) -> str:
    """Fill one page into a shell."""
    fields = {
        "title": html.escape(page.title),
        "description": html.escape(page.description),
        "path": html.escape(page.path),
        "content": page.html,
    }
    return "".join(fields[part] if place % 2 else part for place, part in enumerate(parts))


def draw_tree(guide: Guide, out: Path, shell: Shell, say: Callable[[str], None]) -> int:
    """Write ``<path>/index.html`` for every state of the guide and return how many there are."""
    paths = states(conversation_of(guide))
    shells: dict[tuple[str, int], tuple[str, ...]] = {}
    size = 0
    for count, page in enumerate(draw_pages(guide, paths), start=1):
        form = (page.kind, page.path.count("/") + 1)
        if form not in shells:
            shells[form] = shell.parts(*form)
        text = stamp(shells[form], page).encode()
        file = out / page.path / "index.html"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(text)
        size += len(text)
        if count % REPORT_EVERY == 0 or count == len(paths):
            say(f"      page {count} of {len(paths)}, {size / 1e6:.1f} MB")
    return len(paths)


def draw_pages(guide: Guide, paths: tuple[str, ...]) -> Iterator[Page]:
    """Yield the page of every path, in order, from several processes where that pays."""
    processes = os.cpu_count() or 1
    if len(paths) < FEWEST_FOR_PROCESSES or processes == 1:
        for path in paths:
            yield respond_to(guide, path)
        return
    with ProcessPoolExecutor(processes, initializer=remember, initargs=(guide,)) as pool:
        yield from pool.map(draw_remembered, paths, chunksize=PAGES_A_TASK)


_worker: dict[str, Any] = {}


def remember(guide: Guide) -> None:
    """Keep the guide in a worker process, so that it is sent once and not with every page."""
    _worker["guide"] = guide


def draw_remembered(path: str) -> Page:
    """Draw one page in a worker process."""
    return respond_to(_worker["guide"], path)
