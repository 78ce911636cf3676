"""The parts list of a design: every article, how many, in groups that the wording explains."""

import math
from collections import Counter
from collections.abc import Iterable, Sequence

from engine.advice.plan.branches import alternator_charger
from engine.advice.plan.dc_cables import MAIN
from engine.advice.plan.fittings import fittings_of, hardware_for
from engine.advice.plan.house import HOUSE_V, buffer_of, on_dc, step_down
from engine.advice.plan.house_side import house_side_of
from engine.advice.plan.layouts import SUB_PANEL
from engine.advice.plan.shelf import breakers_for, cable_for, ferrule_for, lugs_for, preference
from engine.advice.plan.solar import solar_plan
from engine.advice.plan.supply import soft_starter_for
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.parts import PartLine
from engine.model.products import Crimper, Ferrule, Product
from engine.model.result import AcPlan, BankPlan, Branch, Candidate, CoolingPlan, DcPlan
from engine.sizing.battery import frost_near
from engine.sizing.charge_settings import compensation_v_per_k
from engine.sizing.protection import disconnect_minimum_a
from engine.sizing.terminals import ConductorEnd
from engine.standards import awg
from engine.wording.tongue import plain

TOOLS = frozenset({"ferrule-crimper", "lug-crimper"})


class Parts:
    """Collects the lines of one design; what the shelf lacks is named, never left out."""

    def __init__(self, guide: Guide, needs: Needs, candidate: Candidate) -> None:
        self.guide = guide
        self.catalogue = guide.catalogue
        self.planning = guide.planning
        self.needs = needs
        self.candidate = candidate
        self.bank_v = candidate.inverter.dc_nominal
        self.lines: list[PartLine] = []
        self.parts = guide.wording.parts

    def of(
        self, bank: BankPlan, dc: DcPlan, ac: AcPlan, cooling: CoolingPlan
    ) -> tuple[PartLine, ...]:
        """All lines, in the order in which they are read."""
        self._units(bank)
        self._protection(bank, dc)
        self._branches(dc)
        self._step_down()
        self._dc_cables(dc)
        self._ac(ac)
        self._terminals(ac)
        if cooling.fans:
            fans = (cooling.fan,) if cooling.fan else ()
            self._put("fan", cooling.fans, fans, self.parts["lacks-fan"])
        self._sources()
        for each in fittings_of(self.guide, self.needs, self.candidate, dc, ac):
            if each.quantity:
                self._put(each.group, each.quantity, each.able, each.wanted)
        return tuple(self.lines)

    def _put(self, group: str, quantity: int, able: Sequence[Product], wanted: str) -> None:
        """Add the cheapest article that will do; where there is none, say what is wanted."""
        if not able:
            self.lines.append(PartLine(group, "", wanted, quantity, "", 0.0, 0.0))
            return
        product = able[0] if len(able) == 1 else min(able, key=preference)
        pack: int = getattr(product, "pack", 1)
        mass_kg = 0.0 if group in TOOLS else product.mass / pack
        self.lines.append(
            PartLine(group, product.id, product.name, quantity, "", product.price, mass_kg, pack)
        )

    def _put_cable(self, group: str, use: str, length_m: float, awg_size: str, cores: int) -> None:
        """Add cable of this size; what the shelf lacks is named."""
        chosen = cable_for(self.guide, use, awg_size, cores)
        if chosen is None:
            wanted = self.parts.count("lacks-cable", cores, 0, size=awg_size)
            self.lines.append(PartLine(group, "", wanted, length_m, "m", 0.0, 0.0))
        else:
            self.lines.append(
                PartLine(group, chosen.id, chosen.name, length_m, "m", chosen.price, chosen.mass)
            )

    def _units(self, bank: BankPlan) -> None:
        self._put("inverter", self.candidate.units, (self.candidate.inverter,), "")
        self._batteries(bank)
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

    def _there(self, group: str, name: str, count: int) -> None:
        self.lines.append(PartLine(group, "", name, count, "", 0.0, 0.0, have=True))

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
            amps = plain(disconnect_minimum_a(dc.bank_a))
            self._put("busbar", dc.bar_pairs, bars, self.parts.say("lacks-busbar", amps=amps))
        meters = (dc.monitor,) if dc.monitor else ()
        wanted = self.parts.say("lacks-soc-monitor", amps=plain(disconnect_minimum_a(dc.bank_a)))
        self._put("soc-monitor", 1, meters, wanted)
        cold = frost_near(bank.battery.chemistry, self.needs.weather.coldest_c)
        if cold or compensation_v_per_k(1, bank.battery.chemistry):
            stud = bank.battery.stud
            able = [each for each in self.catalogue.temperature_sensors if each.stud == stud]
            wanted = self.parts.say("lacks-temperature-sensor", stud=stud)
            self._put("frost-sensor" if cold else "temperature-sensor", 1, able, wanted)
        if dc.precharge:
            modules = [each for each in self.catalogue.precharges if each.volts >= self.bank_v]
            wanted = self.parts.say("lacks-precharge", volts=plain(self.bank_v))
            self._put("precharge", 1, modules, wanted)

    def _step_down(self) -> None:
        """Circuits on 12 V cannot hang on a 24 or 48 V bank."""
        found = step_down(self.guide, self.needs, self.bank_v) if on_dc(self.needs) else None
        if found and self.bank_v != HOUSE_V:
            self._put("step-down", 1, (found,), "")
        buffer = buffer_of(self.guide, self.needs, self.bank_v)
        if found and buffer:
            self._put("buffer", 1, (buffer,), "")
        side = house_side_of(self.guide, self.needs, self.bank_v)
        if side and side.battery and side.there:
            self._there("house-battery", side.battery.name, side.batteries)
        elif side and side.battery:
            self._put("house-battery", side.batteries, (side.battery,), "")
        if side and side.isolator:
            able = hardware_for(self.guide, "charge-isolator", "")
            self._put("charge-isolator", 1, able, self.parts["lacks-charge-isolator"])

    def _branches(self, dc: DcPlan) -> None:
        """A fuse in a holder where a branch leaves a battery; what the shelf lacks is named."""
        for branch in dc.branches:
            if branch.fused:
                fuses = (branch.fuse,) if branch.fuse else ()
                wanted = self.parts.say("lacks-fuse", amps=plain(branch.least_a))
                self._put(f"{branch.id}-fuse", 1, fuses, wanted)
            if branch.cut:
                switches = (branch.switch,) if branch.switch else ()
                wanted = self.parts.say(
                    "lacks-switch", amps=plain(branch.cut_a), volts=plain(branch.cut_v)
                )
                self._put(f"{branch.id}-switch", 1, switches, wanted)
            if branch.kept:
                self._kept(branch)
        holders = Counter(branch.holder for branch in dc.branches if branch.holder)
        for holder, count in holders.items():
            self._put("branch-fuse-holder", count, (holder,), "")

    def _kept(self, branch: Branch) -> None:
        """A fuse in a holder at the 12 V battery that stays."""
        fuses = (branch.kept_fuse,) if branch.kept_fuse else ()
        wanted = self.parts.say("lacks-fuse", amps=plain(branch.least_a))
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
        for size, stud in sorted(lugs, key=lambda key: (awg.rank(key[0]), key[1])):
            self._lugs(size, stud, lugs[size, stud])
        bond_m = self.candidate.units * self.planning.bond_run_m
        self._put_cable("bond-cable", "ground", bond_m, dc.bond_awg, 1)
        if self.needs.tools != "crimper":
            self._put("lug-crimper", 1, self._lug_tools(lugs), self.parts["lacks-lug-crimper"])

    def _lug_tools(self, lugs: Iterable[tuple[str, str]]) -> list[Crimper]:
        ranks = [awg.rank(size) for size, _ in lugs]
        return [
            each
            for each in self.catalogue.crimpers
            if each.makes == "lug"
            and awg.rank(each.smallest_awg) <= min(ranks)
            and max(ranks) <= awg.rank(each.largest_awg)
        ]

    def _lugs(self, size: str, stud: str, count: int) -> None:
        able = lugs_for(self.guide, size, stud)
        wanted = self.parts.say("lacks-lugs", size=size, stud=stud)
        self._put("lugs", count, able, wanted)
        if able:
            self._put("spare-lugs", math.ceil(count * self.planning.spare_ends), able, wanted)

    def _ac(self, ac: AcPlan) -> None:
        units = self.candidate.units
        for group, rating_a in (("breaker-in", ac.input_a), ("breaker-out", ac.output_a)):
            able = breakers_for(self.guide, rating_a, ac.breaker_poles)
            self._put(group, ac.breakers, able, self._breaker(rating_a, ac.breaker_poles))
        if ac.main_a:
            able = breakers_for(self.guide, ac.main_a, 1)
            self._put("breaker-main", 1, able, self._breaker(ac.main_a, 1))
        if ac.joint_a:
            able = breakers_for(self.guide, ac.joint_a, 1)
            self._put("breaker-joint", 1, able, self._breaker(ac.joint_a, 1))
        self._put_cable(
            "ac-cable", "ac", 2 * units * self.planning.ac_run_m, ac.input_awg, ac.poles + 1
        )
        if not self.needs.panel_there:
            legs = 1 if self.candidate.layout == SUB_PANEL else self.candidate.legs
            panels = [
                each
                for each in self.catalogue.sub_panels
                if each.legs == legs and each.rating >= ac.output_a
            ]
            group = "panel" if self.needs.whole else "sub-panel"
            self._put(
                group,
                1,
                panels,
                self.parts.say(
                    "lacks-panel" if self.needs.whole else "lacks-sub-panel",
                    amps=plain(ac.output_a),
                ),
            )
        if self.needs.bare:
            service = self.needs.service_id
            leads = [each for each in self.catalogue.input_leads if each.service == service]
            self._put("input-lead", 1, leads, self.parts["lacks-input-lead"])

    def _breaker(self, rating_a: float, poles: int) -> str:
        return self.parts.say(
            "lacks-breaker-one-pole" if poles == 1 else "lacks-breaker-two-pole",
            amps=plain(rating_a),
        )

    def _terminals(self, ac: AcPlan) -> None:
        """A bare ferrule for every conductor end of push-in terminals, and the tool; else none."""
        terminals = self.candidate.inverter.terminals
        ends: dict[str, int] = {}
        for end in push_in_ends(self.candidate, ac):
            ends[end.awg] = ends.get(end.awg, 0) + 1
        depth_m = terminals.conductor_depth
        for size in sorted(ends, key=awg.rank):
            self._ferrules(size, ends[size], ferrule_for(self.guide, size, depth_m), depth_m)
        if ends and self.needs.tools != "crimper":
            ranks = [awg.rank(size) for size in ends]
            tools = [
                each
                for each in self.catalogue.crimpers
                if each.makes == "ferrule"
                and awg.rank(each.smallest_awg) <= min(ranks)
                and max(ranks) <= awg.rank(each.largest_awg)
            ]
            self._put("ferrule-crimper", 1, tools, self.parts["lacks-ferrule-crimper"])

    def _ferrules(self, size: str, ends: int, chosen: Ferrule | None, depth_m: float) -> None:
        able = (chosen,) if chosen else ()
        wanted = self.parts.say("lacks-ferrules", size=size, depth=plain(depth_m * 1000))
        self._put("ferrules", ends, able, wanted)
        if chosen:
            spares = math.ceil(ends * self.planning.spare_ends)
            self._put("spare-ferrules", spares, able, wanted)

    def _sources(self) -> None:
        needs = self.needs
        if needs.alternator_a:
            charger = alternator_charger(self.guide, needs, self.bank_v)
            self._put(
                "alternator-charger",
                1,
                (charger,) if charger else (),
                self.parts.say(
                    "lacks-alternator-charger",
                    volts=plain(self.bank_v),
                    amps=plain(needs.alternator_a),
                ),
            )
        if needs.solar_w:
            self._solar(needs.solar_w)

    def _solar(self, wanted_w: float) -> None:
        """The cheapest panels with a controller that suits them and the bank."""
        plan = solar_plan(self.guide, self.needs, self.bank_v)
        if plan is None:
            watts, volts = plain(wanted_w), plain(self.bank_v)
            self._put("solar-panel", 1, (), self.parts.say("lacks-solar-panel", watts=watts))
            wanted = self.parts.say("lacks-solar-controller", watts=watts, volts=volts)
            self._put("solar-controller", 1, (), wanted)
            return
        self._put("solar-panel", plan.panels, (plan.panel,), "")
        self._put("solar-controller", 1, (plan.controller,), "")


def parts_of(
    guide: Guide,
    needs: Needs,
    candidate: Candidate,
    plans: tuple[BankPlan, DcPlan, AcPlan, CoolingPlan],
) -> tuple[PartLine, ...]:
    """The parts list of a sized candidate."""
    return Parts(guide, needs, candidate).of(*plans)


def _cables_first(of: tuple[tuple[str, str], float]) -> bool:
    """The long cables to the units stand before all others, which keep their order."""
    return of[0][0] != MAIN


def push_in_ends(candidate: Candidate, ac: AcPlan) -> tuple[ConductorEnd, ...]:
    """Every conductor end that wants a ferrule; none for screw terminals."""
    if candidate.inverter.terminals.kind != "push-in":
        return ()
    return ac.ends_per_unit * candidate.units
