"""Shore and generator beside a design: limits to set, what they carry, start and charge."""

from dataclasses import dataclass
from typing import NamedTuple

from engine.advice.plan.layouts import SPLIT_NATIVE, SPLIT_PAIR, SUB_PANEL
from engine.advice.plan.supply import as_running, leg_demands, reduction_of
from engine.model.guide import Guide
from engine.model.needs import Load, Needs
from engine.model.result import Design
from engine.model.sources import GeneratorPlan, ShorePlan
from engine.sizing import charge_settings, charging, generator, shore
from engine.sizing.loads import demand, running_current_a
from engine.trace import step, told

SHORE, GENERATOR = "charging.shore", "charging.generator"


@dataclass(frozen=True, slots=True)
class Charger:
    """All chargers of a design as one: voltage while charging, current at most, losses."""

    charge_v: float
    most_a: float
    efficiency: float
    power_factor: float
    volts: float

    def largest_a(self, limit_a: float, loads_a: float, legs: int) -> float:
        """Charge current beside these loads, when the chargers sit on so many legs [A]."""
        return step(
            "",
            shore.largest_charge_a,
            limit_a,
            loads_a,
            battery_v=self.charge_v,
            efficiency=self.efficiency,
            power_factor=self.power_factor,
            volts=self.volts,
            maximum_a=self.most_a,
            legs=legs,
        )

    def largest_with_start_a(self, limit_a: float, loads_a: float, start_a: float) -> float:
        """Charge current with which a motor can still start on the same source [A]."""
        return generator.largest_charge_with_start_a(
            limit_a,
            loads_a,
            start_a,
            battery_v=self.charge_v,
            efficiency=self.efficiency,
            power_factor=self.power_factor,
            volts=self.volts,
            maximum_a=self.most_a,
        )

    def ac_a(self, charge_a: float, legs: int = 1) -> float:
        """What a charge current takes of each leg that the chargers sit on [A]."""
        return step(
            "",
            shore.charger_ac_current_a,
            self.charge_v,
            charge_a,
            self.efficiency,
            self.power_factor,
            self.volts,
            legs,
        )


def voltages_of(
    design: Design, battery_c: float = charge_settings.REFERENCE_C
) -> charge_settings.ChargeVoltages:
    """Charge voltages of the bank of a design; those to set are the ones at 25 °C."""
    return charge_settings.charge_voltages(*_cells(design), battery_c)


def compensation_of(design: Design) -> float:
    """What the charger adds for each degree of the bank above 25 °C [V/K]."""
    return charge_settings.compensation_v_per_k(*_cells(design))


def _cells(design: Design) -> tuple[int, str]:
    chemistry = design.bank.battery.chemistry
    return charge_settings.cells_in_series(design.bank.nominal_v, chemistry), chemistry


def charger_of(needs: Needs, design: Design) -> Charger:
    """The chargers of a design, within what the bank takes."""
    inverter = design.candidate.inverter
    return Charger(
        charge_v=voltages_of(design).absorption_v,
        most_a=min(inverter.charge_current * design.candidate.units, design.bank.charge_limit_a),
        efficiency=inverter.charge_efficiency,
        power_factor=inverter.charge_power_factor,
        volts=needs.service.volts,
    )


def hours_to_full(design: Design, charge_a: float) -> float | None:
    """Hours from empty to full at a charge current; None where there is none."""
    if charge_a <= 0:
        return None
    bank = design.bank
    return charging.hours_to_charge(
        1.0 - bank.battery.usable, 1.0, bank.capacity_ah, charge_a, 0.0, bank.battery.chemistry
    )


def plan_shore(needs: Needs, design: Design) -> ShorePlan:
    """What to set for the pedestal, and what it then carries beside the charger."""
    charger = charger_of(needs, design)
    legs = _legs_through(needs, design, needs.shore_legs)
    charger_legs = charger_legs_of(design, legs)
    breaker_a = min(needs.shore_a, design.ac.input_a)
    sharing = _hot_wires(design) // legs
    setting_a = step(SHORE, shore.input_limit_a, breaker_a, sharing)
    limit_a = setting_a * sharing
    light_a = busiest_a(needs, needs.light, legs)
    load_a = busiest_a(needs, needs.running, legs)
    charge_a = step(SHORE, charger.largest_a, limit_a, light_a, charger_legs)
    charger_ac_a = step(SHORE, charger.ac_a, charge_a, charger_legs)
    return ShorePlan(
        post_a=needs.shore_a,
        breaker_a=breaker_a,
        legs=legs,
        input_limit_a=limit_a,
        setting_a=setting_a,
        light_a=light_a,
        load_a=load_a,
        charge_a=charge_a,
        charger_ac_a=charger_ac_a,
        left_a=step(SHORE, shore.left_for_loads_a, limit_a, charger_ac_a),
        missing_a=max(0.0, load_a - limit_a),
        hours=hours_to_full(design, charge_a),
    )


def _legs_through(needs: Needs, design: Design, legs: int) -> int:
    """How many of these legs pass through the unit or units: a sub-panel hangs on those it has."""
    if needs.whole and design.candidate.layout != SUB_PANEL:
        return legs
    return min(legs, design.candidate.legs)


def _hot_wires(design: Design) -> int:
    """Hot wires into all units; what is set on a unit holds for each of its own."""
    return design.ac.poles * design.candidate.units


def charger_legs_of(design: Design, legs: int) -> int:
    """Legs that the chargers sit on: a unit that passes two legs through charges from one."""
    both = legs == 2 and design.candidate.layout in (SPLIT_PAIR, SPLIT_NATIVE)
    return 2 if both else 1


