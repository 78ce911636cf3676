"""A candidate as far as no bank changes it: AC side, cooling, and what it takes of parts."""

from typing import NamedTuple

from engine.advice.plan.ac_side import plan_ac
from engine.advice.plan.bank_floor import least_bank_price
from engine.advice.plan.branches import Branches
from engine.advice.plan.cooling import plan_cooling
from engine.advice.plan.house_side import house_side_of
from engine.advice.plan.on_bank import OnBank, on_bank_of
from engine.advice.plan.parts import Known, known_parts
from engine.advice.plan.parts_on_ac import OnAc, Wiring, parts_on_ac, wiring_of
from engine.advice.plan.parts_on_voltage import OnVoltage, parts_on_voltage
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import AcPlan, Candidate, Check, CoolingPlan, HouseSide, Supply


class Begun(NamedTuple):
    """A candidate that can power the rig, without its bank and its DC side.

    bank_price : one that no bank for it stays below
    least : price and weight that no list with what is known stays below [money, kg]
    """

    candidate: Candidate
    checks: tuple[Check, ...]
    ac: AcPlan
    cooling: CoolingPlan
    house: HouseSide | None
    known: Known
    bank_price: float
    least: tuple[float, float]


class Beginning:
    """Begins candidates for the same needs, and shares what those of one voltage have in common.

    branches : of their banks
    """

    def __init__(self, guide: Guide, needs: Needs) -> None:
        self.guide = guide
        self.needs = needs
        self.branches = Branches(guide, needs)
        self._bank_price: float | None = None
        self._on_bank: dict[float, OnBank] = {}
        self._on_ac: dict[tuple[Wiring, AcPlan], OnAc] = {}
        self._on_voltage: dict[float, tuple[HouseSide | None, OnVoltage]] = {}

    def of(self, candidate: Candidate, supply: Supply) -> tuple[Begun | None, tuple[Check, ...]]:
        """Plan what no bank changes, with its checks; None where no conductor may carry it."""
        guide, needs = self.guide, self.needs
        ac, checks = plan_ac(guide, needs, candidate, supply)
        if ac is None:
            return None, checks
        cooling = plan_cooling(guide, needs, candidate, supply)
        house, on_voltage = self._shared(candidate.inverter.dc_nominal)
        known = known_parts(
            guide, needs, candidate, (self._parts(candidate, ac), cooling, on_voltage)
        )
        if self._bank_price is None:
            self._bank_price = least_bank_price(guide, needs)
        least = self._bank_price, known.least
        return Begun(candidate, checks, ac, cooling, house, known, *least), checks

    def on_bank(self, bank_v: float) -> OnBank:
        """What the loads ask of a bank of this voltage."""
        found = self._on_bank.get(bank_v)
        if found is None:
            found = self._on_bank[bank_v] = on_bank_of(self.guide, self.needs, bank_v)
        return found

    def _parts(self, candidate: Candidate, ac: AcPlan) -> OnAc:
        key = wiring_of(candidate), ac
        found = self._on_ac.get(key)
        if found is None:
            found = self._on_ac[key] = parts_on_ac(self.guide, self.needs, *key)
        return found

    def _shared(self, bank_v: float) -> tuple[HouseSide | None, OnVoltage]:
        found = self._on_voltage.get(bank_v)
        if found is None:
            guide, needs = self.guide, self.needs
            house = house_side_of(guide, needs, bank_v)
            found = house, parts_on_voltage(guide, needs, bank_v)
            self._on_voltage[bank_v] = found
        return found
