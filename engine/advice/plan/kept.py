"""Batteries that are in the rig already, as a bank may be made of them.

Nothing is known of them but count, capacity, voltage, kind and age, so planning figures of their
chemistry stand in for a data sheet. Where new ones join them, the weaker figure of both counts.
"""

from dataclasses import replace
from typing import NamedTuple

from engine.advice.plan.bank import Demand
from engine.advice.plan.bank_checks import bank_checks
from engine.advice.plan.house import HOUSE_V, dc_loads_of, motor_a
from engine.advice.plan.on_bank import OnBank
from engine.advice.plan.shelf import preference
from engine.kept import kept
from engine.model.answers import ExistingBank
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Battery
from engine.model.result import BankPlan, Candidate, Check, Only, Supply
from engine.sizing import bank as sizing
from engine.sizing.battery import CLASS_TOLERANCE, batteries_in_series
from engine.sizing.charge_settings import cells_in_series
from engine.sizing.charging import usual_charge_a
from engine.sizing.inverter import dc_current_a
from engine.sizing.short_circuit import planned_short_circuit_a
from engine.standards.battery_chemistry import CHEMISTRIES, LEAD_ACID, chemistry_of
from engine.units import show
from engine.wording.tongue import plain

YOURS = "yours"
"""Id of a battery that no shelf holds: one that is there."""
EQUAL_CAPACITY = 0.05
"""Share by which capacities differ that still count as equal: common practice, no source."""
LEAST_SHARE = 0.25
"""Share of the bank that theirs are at least where new ones join: common practice, no source."""
START_S = 3.0
"""How long one without a data sheet bears the start of a motor [s]: from memory, the low end."""


@kept("language", 64)
def battery_of(guide: Guide, have: ExistingBank) -> Battery:
    """One of those that are there, by planning figures of its kind; its price is nothing.

    Its size is that of the nearest of the shelf, for the drawing; its weight is in the rig already.
    """
    figures = chemistry_of(have.chemistry)
    nominal_v = _class_v(have)
    like = nearest(guide, have, nominal_v)
    each_a = figures.continuous_per_h * have.capacity_ah
    sag_a = figures.family.sag_a_per_ah * have.capacity_ah
    return Battery(
        id=YOURS,
        name=_name(guide, have),
        maker="",
        price=0.0,
        height=like.height,
        width=like.width,
        depth=like.depth,
        mass=0.0,
        chemistry=have.chemistry,
        nominal=nominal_v,
        capacity=have.capacity_ah,
        continuous_current=each_a,
        peak_current=figures.start_factor * each_a,
        peak_time=START_S,
        charge_current=usual_charge_a(have.capacity_ah, have.chemistry),
        short_circuit=planned_short_circuit_a(have.capacity_ah, have.chemistry),
        resistance=nominal_v / sag_a,
        usable=figures.depth,
        peukert=figures.peukert[1],
        lowest_charge_temperature=figures.charge_c[0],
        most_in_series=have.count,
        most_in_parallel=guide.planning.kept_strings,
        stud=like.stud,
        vented=like.vented,
    )


def _class_v(have: ExistingBank) -> float:
    """Nominal voltage by its cells: "12 V" of lithium has four of them, 12.8 V [V]."""
    blocks = have.nominal_v / HOUSE_V
    if round(blocks) < 1 or abs(blocks / round(blocks) - 1) > CLASS_TOLERANCE:
        return have.nominal_v
    cell_v = chemistry_of(have.chemistry).profile.nominal_cell_v
    return cells_in_series(have.nominal_v, have.chemistry) * cell_v


def nearest(guide: Guide, have: ExistingBank, nominal_v: float) -> Battery:
    """The battery of the shelf that is most like it: its kind first, then its energy."""
    energy_wh = nominal_v * have.capacity_ah
    return min(
        guide.catalogue.batteries,
        key=lambda each: (
            each.chemistry != have.chemistry,
            abs(each.nominal * each.capacity - energy_wh),
            each.id,
        ),
    )


def _name(guide: Guide, have: ExistingBank) -> str:
    """What the parts list calls one of them."""
    return guide.wording.parts.say(
        "kept-name",
        kind=guide.wording.numbers.one_of("kind-", have.chemistry, CHEMISTRIES),
        volts=show(have.nominal_v, "V"),
        capacity=f"{plain(have.capacity_ah)} Ah",
    )


@kept("language", 64)
def joined_of(guide: Guide, have: ExistingBank) -> Battery | None:
    """An equal battery of the shelf, with the weaker figure of it and of those that are there."""
    theirs = battery_of(guide, have)
    equal = (
        each
        for each in guide.catalogue.batteries
        if each.chemistry == have.chemistry
        and abs(each.nominal / theirs.nominal - 1) <= EQUAL_CAPACITY
        and abs(each.capacity / theirs.capacity - 1) <= EQUAL_CAPACITY
    )
    new = min(equal, key=preference, default=None)
    if new is None:
        return None
    return replace(
        new,
        capacity=min(new.capacity, theirs.capacity),
        continuous_current=min(new.continuous_current, theirs.continuous_current),
        peak_current=min(new.peak_current, theirs.peak_current),
        peak_time=min(new.peak_time, theirs.peak_time),
        charge_current=min(new.charge_current, theirs.charge_current),
        short_circuit=max(new.short_circuit, theirs.short_circuit),
        resistance=max(new.resistance, theirs.resistance),
        usable=min(new.usable, theirs.usable),
        peukert=max(new.peukert, theirs.peukert),
        lowest_charge_temperature=max(
            new.lowest_charge_temperature, theirs.lowest_charge_temperature
        ),
        most_in_parallel=min(new.most_in_parallel, theirs.most_in_parallel),
    )


