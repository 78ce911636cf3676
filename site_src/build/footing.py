"""What the numbers rest on: how many on a law, on copies, on memory, on laws of nature, on nothing.

A statement of a source is judged by its weakest word: whoever says “no source” anywhere counts as
having none, however good the rest is.
"""

import inspect
import re
from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from engine.advice.explain import OPENED
from engine.model.guide import Guide
from site_src.build.provenance import ORIGINS, SEEN_WORDS

NONE: Final = "common practice, no source"
KINDS: Final = (
    (NONE, r"no source"),
    ("assumed in a range, and measured on the rig", r"^Assumed\b"),
    ("from memory", r"memory"),
    ("trade pages, copies and manuals", r"secondary|seen|trade|quoted|copies|[Mm]anuals?\b"),
    ("a law or a standard", r"\b(?:CFR|NEC|ABYC|IEC|ISO|NBS|ASTM|DIN)\b"),
    ("the maker's own figures", r"[Mm]aker|parts' data"),
    (
        "arithmetic and laws of nature",
        r"conservation|Ohm|Joule|Kirchhoff|definition|arithmetic|sensible heat"
        r"|each limit by itself",
    ),
)
"""Kinds from the weakest to the strongest, but for the last two, with the words that tell them."""
OWN: Final = "another source of this shop"
SOURCE = re.compile(r"^Source: (.*?)(?=\n\s*\n|\Z)", re.MULTILINE | re.DOTALL)


@dataclass(frozen=True, slots=True)
class Footing:
    """Some numbers, and how many of them rest on what."""

    what: str
    counts: tuple[tuple[str, int], ...]

    @property
    def total(self) -> int:
        """How many numbers there are."""
        return sum(count for _, count in self.counts)

    def share(self, kind: str) -> float:
        """The share that rests on one kind, 0 … 1."""
        return dict(self.counts).get(kind, 0) / self.total


def kind_of(source: str) -> str:
    """What a statement of a source rests on, by its weakest word.

    Raises
    ------
    ValueError : if it has none of the words by which kinds are told.

    >>> kind_of("Ohm's law; NEC chapter 9 table 8"), kind_of("definition; 1.25: from memory")
    ('a law or a standard', 'from memory')
    """
    for kind, words in KINDS:
        if re.search(words, source):
            return kind
    raise ValueError(f"this source is of no kind that is counted: {source!r}")


def step_sources() -> list[str]:
    """The sources of every step that a reader may open on an answer, a step a role."""
    return [
        _source(inspect.getdoc(formula) or "")
        for opened in OPENED.values()
        for formula in opened.formulas
    ]


def footings(guide: Guide) -> tuple[Footing, ...]:
    """What the steps of an answer, the shop's figures and the documents of the tables rest on."""
    tables = Counter(SEEN_WORDS[each.seen] for found in ORIGINS.values() for each in found)
    return (
        _footing("Steps that an answer opens", map(kind_of, step_sources())),
        _footing(
            "Figures that this shop plans with", map(_of_shop, guide.planning.source.values())
        ),
        Footing("Documents behind the tables", tuple(tables.most_common())),
    )


def _of_shop(source: str) -> str:
    """The same for what a shop wrote, which may know other sources than ours."""
    try:
        return kind_of(source)
    except ValueError:
        return OWN


def _footing(what: str, kinds: Iterable[str]) -> Footing:
    return Footing(what, tuple(Counter(kinds).most_common()))


def _source(text: str) -> str:
    found = SOURCE.search(text)
    return " ".join(found[1].split()) if found else ""
