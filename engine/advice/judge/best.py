"""What is recommended, and nothing else: candidates that cannot win are not worked out."""

from dataclasses import replace
from typing import NamedTuple

from engine.advice.judge.consider import (
    Banked,
    Order,
    Powered,
    able_of,
    banked_of,
    design_of,
    may_be_cheaper,
    order_of,
    sized_of,
    tried_of,
)
from engine.advice.judge.ranking import floor_of, score_of
from engine.advice.plan.bank_floor import least_bank_price
from engine.advice.plan.begun import Beginning, Begun
from engine.advice.plan.dc_begun import DcRun, begin_dc
from engine.model.guide import BankBy, Guide
from engine.model.needs import Needs
from engine.model.result import BankPlan, Candidate, Considered, Outcome, all_passed


def best_of(guide: Guide, needs: Needs, own: Outcome | None = None) -> Considered | None:
    """What `outcome_of` recommends, and nothing else; None where nothing fits.

    The candidate that may still count least goes on first: to its bank, its run, its design. When
    none may count less than the best that is designed, the rest is left.

    own: what is recommended without the aim, all else being equal; None where that is not known
    """
    able = able_of(guide, needs.power)
    if needs.existing is None:
        return _Search(guide, needs, able, own).best()
    tried = (tried_of(guide, needs, each).best for each in able)
    return min((each for each in tried if each.design), key=order_of, default=None)


class _Way(NamedTuple):
    """How far a candidate has come, in the order in which the next is taken.

    floor: a score that it does not stay below
    """

    floor: float
    place: int
    powered: Powered
    begun: Begun
    banked: Banked | None = None
    run: DcRun | None = None


class _Search:
    """The candidates on their way, and the best of those that have arrived."""

    def __init__(
        self, guide: Guide, needs: Needs, able: tuple[Powered, ...], own: Outcome | None
    ) -> None:
        self._guide, self._needs = guide, needs
        self._beginning = Beginning(guide, needs)
        self._by: BankBy = guide.priorities.aim(needs.aim).bank
        self._cheaper = may_be_cheaper(needs, self._by)
        self._bank_price = least_bank_price(guide, needs)
        self._designed = _designed(needs, own)
        self._best: tuple[Order, Considered] | None = None
        self._ways = self._begun(able)

    def _begun(self, able: tuple[Powered, ...]) -> list[_Way]:
        guide, needs, beginning = self._guide, self._needs, self._beginning
        ways = []
        for place, powered in enumerate(able):
            begun, checks = beginning.of(powered.candidate, powered.supply)
            if begun is not None and all_passed(checks):
                floor = floor_of(guide, needs, begun, self._bank_price)
                ways.append(_Way(floor, place, powered, begun))
        return ways

    def best(self) -> Considered | None:
        """The best of all; None where none fits."""
        while self._ways:
            way = min(self._ways)
            self._ways.remove(way)
            if self._best is not None and way.floor > self._best[1].score:
                break
            if way.banked is None:
                self._bank(way)
            elif way.run is None and way.banked[0] is not None and not self._cheaper:
                self._run(way, way.banked[0])
            else:
                self._design(way.powered, way.banked, way.begun, way.run)
        return self._best[1] if self._best is not None else None

    def _bank(self, way: _Way) -> None:
        guide, needs = self._guide, self._needs
        banked = banked_of(self._beginning, way.powered, self._by)
        known = self._designed.get(way.powered.candidate)
        if known is not None and known.design is not None and known.design.bank == banked[0]:
            score, contributions = score_of(guide, needs, known.design)
            self._arrived(replace(known, score=score, contributions=contributions))
            return
        if banked[0] is not None or self._cheaper:
            known_bank = None if self._cheaper else banked[0]
            floor = floor_of(guide, needs, way.begun, known_bank or self._bank_price)
            self._ways.append(way._replace(floor=floor, banked=banked))

    def _run(self, way: _Way, bank: BankPlan) -> None:
        guide, needs, powered = self._guide, self._needs, way.powered
        beside = self._beginning.branches
        run, _ = begin_dc(powered.candidate, powered.supply, bank, beside)
        if run is not None:
            floor = floor_of(guide, needs, way.begun, bank, run)
            self._ways.append(way._replace(floor=floor, run=run))

    def _design(self, powered: Powered, banked: Banked, begun: Begun, run: DcRun | None) -> None:
        found = sized_of(self._beginning, powered, banked, begun, run)
        if found.design is None and self._cheaper:
            found = design_of(self._guide, self._needs, powered)
        if found.design is not None:
            self._arrived(found)

    def _arrived(self, found: Considered) -> None:
        order = order_of(found)
        if self._best is None or order < self._best[0]:
            self._best = order, found


def _designed(needs: Needs, own: Outcome | None) -> dict[Candidate, Considered]:
    """What was designed for the same needs without an aim; a budget has a check of its own."""
    if own is None or needs.budget is not None:
        return {}
    return {each.candidate: each for each in own.considered if each.design}
