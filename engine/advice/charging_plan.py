"""What refills the bank, the limits to set on the unit, and the week that follows from them."""

from engine.advice.bank import HOURS_ON
from engine.model.guide import Guide
from engine.model.needs import Load, Needs
from engine.model.result import ChargingPlan, Design
from engine.sizing import charge_settings, charging, energy, shore, solar
from engine.sizing.alternator import converter_current_a
from engine.sizing.generator import derated_w
from engine.sizing.loads import daily_energy_wh, running_current_a
from engine.standards.charge_efficiency import ENERGY_EFFICIENCY

HOURS_PER_DAY = 24
LEVEL_TILT_DEG = 0.0


def plan_charging(guide: Guide, needs: Needs, design: Design) -> ChargingPlan:
    """Limits on shore, and what each source gives; the week is followed hour by hour."""
    inverter, bank = design.candidate.inverter, design.bank
    voltages = charge_settings.charge_voltages(
        charge_settings.cells_in_series(bank.battery.nominal * bank.series, needs.chemistry),
        needs.chemistry,
    )
    charge_v = voltages.absorption_v
    limit_a = shore.input_limit_a(needs.service.amps)
    light_va = sum(
        load.running_w / load.power_factor
        for load in needs.running
        if load.volts == 120 and not load.heavy
    )
    light_a = running_current_a(light_va, needs.service.volts) / needs.service.legs
    most_a = min(inverter.charge_current * design.candidate.units, bank.charge_limit_a)
    charge_a = shore.largest_charge_a(
        limit_a,
        light_a,
        battery_v=charge_v,
        efficiency=inverter.charge_efficiency,
        power_factor=inverter.charge_power_factor,
        volts=needs.service.volts,
        maximum_a=most_a,
    )
    charger_ac_a = shore.charger_ac_current_a(
        charge_v,
        charge_a,
        inverter.charge_efficiency,
        inverter.charge_power_factor,
        needs.service.volts,
    )
    sun_w = _sun_w(guide, needs)
    alternator_a = _alternator_a(guide, needs, design, charge_v)
    generator_w = (
        derated_w(needs.generator_w, needs.altitude_m, needs.ambient_c)
        if needs.generator_w
        else 0.0
    )
    return ChargingPlan(
        input_limit_a=limit_a,
        charge_a=charge_a,
        charger_ac_a=charger_ac_a,
        left_for_loads_a=shore.left_for_loads_a(limit_a, charger_ac_a),
        shore_hours=_hours_from_shore(needs, design, charge_a),
        generator_w=generator_w,
        alternator_a=alternator_a,
        solar_daily_wh=sum(sun_w),
        absorption_v=voltages.absorption_v,
        float_v=voltages.float_v,
        week=_week(guide, needs, design, _Sources(sun_w, alternator_a * charge_v, generator_w)),
    )


class _Sources:
    """Power of each source at the battery."""

    def __init__(self, sun_w: tuple[float, ...], alternator_w: float, generator_w: float) -> None:
        self.sun_w = sun_w
        self.alternator_w = alternator_w
        self.generator_w = generator_w


def _sun_w(guide: Guide, needs: Needs) -> tuple[float, ...]:
    if not needs.solar_w:
        return (0.0,) * HOURS_PER_DAY
    return solar.hourly_yield_w(
        needs.solar_w,
        needs.latitude_deg,
        needs.month,
        LEVEL_TILT_DEG,
        guide.planning.clearness,
        needs.ambient_c,
    )


def _alternator_a(guide: Guide, needs: Needs, design: Design, charge_v: float) -> float:
    """Charge current to set on the DC-DC charger that is on the parts list; 0 without one."""
    ids = {line.product for line in design.parts if line.group == "alternator-charger"}
    chosen = [each for each in guide.catalogue.alternator_chargers if each.id in ids]
    if not chosen:
        return 0.0
    return converter_current_a(
        rated_a=needs.alternator_a,
        vehicle_load_a=guide.planning.vehicle_load,
        battery_v=charge_v,
        converter_max_a=chosen[0].current,
        efficiency=chosen[0].efficiency,
    )


def _hours_from_shore(needs: Needs, design: Design, charge_a: float) -> float | None:
    """Hours from empty to full on shore; None where nothing is left for charging."""
    if charge_a <= 0:
        return None
    bank = design.bank
    return charging.hours_to_charge(
        1.0 - bank.battery.usable, 1.0, bank.capacity_ah, charge_a, 0.0, needs.chemistry
    )


def _week(guide: Guide, needs: Needs, design: Design, sources: _Sources) -> energy.Week:
    bank, inverter = design.bank, design.candidate.inverter
    return energy.simulate_week(
        energy.WeekInputs(
            capacity_wh=bank.energy_wh * guide.planning.ageing,
            usable_floor=1.0 - bank.battery.usable,
            start_state=1.0,
            load_w=hourly_load_w(needs, design),
            solar_w=sources.sun_w,
            alternator_w=sources.alternator_w,
            drive_hours=needs.drive_h,
            drive_start_hour=10.0,
            shore_w=0.0,
            shore_nights=(),
            generator_w=sources.generator_w * inverter.charge_efficiency,
            generator_hours=guide.planning.generator_hours if sources.generator_w else 0.0,
            charge_limit_w=bank.charge_limit_a * bank.battery.nominal * bank.series,
            charge_efficiency=ENERGY_EFFICIENCY[needs.chemistry],
            discharge_efficiency=1.0,
            chemistry=needs.chemistry,
        )
    )


def hourly_load_w(needs: Needs, design: Design) -> tuple[float, ...]:
    """Mean power of each hour of the day at the battery, adding up to the day's energy need."""
    hours = [0.0] * HOURS_PER_DAY
    for load in needs.loads:
        _spread(hours, load, 1.0 if load.volts == 12 else _battery_per_ac(design))
    idle_w = design.supply.curve.idle_w * HOURS_ON / HOURS_PER_DAY
    return tuple(hour + idle_w for hour in hours)


def _battery_per_ac(design: Design) -> float:
    """Battery energy for each unit of AC energy, without idle, as the energy need has it."""
    need = design.bank.energy
    return 1.0 + need.conversion_wh / need.ac_wh if need.ac_wh else 1.0


def _spread(hours: list[float], load: Load, factor: float) -> None:
    """Put a load's energy into the hours from its usual time on."""
    energy_wh = load.count * daily_energy_wh(load.running_w, load.hours, load.duty) * factor
    slots = max(1, round(load.hours))
    for step in range(min(slots, HOURS_PER_DAY)):
        hours[(load.hour_of_day + step) % HOURS_PER_DAY] += energy_wh / min(slots, HOURS_PER_DAY)
