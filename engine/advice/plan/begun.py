"""A candidate as far as no bank changes it: AC side, cooling, and what it takes of parts."""

from dataclasses import replace
from typing import NamedTuple

from engine.advice.plan.ac_side import ac_check, plan_ac
from engine.advice.plan.branches import Branches
from engine.advice.plan.cooling import plan_cooling
from engine.advice.plan.house_side import house_side_of
from engine.advice.plan.on_bank import OnBank, on_bank_of
from engine.advice.plan.parts import Known, known_parts
from engine.advice.plan.parts_on_ac import AcNeeds, ac_needs_of, parts_on_ac, wiring_of
from engine.advice.plan.parts_on_voltage import OnVoltage, parts_on_voltage
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import AcPlan, Candidate, Check, CoolingPlan, HouseSide, Supply
from engine.trace import step

_Fed = tuple[str, int, int, float]
"""What decides the AC side: layout, units, legs, and the breaker ahead of the panel."""
_Named = tuple[str, str, int]
"""A candidate of a guide: layout, unit, and how many soft starters."""


class Begun(NamedTuple):
    """A candidate that can power the rig, without its bank and its DC side."""

    candidate: Candidate
    checks: tuple[Check, ...]
    ac: AcPlan
    cooling: CoolingPlan
    house: HouseSide | None
    known: Known


class Beginning:
    """Begins candidates for the same needs, and shares what those of one voltage have in common."""

    def __init__(self, guide: Guide, needs: Needs) -> None:
        self.guide = guide
        self.needs = needs
        # By a step, so that what is explained is begun anew.
        self._whatever_the_aim = step("", _begins_of, guide, _without_aim(needs))
        self._on_bank: dict[float, OnBank] = {}

    @property
    def branches(self) -> Branches:
        """What hangs on banks for these needs beside the units."""
        return self._whatever_the_aim.branches

    def of(self, candidate: Candidate, supply: Supply) -> tuple[Begun | None, tuple[Check, ...]]:
        """Plan what no bank changes, with its checks; None where no conductor may carry it."""
        return self._whatever_the_aim.of(candidate, supply)

    def on_bank(self, bank_v: float) -> OnBank:
        """What the loads ask of a bank of this voltage."""
        found = self._on_bank.get(bank_v)
        if found is None:
            found = self._on_bank[bank_v] = on_bank_of(self.guide, self.needs, bank_v)
        return found


def _without_aim(needs: Needs) -> Needs:
    """The same needs without what only banks, limits and scores are read from."""
    return replace(needs, aim="", reserve=1.0, budget=None, payload_kg=None, assumed=())


class _Begins:
    """What is begun for needs, whatever is aimed at."""

    def __init__(self, guide: Guide, needs: Needs) -> None:
        self._guide = guide
        self._needs = needs
        self.branches = Branches(guide, needs)
        self._begun: dict[_Named, tuple[Begun | None, tuple[Check, ...]]] = {}
        self._ac: dict[_Fed, AcPlan | None] = {}
        self._on_voltage: dict[float, tuple[HouseSide | None, OnVoltage, AcNeeds]] = {}

    def of(self, candidate: Candidate, supply: Supply) -> tuple[Begun | None, tuple[Check, ...]]:
        """See `Beginning.of`."""
        key = candidate.layout, candidate.inverter.id, candidate.soft_starters
        found = self._begun.get(key)
        if found is None:
            found = self._begun[key] = self._begin(candidate, supply)
        return found

    def _begin(
        self, candidate: Candidate, supply: Supply
    ) -> tuple[Begun | None, tuple[Check, ...]]:
        guide, needs = self._guide, self._needs
        ac = self._wired(candidate, supply.feeder_a)
        checks = (ac_check(candidate, ac),)
        if ac is None:
            return None, checks
        cooling = plan_cooling(guide, needs, candidate, supply)
        house, on_voltage, ac_needs = self._shared(candidate.inverter.dc_nominal)
        on_ac = parts_on_ac(guide, ac_needs, wiring_of(candidate), ac)
        known = known_parts(guide, needs, candidate, (on_ac, cooling, on_voltage))
        return Begun(candidate, checks, ac, cooling, house, known), checks

    def _wired(self, candidate: Candidate, breaker_a: float) -> AcPlan | None:
        key = candidate.layout, candidate.units, candidate.legs, breaker_a
        if key not in self._ac:
            self._ac[key] = plan_ac(self._guide, self._needs, candidate, breaker_a)
        return self._ac[key]

    def _shared(self, bank_v: float) -> tuple[HouseSide | None, OnVoltage, AcNeeds]:
        found = self._on_voltage.get(bank_v)
        if found is None:
            guide, needs = self._guide, self._needs
            found = self._on_voltage[bank_v] = (
                house_side_of(guide, needs, bank_v),
                parts_on_voltage(guide, needs, bank_v),
                ac_needs_of(needs, bank_v),
            )
        return found


_begins_of = kept("answer", 8)(_Begins)
