"""Notes which formula was called with what, while an answer is explained; else it only calls.

The plan calls a formula that a reader may open by `step`, with the role that it plays there. While
`noting` is on, each such call is noted with the numbers that were put in and what came out.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any, NamedTuple, ParamSpec, TypeVar

P = ParamSpec("P")
R = TypeVar("R")


class Told(NamedTuple):
    """A role with facts that its title fills in."""

    role: str
    facts: dict[str, str]


class Note(NamedTuple):
    """One call: its role, the formula, what was put in by parameter, and what came out."""

    role: str
    formula: str
    arguments: dict[str, Any]
    result: Any
    facts: dict[str, str]

    @property
    def id(self) -> str:
        """Role and formula, by which the step has its title."""
        return f"{self.role}.{self.formula}"


class _Book:
    """What has been noted, and the role that holds now."""

    def __init__(self) -> None:
        self.notes: list[Note] = []
        self.told = Told("", {})


_open: list[_Book] = []


def told(role: str, **facts: object) -> Told:
    """A role whose title names these facts; `name` tells several calls of one step apart."""
    return Told(role, {name: str(fact) for name, fact in facts.items()})


def step(role: str | Told, formula: Callable[P, R], *args: P.args, **kwargs: P.kwargs) -> R:
    """Call a formula in a role.

    "" is the role of the step around it and ".ac" a part of that; outside of any there is none.

    >>> with noting() as notes:
    ...     step("fuse.main", max, 2.0, 3.0)
    3.0
    >>> step("fuse.main", max, 2.0, 3.0), len(notes)
    (3.0, 1)
    """
    if not _open:
        return formula(*args, **kwargs)
    book = _open[-1]
    before = book.told
    given = role if isinstance(role, Told) else Told(role, {})
    book.told = now = Told(_within(before.role, given.role), {**before.facts, **given.facts})
    plain = getattr(formula, "__wrapped__", formula)  # what is kept would hide the steps within
    try:
        result: R = plain(*args, **kwargs)
    finally:
        book.told = before
    if now.role and result is not None:
        bound = _bound(plain, args, kwargs)
        book.notes.append(Note(now.role, plain.__name__, bound, result, now.facts))
    return result


@contextmanager
def noting() -> Iterator[list[Note]]:
    """Note every step until the end of the block."""
    book = _Book()
    _open.append(book)
    try:
        yield book.notes
    finally:
        _open.remove(book)


def latest(notes: list[Note]) -> list[Note]:
    """The last call of each step, in order; what was tried before it was given up."""
    found: dict[tuple[str, str], Note] = {}
    for note in notes:
        key = (note.id, note.facts.get("name", ""))
        found.pop(key, None)
        found[key] = note
    return list(found.values())


def _within(around: str, role: str) -> str:
    if role.startswith("."):
        return around and around + role
    return role or around


def _bound(formula: Any, args: tuple[Any, ...], kwargs: dict[str, Any]) -> dict[str, Any]:
    """The arguments by parameter, defaults included; none for what Python does not show."""
    code = getattr(formula, "__code__", None)
    if code is None:
        return {}
    names = code.co_varnames[: code.co_argcount]
    defaults = formula.__defaults__ or ()
    kept = dict(zip(names[len(names) - len(defaults) :], defaults, strict=True))
    return {
        **kept,
        **(formula.__kwdefaults__ or {}),
        **dict(zip(names, args, strict=False)),
        **kwargs,
    }
