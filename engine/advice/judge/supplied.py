"""What candidates can supply, with its checks; worked out once for those that differ in wiring."""

from typing import NamedTuple

from engine.advice.judge.checks import SupplyChecks, supply_checks
from engine.advice.plan.supply import Demands, supply_of
from engine.model.guide import Guide
from engine.model.needs import PowerNeeds
from engine.model.result import Candidate, Supply


class _Kind(NamedTuple):
    """What of a candidate decides what it supplies."""

    inverter: str
    units: int
    legs: int
    units_per_leg: float
    soft: bool


class Supplies:
    """The AC sides of candidates for the same needs."""

    def __init__(self, guide: Guide, needs: PowerNeeds) -> None:
        self._needs = needs
        self._demands = Demands(guide, needs)
        self._of: dict[_Kind, tuple[Supply, SupplyChecks]] = {}

    def of(self, candidate: Candidate) -> tuple[Supply, SupplyChecks]:
        """Demand and ability of a candidate, with the checks of these."""
        kind = _Kind(
            candidate.inverter.id,
            candidate.units,
            candidate.legs,
            candidate.units_per_leg,
            candidate.soft_starters > 0,
        )
        found = self._of.get(kind)
        if found is None:
            supply = supply_of(self._needs, candidate, self._demands)
            checks = supply_checks(self._needs, candidate, supply)
            found = self._of[kind] = supply, checks
        return found
