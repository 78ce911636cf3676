"""The parts list of a design: every article, how many, in groups that the wording explains."""

import math
from collections import Counter
from typing import NamedTuple

from engine.advice.plan.dc_cables import MAIN
from engine.advice.plan.fittings import fittings_on_cables
from engine.advice.plan.part_lines import Lines, PartLines
from engine.advice.plan.parts_on_ac import OnAc
from engine.advice.plan.parts_on_voltage import OnVoltage
from engine.advice.plan.shelf import crimpers_for, lugs_for
from engine.advice.plan.supply import soft_starter_for
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.parts import PartLine
from engine.model.result import BankPlan, Branch, Candidate, CoolingPlan, DcPlan
from engine.sizing.battery import frost_near
from engine.sizing.charge_settings import compensation_v_per_k
from engine.sizing.protection import disconnect_minimum_a
from engine.standards import awg
from engine.wording.tongue import plain


class Known(NamedTuple):
    """The lines of a design that no bank changes, by their places in the list."""

    units: Lines
    starters: Lines
    on_12v: Lines
    beside: Lines
    fittings: Lines

    @property
    def least(self) -> tuple[float, float]:
        """Price and weight that no list with these lines stays below [money, kg].

        A pack that is shared with other lines is counted by its pieces.
        """
        parts = [least_of(part) for part in self]
        return sum([price for price, _ in parts]), sum([mass_kg for _, mass_kg in parts])


@kept("answer", 512)  # most parts are shared by many candidates
def least_of(lines: Lines) -> tuple[float, float]:
    """Price and weight of these lines alone [money, kg]."""
    bought = [line for line in lines if not line.have]
    price = sum([line.quantity * line.price_each / line.pack for line in bought])
    return price, sum([line.quantity * line.mass_each_kg for line in bought])


