"""The run from the bank to each unit: current, fuse, cable, switch, busbars, case bond."""

from collections.abc import Iterable
from dataclasses import dataclass

from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Disconnect, Fuse, FuseHolder
from engine.model.result import BankPlan, Candidate, Check, DcPlan, Supply
from engine.sizing import conductors, grounding, protection
from engine.sizing.ampacity import dc_ampacity_a
from engine.sizing.bank import inrush_needs_precharge
from engine.sizing.inverter import dc_current_a, input_w, low_battery_v
from engine.sizing.short_circuit import required_interrupt_a
from engine.standards import awg

# A bank is charged well above its nominal voltage; fuses and switches must bear that.
# Sources: LiFePO4 cells, 3.2 V nominal and 3.65 V at most (trade tables); lead-acid, 2 V nominal
# and 2.6 V while it is equalised, from memory.
HIGHEST_OVER_NOMINAL = {"lifepo4": 3.65 / 3.2, "agm": 2.6 / 2.0, "flooded": 2.6 / 2.0}


def plan_dc(
    guide: Guide, needs: Needs, candidate: Candidate, supply: Supply, bank: BankPlan
) -> tuple[DcPlan | None, tuple[Check, ...]]:
    """Fuse and cable for the unit's full output, so that the owner may later use all of it."""
    inverter = candidate.inverter
    planning = guide.planning
    low_v = low_battery_v(inverter.dc_nominal, inverter.low_voltage_cutoff)
    unit_w = supply.continuous_w / candidate.units_per_leg
    unit_dc_w = input_w(supply.curve, unit_w)
    current_a = dc_current_a(unit_dc_w, low_v)
    battery = bank.battery
    highest_v = battery.nominal * bank.series * HIGHEST_OVER_NOMINAL[battery.chemistry]
    interrupt_a = required_interrupt_a(bank.short_circuit_a)
    fuse, fuse_check = _fuse(
        guide.catalogue.fuses, _Run(current_a, highest_v, interrupt_a, planning.fuse_factor)
    )
    holder = _holder(guide.catalogue.fuse_holders, fuse) if fuse else None
    if fuse is None or holder is None:
        return None, (fuse_check,)
    sizes = _dc_sizes(guide, planning.cable_insulation_c, inverter.dc_largest_awg)
    most_runs = min(planning.most_cable_runs, inverter.dc_lugs_per_stud)
    cable = conductors.choose_dc_cable(
        current_a,
        needs.cable_m,
        inverter.dc_nominal,
        planning.drop_limit,
        planning.cable_insulation_c,
        needs.ambient_c,
        sizes,
        most_runs,
        fuse.rating,
    )
    if cable is None:
        return None, (fuse_check, _cable_fault(guide, needs, candidate, current_a, fuse.rating))
    bank_a = current_a * candidate.units
    disconnect, disconnect_check = _switch(guide.catalogue.disconnects, bank_a, highest_v)
    if disconnect is None:
        return None, (fuse_check, disconnect_check)
    shared = candidate.units > 1 or bank.parallel > 1
    per_battery = protection.per_battery_protection_needed(bank.capacity_ah, bank.parallel)
    loop_ohm = (
        bank.battery.resistance * bank.series / bank.parallel
        + 2 * cable.resistance_ohm_per_m * needs.cable_m / cable.runs
    )
    plan = DcPlan(
        low_v=low_v,
        unit_w=unit_w,
        unit_dc_w=unit_dc_w,
        current_a=current_a,
        cable=cable,
        cable_m=needs.cable_m,
        fuse=fuse,
        holder=holder,
        disconnect=disconnect,
        shared=shared,
        battery_fuses=bank.parallel if per_battery else 0,
        bond_awg=grounding.chassis_bond(cable.size),
        precharge=inrush_needs_precharge(
            highest_v, loop_ohm, bank.battery.peak_current, bank.parallel
        ),
    )
    return plan, (
        fuse_check,
        disconnect_check,
        Check("cable", max(current_a, fuse.rating), cable.ampacity_a, "A", True),
    )


@dataclass(frozen=True, slots=True)
class _Run:
    """What a fuse must bear: lasting current, highest voltage, short circuit; and its factor."""

    current_a: float
    highest_v: float
    interrupt_a: float
    factor: float


def _fuse(fuses: Iterable[Fuse], run: _Run) -> tuple[Fuse | None, Check]:
    """The cheapest fuse of the smallest rating that will do and can stop a short circuit."""
    able = [
        fuse for fuse in fuses if fuse.volts >= run.highest_v and fuse.interrupt >= run.interrupt_a
    ]
    needed_a = protection.fuse_minimum_a(run.current_a, run.factor)
    if not able:
        most_a = max((fuse.interrupt for fuse in fuses if fuse.volts >= run.highest_v), default=0.0)
        return None, Check("fuse", run.interrupt_a, most_a, "A", True)
    ratings = tuple(sorted({fuse.rating for fuse in able}))
    rating_a = protection.choose_fuse_a(run.current_a, ratings, run.factor)
    if rating_a is None:
        return None, Check("fuse", needed_a, ratings[-1], "A", True)
    chosen = min(
        (fuse for fuse in able if fuse.rating == rating_a), key=lambda fuse: (fuse.price, fuse.id)
    )
    return chosen, Check("fuse", needed_a, rating_a, "A", True)


def _holder(holders: Iterable[FuseHolder], fuse: Fuse) -> FuseHolder | None:
    able = [
        holder
        for holder in holders
        if holder.family == fuse.family and holder.largest >= fuse.rating
    ]
    return min(able, key=lambda holder: (holder.price, holder.id), default=None)


def _switch(
    switches: Iterable[Disconnect], current_a: float, highest_v: float
) -> tuple[Disconnect | None, Check]:
    least_a = protection.disconnect_minimum_a(current_a)
    able = [each for each in switches if each.volts >= highest_v]
    check = Check("disconnect", least_a, max((e.rating for e in able), default=0.0), "A", True)
    able = [each for each in able if each.rating >= least_a]
    return min(able, key=lambda each: (each.price, each.id), default=None), check


def _dc_sizes(guide: Guide, insulation_c: int, largest_awg: str) -> tuple[str, ...]:
    """Sizes on the shelf that the unit's stud takes."""
    most = awg.rank(largest_awg)
    return tuple(
        cable.awg
        for cable in guide.catalogue.cables
        if cable.use == "dc" and cable.insulation_c >= insulation_c and awg.rank(cable.awg) <= most
    )


def _cable_fault(
    guide: Guide, needs: Needs, candidate: Candidate, current_a: float, fuse_a: float
) -> Check:
    """What the thickest cable that the unit takes lacks: ampacity, or voltage drop."""
    planning = guide.planning
    inverter = candidate.inverter
    runs = min(planning.most_cable_runs, inverter.dc_lugs_per_stud)
    sizes = _dc_sizes(guide, planning.cable_insulation_c, inverter.dc_largest_awg)
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
