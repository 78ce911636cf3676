"""Draws every state of the short path as a real page."""

import html
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol
from urllib.parse import urlsplit

import jinja2
from mkdocs.config.defaults import MkDocsConfig

from engine.links import INDEX, NUMBERS
from engine.model.guide import Guide
from engine.pages.render import environment
from engine.pages.staff.answer_table import answers_page
from engine.pages.staff.show import show_page
from engine.pages.staff.staff import staff_page
from engine.pages.staff.tree_picture import tree_page
from engine.pages.units_page import PATH as RANGE
from engine.pages.units_page import draw_range
from engine.respond import conversation_of
from engine.tree import states
from engine.wording.sentences import Sentences
from site_src.build.addresses import root_of
from site_src.build.brand import picture_of
from site_src.build.cards import FOLDER as CARDS
from site_src.build.cards import Card, general_card, write_card
from site_src.build.drawn import DrawnPage
from site_src.build.joined import short
from site_src.build.offline import SHELL
from site_src.build.policy import hashes, policy

FIELDS = ("title", "description", "path", "content", "card", "card_text")
MARK = re.compile(r"@@rig-(" + "|".join(FIELDS) + ")@@")
REPORT_EVERY = 200
FINDER = SHELL / "lost-root.js"
BEFORE_PAINT = SHELL / "before-paint.js"
STAFF = {
    "staff/": staff_page,
    "staff/answers/": answers_page,
    "staff/tree/": tree_page,
    "show/": show_page,
}
"""What draws each page that staff use, by its path."""
FOLDER = "guide/"
"""Where the paths of the tree begin, below the site's root."""

