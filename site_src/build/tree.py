"""Draws every state of the short path as a real page."""

import html
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import jinja2
from mkdocs.config.defaults import MkDocsConfig

from engine.model.guide import Guide
from engine.respond import Page, conversation_of, respond_to
from engine.tree import states

FIELDS = ("title", "description", "path", "content")
MARK = re.compile(r"@@rig-(" + "|".join(FIELDS) + ")@@")
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
    """Write ``<path>/index.html`` for every state of the guide and return how many there are.

    In one process: the pages share the outcomes worked out for others, and two processes that
    each worked them out anew took as long.
    """
    paths = states(conversation_of(guide))
    shells: dict[tuple[str, int], tuple[str, ...]] = {}
    size = 0
    for count, path in enumerate(paths, start=1):
        page = respond_to(guide, path)
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
