"""Which cautions an answer needs: each rule looks at what was found and gives the numbers."""

from collections.abc import Callable, Mapping

from engine.advice.plan.charging import driving_a
from engine.advice.plan.house import HOUSE_V
from engine.advice.plan.interrupt import weakest_fuse_a
from engine.advice.plan.layouts import SUB_PANEL
from engine.advice.plan.shore import plan_generator, plan_shore
from engine.advice.plan.supply import unsoftened_va
from engine.model.buses import LEGS
from engine.model.guide import Caution, Guide
from engine.model.needs import Needs
from engine.model.result import Branch, CautionNote, Design
from engine.shedding import busiest_va
from engine.sizing.alternator import continuous_a
from engine.sizing.bank import continuous_wanted_a
from engine.sizing.loads import running_current_a
from engine.sizing.shore import input_limit_a, neutral_current_in_phase_a
from engine.standards import awg
from engine.standards.battery_chemistry import LEAD_ACID, LITHIUM, chemistry_of
from engine.units import show
from engine.wording.tongue import all_of, plain

Facts = Mapping[str, str]
Rule = Callable[[Guide, Needs, Design], Facts | None]

# The smallest branch breaker of a rig: what each side of a shared neutral may carry.
# Source: NEC 240.6(A), smallest standard rating.
SMALLEST_BRANCH_A = 15.0
# The 120 V service whose plug looks like a clothes dryer's. Source: NEMA WD 6, from memory.
THIRTY_AMP_A = 30.0
# Where the cautions stand that everybody reads.
TOP = "top"
# Lugs from this size on are crimped by a hydraulic tool. Source: trade pages (secondary).
THICK_FROM = "4"
# A bank above this short-circuit current wants a fuse of 20 kA. Source: ABYC E-11 11.10.1.2.
HIGH_SHORT_CIRCUIT_A = 10_000.0


def cautions_of(guide: Guide, needs: Needs, design: Design) -> tuple[CautionNote, ...]:
    """The guide's cautions whose rule is met, numbers filled in.

    Those that stand at the top of an answer come first, then the guide's order.
    """
    return tuple(
        CautionNote(
            caution,
            caution.text.format_map(facts),
            caution.do.format_map(facts),
            caution.card.format_map(facts),
        )
        for caution, facts in _met(guide, needs, design)
    )


def caution_ids(guide: Guide, needs: Needs, design: Design) -> tuple[str, ...]:
    """Ids of the same, in the same order."""
    return tuple(caution.id for caution, _ in _met(guide, needs, design))


def _met(guide: Guide, needs: Needs, design: Design) -> list[tuple[Caution, Facts]]:
    found = []
    for caution in guide.cautions:
        facts = RULES[caution.rule](guide, needs, design)
        if facts is not None:
            found.append((caution, facts))
    return sorted(found, key=lambda pair: pair[0].beside != TOP)


def _when(holds: bool, **facts: str) -> Facts | None:
    return facts if holds else None


def _in_phase(needs: Needs, design: Design) -> bool:
    return needs.service.legs == 2 and design.candidate.legs == 1


def _one_source_two_legs(_guide: Guide, needs: Needs, design: Design) -> Facts | None:
    each_a = SMALLEST_BRANCH_A
    sum_a = neutral_current_in_phase_a(each_a, each_a)
    return _when(
        _in_phase(needs, design),
        leg1_a=show(each_a, "A"),
        leg2_a=show(each_a, "A"),
        neutral_a=show(sum_a, "A"),
    )


def _no_240(guide: Guide, needs: Needs, design: Design) -> Facts | None:
    own = [load.name for load in needs.loads if load.bus is LEGS]
    known = own or [each.name for each in guide.appliances if each.bus is LEGS]
    return _when(_in_phase(needs, design), loads_240=", ".join(known))


def _must_wait(_guide: Guide, needs: Needs, _design: Design) -> Facts | None:
    """Loads that the rig's own panel does not carry beside the others."""
    service = needs.service
    asked_va = busiest_va((*needs.running, *needs.waits), service.legs)
    return _when(
        bool(needs.waits),
        names=all_of([load.name for load in needs.waits]),
        asked_a=f"{plain(asked_va / service.volts)} A",
        panel_a=show(service.amps, "A"),
    )


