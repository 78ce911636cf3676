"""What open questions can lead to, and in what two such differ."""

from dataclasses import dataclass
from itertools import combinations, starmap

Signature = tuple[tuple[str, ...], ...]

EFFECTS = ("fits", "wiring", "unit", "bank", "parts", "warnings")
"""What an answer can change for a visitor, the largest first."""


@dataclass(frozen=True, slots=True, eq=False)
class Ways:
    """What the open questions lead to: the first of them, and the ways of each of its choices.

    index: place of that question among those of the short path; their number at the end
    signature: of the outcome, where nothing is open
    """

    index: int
    branches: tuple["Ways", ...]
    signature: Signature


def _pairs(first: Ways, other: Ways) -> list[tuple[Ways, Ways]]:
    """The same two, one question further; what only one of them asks is free."""
    if first.index == other.index:
        return list(zip(first.branches, other.branches, strict=True))
    if first.index < other.index:
        return [(branch, other) for branch in first.branches]
    return [(first, branch) for branch in other.branches]


class Comparison:
    """Compares ways two by two, each pair once; forgotten with the conversation that has it."""

    def __init__(self) -> None:
        self._differ: dict[tuple[int, int], bool] = {}
        self._effects: dict[tuple[int, int], frozenset[str]] = {}

    def differ(self, first: Ways, other: Ways) -> bool:
        """Whether the two lead to something else for one way to answer what both ask."""
        if first is other:
            return False
        key = (id(first), id(other))
        if key not in self._differ:
            ended = first.index == other.index and first.signature != other.signature
            self._differ[key] = ended or any(starmap(self.differ, _pairs(first, other)))
        return self._differ[key]

    def effects(self, ways: list[Ways]) -> tuple[str, ...]:
        """In what any two of these differ for some way to answer what both ask; see EFFECTS."""
        found = {each for pair in combinations(ways, 2) for each in self._between(*pair)}
        return tuple(each for each in EFFECTS if each in found)

    def _between(self, first: Ways, other: Ways) -> frozenset[str]:
        if first is other:
            return frozenset()
        key = (id(first), id(other))
        if key not in self._effects:
            pairs = _pairs(first, other)
            below = [self._between(*pair) for pair in pairs]
            self._effects[key] = frozenset().union(*below) if pairs else _apart(first, other)
        return self._effects[key]


def _apart(first: Ways, other: Ways) -> frozenset[str]:
    """In what two outcomes differ, by their signatures: see `Conversation.signature`."""
    ((key, *rest), (other_key, *other_rest)) = (first.signature, other.signature)
    if not key or not other_key:
        return frozenset({"fits"} if key or other_key else ())
    (layout, *unit), (other_layout, *other_unit) = key, other_key
    differs = (
        ("wiring", layout != other_layout),
        ("unit", unit[:2] != other_unit[:2]),
        ("bank", unit[3:] != other_unit[3:]),
        ("parts", rest[0] != other_rest[0] or unit[2] != other_unit[2]),
        ("warnings", rest[1] != other_rest[1]),
    )
    return frozenset(name for name, is_other in differs if is_other)
