"""What refills the bank, the limits to set on the unit, and the week that follows from them."""

from dataclasses import dataclass

from engine.advice.plan.on_bank import of_bus
from engine.advice.plan.shore import (
    Charger,
    charger_legs_of,
    charger_of,
    compensation_of,
    hours_to_full,
    plan_generator,
    plan_shore,
    voltages_of,
)
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import Load, Needs
from engine.model.products import AlternatorCharger
from engine.model.result import Design
from engine.model.sources import ChargingPlan, GeneratorPlan, ShorePlan
from engine.sizing import energy, solar
from engine.sizing.alternator import converter_current_a, idle_current_a, mean_current_a
from engine.sizing.charging import days_to_fill
from engine.sizing.dc_circuit import behind_converter_w
from engine.sizing.loads import daily_energy_wh
from engine.trace import step

HOURS_PER_DAY = 24
DAYS = 7
LEVEL_TILT_DEG = 0.0
DRIVE_START_HOUR = 10.0

week_of = kept("answer", 64)(energy.simulate_week)
"""Most details of an answer leave its week as it is."""


def plan_charging(guide: Guide, needs: Needs, design: Design) -> ChargingPlan:
    """Limits on shore, and what each source gives; the week is followed hour by hour."""
    voltages, charger = voltages_of(design), charger_of(needs, design)
    shore, generator = plan_shore(needs, design), plan_generator(guide, needs, design)
    sun_w = _sun_w(needs)
    alternator_a, solar_a = driving_a(guide, needs, design)
    mean_a = _mean_a(guide, needs, design, alternator_a)
    load_w = hourly_load_w(needs, design)
    sources = _Sources(
        sun_w,
        mean_a * voltages.absorption_v,
        _generator_w(guide, generator, charger),
        _charger_share(design, charger, generator.legs if generator else 1),
    )
    away = _week(needs, design, load_w, sources, charger, shore, ())
    return ChargingPlan(
        shore=shore,
        generator=generator,
        absorption_v=voltages.absorption_v,
        float_v=voltages.float_v,
        compensation_v_per_k=compensation_of(design),
        absorption_here_v=voltages_of(design, needs.ambient_c).absorption_v,
        alternator_a=alternator_a,
        solar_a=solar_a,
        alternator_hours=hours_to_full(design, mean_a),
        solar_daily_wh=sum(sun_w),
        solar_days=_solar_days(design, sum(sun_w), sum(load_w)),
        away=away,
        hooked_up=_week(needs, design, load_w, sources, charger, shore, _shore_nights(needs)),
    )


@dataclass(frozen=True, slots=True)
class _Sources:
    """Power of each source, as the battery sees it, and how long the generator runs a day.

    generator_share : what of the generator's current the chargers can turn into charge
    """

    sun_w: tuple[float, ...]
    alternator_w: float
    generator: tuple[float, float]
    generator_share: float


def _generator_w(guide: Guide, plan: GeneratorPlan | None, charger: Charger) -> tuple[float, float]:
    if plan is None:
        return 0.0, 0.0
    limit_w = plan.input_limit_a * plan.legs * charger.volts
    return min(plan.derated_w, limit_w) * charger.efficiency, guide.planning.generator_hours


def _charger_share(design: Design, charger: Charger, legs: int) -> float:
    """What of these legs' current the chargers can turn into charge."""
    return charger_legs_of(design, legs) / legs * charger.power_factor


def _shore_nights(needs: Needs) -> tuple[int, ...]:
    """Evenings on which the rig is plugged in: the last of each stretch between charges."""
    stretch = max(1, round(needs.nights))
    return tuple(range(stretch - 1, DAYS, stretch))


def _sun_w(needs: Needs) -> tuple[float, ...]:
    if not needs.solar_w:
        return (0.0,) * HOURS_PER_DAY
    return solar.hourly_yield_w(
        needs.solar_w,
        needs.latitude_deg,
        needs.month,
        LEVEL_TILT_DEG,
        needs.weather.clearness,
        needs.weather.mean_c,
    )


def _solar_days(design: Design, sun_wh: float, load_wh: float) -> float | None:
    """Days of sun from empty to full while the loads run; None where it never gets there."""
    bank = design.bank
    role = "charging.sun" if sun_wh else ""
    return step(role, days_to_fill, bank.usable_wh, bank.battery.kind.efficiency, sun_wh, load_wh)


def driving_a(guide: Guide, needs: Needs, design: Design) -> tuple[float, float]:
    """Charge currents to set on the DC-DC charger and on the solar controller [A]."""
    charge_v = voltages_of(design).absorption_v
    return _alternator_a(guide, needs, design, charge_v), _solar_a(guide, design)