def _brake_on_lithium(_guide: Guide, needs: Needs, design: Design) -> Facts | None:
    """A breakaway brake on a lithium bank of the rig's own voltage, which may cut itself off."""
    on_bank = bool(needs.house_v) and not needs.keeps_house(_bank_v(design))
    lithium = design.bank.battery.kind.family is LITHIUM
    return _when(on_bank and lithium and "brake" in needs.rig.hangs)


def _house_stays(_guide: Guide, _needs: Needs, design: Design) -> Facts | None:
    """Beside a bank of another voltage the motors of the rig keep a battery of their own."""
    side = design.house
    if side is None or side.charger is None or not side.motor_a:
        return None
    return {
        "motor_a": show(side.motor_a, "A"),
        "charger_a": show(side.charger.current, "A"),
        "charge_a": show(side.charge_a, "A"),
    }


def _kept_battery(_guide: Guide, _needs: Needs, design: Design) -> Facts | None:
    """A 12 V battery that stays feeds the far end of the converter's cable."""
    house = _branch(design, "house")
    if house is None or house.cable is None or house.kept_fuse is None:
        return None
    return {"size": f"{house.cable.size} AWG", "fuse_a": show(house.kept_fuse.rating, "A")}


def _branch(design: Design, name: str) -> Branch | None:
    return next((each for each in design.dc.branches if each.id == name), None)


def _shut_down(guide: Guide, needs: Needs, design: Design) -> Facts:
    """The order of shutting down and what stays live behind the switch, of this rig alone."""
    page = guide.wording.page
    there = {each.id for each in design.dc.branches}
    order = (
        page["shut-solar"] if needs.solar_w else "",
        page["shut-engine"] if needs.alternator_a else "",
        page["shut-loads"],
        page["shut-unit"],
        page["shut-generator"] if needs.generator_w else "",
        page["shut-shore"],
        page["shut-house"] if "house" in there else "",
        page["shut-dc48"] if "dc48" in there else "",
    )
    live = (
        page["live-battery"],
        page["live-house"] if "house" in there else "",
        page["live-dc48"] if "dc48" in there else "",
        page["live-converter"] if "step-down" in there else "",
        page["live-charger"] if "alternator" in there else "",
        page["live-solar"] if "solar" in there else "",
    )
    return {"order": "; ".join(filter(None, order)), "live": all_of([*filter(None, live)])}


def _busbars_fed(_guide: Guide, _needs: Needs, design: Design) -> Facts | None:
    """All batteries' fuses together feed what leaves the busbars with more than it carries."""
    dc = design.dc
    if dc.battery_fuse is None or dc.fed_a <= dc.trunk.ampacity_a:
        return None
    return {
        "count": plain(dc.battery_fuses),
        "each_a": show(dc.battery_fuse.rating, "A"),
        "sum_a": f"{plain(dc.fed_a)} A",
        "carries_a": f"{plain(dc.trunk.ampacity_a)} A",
        "length": show(dc.unfused_m, "m"),
    }


def _uses(needs: Needs, mark: str) -> bool:
    return any(load.caution == mark for load in needs.loads)


def _charger_a(design: Design) -> float:
    """Most that the units charge with, as far as the bank accepts it."""
    inverter, units = design.candidate.inverter, design.candidate.units
    return min(inverter.charge_current * units, design.bank.charge_limit_a)


def _shore(_guide: Guide, needs: Needs, design: Design) -> Facts | None:
    feed_a = design.ac.input_a
    return _when(
        needs.service.legs == 1 or not needs.whole,
        shore_a=show(min(needs.service.amps, feed_a), "A"),
        limit_a=show(input_limit_a(min(needs.shore_a, feed_a)), "A"),
        charge_a=show(_charger_a(design), "A"),
    )


def _shore_overload(_guide: Guide, needs: Needs, design: Design) -> Facts | None:
    if design.candidate.inverter.generator_support:
        return None
    plan = plan_shore(needs, design)
    return _when(
        plan.overloaded,
        load_a=show(plan.load_a, "A"),
        limit_a=show(plan.input_limit_a, "A"),
    )