class Parts(PartLines):
    """Collects the lines of one design."""

    def __init__(self, guide: Guide, needs: Needs, candidate: Candidate) -> None:
        super().__init__(guide, candidate.inverter.dc_nominal)
        self.needs = needs
        self.candidate = candidate

    def known(self, on_ac: OnAc, cooling: CoolingPlan, on_voltage: OnVoltage) -> Known:
        """What is on the list whatever the bank."""
        self._units()
        units = self._told()
        self._starters()
        starters = self._told()
        if cooling.fans:
            fans = (cooling.fan,) if cooling.fan else ()
            self._put("fan", cooling.fans, fans, self.parts["lacks-fan"])
        beside = (*on_ac.lines, *self._told(), *on_voltage.sources)
        return Known(units, starters, on_voltage.on_12v, beside, on_ac.fittings)

    def of(self, known: Known, bank: BankPlan, dc: DcPlan) -> Lines:
        """All lines, in the order in which they are read."""
        self.lines += known.units
        self._batteries(bank)
        self.lines += known.starters
        self._protection(bank, dc)
        self._branches(dc)
        self.lines += known.on_12v
        self._dc_cables(dc)
        self.lines += known.beside
        self._fit(fittings_on_cables(self.guide, dc))
        self.lines += known.fittings
        return self._told()

    def _units(self) -> None:
        self._put("inverter", self.candidate.units, (self.candidate.inverter,), "")

    def _starters(self) -> None:
        if self.candidate.soft_starters:
            starter = soft_starter_for(self.guide, self.needs)
            self._put(
                "soft-starter",
                self.candidate.soft_starters,
                (starter,) if starter else (),
                self.parts["lacks-soft-starter"],
            )

    def _batteries(self, bank: BankPlan) -> None:
        """The new ones, and those that are there, which cost nothing and are in the rig already."""
        if bank.count > bank.kept:
            self._put("battery", bank.count - bank.kept, (bank.battery,), "")
        if bank.kept:
            self._there("battery", bank.yours, bank.kept)

    def _protection(self, bank: BankPlan, dc: DcPlan) -> None:
        units = self.candidate.units
        self._put("fuse", units, (dc.fuse,), "")
        self._put("fuse-holder", units, (dc.holder,), "")
        if dc.battery_fuse and dc.battery_holder:
            self._put("battery-fuse", dc.battery_fuses, (dc.battery_fuse,), "")
            self._put("battery-fuse-holder", dc.battery_fuses, (dc.battery_holder,), "")
        self._put("disconnect", 1, (dc.disconnect,), "")
        if dc.shared:
            bars = (dc.busbar,) if dc.busbar else ()
            self._put("busbar", dc.bar_pairs, bars, "" if bars else self._lacks_busbar(dc))
        meters = (dc.monitor,) if dc.monitor else ()
        self._put("soc-monitor", 1, meters, "" if meters else self._lacks_monitor(dc))
        cold = frost_near(bank.battery.chemistry, self.needs.weather.coldest_c)
        if cold or compensation_v_per_k(1, bank.battery.chemistry):
            stud = bank.battery.stud
            able = [each for each in self.catalogue.temperature_sensors if each.stud == stud]
            wanted = "" if able else self.parts.say("lacks-temperature-sensor", stud=stud)
            self._put("frost-sensor" if cold else "temperature-sensor", 1, able, wanted)
        if dc.precharge:
            modules = [each for each in self.catalogue.precharges if each.volts >= self.bank_v]
            wanted = "" if modules else self._lacks_precharge()
            self._put("precharge", 1, modules, wanted)

    def _branches(self, dc: DcPlan) -> None:
        """A fuse in a holder where a branch leaves a battery; what the shelf lacks is named."""
        for branch in dc.branches:
            if branch.fused:
                fuses = (branch.fuse,) if branch.fuse else ()
                wanted = "" if fuses else self._lacks_fuse(branch)
                self._put(f"{branch.id}-fuse", 1, fuses, wanted)
            if branch.cut:
                switches = (branch.switch,) if branch.switch else ()
                wanted = "" if switches else self._lacks_switch(branch)
                self._put(f"{branch.id}-switch", 1, switches, wanted)
            if branch.kept:
                self._kept(branch)
        holders = Counter(branch.holder for branch in dc.branches if branch.holder)
        for holder, count in holders.items():
            self._put("branch-fuse-holder", count, (holder,), "")

    def _kept(self, branch: Branch) -> None:
        """A fuse in a holder at the 12 V battery that stays."""
        fuses = (branch.kept_fuse,) if branch.kept_fuse else ()
        wanted = "" if fuses else self._lacks_fuse(branch)
        self._put("kept-fuse", 1, fuses, wanted)
        if branch.kept_holder:
            self._put("kept-fuse-holder", 1, (branch.kept_holder,), "")

    def _dc_cables(self, dc: DcPlan) -> None:
        """Cable by size and use, and a lug for either end of every conductor."""
        lengths: dict[tuple[str, str], float] = {}
        lugs: dict[tuple[str, str], int] = {}
        for each in dc.conductors:
            cable = (each.group, each.size)
            lengths[cable] = lengths.get(cable, 0.0) + each.quantity * each.length_m
            for stud in filter(None, each.studs):
                lugs[each.size, stud] = lugs.get((each.size, stud), 0) + each.quantity
        for (group, size), length_m in sorted(lengths.items(), key=_cables_first):
            self._put_cable(group, "dc", length_m, size, 1)
        for branch in (each for each in dc.branches if each.cable is None):
            named = self.parts.say("lacks-battery-cable", amps=plain(branch.least_a))
            lacking = PartLine(f"{branch.id}-cable", "", named, 2 * branch.length_m, "m", 0.0, 0.0)
            self.lines.append(lacking)
        by_size = sorted(lugs, key=lambda key: (awg.rank(key[0]), key[1]))
        for size, stud in by_size:
            self._lugs(size, stud, lugs[size, stud])
        bond_m = self.candidate.units * self.planning.bond_run_m
        self._put_cable("bond-cable", "ground", bond_m, dc.bond_awg, 1)
        if self.needs.tools != "crimper":
            tools = crimpers_for(self.guide, "lug", by_size[0][0], by_size[-1][0])
            self._put("lug-crimper", 1, tools, self.parts["lacks-lug-crimper"])

    def _lugs(self, size: str, stud: str, count: int) -> None:
        able = lugs_for(self.guide, size, stud)
        wanted = "" if able else self.parts.say("lacks-lugs", size=size, stud=stud)
        self._put("lugs", count, able, wanted)
        if able:
            self._put("spare-lugs", math.ceil(count * self.planning.spare_ends), able, wanted)

    def _lacks_busbar(self, dc: DcPlan) -> str:
        return self.parts.say("lacks-busbar", amps=plain(disconnect_minimum_a(dc.bank_a)))

    def _lacks_monitor(self, dc: DcPlan) -> str:
        return self.parts.say("lacks-soc-monitor", amps=plain(disconnect_minimum_a(dc.bank_a)))

    def _lacks_precharge(self) -> str:
        return self.parts.say("lacks-precharge", volts=plain(self.bank_v))

    def _lacks_fuse(self, branch: Branch) -> str:
        return self.parts.say("lacks-fuse", amps=plain(branch.least_a))

    def _lacks_switch(self, branch: Branch) -> str:
        amps, volts = plain(branch.cut_a), plain(branch.cut_v)
        return self.parts.say("lacks-switch", amps=amps, volts=volts)


def known_parts(
    guide: Guide, needs: Needs, candidate: Candidate, plans: tuple[OnAc, CoolingPlan, OnVoltage]
) -> Known:
    """What is on the parts list of a candidate whatever its bank."""
    return Parts(guide, needs, candidate).known(*plans)


def parts_of(
    guide: Guide,
    needs: Needs,
    candidate: Candidate,
    plans: tuple[Known, BankPlan, DcPlan],
) -> Lines:
    """The parts list of a sized candidate."""
    return Parts(guide, needs, candidate).of(*plans)


def _cables_first(of: tuple[tuple[str, str], float]) -> bool:
    """The long cables to the units stand before all others, which keep their order."""
    return of[0][0] != MAIN