ShellOf = Callable[[str, int], tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class Shell:
    """What surrounds a page of the guide: rendered once for each kind and depth, then stamped.

    form: the shop's address to which a page may send a request; "" for none
    """

    env: jinja2.Environment
    config: MkDocsConfig
    manifest: str
    page: Sentences
    form: str

    def parts(self, kind: str, depth: int, folder: str = "") -> tuple[str, ...]:
        """Return the shell for one kind of page at one depth below the site's root.

        The parts alternate between ready text and the name of the field that belongs there.

        folder: where the paths of such pages begin
        """
        root = "/".join([".."] * depth)
        return self._parts(kind, root, root, folder=folder)

    def lost_parts(self, root: str) -> tuple[str, ...]:
        """Return the shell of the page that may be shown anywhere, which finds the site's root.

        root: path of the root where the shop says that it lies; used where no script runs
        """
        finder = inline(FINDER)
        return self._parts("lost", root, ".", finder=finder)

    def _parts(
        self, kind: str, root: str, base_url: str, folder: str = "", finder: str = ""
    ) -> tuple[str, ...]:
        before_paint = inline(BEFORE_PAINT)
        scripts = "".join(f"<script>{each}</script>" for each in (finder, before_paint) if each)
        text = self.env.get_template("guide.html").render(
            config=self.config,
            root=root,
            base_url=base_url,
            finder=finder,
            before_paint=before_paint,
            page=None,
            kind=kind,
            folder=folder,
            manifest=self.manifest,
            policy=policy(hashes(scripts), engine=True, based=bool(finder), form=self.form),
            needed=self.page["engine-needed"],
            pending=self.page["engine-pending"],
            **{name: f"@@rig-{name}@@" for name in FIELDS},
        )
        return tuple(MARK.split(text))


def inline(script: Path) -> str:
    """A script as it stands in pages."""
    return short(script.read_text(encoding="utf-8"))


class Stamped(Protocol):
    """What a shell needs of a page; whoever makes one keeps it unchanged."""

    @property
    def title(self) -> str:
        """Title of the page."""

    @property
    def description(self) -> str:
        """What a search engine or a message shows below the title."""

    @property
    def path(self) -> str:
        """Where it lies."""

    @property
    def html(self) -> str:
        """What stands inside the shell."""


@dataclass(frozen=True, slots=True)
class Preview:
    """What a message shows of a page's link: the address of its card, and that in words."""

    card: str
    card_text: str


def preview_of(guide: Guide, site: Path, card: Card) -> Preview:
    """The preview of a page, its card drawn."""
    write_card(site, card)
    return Preview(f"{root_of(guide)}{CARDS}/{card.name}", card.text)


def general_preview(guide: Guide, site: Path, title: str) -> Preview:
    """The preview of a page that is no answer: the shop's own picture, where it has one."""
    card = general_card(guide, title)
    if own := picture_of(guide.shop.brand.image):
        return Preview(f"{root_of(guide)}{own}", card.text)
    return preview_of(guide, site, card)


def draw_range_page(guide: Guide, site: Path, shell: Shell) -> None:
    """Write the page of all units, which hangs beside the tree and is the same for every rig."""
    _write(RANGE, drawn_beside(guide, RANGE, site, shell), site)


def draw_staff_pages(guide: Guide, site: Path, shell: Shell) -> None:
    """Write what staff use: entry by keyboard, all answers, the tree as a picture, show mode."""
    for path in STAFF:
        _write(path, drawn_beside(guide, path, site, shell), site)


def drawn_beside(guide: Guide, path: str, site: Path, shell: Shell) -> bytes:
    """A page that hangs beside the tree: one of STAFF, or that of all units.

    Raises
    ------
    KeyError : of any other path.
    """
    if path == RANGE:
        return _stamped(guide, draw_range(guide), "question", site, shell)
    page = STAFF[path](conversation_of(guide))
    return _stamped(guide, page, page.kind, site, shell)


def _stamped(guide: Guide, page: Stamped, kind: str, site: Path, shell: Shell) -> bytes:
    preview = general_preview(guide, site, page.title)
    return stamp(shell.parts(kind, page.path.count("/")), page, preview).encode()


def _write(path: str, page: bytes, site: Path) -> None:
    file = site / path / "index.html"
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(page)


def kept_shells(shell: Shell) -> ShellOf:
    """The shells of the tree's pages, each rendered once."""
    rendered: dict[tuple[str, int], tuple[str, ...]] = {}

    def shell_of(kind: str, depth: int) -> tuple[str, ...]:
        if (kind, depth) not in rendered:
            rendered[kind, depth] = shell.parts(kind, depth, FOLDER)
        return rendered[kind, depth]

    return shell_of


@dataclass(frozen=True, slots=True)
class LostPage:
    """What a server shows for an address that it does not have."""

    title: str
    description: str
    path: str
    html: str


def lost_page(guide: Guide, site: Path, shell: Shell) -> str:
    """The page for addresses of other editions: there the engine reads what the address asks.

    It may be shown anywhere: its addresses are those from the site's root, which it finds itself.
    """
    words = guide.wording.page
    root = urlsplit(root_of(guide)).path.rstrip("/")
    lost = environment().get_template("lost.html")
    content = lost.render(page=words, root=".", pages=guide.explanations)
    page = LostPage(words["lost"], words["lost"], "", content)
    preview = general_preview(guide, site, page.title)
    return stamp(shell.lost_parts(root), page, preview)


def stamp(parts: tuple[str, ...], page: Stamped, preview: Preview) -> str:
    """Fill one page into a shell."""
    fields = {
        "title": html.escape(page.title),
        "description": html.escape(page.description),
        "path": html.escape(page.path),
        "content": page.html,
        "card": html.escape(preview.card),
        "card_text": html.escape(preview.card_text),
    }
    return "".join(fields[part] if place % 2 else part for place, part in enumerate(parts))


def tree_addresses(guide: Guide) -> list[str]:
    """Address of every page of the tree, and of the page of all units."""
    root = root_of(guide)
    paths = states(conversation_of(guide))
    return [*(f"{root}{FOLDER}{path}" for path in paths), f"{root}{RANGE}"]


def files_of(guide: Guide, page: DrawnPage, site: Path, shells: ShellOf) -> dict[str, bytes]:
    """The files of a state of the tree by their names: its page, and that of its numbers.

    shells: gives the shell for a kind of page at a depth below the site's root
    """
    depth = page.path.count("/") + 1
    preview = preview_of(guide, site, page.card)
    files = {INDEX: stamp(shells(page.kind, depth), page, preview).encode()}
    if page.numbers:
        files[NUMBERS] = stamp(shells("numbers", depth), page.numbers, preview).encode()
    return files


def write_tree(
    guide: Guide,
    out: Path,
    shell: Shell,
    pages: Iterable[DrawnPage],
    say: Callable[[str], None],
) -> int:
    """Write the files of every state of the guide into ``<path>/``; return how many there are."""
    shells = kept_shells(shell)
    size = count = 0
    for count, page in enumerate(pages, start=1):
        folder = out / page.path
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in files_of(guide, page, out.parent, shells).items():
            (folder / name).write_bytes(text)
            size += len(text)
        if count % REPORT_EVERY == 0:
            say(f"      page {count}, {size / 1e6:.1f} MB")
    say(f"      {count} pages, {size / 1e6:.1f} MB")
    return count
