"""The words of RV power: read from their file, with every fault of it."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from guide.check_pages import DOCS, MEND, typed_figures
from guide.content_file import read_text
from guide.fault import ContentError, Fault, suggest
from guide.reading import Record, compose, read_records
from guide.setup import ROOT

GLOSSARY = ROOT / "site_src" / "glossary.yaml"
LONGEST = 120
"""Characters of a word's meaning; a tip is read at one glance."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """One word: what it means, every other name of it, and the page that tells more."""

    id: str
    word: str
    means: str
    page: str
    trade: tuple[str, ...] = ()
    printed: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    linked: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """What people type who look for it; several words may be printed alike."""
        return tuple(dict.fromkeys((self.word, *self.trade, *self.linked, *self.also)))


def read_glossary(file: Path = GLOSSARY) -> list[Term]:
    """The words in the order of the alphabet.

    Raises
    ------
    ContentError : with every fault of the file.
    """
    records, faults = _read(file)
    if faults:
        raise ContentError(faults)
    return [record.value for record in records if record.value is not None]


def glossary_faults(file: Path = GLOSSARY) -> list[Fault]:
    """Every fault of the glossary: of its form, of words defined twice, of pages that are not."""
    return _read(file)[1]


def _read(file: Path) -> tuple[list[Record[Term]], list[Fault]]:
    name = file.relative_to(ROOT).as_posix() if file.is_relative_to(ROOT) else file.name
    text = read_text(file, name)
    node = text if isinstance(text, Fault) else compose(name, text)
    if isinstance(node, Fault):
        return [], [node]
    faults: list[Fault] = []
    records = read_records(name, node, Term, faults)
    for find in (_defined_twice, _out_of_order, _without_page, _meanings):
        faults.extend(find(records))
    return records, faults


def _defined_twice(records: list[Record[Term]]) -> Iterator[Fault]:
    first: dict[str, Record[Term]] = {}
    for record in records:
        if record.value is None:
            continue
        for name in (f"id {record.id}", *dict.fromkeys(map(str.lower, record.value.names))):
            earlier = first.setdefault(name, record)
            if earlier is not record:
                line = earlier.nodes[()].start_mark.line + 1
                why = f"“{earlier.id}” in line {line} has it already"
                yield record.fault((), f"“{name}”", why, "Keep it in one of them.")


def _out_of_order(records: list[Record[Term]]) -> Iterator[Fault]:
    words = [(record.value.word.lower(), record) for record in records if record.value]
    for (before, _), (word, record) in pairwise(words):
        if word < before:
            why = f"it stands after “{before}”"
            yield record.fault(("word",), f"“{word}”", why, "Put it where the alphabet puts it.")


def _without_page(records: list[Record[Term]]) -> Iterator[Fault]:
    known = sorted(page.stem for page in (DOCS / "explained").glob("*.md"))
    for record in records:
        if record.value is not None and record.value.page not in known:
            page = record.value.page
            why = f"there is no explanatory page “{page}”"
            yield record.fault(("page",), f"“{record.id}”, page", why, suggest(page, known))


def _meanings(records: list[Record[Term]]) -> Iterator[Fault]:
    for record in records:
        means = record.value.means if record.value is not None else ""
        if len(means) > LONGEST:
            why = f"it is {len(means)} characters long, and a tip holds {LONGEST}"
            yield record.fault(("means",), f"“{record.id}”, means", why, "Say it shorter.")
        if means and not means.endswith("."):
            why, mend = "it is no whole sentence", "End it with a period."
            yield record.fault(("means",), f"“{record.id}”, means", why, mend)
        for typed in typed_figures(means):
            why = f"“{typed.text}” is typed, and the engine computes it"
            yield record.fault(("means",), f"“{record.id}”, means", why, MEND)
