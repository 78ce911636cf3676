"""What is wrong with the content: where, what, why, and how to mend it."""

import difflib
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One mistake in a content file; line and column count from 1."""

    file: str
    line: int
    column: int
    what: str
    why: str
    mend: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}: {self.what}: {self.why}. {self.mend}"


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
        super().__init__("\n".join(str(fault) for fault in self.faults))


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