def _alternator_a(guide: Guide, needs: Needs, design: Design, charge_v: float) -> float:
    """Charge current to set on the DC-DC charger that is on the parts list; 0 without one."""
    chosen = _dc_chargers(guide, design)
    if not chosen:
        return 0.0
    return step(
        "charging.alternator",
        converter_current_a,
        rated_a=needs.alternator_a,
        vehicle_load_a=guide.planning.vehicle_load,
        battery_v=charge_v,
        converter_max_a=min(chosen[0].current, design.bank.charge_limit_a),
        efficiency=chosen[0].efficiency,
    )


def _mean_a(guide: Guide, needs: Needs, design: Design, set_a: float) -> float:
    """What the DC-DC charger gives over the hours with the engine on, idle included [A]."""
    if not set_a:
        return 0.0
    idle_a = step(
        "charging.alternator",
        idle_current_a,
        set_a=set_a,
        rated_a=needs.alternator_a,
        vehicle_load_a=guide.planning.vehicle_load,
        battery_v=voltages_of(design).absorption_v,
        efficiency=_dc_chargers(guide, design)[0].efficiency,
    )
    return step("charging.alternator", mean_current_a, set_a, idle_a, guide.planning.idle_share)


def _dc_chargers(guide: Guide, design: Design) -> list[AlternatorCharger]:
    """The DC-DC charger that is on the parts list; none without one."""
    ids = {line.product for line in design.parts if line.group == "alternator-charger"}
    return [each for each in guide.catalogue.alternator_chargers if each.id in ids]


def _solar_a(guide: Guide, design: Design) -> float:
    """Charge current to set on the solar controller that is on the parts list; 0 without one."""
    ids = {line.product for line in design.parts}
    chosen = [each.current for each in guide.catalogue.solar_controllers if each.id in ids]
    return min(chosen[0], design.bank.charge_limit_a) if chosen else 0.0


def _week(
    needs: Needs,
    design: Design,
    load_w: tuple[float, ...],
    sources: _Sources,
    charger: Charger,
    shore: ShorePlan,
    shore_nights: tuple[int, ...],
) -> energy.Week:
    bank = design.bank
    generator_w, generator_hours = sources.generator
    return week_of(
        energy.WeekInputs(
            capacity_wh=bank.usable_wh / bank.battery.usable,
            usable_floor=1.0 - bank.battery.usable,
            start_state=1.0,
            load_w=load_w,
            solar_w=sources.sun_w,
            alternator_w=sources.alternator_w,
            drive_hours=needs.drive_h,
            drive_start_hour=DRIVE_START_HOUR,
            shore_w=shore.input_limit_a * shore.legs * needs.service.volts * charger.efficiency,
            shore_nights=shore_nights,
            generator_w=generator_w,
            generator_hours=generator_hours,
            charge_limit_w=bank.charge_limit_a * bank.nominal_v,
            charge_efficiency=bank.battery.kind.efficiency,
            discharge_efficiency=1.0,
            chemistry=needs.chemistry,
            days=DAYS,
            charger_limit_w=charger.most_a * charger.charge_v,
            shore_share=_charger_share(design, charger, shore.legs),
            generator_share=sources.generator_share,
        )
    )


def hourly_load_w(needs: Needs, design: Design) -> tuple[float, ...]:
    """Mean power of each hour of the day at the battery, adding up to the day's energy need."""
    hours = [0.0] * HOURS_PER_DAY
    for load in needs.loads:
        _spread(hours, load, battery_factor(design, load))
    idle_w = design.bank.energy.idle_wh / needs.nights / HOURS_PER_DAY
    return tuple(hour + idle_w for hour in hours)


def battery_factor(design: Design, load: Load) -> float:
    """Battery energy for each unit of energy of a load, without what the units draw idle."""
    on_12_v = behind_converter_w(1.0, design.bank.house_efficiency)
    return of_bus(load.bus, on_12_v, _battery_per_ac(design))


def _battery_per_ac(design: Design) -> float:
    """Battery energy for each unit of AC energy, without idle, as the energy need has it."""
    need = design.bank.energy
    return 1.0 + need.conversion_wh / need.ac_wh if need.ac_wh else 1.0


def _spread(hours: list[float], load: Load, factor: float) -> None:
    """Put a load's energy into the hours from its usual time on."""
    energy_wh = load.count * daily_energy_wh(load.running_w, load.hours, load.duty) * factor
    slots = max(1, round(load.hours))
    for later in range(min(slots, HOURS_PER_DAY)):
        hours[(load.hour_of_day + later) % HOURS_PER_DAY] += energy_wh / min(slots, HOURS_PER_DAY)
