"""How well the engine agrees with what others print, compute and measure: the page's tables.

Every figure of the engine is worked out here, by calling it; the figures of the documents are those
that the tests read (`site_src/build/cases.py`).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from engine.kept import kept
from engine.units import significant
from site_src.build.cases import NEAR, Case, Document, Label, Seen, cases, found, ratio

LABELS: dict[Label, str] = {
    "table": "Against a table or an example in print",
    "library": "Against another library",
    "measurement": "Against a measurement",
}
SEEN: dict[Seen, str] = {
    "itself": "seen itself",
    "copies": "seen in copies",
    "memory": "from memory",
}
DIGITS = 3


@dataclass(frozen=True, slots=True)
class Row:
    """One case as it is read; place is where it stands, apart how far its ratio is from one."""

    what: str
    place: str
    theirs: str
    ours: str
    ratio: str
    apart: float
    why: str


@dataclass(frozen=True, slots=True)
class Compared:
    """One document with its cases."""

    document: Document
    rows: tuple[Row, ...]

    @property
    def about(self) -> str:
        """Publisher, year, edition, whether anybody saw it, and what holds for all of its cases."""
        told = self.document
        edition = f"edition: {told.edition}" if told.edition != "—" else ""
        place = self.rows[0].place if self.of_one_place else ""
        parts = (told.publisher, told.year, edition, SEEN[told.seen], place)
        return "; ".join(part for part in parts if part)

    @property
    def of_one_place(self) -> bool:
        """Whether all of its cases stand at one place of it, or are read in one way."""
        return len({row.place for row in self.rows}) == 1

    def what(self, row: Row) -> str:
        """What one of its cases is, with its place if that is not said of all."""
        place = f" ({row.place})" if row.place and not self.of_one_place else ""
        return f"{row.what}{place}"


@dataclass(frozen=True, slots=True)
class Check:
    """Everything that was checked against one kind of thing; the kinds are never mixed."""

    label: Label
    compared: tuple[Compared, ...]

    @property
    def title(self) -> str:
        """What it was checked against."""
        return LABELS[self.label]

    @property
    def rows(self) -> list[Row]:
        """Its cases, whichever document they are of."""
        return [row for each in self.compared for row in each.rows]

    @property
    def near(self) -> int:
        """Cases within a tenth."""
        return sum(row.apart <= NEAR for row in self.rows)

    @property
    def explained(self) -> int:
        """Cases further off, each with its reason."""
        return len(self.rows) - self.near

    @property
    def worst(self) -> Row | None:
        """The case that lies furthest off."""
        return max(self.rows, key=lambda row: row.apart, default=None)

    @property
    def own(self) -> int:
        """Cases that this shop measured on a rig."""
        return sum(len(each.rows) for each in self.compared if each.document.own)

    def seen(self) -> str:
        """How many of its cases rest on what was seen itself, in copies, or from memory."""
        counts = {
            words: sum(len(each.rows) for each in self.compared if each.document.seen == seen)
            for seen, words in SEEN.items()
        }
        return ", ".join(f"{count} {words}" for words, count in counts.items() if count)


@kept("language", 1)  # figures are written in a language
def agreement() -> tuple[Check, ...]:
    """What the engine was checked against, by label, and by document in the order of the files."""
    outside = [case for case in cases() if case.document]
    return tuple(Check(label, _compared(outside, label)) for label in LABELS)


@kept("never", 1)  # the cases are read once a build
def by_hand() -> int:
    """Examples that were worked by hand, and so say nothing about the world."""
    return sum(case.document is None for case in cases())


def _compared(outside: Iterable[Case], label: Label) -> tuple[Compared, ...]:
    rows: dict[str, tuple[Document, list[Row]]] = {}
    for case in outside:
        if case.document and case.document.label == label:
            rows.setdefault(case.document.title, (case.document, []))[1].append(row_of(case))
    return tuple(Compared(document, tuple(found)) for document, found in rows.values())


def row_of(case: Case) -> Row:
    """A case with the engine's own figure for it."""
    made = found(case)
    share = ratio(case, made)
    if share is None:
        raise ValueError(f"{case.name}: only figures and gauges can be compared by a ratio")
    return Row(
        what=case.name[:1].upper() + case.name[1:],
        place=case.source,
        theirs=_figure(case.gives, case),
        ours=_figure(made, case),
        ratio=f"{share:.2f}",
        apart=abs(share - 1),
        why=case.why.strip(),
    )


def _figure(value: Any, case: Case) -> str:
    if isinstance(value, str):
        return f"{value} {case.unit}"
    return f"{significant(value, DIGITS).replace('-', '−')} {case.unit}".strip()
