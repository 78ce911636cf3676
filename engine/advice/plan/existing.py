"""Batteries that are in the rig already: whether they can serve the design, and what that changes.

Nothing is known of them but count, capacity, voltage, kind and age, so planning figures of their
chemistry stand in for a data sheet.
"""

from engine.advice.plan.branches import on_bank
from engine.model.answers import ExistingBank
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.model.sources import Reuse
from engine.sizing import bank as sizing
from engine.sizing.battery import (
    batteries_in_series,
    cold_capacity_factor,
    peukert_capacity_ah,
    usable_wh,
)
from engine.sizing.charging import usual_charge_a
from engine.sizing.short_circuit import (
    family_interrupt_a,
    interrupt_sufficient,
    planned_short_circuit_a,
    required_interrupt_a,
)
from engine.standards.battery_chemistry import Chemistry, chemistry_of
from engine.standards.interrupt import FUSE_FAMILIES

RATE_H = 20.0


def reuse_of(guide: Guide, needs: Needs, design: Design) -> Reuse | None:
    """The verdict on the batteries that are there; None where there are none.

    Faults beside those of the kernel: ``whole`` (they do not make whole strings), ``start`` (the
    hardest start would open their protection), ``cold`` (they may not be charged where they are).
    """
    have = needs.existing
    if have is None:
        return None
    system_v = design.candidate.inverter.dc_nominal
    figures = chemistry_of(have.chemistry)
    series, parallel, faults = _strings(have, system_v)
    each_a = figures.continuous_per_h * have.capacity_ah
    if parallel:
        bank = sizing.ExistingBank(
            have.chemistry, have.age_years, have.nominal_v * series, True, each_a, parallel
        )
        needed_a = design.bank.continuous_a
        faults += sizing.reuse_verdict(bank, design.bank.battery.chemistry, system_v, needed_a)
        start_a = design.bank.surge_a
        bears_a = figures.start_factor * each_a * parallel
        if design.bank.surge_s > 0 and bears_a < start_a:
            faults += (sizing.ReuseFault("start", bears_a, start_a),)
    coldest_c = needs.weather.coldest_c
    if coldest_c < figures.charge_c[0]:
        faults += (sizing.ReuseFault("cold", coldest_c, figures.charge_c[0]),)
    energy_wh = _energy_wh(guide, needs, design, have, (series, parallel), figures)
    new = design.bank
    short_a = planned_short_circuit_a(have.capacity_ah, have.chemistry) * parallel
    interrupt_a = required_interrupt_a(short_a)
    return Reuse(
        bank=have,
        series=series,
        parallel=parallel,
        faults=faults,
        energy_wh=energy_wh,
        nights=energy_wh / new.need_wh * needs.nights,
        charge_limit_a=(
            usual_charge_a(have.capacity_ah * parallel, have.chemistry) if parallel else 0.0
        ),
        short_circuit_a=short_a,
        interrupt_a=interrupt_a,
        fuse_classes=_classes(design, interrupt_a) if parallel else (),
        saves=new.count * new.battery.price,
        mass_kg=new.count * new.battery.mass,
    )


def weakest_fuse_a(design: Design) -> float:
    """Least interrupt rating among the fuses that hang on the bank [A]."""
    dc = design.dc
    own = (dc.battery_fuse, *(each.fuse for each in dc.branches if on_bank(each)))
    return min(fuse.interrupt for fuse in (dc.fuse, *own) if fuse)


def _classes(design: Design, interrupt_a: float) -> tuple[str, ...]:
    """Classes of fuse that the bank wants; none where those of the list can stop it."""
    if interrupt_sufficient(weakest_fuse_a(design), interrupt_a):
        return ()
    volts = design.dc.highest_v
    names = dict.fromkeys(each.name for each in FUSE_FAMILIES)
    return tuple(name for name in names if family_interrupt_a(name, volts) >= interrupt_a)


def _strings(have: ExistingBank, system_v: float) -> tuple[int, int, tuple[sizing.ReuseFault, ...]]:
    """Batteries in series, whole strings in parallel, and what is wrong with that."""
    try:
        series = batteries_in_series(system_v, have.nominal_v)
    except ValueError:
        return 0, 0, (sizing.ReuseFault("voltage", have.nominal_v, system_v),)
    if have.count % series:
        return series, 0, (sizing.ReuseFault("whole", float(have.count), float(series)),)
    return series, have.count // series, ()


def _energy_wh(
    guide: Guide,
    needs: Needs,
    design: Design,
    have: ExistingBank,
    strings: tuple[int, int],
    figures: Chemistry,
) -> float:
    """What they give; the exponent of an old bank is taken at its high end [Wh]."""
    series, parallel = strings
    if not parallel:
        return 0.0
    capacity_ah = have.capacity_ah
    if figures.family.by_peukert:
        mean_a = design.bank.mean_a / parallel
        capacity_ah = peukert_capacity_ah(capacity_ah, RATE_H, mean_a, figures.peukert[1])
    each_wh = usable_wh(
        have.nominal_v * series,
        capacity_ah,
        figures.depth,
        cold_capacity_factor(have.chemistry, needs.weather.coldest_c),
        guide.planning.ageing,
    )
    return each_wh * parallel
