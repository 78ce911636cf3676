"""The run from the bank to each unit: current, fuse, cable, switch, busbars, frame joints."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeVar

from engine.advice.plan.bank import dc_loads_of
from engine.advice.plan.branches import Feed, branch_conductors, branches_of, on_bank
from engine.advice.plan.dc_cables import Chain, conductors_of
from engine.advice.plan.dc_shelf import Fused, Run, choose_dc_cable, dc_sizes, fuse_of
from engine.advice.plan.shelf import preference
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Busbar, Disconnect, Fuse, FuseHolder, Monitor
from engine.model.result import BankPlan, Candidate, Check, DcPlan, Supply
from engine.sizing import conductors, grounding, protection
from engine.sizing.ampacity import dc_ampacity_a
from engine.sizing.bank import inrush_needs_precharge, string_current_a
from engine.sizing.dc_circuit import bank_current_a, loop_resistance_ohm, terminal_voltage_v
from engine.sizing.inverter import dc_current_a, input_w, low_battery_v
from engine.sizing.short_circuit import required_interrupt_a
from engine.standards import awg
from engine.trace import step

# A lithium bank of a nominal 12.8 V is charged at up to 14.6 V; fuses and switches must bear that.
# Source: LiFePO4 cells, 3.2 V nominal and 3.65 V at most (trade tables); lead-acid cells, 2.0 V
# nominal and 2.45 V in absorption (from memory).
HIGHEST_OVER_NOMINAL = {"lifepo4": 3.65 / 3.2, "agm": 2.45 / 2.0, "flooded": 2.45 / 2.0}

# From memory of ABYC E-11; more than that wants a busbar.
MOST_LUGS_ON_A_STUD = 4

Priced = TypeVar("Priced", Busbar, Monitor)


def plan_dc(
    guide: Guide, needs: Needs, candidate: Candidate, supply: Supply, bank: BankPlan
) -> tuple[DcPlan | None, tuple[Check, ...]]:
    """Fuse and cable for the unit's full output, so that the owner may later use all of it."""
    inverter = candidate.inverter
    planning = guide.planning
    low_v = low_battery_v(inverter.dc_nominal, inverter.low_voltage_cutoff)
    unit_w = supply.continuous_w / candidate.units_per_leg
    unit_dc_w = step("cable.unit", input_w, supply.curve, unit_w)
    current_a = step("cable.unit", dc_current_a, unit_dc_w, low_v)
    dc_loads_a = dc_current_a(dc_loads_of(needs), low_v)
    bank_a = step("fuse.switch", bank_current_a, current_a, candidate.units, dc_loads_a)
    highest_v = bank.nominal_v * HIGHEST_OVER_NOMINAL[bank.battery.chemistry]
    interrupt_a = required_interrupt_a(bank.short_circuit_a)
    asked = Run(current_a, highest_v, interrupt_a, planning.fuse_factor)
    fused, fuse_check = step("fuse.main", fuse_of, guide, asked)
    if fused is None:
        return None, (fuse_check,)
    fuse, holder = fused
    sizes = dc_sizes(guide, planning.cable_insulation_c, inverter.dc_largest_awg)
    cable = step(
        "cable.main",
        choose_dc_cable,
        current_a,
        needs.cable_m,
        inverter.dc_nominal,
        planning.drop_limit,
        planning.cable_insulation_c,
        needs.ambient_c,
        sizes,
        min(planning.most_cable_runs, inverter.dc_lugs_per_stud),
        fuse.rating,
    )
    if cable is None:
        return None, (fuse_check, _cable_fault(guide, needs, candidate, current_a, fuse.rating))
    disconnect, disconnect_check = _switch(guide.catalogue.disconnects, bank_a, highest_v)
    if disconnect is None:
        return None, (fuse_check, disconnect_check)
    strings, string_check = _strings(guide, needs, bank, bank_a, (asked, fuse, candidate.units))
    if strings is None:
        return None, (fuse_check, disconnect_check, string_check)
    guarded_a = fuse.rating * candidate.units
    trunk = cable if candidate.units == 1 else _short(guide, needs, bank, bank_a, guarded_a)
    if trunk is None:
        return None, (fuse_check, disconnect_check, Check("cable", guarded_a, 0.0, "A", True))
    loop_ohm = step(
        "cable.loop",
        loop_resistance_ohm,
        bank.string_ohm,
        bank.parallel,
        cable.resistance_ohm_per_m,
        needs.cable_m,
        cable.runs,
        candidate.units,
    )
    terminal_v = step("cable.loop", terminal_voltage_v, bank.dc_w, bank.nominal_v, loop_ohm) or 0.0
    branches = branches_of(guide, needs, Feed(inverter.dc_nominal, low_v, highest_v, interrupt_a))
    on_post = trunk.runs + sum(map(on_bank, branches))
    shared = candidate.units > 1 or bank.parallel > 1 or on_post > MOST_LUGS_ON_A_STUD
    monitor = _first(each for each in guide.catalogue.monitors if each.rating >= bank_a)
    bars_a = protection.disconnect_minimum_a(bank_a)
    busbar = _first(each for each in guide.catalogue.busbars if each.rating >= bars_a)
    shunt_stud = monitor.stud if monitor else disconnect.stud
    bar_stud = (busbar.stud if busbar else disconnect.stud) if shared else ""
    bond_awg = grounding.chassis_bond(cable.size)
    frame_awg = grounding.negative_to_frame(trunk.size, bond_awg)
    plan = DcPlan(
        low_v=low_v,
        unit_w=unit_w,
        unit_dc_w=unit_dc_w,
        current_a=current_a,
        bank_a=bank_a,
        cable=cable,
        cable_m=needs.cable_m,
        fuse=fuse,
        holder=holder,
        disconnect=disconnect,
        monitor=monitor,
        busbar=busbar if shared else None,
        shared=shared,
        trunk=trunk,
        string_a=strings.current_a,
        link=strings.link,
        battery_fuse=strings.fuse,
        battery_holder=strings.holder,
        battery_fuses=bank.parallel if strings.fuse else 0,
        bond_awg=bond_awg,
        frame_awg=frame_awg,
        precharge=inrush_needs_precharge(
            highest_v, loop_ohm, bank.battery.peak_current, bank.parallel
        ),
        loop_ohm=loop_ohm,
        terminal_v=terminal_v,
        start_v=terminal_voltage_v(bank.start_dc_w, bank.nominal_v, loop_ohm),
        conductors=(
            *conductors_of(
                Chain(
                    units=candidate.units,
                    series=bank.series,
                    parallel=bank.parallel,
                    trunk=trunk,
                    cable=cable,
                    cable_m=needs.cable_m,
                    link=strings.link,
                    link_m=planning.link_m,
                    frame_size=frame_awg,
                    frame_m=planning.bond_run_m,
                    unit_stud=inverter.dc_stud,
                    battery_stud=bank.battery.stud,
                    holder_stud=holder.stud,
                    switch_stud=disconnect.stud,
                    shunt_stud=shunt_stud,
                    bar_stud=bar_stud,
                    battery_holder_stud=strings.holder.stud if strings.holder else "",
                )
            ),
            *branch_conductors(
                branches, bar_stud or bank.battery.stud, shunt_stud, planning.link_m
            ),
        ),
        branches=branches,
    )
    return plan, (
        fuse_check,
        disconnect_check,
        Check("cable", max(current_a, fuse.rating), cable.ampacity_a, "A", True),
        Check("terminal-voltage", terminal_v, inverter.low_voltage_cutoff, "V", False),
    )