def busiest_a(needs: Needs, running: tuple[Load, ...], legs: int) -> float:
    """Current on the busier leg while these run, shared out as well as can be [A]."""
    on_legs = leg_demands(running, legs, 0.0)
    busiest_va = max(leg.demand.apparent_va for leg in on_legs)
    return running_current_a(busiest_va, needs.service.volts)


def plan_generator(guide: Guide, needs: Needs, design: Design) -> GeneratorPlan | None:
    """What the generator starts and charges where it stands; None where there is none."""
    if not needs.generator_w:
        return None
    inverter = design.candidate.inverter
    rated_w, altitude_m, ambient_c = needs.generator_w, needs.altitude_m, needs.ambient_c
    derated_w = step(GENERATOR, generator.derated_w, rated_w, altitude_m, ambient_c)
    asked = _hardest_start(guide, needs, design)
    start_limit_va = step(GENERATOR, generator.start_limit_va, derated_w)
    support_va = design.supply.surge_va if inverter.generator_support else 0.0
    role = told(GENERATOR if asked.starter else "", name=asked.starter)
    alone = step(role, generator.starts_motor, start_limit_va, asked.light_va, asked.start_va)
    supported = generator.starts_motor(start_limit_va, asked.light_va, asked.start_va, support_va)
    gives = _gives(needs, design, derated_w)
    charge_a = 0.0
    if supported:
        charge_a = _charge_beside_a(needs, design, asked, gives, alone=alone)
    charge_free_a = _charge_within_a(
        needs, design, asked.along, asked.light_va, gives, role=GENERATOR
    )
    adds_w = generator.support_w(design.supply.total_w, derated_w)
    return GeneratorPlan(
        rated_w=needs.generator_w,
        derated_w=derated_w,
        legs=gives.legs,
        input_limit_a=gives.limit_a,
        setting_a=gives.setting_a,
        start_limit_va=start_limit_va,
        light_va=asked.light_va,
        light_a=busiest_a(needs, asked.along, gives.legs),
        starter=asked.starter,
        motor_va=asked.motor_va,
        start_va=asked.start_va,
        support_start_va=support_va,
        starts_alone=alone,
        starts_supported=supported,
        charge_a=charge_a,
        charge_free_a=charge_free_a,
        battery_adds_w=adds_w if inverter.generator_support else 0.0,
        short_w=0.0 if inverter.generator_support else adds_w,
        hours=hours_to_full(design, charge_free_a),
    )


class _Gives(NamedTuple):
    """What the generator gives for long [W] and at a start [VA], and what the input lets through.

    legs : of the cord that it feeds · setting_a : on each hot wire · limit_a : of each leg
    """

    derated_w: float
    start_va: float
    legs: int
    setting_a: float
    limit_a: float


def _gives(needs: Needs, design: Design, derated_w: float) -> _Gives:
    """A generator of 120 V may feed both legs, so its power is shared between all hot wires."""
    legs, wires = _legs_through(needs, design, needs.service.legs), _hot_wires(design)
    sharing = wires // legs
    setting_a = min(
        generator.input_limit_a(derated_w, needs.service.volts, wires),
        shore.input_limit_a(design.ac.input_a, sharing),
    )
    start_va = generator.start_limit_va(derated_w)
    return _Gives(derated_w, start_va, legs, setting_a, setting_a * sharing)


class _Start(NamedTuple):
    """The hardest start, and what runs along beside it. `starter` is "" where nothing starts.

    along, motor : the same as loads
    """

    light_va: float
    starter: str
    motor_va: float
    start_va: float
    along: tuple[Load, ...]
    motor: tuple[Load, ...]


def _hardest_start(guide: Guide, needs: Needs, design: Design) -> _Start:
    reduction = reduction_of(guide, needs, design.candidate)
    on_ac = tuple(as_running(load, reduction) for load in needs.running if load.bus.legs)
    starter = demand(on_ac).starter
    motor = next((each for each in on_ac if each.name == starter), None)
    along = [load for load in needs.light if load.bus.legs]
    light_va = sum(as_running(load, 0.0).apparent_va for load in along)
    motor_va, start_va = (motor.apparent_va, motor.start_va) if motor else (0.0, 0.0)
    starters = [load for load in needs.running if load.name == starter][:1]
    if motor and starters[0] in along:
        light_va -= motor_va  # it runs along, and is reckoned by itself
        along.remove(starters[0])
    return _Start(light_va, starter, motor_va, start_va, tuple(along), tuple(starters))


def _charge_beside_a(
    needs: Needs, design: Design, asked: _Start, gives: _Gives, *, alone: bool
) -> float:
    """Charge current beside the motor; where the generator starts it alone, with its start [A]."""
    volts, charger = needs.service.volts, charger_of(needs, design)
    running = (*asked.along, *asked.motor)
    running_a = _charge_within_a(needs, design, running, asked.light_va + asked.motor_va, gives)
    if not alone or design.candidate.inverter.generator_support:
        return running_a
    starting_a = charger.largest_with_start_a(
        gives.start_va / volts, asked.light_va / volts, asked.start_va / volts
    )
    return min(running_a, starting_a)


def _charge_within_a(
    needs: Needs,
    design: Design,
    running: tuple[Load, ...],
    running_va: float,
    gives: _Gives,
    role: str = "",
) -> float:
    """Charge current beside what runs, within the generator's power and the input limit [A]."""
    volts, charger = needs.service.volts, charger_of(needs, design)
    by_power = (gives.derated_w / volts, running_va / volts, 1)
    on_leg_a = busiest_a(needs, running, gives.legs)
    by_limit = (gives.limit_a, on_leg_a, charger_legs_of(design, gives.legs))
    binding = min(by_power, by_limit, key=lambda given: charger.largest_a(*given))
    return step(role, charger.largest_a, *binding)
