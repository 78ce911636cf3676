"""The steps that a reader may open, and how those of a recommendation are found: by taking them."""

from collections.abc import Callable
from typing import Any, NamedTuple

from engine.advice.judge.consider import consider, only_of
from engine.advice.judge.supplied import Supplies
from engine.advice.plan.charging import plan_charging
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Considered, Design
from engine.sizing import (
    alternator,
    ampacity,
    bank,
    battery,
    charging,
    conductors,
    cooling,
    dc_circuit,
    generator,
    inverter,
    loads,
    protection,
    shore,
    short_circuit,
    weather,
    weight,
)
from engine.standards import awg
from engine.trace import Note, latest, noting, step
from engine.weather import in_weather


class Opened(NamedTuple):
    """Formulas that are opened in a role, and the facts that the titles of those steps may name."""

    formulas: tuple[Callable[..., Any], ...]
    facts: tuple[str, ...] = ()


_LEG = (loads.locked_rotor_va, loads.start_va, loads.together_w, loads.with_start_va)
_WEATHER = (
    weather.air_conditioner_w,
    weather.air_conditioner_duty,
    weather.refrigerator_duty,
    weather.furnace_duty,
)
_BRANCH = (protection.fuse_minimum_a,)
_FED = (alternator.converter_input_a, *_BRANCH)
_LOST = (conductors.voltage_drop_v,)
_SHARED = (inverter.bank_input_w, inverter.dc_current_a, battery.parallel_for_current)

OPENED: dict[str, Opened] = {
    "power.only": Opened(_LEG, ("name",)),
    "power.legs": Opened(_LEG, ("name",)),
    "power.weather": Opened(_WEATHER, ("name",)),
    "power.planned": Opened((inverter.continuous_needed_w, inverter.behind_breaker_w)),
    "power.warm": Opened((inverter.output_between_w,)),
    "power.unit": Opened((inverter.leg_output_w, inverter.leg_surge_va)),
    "service.feeder": Opened((loads.feeder_current_a,)),
    "service.in-phase": Opened((loads.running_current_a,)),
    "service.split": Opened((shore.neutral_current_split_a,)),
    "battery.need.ac": Opened((battery.days_energy_wh,)),
    "battery.need.dc": Opened((battery.days_energy_wh,)),
    "battery.need": Opened((battery.energy_at_battery_wh,)),
    "battery.reserve": Opened((battery.with_reserve_wh,)),
    "battery.draw": Opened((battery.mean_draw_a,)),
    "battery.string": Opened((battery.peukert_capacity_ah, battery.usable_wh)),
    "battery.running": Opened(_SHARED),
    "battery.start": Opened((*_SHARED, inverter.hardest_start_w)),
    "battery.bank": Opened(
        (battery.parallel_for_energy, battery.strings_hold_wh, battery.strings_in_parallel)
    ),
    "battery.payload": Opened((weight.payload_percent,)),
    "cable.unit": Opened((inverter.input_w, inverter.dc_current_a)),
    "cable.main": Opened(
        (
            ampacity.run_ampacity_a,
            ampacity.conductor_temperature_c,
            conductors.voltage_drop_v,
            conductors.drop_percent,
            conductors.circular_mil_drop_v,
        ),
        ("size", "runs"),
    ),
    "cable.loop": Opened(
        (
            dc_circuit.loop_resistance_ohm,
            inverter.constant_power_current_a,
            dc_circuit.voltage_left_v,
        )
    ),
    "cable.solar": Opened(_LOST),
    "cable.alternator": Opened(_LOST),
    "cable.starter": Opened(_LOST),
    "cable.step-down": Opened(_LOST),
    "cable.house": Opened(_LOST),
    "cable.dc48": Opened(_LOST),
    "fuse.main": Opened(_BRANCH),
    "fuse.short": Opened((short_circuit.bank_short_circuit_a,)),
    "fuse.switch": Opened((dc_circuit.bank_current_a, protection.disconnect_minimum_a)),
    "fuse.battery": Opened((bank.string_current_a, *_BRANCH)),
    "fuse.solar": Opened(_BRANCH),
    "fuse.alternator": Opened(_BRANCH),
    "fuse.starter": Opened(_FED),
    "fuse.step-down": Opened(_FED),
    "fuse.house": Opened(_BRANCH),
    "fuse.dc48": Opened(_BRANCH),
    "cooling.unit": Opened((inverter.heat_w,)),
    "cooling.air": Opened(
        (cooling.airflow_at_density_m3_per_h, cooling.vent_area_m2, cooling.fans_for)
    ),
    "charging.shore": Opened(
        (
            shore.input_limit_a,
            shore.largest_charge_a,
            shore.charger_ac_current_a,
            shore.left_for_loads_a,
        )
    ),
    "charging.generator": Opened(
        (
            generator.heat_loss,
            generator.at_altitude_w,
            generator.start_limit_va,
            generator.with_motor_start_va,
            shore.largest_charge_a,
        ),
        ("name",),
    ),
    "charging.alternator": Opened(
        (alternator.converter_current_a, alternator.idle_current_a, alternator.mean_current_a)
    ),
    "charging.sun": Opened((charging.days_to_fill,)),
}
"""By role, whose first word is the subject of the numbers below which the step stands."""

STEPS: dict[str, tuple[str, ...]] = {
    f"{role}.{formula.__name__}": opened.facts
    for role, opened in OPENED.items()
    for formula in opened.formulas
}
"""Every step by its id, with the facts that its title may name."""


def formulas() -> dict[str, Callable[..., Any]]:
    """The formulas that a reader may open, by name."""
    return {each.__name__: each for opened in OPENED.values() for each in opened.formulas}


def notes_of(guide: Guide, needs: Needs, best: Considered) -> tuple[Note, ...]:
    """Plan a recommendation once more, and keep what was called on the way."""
    if best.design is None:
        raise ValueError("nothing was designed, so there is nothing to explain")
    with noting() as notes:
        only = only_of(best.design.bank)
        consider(guide, needs, best.candidate, Supplies(guide, needs), only)
        plan_charging(guide, needs, best.design)
        _beside(needs, best.design)
        for listed, load in zip(needs.listed, needs.loads, strict=True):
            if listed != load:
                in_weather(listed, needs.weather)
    return tuple(note for note in latest(notes) if note.id in STEPS)


def _beside(needs: Needs, design: Design) -> None:
    """What decides nothing, and is only told."""
    volts, legs, dc = needs.service.volts, design.supply.legs, design.dc
    if len(legs) == 2:
        each_a = (loads.running_current_a(leg.demand.apparent_va, volts) for leg in legs)
        step("service.split", shore.neutral_current_split_a, *each_a)
    elif needs.service.legs == 2 and needs.whole:
        step("service.in-phase", loads.running_current_a, legs[0].demand.apparent_va, volts)
    mils = awg.circular_mils(dc.cable.size)
    drop = conductors.circular_mil_drop_v
    step("cable.main", drop, dc.current_a, dc.cable_m, mils, dc.cable.runs)
    if needs.payload_kg:
        step("battery.payload", weight.payload_percent, design.mass_kg, needs.payload_kg)