@dataclass(frozen=True, slots=True)
class _Strings:
    """Current of each string of batteries, its cable, and its own fuse where it needs one."""

    current_a: float
    link: conductors.CableChoice
    fuse: Fuse | None
    holder: FuseHolder | None


def _strings(
    guide: Guide, needs: Needs, bank: BankPlan, bank_a: float, main: tuple[Run, Fuse, int]
) -> tuple[_Strings | None, Check]:
    """Cable of each string, and the fuse that it bears: its own where it has one.

    The current is what its maker allows, since others may drop out.
    Without one it bears all that the main fuses pass, since one string may feed a fault alone.
    The law for boats allows a fuse of 150 % of the ampacity, 33 CFR 183.455(c)(1); here 100 %.
    """
    asked, main_fuse, units = main
    fused: Fused | None = None
    check = Check("fuse", 0.0, main_fuse.rating, "A", True)
    string_a = bank_a
    guarded_a = main_fuse.rating * units
    alone = protection.per_battery_protection_needed(bank.capacity_ah, bank.parallel)
    if bank.parallel > 1:
        battery_a = bank.battery.continuous_current
        role = "fuse.battery" if alone else ""
        string_a = step(role, string_current_a, battery_a, bank_a)
    if alone:
        run = Run(string_a, asked.highest_v, asked.interrupt_a, asked.factor)
        fused, check = step("fuse.battery", fuse_of, guide, run)
        if fused is None:
            return None, check
        guarded_a = fused[0].rating
    link = _short(guide, needs, bank, string_a, guarded_a)
    if link is None:
        return None, Check("cable", max(string_a, guarded_a), 0.0, "A", True)
    fuse, holder = fused or (None, None)
    return _Strings(string_a, link, fuse, holder), check


