"""Whether the batteries that are there stay: each candidate with them and with new ones."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from typing import NamedTuple

from engine.advice.plan.kept import alone, joined, reasons_against
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Check, Considered, Keeping, Only
from engine.sizing.bank import ReuseFault

FAULT_OF = {
    "battery-current": "current",
    "battery-surge": "start",
    "charge-cold": "cold",
    "kept-energy": "energy",
    "kept-parallel": "strings",
    "kept-share": "share",
    "battery-parallel": "strings",
    "battery-series": "series",
}
"""Checks that tell why they cannot stay, by the code of the reason; of others it is their id."""
ELSEWHERE = ("voltage", "whole")
"""Reasons that hold at the voltage of one unit alone; at another the reason is told, too."""


class Tried(NamedTuple):
    """One candidate with new batteries and with those that are there, and why not with these.

    faults : why they are not the whole bank · joining : why new ones beside them do not help
    """

    new: Considered
    alone: Considered | None
    joined: Considered | None
    faults: tuple[ReuseFault, ...]
    joining: tuple[ReuseFault, ...]

    @property
    def best(self) -> Considered:
        """What passes and counts least; of equals, with those that are there."""
        kept = (each for each in (self.alone, self.joined) if each and each.design)
        able = (*kept, *((self.new,) if self.new.design else ()))
        return min(able, key=lambda each: each.score, default=self.new)

    @property
    def kept(self) -> tuple[Considered, ...]:
        """With those that are there, where it passes."""
        return tuple(each for each in (self.alone, self.joined) if each and each.design)


def try_all(
    guide: Guide, needs: Needs, system_v: float, design: Callable[[Only | None], Considered]
) -> Tried:
    """Design a candidate each way that the batteries of this visitor allow."""
    only, new = alone(guide, needs, system_v), design(None)
    with_theirs = design(only) if only else None
    faults = reasons_against(needs, system_v) or _missed(with_theirs)
    if only and with_theirs and not _wins(with_theirs, new):
        # More strings want more fuses and busbars than a bank of as few as will do.
        fewer = design(replace(only, use="fewest"))
        if fewer.design and (not with_theirs.design or fewer.score < with_theirs.score):
            with_theirs, faults = fewer, ()
    grown, joining = joined(guide, needs, system_v) if faults else (None, ())
    with_more = design(grown) if grown else None
    return Tried(new, with_theirs, with_more, faults, joining or _missed(with_more))


def _wins(considered: Considered, new: Considered) -> bool:
    """Whether it passes and counts no more than new ones."""
    if considered.design is None:
        return False
    return new.design is None or considered.score <= new.score


def _missed(considered: Considered | None) -> tuple[ReuseFault, ...]:
    if considered is None or considered.design is not None:
        return ()
    return tuple(_fault(check) for check in considered.failed)


def _fault(check: Check) -> ReuseFault:
    """What they can do comes first, what is asked second."""
    has, needs = check.value, check.limit
    if check.id in ("battery-current", "battery-surge"):
        has, needs = needs, has
    return ReuseFault(FAULT_OF.get(check.id, check.id), has, needs)


def keeping_of(needs: Needs, tried: Iterable[Tried]) -> Keeping | None:
    """What becomes of them in the best design of all; None where nothing is designed."""
    able = [each for each in tried if each.best.design]
    if needs.existing is None or not able:
        return None
    first = min(able, key=lambda each: each.best.score)
    design = first.best.design
    if design is None:
        return None
    bank = design.bank
    if bank.kept:
        others = [each.new for each in able if each.new.design]
        way = "joined" if bank.count > bank.kept else "alone"
    else:
        others = [found for each in able for found in each.kept]
        way = "house" if design.house and design.house.there else "replaced"
    return Keeping(
        bank=needs.existing,
        way=way,  # type: ignore[arg-type]  # one of the four above
        faults=_reasons(first, able),
        joining=first.joining,
        other=min(others, key=lambda each: each.score, default=None),
    )


def _reasons(first: Tried, able: list[Tried]) -> tuple[ReuseFault, ...]:
    """Why not in the best setup; where its voltage alone forbids it, why not at another, too."""
    faults = first.faults
    if not faults or any(each.code not in ELSEWHERE for each in faults):
        return faults
    suits = [
        each
        for each in able
        if each.faults and all(fault.code not in ELSEWHERE for fault in each.faults)
    ]
    nearest = min(suits, key=lambda each: each.best.score, default=None)
    return (*faults, *nearest.faults) if nearest else faults
