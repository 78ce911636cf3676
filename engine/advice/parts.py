"""The parts list of a design: every article, how many, in groups that the wording explains."""

import math
from collections import Counter
from collections.abc import Iterable

from engine.advice.layouts import SUB_PANEL
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Ferrule, Product
from engine.model.result import (
    AcPlan,
    BankPlan,
    Candidate,
    CoolingPlan,
    DcPlan,
    PartLine,
)
from engine.sizing.alternator import continuous_a
from engine.sizing.terminals import ConductorEnd, ferrule_refusal
from engine.standards import awg

LUGS_PER_CABLE = 2
HOUSE_V = 12.0
TOOLS = frozenset({"ferrule-crimper", "lug-crimper"})


class Parts:
    """Collects the lines of one design; what the shelf lacks is named, never left out."""

    def __init__(self, guide: Guide, needs: Needs, candidate: Candidate) -> None:
        self.catalogue = guide.catalogue
        self.planning = guide.planning
        self.needs = needs
        self.candidate = candidate
        self.bank_v = candidate.inverter.dc_nominal
        self.lines: list[PartLine] = []

    def of(
        self, bank: BankPlan, dc: DcPlan, ac: AcPlan, cooling: CoolingPlan
    ) -> tuple[PartLine, ...]:
        """All lines, in the order in which they are read."""
        self._units(bank)
        self._protection(dc)
        self._step_down()
        self._dc_cables(bank, dc)
        self._ac(ac)
        self._terminals(ac)
        if cooling.fans:
            self._put("fan", cooling.fans, (cooling.fan,) if cooling.fan else (), "a fan")
        self._sources()
        return tuple(self.lines)

    def _put(self, group: str, quantity: int, able: Iterable[Product], wanted: str) -> None:
        """Add the cheapest article that will do; where there is none, say what is wanted."""
        product = min(able, key=lambda each: (each.price, each.id), default=None)
        if product is None:
            self.lines.append(PartLine(group, "", wanted, quantity, "", 0.0, 0.0))
            return
        mass_kg = 0.0 if group in TOOLS else product.mass
        self.lines.append(
            PartLine(group, product.id, product.name, quantity, "", product.price, mass_kg)
        )

    def _put_cable(self, group: str, use: str, length_m: float, awg_size: str, cores: int) -> None:
        """Add cable of this size; ground and DC cable may be thicker, AC cable must be exact."""
        able = [
            cable
            for cable in self.catalogue.cables
            if cable.use == use
            and cable.conductors == cores
            and (cable.awg == awg_size or use == "ground")
            and awg.rank(cable.awg) >= awg.rank(awg_size)
        ]
        chosen = min(able, key=lambda each: (awg.rank(each.awg), each.price, each.id), default=None)
        if chosen is None:
            wanted = f"{awg_size} AWG cable, {cores} conductor{'s' if cores > 1 else ''}"
            self.lines.append(PartLine(group, "", wanted, length_m, "m", 0.0, 0.0))
        else:
            self.lines.append(
                PartLine(group, chosen.id, chosen.name, length_m, "m", chosen.price, chosen.mass)
            )

    def _units(self, bank: BankPlan) -> None:
        self._put("inverter", self.candidate.units, (self.candidate.inverter,), "")
        self._put("battery", bank.count, (bank.battery,), "")
        if self.candidate.soft_starters:
            self._put(
                "soft-starter",
                self.candidate.soft_starters,
                self.catalogue.soft_starters,
                "a soft starter for each air conditioner",
            )

    def _protection(self, dc: DcPlan) -> None:
        units = self.candidate.units
        fuses = units + dc.battery_fuses
        self._put("fuse", fuses, (dc.fuse,), "")
        self._put("fuse-holder", fuses, (dc.holder,), "")
        self._put("disconnect", 1, (dc.disconnect,), "")
        bank_a = dc.current_a * units
        if dc.shared:
            able = [bar for bar in self.catalogue.busbars if bar.rating >= bank_a]
            self._put("busbar", 1, able, f"busbars for {bank_a:.0f} A")
        meters = [each for each in self.catalogue.monitors if each.rating >= bank_a]
        self._put("soc-monitor", 1, meters, f"a battery monitor for {bank_a:.0f} A")
        if dc.precharge:
            modules = [each for each in self.catalogue.precharges if each.volts >= self.bank_v]
            self._put("precharge", 1, modules, f"a pre-charge module for {self.bank_v:.0f} V")

    def _step_down(self) -> None:
        """Circuits on 12 V cannot hang on a 24 or 48 V bank."""
        watts = sum(load.running_w for load in self.needs.running if load.volts == HOUSE_V)
        if self.bank_v == HOUSE_V or not any(load.volts == HOUSE_V for load in self.needs.loads):
            return
        able = [
            each
            for each in self.catalogue.step_downs
            if each.input == self.bank_v and each.current * each.output >= watts
        ]
        wanted = f"a converter from {self.bank_v:.0f} V to 12 V for {watts:.0f} W"
        self._put("step-down", 1, able, wanted)

    def _dc_cables(self, bank: BankPlan, dc: DcPlan) -> None:
        units, size = self.candidate.units, dc.cable.size
        cables = 2 * dc.cable.runs * units
        self._put_cable("dc-cable", "dc", cables * dc.cable_m, size, 1)
        self._lugs(size, self.candidate.inverter.dc_stud, cables * LUGS_PER_CABLE)
        links = bank.parallel * (bank.series - 1) + (2 * bank.parallel if dc.shared else 0)
        if links:
            self._put_cable("battery-links", "dc", links * self.planning.link_m, size, 1)
            self._lugs(size, bank.battery.stud, links * LUGS_PER_CABLE)
        self._put_cable("bond-cable", "ground", units * self.planning.bond_run_m, dc.bond_awg, 1)
        if self.needs.tools != "crimper":
            tools = [
                each
                for each in self.catalogue.crimpers
                if each.makes == "lug"
                and awg.rank(each.smallest_awg) <= awg.rank(size) <= awg.rank(each.largest_awg)
            ]
            self._put("lug-crimper", 1, tools, f"a lug crimper for {size} AWG")

    def _lugs(self, size: str, stud: str, count: int) -> None:
        able = [each for each in self.catalogue.lugs if each.awg == size and each.stud == stud]
        self._put("lugs", count, able, f"lugs, {size} AWG to {stud}")

    def _ac(self, ac: AcPlan) -> None:
        units = self.candidate.units
        poles = "one-pole" if ac.poles == 1 else "two-pole"
        able = [
            each
            for each in self.catalogue.breakers
            if each.rating == ac.input_a and each.poles == ac.poles
        ]
        for group in ("breaker-in", "breaker-out"):
            self._put(group, units, able, f"a {ac.input_a:.0f} A {poles} breaker")
        self._put_cable(
            "ac-cable", "ac", 2 * units * self.planning.ac_run_m, ac.input_awg, ac.poles + 1
        )
        if not self.needs.whole:
            legs = 1 if self.candidate.layout == SUB_PANEL else self.candidate.legs
            panels = [
                each
                for each in self.catalogue.sub_panels
                if each.legs == legs and each.rating >= ac.output_a
            ]
            self._put("sub-panel", 1, panels, f"a sub-panel for {ac.output_a:.0f} A")

    def _terminals(self, ac: AcPlan) -> None:
        """A bare ferrule for every conductor end of push-in terminals, and the tool; else none."""
        terminals = self.candidate.inverter.terminals
        ends = Counter(end.awg for end in push_in_ends(self.candidate, ac))
        for size in sorted(ends, key=awg.rank):
            able = [
                each
                for each in self.catalogue.ferrules
                if each.awg == size
                and ferrule_refusal(each.insulated, each.barrel, terminals.conductor_depth) is None
            ]
            self._ferrules(size, ends[size], able, terminals.conductor_depth)
        if ends and self.needs.tools != "crimper":
            tools = [each for each in self.catalogue.crimpers if each.makes == "ferrule"]
            self._put("ferrule-crimper", 1, tools, "a ferrule crimper")

    def _ferrules(self, size: str, ends: int, able: list[Ferrule], depth_m: float) -> None:
        chosen = min(able, key=lambda each: (each.price, each.id), default=None)
        wanted = f"bare ferrules, {size} AWG, {depth_m * 1000:.0f} mm"
        if chosen is None:
            self.lines.append(PartLine("ferrules", "", wanted, ends, "", 0.0, 0.0))
            return
        spares = math.ceil(ends * self.planning.spare_ferrules)
        for group, count in (("ferrules", ends), ("spare-ferrules", spares)):
            self.lines.append(
                PartLine(
                    group,
                    chosen.id,
                    chosen.name,
                    count,
                    "",
                    chosen.price / chosen.pack,
                    chosen.mass / chosen.pack,
                )
            )

    def _sources(self) -> None:
        needs = self.needs
        if needs.alternator_a:
            chargers = [
                each
                for each in self.catalogue.alternator_chargers
                if each.output == self.bank_v and each.input_a <= continuous_a(needs.alternator_a)
            ]
            self._put(
                "alternator-charger",
                1,
                chargers,
                f"a DC-DC charger to {self.bank_v:.0f} V that a {needs.alternator_a:.0f} A "
                "alternator bears",
            )
        if needs.solar_w:
            self._solar(needs.solar_w)

    def _solar(self, wanted_w: float) -> None:
        panel = min(
            self.catalogue.solar_panels,
            key=lambda each: (math.ceil(wanted_w / each.rated) * each.price, each.id),
            default=None,
        )
        count = math.ceil(wanted_w / panel.rated) if panel else 1
        self._put("solar-panel", count, (panel,) if panel else (), f"{wanted_w:.0f} W of panels")
        able = [
            each
            for each in self.catalogue.solar_controllers
            if each.current * self.bank_v >= wanted_w
        ]
        self._put("solar-controller", 1, able, f"a solar controller for {wanted_w:.0f} W")


def parts_of(
    guide: Guide,
    needs: Needs,
    candidate: Candidate,
    plans: tuple[BankPlan, DcPlan, AcPlan, CoolingPlan],
) -> tuple[PartLine, ...]:
    """The parts list of a sized candidate."""
    return Parts(guide, needs, candidate).of(*plans)


def push_in_ends(candidate: Candidate, ac: AcPlan) -> tuple[ConductorEnd, ...]:
    """Every conductor end that wants a ferrule; none for screw terminals."""
    if candidate.inverter.terminals.kind != "push-in":
        return ()
    return ac.ends_per_unit * candidate.units