def _short(
    guide: Guide, needs: Needs, bank: BankPlan, current_a: float, guarded_a: float
) -> conductors.CableChoice | None:
    """A short piece near the bank: any size on the shelf, thick enough for current and fuse."""
    planning = guide.planning
    return choose_dc_cable(
        current_a,
        planning.link_m,
        bank.nominal_v,
        planning.drop_limit,
        planning.cable_insulation_c,
        needs.ambient_c,
        dc_sizes(guide, planning.cable_insulation_c, awg.SIZES[-1]),
        planning.most_cable_runs,
        guarded_a,
    )


def _first(able: Iterable[Priced]) -> Priced | None:
    return min(able, key=preference, default=None)


def _switch(
    switches: Iterable[Disconnect], current_a: float, highest_v: float
) -> tuple[Disconnect | None, Check]:
    least_a = step("fuse.switch", protection.disconnect_minimum_a, current_a)
    able = [each for each in switches if each.volts >= highest_v]
    strong = [each for each in able if each.rating >= least_a]
    chosen = min(strong, key=preference, default=None)
    most_a = max((each.rating for each in able), default=0.0)
    limit_a = chosen.rating if chosen else most_a
    return chosen, Check("disconnect", least_a, limit_a, "A", True)


def _cable_fault(
    guide: Guide, needs: Needs, candidate: Candidate, current_a: float, fuse_a: float
) -> Check:
    """What the thickest cable that the unit takes lacks: ampacity, or voltage drop."""
    planning = guide.planning
    inverter = candidate.inverter
    runs = min(planning.most_cable_runs, inverter.dc_lugs_per_stud)
    sizes = dc_sizes(guide, planning.cable_insulation_c, inverter.dc_largest_awg)
    needed_a = max(current_a, fuse_a)
    if not sizes:
        return Check("cable", needed_a, 0.0, "A", True)
    thickest = max(sizes, key=awg.rank)
    ampacity_a = runs * dc_ampacity_a(thickest, planning.cable_insulation_c, needs.ambient_c)
    if ampacity_a < needed_a:
        return Check("cable", needed_a, ampacity_a, "A", True)
    resistance = conductors.resistance_ohm_per_m(thickest, planning.cable_insulation_c)
    drop_v = conductors.voltage_drop_v(current_a, needs.cable_m, resistance, runs)
    return Check("cable", drop_v, planning.drop_limit * inverter.dc_nominal, "V", True)
