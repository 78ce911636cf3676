"""What is wrong with the content: where, what, why, and how to mend it."""

import difflib
from collections.abc import Iterable
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Named:
    """An id that a fault tells of: one that a list lacks, or a new one that nothing names."""

    of: str
    id: str
    new: bool = False


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One mistake in a content file; line and column count from 1.

    names: the ids that it tells of, by which faults of one mistake are found
    """

    file: str
    line: int
    column: int
    what: str
    why: str
    mend: str
    names: tuple[Named, ...] = field(default=(), compare=False)

    def __str__(self) -> str:
        place = f"{visible(self.file)}:{self.line}:{self.column}"
        return f"{place}: {visible(self.what)}: {visible(self.why)}. {visible(self.mend)}"


class Refusal(Exception):  # noqa: N818 - the command line tells it as what it is
    """Input that a command cannot use: says which, why, and what to do."""


def visible(text: str, longest: int = 600) -> str:
    """A text for one line of a terminal: each sign that cannot be shown as its code, not too long.

    >>> visible("a\\nb" + chr(27) + chr(0x202E)), visible("abcdef", 3)
    ('a\\\\nb\\\\x1b\\\\u202e', 'abc…')
    """
    shown = "".join(
        sign if sign.isprintable() else sign.encode("unicode_escape").decode("ascii")
        for sign in text[: longest + 1]
    )
    return shown if len(shown) <= longest else f"{shown[:longest]}…"


MOST_TOLD = 400
"""Faults of one run that are told; whoever has more mends these first."""


class ContentError(Exception):
    """The content cannot be used; holds every fault of the run."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        # A value taken over by "<<" is read once for each taker: its fault is told once, of the
        # entry in which it stands, which is read first.
        once: dict[tuple[object, ...], Fault] = {}
        for fault in faults:
            place = (fault.file, fault.line, fault.column, fault.why, fault.mend)
            once.setdefault(place, fault)
        self.faults = tuple(sorted(once.values()))
        told = [str(fault) for fault in self.faults[:MOST_TOLD]]
        if len(self.faults) > MOST_TOLD:
            told.append(f"… and {len(self.faults) - MOST_TOLD:,} more; mend these first.")
        super().__init__("\n".join(told))


def nearest(word: str, known: Iterable[str]) -> list[str]:
    """The known word that this one was probably meant to be; empty where none is near."""
    return difflib.get_close_matches(word, list(known), n=1)


def suggest(word: str, known: Iterable[str]) -> str:
    """The mend for a word that is not known: the nearest one, or all where none is near."""
    words = list(known)
    near = nearest(word, words)
    if near:
        return f"Did you mean “{near[0]}”?"
    return f"Use one of: {', '.join(words)}." if words else "There is none to choose from."


def counted(number: int, noun: str) -> str:
    """A number of things in words.

    >>> counted(1, "fault"), counted(2, "fault")
    ('1 fault', '2 faults')
    """
    return f"{number} {noun}{'' if number == 1 else 's'}"