def needs_with(needs: Needs, only: Only) -> Needs:
    """The needs as a bank of theirs meets them: of its kind, where the kind was not said.

    They are in the bank then and cannot feed the 12 V circuits beside it.
    """
    if not only.kept:
        return needs
    return replace(needs, chemistry=only.battery.chemistry, existing=None)


def reasons_against(needs: Needs, system_v: float) -> tuple[sizing.ReuseFault, ...]:
    """Why those that are there cannot be a bank of this voltage, whatever is asked of it."""
    have = needs.existing
    if have is None:
        return ()
    said = needs.chemistry if "chemistry" not in needs.assumed else have.chemistry
    strings, series = _strings(have, system_v)
    bank = sizing.ExistingBank(have.chemistry, have.age_years, system_v, True, 0.0, max(1, strings))
    faults = sizing.reuse_verdict(bank, said, system_v, 0.0)
    if not series:
        return (*faults, sizing.ReuseFault("voltage", have.nominal_v, system_v))
    if not strings:
        return (*faults, sizing.ReuseFault("whole", float(have.count), float(series)))
    return faults


def _strings(have: ExistingBank, system_v: float) -> tuple[int, int]:
    """Whole strings that they make, and how many are in series; 0 and 0 where none can."""
    try:
        series = batteries_in_series(system_v, have.nominal_v)
    except ValueError:
        return 0, 0
    return have.count // series, series


def alone(guide: Guide, needs: Needs, system_v: float) -> Only | None:
    """Theirs as the whole bank: as many whole strings as may stand in parallel."""
    have = needs.existing
    if have is None or reasons_against(needs, system_v):
        return None
    strings, series = _strings(have, system_v)
    theirs = battery_of(guide, have)
    count = min(strings, guide.planning.kept_strings) * series
    return Only(theirs, count, theirs.name)


def joined(
    guide: Guide, needs: Needs, system_v: float
) -> tuple[Only | None, tuple[sizing.ReuseFault, ...]]:
    """Theirs with equal new ones, or why none may join them."""
    have = needs.existing
    if have is None:
        return None, ()
    faults = tuple(each for each in reasons_against(needs, system_v) if each.code != "whole")
    if faults:
        return None, ()
    most_years = guide.planning.kept_join_years
    if have.age_years > most_years:
        return None, (sizing.ReuseFault("join-age", have.age_years, most_years),)
    equal = joined_of(guide, have)
    if equal is None:
        return None, (sizing.ReuseFault("join-none", "", ""),)
    return Only(equal, have.count, battery_of(guide, have).name, "more"), ()


def plan_kept(
    on: OnBank, candidate: Candidate, supply: Supply, only: Only
) -> tuple[BankPlan | None, tuple[Check, ...]]:
    """The bank of those that are there, perhaps with new ones, and its checks; none where it fails.

    on : of needs as `needs_with` makes them
    """
    demand, coldest_c = Demand(on, candidate, supply), on.needs.weather.coldest_c
    strings = demand.strings_of(only.battery)
    if strings is None:
        return None, (Check("battery-series", 0.0, 1.0, "yes", False),)
    there = -(-only.kept // strings.series)
    parallel = {
        "all": there,
        "fewest": min(there, strings.parallel),
        "more": max(there, strings.parallel),
    }[only.use]
    string_ah, usable_wh = strings.string_ah, strings.usable_wh
    if only.battery.kind.family.by_peukert and demand.cold_share:
        string_ah, usable_wh = demand.lead_string(only.battery, strings.series, parallel)
    counted = strings._replace(parallel=parallel, string_ah=string_ah, usable_wh=usable_wh)
    plan = demand.bank_of(only.battery, counted)
    plan = replace(plan, kept=min(only.kept, plan.count), yours=only.yours)
    checks = _checks(plan, coldest_c, demand.hold_wh, grown=only.use == "more")
    return (plan if all(check.passed for check in checks) else None), checks


def _checks(plan: BankPlan, coldest_c: float, hold_wh: float, *, grown: bool) -> tuple[Check, ...]:
    """As of any bank; of theirs alone it is not known what their maker allows side by side."""
    if grown:
        share = Check("kept-share", plan.kept / plan.count, LEAST_SHARE, "share", False)
        return (*bank_checks(plan, coldest_c), share)
    known = (
        each
        for each in bank_checks(plan, coldest_c)
        if each.id not in ("battery-series", "battery-parallel")
    )
    return (
        Check("kept-parallel", plan.parallel, plan.battery.most_in_parallel, "count", True),
        *known,
        Check("kept-energy", plan.usable_wh, hold_wh, "Wh", False),
    )


class ForHouse(NamedTuple):
    """How theirs stay as the 12 V battery beside a new bank: how many, and strings in parallel."""

    batteries: int
    strings: int


def for_house(guide: Guide, needs: Needs, bank_v: float) -> ForHouse | None:
    """Theirs as the battery of the rig's own system beside a new bank; None where they cannot.

    They are lead-acid, which neither frost nor the charge line of a tow vehicle harms, accept what
    runs, and move the largest motor.
    """
    have = needs.existing
    if have is None or not needs.keeps_house(bank_v):
        return None
    figures = chemistry_of(have.chemistry)
    strings, series = _strings(have, HOUSE_V)
    strings = min(strings, guide.planning.kept_strings)
    if figures.family is not LEAD_ACID or have.age_years >= figures.life_years or not strings:
        return None
    theirs = battery_of(guide, have)
    running_a = dc_current_a(dc_loads_of(needs), HOUSE_V)
    moves = strings * theirs.continuous_current >= running_a + motor_a(needs)
    if not moves or strings * theirs.charge_current < running_a:
        return None
    return ForHouse(strings * series, strings)
