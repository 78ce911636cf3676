"""The pages of the tree as the engine draws them, by as many processes as there are processors.

Pages share outcomes that were worked out for others, but only those of one kind of rig do: each
kind goes to one process.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from engine.conversation import Key
from engine.model.guide import Guide
from engine.respond import conversation_of, respond_to
from engine.tree import states
from engine.ways import Signature
from guide.garbage import collect_seldom
from guide.processes import in_processes
from site_src.build.cards import Card, card_of
from site_src.build.fields import Around, fields_of, without_fields
from site_src.build.numbers import NumbersPage, parted


@dataclass(frozen=True, slots=True)
class DrawnPage:
    """What the engine drew of one state, and the card of its preview; `html` goes into a shell.

    numbers : the page of its numbers, which stand beside it; None where it has none
    """

    kind: str
    title: str
    description: str
    path: str
    html: str
    card: Card
    numbers: NumbersPage | None


@dataclass
class _Worker:
    """What a process draws from."""

    guide: Guide | None = None
    fields: dict[str, Around] | None = None


_worker = _Worker()


def drawn_pages(guide: Guide) -> Iterator[DrawnPage]:
    """The page of every state, in the order of `states`; the drawing begins at once."""
    conversation = conversation_of(guide)
    paths = states(conversation)
    kinds: dict[str, list[str]] = {}
    for path in paths:
        kinds.setdefault(path.partition("/")[0], []).append(path)
    largest_first = sorted(kinds.values(), key=len, reverse=True)
    drawn = in_processes(_draw, largest_first, _start, (guide, conversation.known()))
    return _in_order(paths, drawn)


def _in_order(paths: tuple[str, ...], drawn: Iterator[list[DrawnPage]]) -> Iterator[DrawnPage]:
    by_path = {page.path: page for pages in drawn for page in pages}
    for path in paths:
        yield by_path.pop(path)


def _start(guide: Guide, known: dict[Key, Signature]) -> None:
    collect_seldom()
    conversation_of(guide).remember(known)
    _worker.guide, _worker.fields = guide, fields_of(guide)


def _draw(paths: list[str]) -> list[DrawnPage]:
    guide, fields = _worker.guide, _worker.fields
    if guide is None or fields is None:
        raise RuntimeError("a process draws of a guide after it has been given one")
    return [draw_page(guide, path, fields) for path in paths]


def draw_page(guide: Guide, path: str, fields: dict[str, Around]) -> DrawnPage:
    """The page of one path; `path` of another one, where the answers lead there.

    fields: those that the script puts in, see `fields_of`
    """
    page = respond_to(guide, path)
    content, numbers = parted(guide, page, without_fields(page.bordered, fields))
    return DrawnPage(
        page.kind,
        page.title,
        page.description,
        page.path,
        content,
        card_of(guide, page),
        numbers,
    )