def _generator(guide: Guide, needs: Needs, design: Design) -> Facts | None:
    plan = plan_generator(guide, needs, design)
    if plan is None:
        return None
    return {
        "derated_w": show(plan.derated_w, "W"),
        "charge_a": f"{plain(plan.charge_a if plan.starts_supported else plan.charge_free_a)} A",
    }


def _generator_start(guide: Guide, needs: Needs, design: Design) -> Facts | None:
    plan = plan_generator(guide, needs, design)
    if plan is None or plan.starts_alone:
        return None
    return _when(
        not plan.starts_supported,
        name=plan.starter,
        asks_va=show(plan.light_va + plan.start_va, "VA"),
        gives_va=show(plan.start_limit_va, "VA"),
    )


def _cold_charge(_guide: Guide, needs: Needs, design: Design) -> Facts | None:
    from_c, _ = chemistry_of(needs.chemistry).charge_c
    return _when(
        _is_lithium(needs) and needs.weather.coldest_c < from_c,
        coldest=show(needs.weather.coldest_c, "degC"),
        battery=design.bank.battery.name,
        lowest=show(design.bank.battery.lowest_charge_temperature, "degC"),
    )


def _lithium_cold(guide: Guide, needs: Needs, design: Design) -> Facts | None:
    """Where it is below freezing already, the caution about that says what holds."""
    return _when(_is_lithium(needs) and _cold_charge(guide, needs, design) is None)


def _soft_starter(_guide: Guide, needs: Needs, design: Design) -> Facts | None:
    """One that goes in counts always; one that is there, where its lack would be too much."""
    if design.candidate.soft_starters > 0:
        return {}
    full_va = unsoftened_va(needs.running, design.candidate.legs)
    return _when(needs.soft_start_fitted and full_va > design.supply.surge_va)


def _short_circuit(_guide: Guide, _needs: Needs, design: Design) -> Facts | None:
    short_a = design.bank.short_circuit_a
    return _when(
        short_a > HIGH_SHORT_CIRCUIT_A,
        short_ka=f"{plain(short_a / 1000, 1)} kA",
        # Never told as more than it is: whole hundreds of amperes.
        rated_ka=f"{plain(weakest_fuse_a(design.dc) // 100 / 10, 1)} kA",
    )


def _kept_alone(_guide: Guide, _needs: Needs, design: Design) -> Facts | None:
    """Theirs without new ones: nothing is known of them but what was said."""
    bank = design.bank
    return _when(0 < bank.kept == bank.count)


def _kept_joined(_guide: Guide, _needs: Needs, design: Design) -> Facts | None:
    bank = design.bank
    return _when(0 < bank.kept < bank.count, count=plain(bank.count - bank.kept))


def _alternator(_guide: Guide, needs: Needs, _design: Design) -> Facts | None:
    return _when(
        needs.alternator_a > 0,
        limit_a=show(continuous_a(needs.alternator_a), "A"),
    )


def _sources_sum(guide: Guide, needs: Needs, design: Design) -> Facts | None:
    """Sun comes on top of what charges on the road, and of what charges on a cord."""
    page, limit_a = guide.wording.page, design.bank.charge_limit_a
    alternator_a, solar_a = driving_a(guide, needs, design)
    driven_a, plugged_a = alternator_a + solar_a, _charger_a(design) + solar_a
    sum_a = max(driven_a, plugged_a)
    return _when(
        sum_a > limit_a,
        which=page["sum-drive"] if driven_a >= plugged_a else page["sum-shore"],
        sum_a=f"{plain(sum_a)} A",
        limit_a=show(limit_a, "A"),
    )


def _bank_limit(guide: Guide, needs: Needs, design: Design) -> Facts | None:
    """The bank feels its limit before the units reach theirs, or soon after."""
    page = guide.wording.page
    bank, full_a = design.bank, design.dc.bank_a
    limit_a = bank.battery.continuous_current * bank.parallel
    wanted_a = continuous_wanted_a(full_a)
    return _when(
        limit_a < wanted_a,
        limit_a=show(limit_a, "A"),
        full_a=f"{plain(full_a)} A",
        wanted_a=f"{plain(wanted_a)} A",
        end=page["limit-lithium"] if _is_lithium(needs) else page["limit-lead"],
    )


