"""The figures on which the trade does not agree: ours, theirs, and what each end would change."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from engine.advice.plan.cooling import VENT_VELOCITY_M_PER_S
from engine.model.guide import Guide
from engine.pages.words import vent_text
from engine.sizing import battery, conductors, cooling, generator, inverter
from engine.units import show
from engine.wording.tongue import plain
from guide.setup import ROOT
from guide.yaml_text import values_of

TABLE = ROOT / "site_src" / "doubtful_figures.yaml"
HEAT_W, ALTITUDE_M, AMBIENT_C = 300.0, 0.0, 35.0


@dataclass(frozen=True, slots=True)
class Doubt:
    """One figure: ours, what is in print, an example worked with each, and the reasons."""

    figure: str
    ours: str
    print: str
    example: str
    changes: str
    source: str
    why: str


def doubts(guide: Guide) -> list[Doubt]:
    """Every doubtful figure of the table, its example worked out by the engine."""
    return [_doubt(each, *WORKED[name](guide)) for name, each in values_of(TABLE).items()]


Worked = tuple[float, str, Callable[[float], str]]
"""Our figure, what the example is about, and what comes out of it for a figure."""


def _doubt(told: dict[str, Any], ours: float, about: str, example: Callable[[float], str]) -> Doubt:
    low, high = told["print"]
    return Doubt(
        figure=told["figure"],
        ours=plain(ours, 2),
        print=f"{plain(low, 2)} to {plain(high, 2)}",
        example=f"{about}: {example(ours)}",
        changes=f"{example(low)} to {example(high)}",
        source=told["source"],
        why=told["why"],
    )


def _load_margin(guide: Guide) -> Worked:
    load_w = 2000.0
    return (
        guide.planning.load_margin,
        f"Inverter for {show(load_w, 'W')}",
        lambda margin: show(inverter.continuous_needed_w(load_w, margin), "W"),
    )


def _ageing(guide: Guide) -> Worked:
    return (
        guide.planning.ageing,
        "Usable of 12.8 V and 100 Ah, 80 % deep",
        lambda share: show(battery.usable_wh(12.8, 100.0, 0.8, 1.0, share), "Wh"),
    )


def _vent_velocity(guide: Guide) -> Worked:
    air = cooling.airflow_m3_per_h(HEAT_W, guide.planning.allowed_rise_k, ALTITUDE_M, AMBIENT_C)
    return (
        VENT_VELOCITY_M_PER_S,
        f"Each vent for {show(HEAT_W, 'W')} of heat",
        lambda velocity: vent_text(cooling.vent_area_m2(air, velocity)),
    )


def _allowed_rise(guide: Guide) -> Worked:
    return (
        guide.planning.allowed_rise_k,
        f"Air for {show(HEAT_W, 'W')} of heat",
        lambda rise: show(cooling.airflow_m3_per_h(HEAT_W, rise, ALTITUDE_M, AMBIENT_C), "m^3/h"),
    )


def _generator_start(guide: Guide) -> Worked:
    del guide
    running_w = 1800.0
    ours = generator.start_limit_va(running_w) / running_w
    return (
        ours,
        f"A set of {show(running_w, 'W')} running",
        lambda factor: show(generator.start_limit_va(running_w) * factor / ours, "VA"),
    )


def _running_watts(guide: Guide) -> Worked:
    del guide
    named_w = 2000.0
    return (
        1.0,
        f"Input limit at 120 V when {show(named_w, 'W')} is typed",
        lambda share: show(generator.input_limit_a(named_w * share, 120.0), "A"),
    )


def _sae_cable(guide: Guide) -> Worked:
    del guide
    size = "2/0"
    ohm_per_m = conductors.resistance_ohm_per_m(size, 75.0)
    return (
        1.0,
        f"Drop at {show(200.0, 'A')} over {show(1.524, 'm')} one way in {size}",
        lambda ratio: show(conductors.voltage_drop_v(200.0, 1.524, ohm_per_m * ratio), "V"),
    )


WORKED: dict[str, Callable[[Guide], Worked]] = {
    "load_margin": _load_margin,
    "ageing": _ageing,
    "vent_velocity": _vent_velocity,
    "allowed_rise": _allowed_rise,
    "generator_start": _generator_start,
    "running_watts": _running_watts,
    "sae_cable": _sae_cable,
}