def _closed(_guide: Guide, _needs: Needs, design: Design) -> Facts | None:
    return _when(design.cooling.fans > 0, continuous_w=show(design.dc.hot_w, "W"))


def _heater(_guide: Guide, needs: Needs, _design: Design) -> Facts | None:
    heaters = [
        load for load in needs.loads if load.caution == "water-heater-on-inverter" and load.bus.legs
    ]
    amps = sum(running_current_a(load.running_w, load.volts) for load in heaters)
    return _when(bool(heaters), limit_a=show(amps, "A"))


def _charge_cut_off(guide: Guide, needs: Needs, design: Design) -> Facts | None:
    """A protection that opens while alternator or sun charge; lead-acid has none."""
    return _when(_is_lithium(needs) and any(driving_a(guide, needs, design)))


def _thick(_guide: Guide, _needs: Needs, design: Design) -> Facts | None:
    """Any cable of the design, links and branches too."""
    sizes = {each.size for each in design.dc.conductors}
    return _when(any(awg.rank(size) >= awg.rank(THICK_FROM) for size in sizes))


def _is_lithium(needs: Needs) -> bool:
    return chemistry_of(needs.chemistry).family is LITHIUM


def _bank_v(design: Design) -> float:
    return design.candidate.inverter.dc_nominal


RULES: dict[str, Rule] = {
    "always": lambda _g, _n, _d: {},
    "valve-regulated": lambda _g, n, _d: _when(chemistry_of(n.chemistry).valve_regulated),
    "bank-12": lambda _g, _n, d: _when(_bank_v(d) == HOUSE_V),
    "bank-above-12": lambda _g, _n, d: _when(_bank_v(d) != HOUSE_V),
    "bare": lambda _g, n, _d: _when(n.bare),
    "charge-cut-off": _charge_cut_off,
    "fifty-amp": lambda _g, n, _d: _when(n.service.legs == 2),
    "solar": lambda _g, n, _d: _when(n.solar_w > 0),
    "thirty-amp": lambda _g, n, _d: _when(n.service.amps == THIRTY_AMP_A),
    "one-source-two-legs": _one_source_two_legs,
    "no-240-off-battery": _no_240,
    "soft-starter-needed": _soft_starter,
    "lithium-cold": _lithium_cold,
    "cold-charge": _cold_charge,
    "vented-battery": lambda _g, _n, d: _when(d.bank.battery.vented),
    "lead-acid": lambda _g, n, _d: _when(chemistry_of(n.chemistry).family is LEAD_ACID),
    "converter-loop": lambda _g, n, _d: _when(n.whole),
    "water-heater-on-inverter": _heater,
    "absorption-fridge": lambda _g, n, _d: _when(_uses(n, "absorption-fridge")),
    "generator": _generator,
    "generator-start": _generator_start,
    "alternator": _alternator,
    "sources-sum": _sources_sum,
    "motors-on-12-v": _house_stays,
    "brake-on-lithium": _brake_on_lithium,
    "kept-battery": _kept_battery,
    "shut-down": _shut_down,
    "busbars-fed": _busbars_fed,
    "high-short-circuit": _short_circuit,
    "precharge": lambda _g, _n, d: _when(d.dc.precharge),
    "parallel-batteries": lambda _g, _n, d: _when(d.bank.parallel > 1),
    "series-batteries": lambda _g, _n, d: _when(d.bank.series > 1),
    "kept-alone": _kept_alone,
    "kept-joined": _kept_joined,
    "kept-for-house": lambda _g, _n, d: _when(bool(d.house and d.house.there)),
    "bank-limit": _bank_limit,
    "closed-space": _closed,
    "push-in": lambda _g, _n, d: _when(d.candidate.inverter.terminals.kind == "push-in"),
    "sub-panel-neutrals": lambda _g, n, d: _when(not n.whole or d.candidate.layout == SUB_PANEL),
    "adapter": lambda _g, n, _d: _when(n.service.legs == 2),
    "heavy-cable": _thick,
    "shore-limit": _shore,
    "shore-overload": _shore_overload,
    "must-wait": _must_wait,
    "multi-unit": lambda _g, _n, d: _when(d.candidate.units > 1),
}
