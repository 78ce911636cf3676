"""Quantities with units go through the kernels and come out with the dimension the name promises.

A kernel that holds a number against a limit in plain units, or sums hours, is proved by scaling
instead: change the unit of energy or of length, and the result changes as its dimension does.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import alternator, charging, cooling, energy, fit, solar, weight
from tests.sizing.quantities import UNITS
from tests.sizing.test_energy import QUIET, WEEKS

W, A, V, M, KG, K, H = (UNITS(name) for name in ("W", "A", "V", "m", "kg", "K", "h"))
CM, KW, LB = UNITS("cm"), UNITS("kW"), UNITS("lb")
CFM = UNITS("ft^3/min")
ONE = UNITS("")
UNIT: Any = fit.Box(50 * CM, 300 * UNITS("mm"), 0.2 * M)
FREE: Any = fit.Clearances(10 * CM, 10 * CM, 5 * CM, 2 * CM)

CASES: list[tuple[Callable[..., Any], dict[str, Any], str, float]] = [
    (
        charging.usable_source_a,
        {
            "source_w": 1.8 * KW,
            "load_w": 600 * W,
            "battery_v": 14400 * UNITS("mV"),
            "efficiency": 0.85 * ONE,
            "charger_max_a": 100 * A,
            "battery_limit_a": 0.2 * UNITS("kA"),
        },
        "A",
        70.833,
    ),
    (alternator.continuous_a, {"rated_a": 0.18 * UNITS("kA")}, "A", 90),
    (
        alternator.converter_input_a,
        {
            "charge_a": 30 * A,
            "battery_v": 14.4 * V,
            "alternator_v": 14 * V,
            "efficiency": 0.9 * ONE,
        },
        "A",
        34.286,
    ),
    (
        alternator.converter_current_a,
        {
            "rated_a": 180 * A,
            "vehicle_load_a": 30000 * UNITS("mA"),
            "battery_v": 14.4 * V,
            "converter_max_a": 100 * A,
            "alternator_v": 14 * V,
            "efficiency": 0.9 * ONE,
        },
        "A",
        52.5,
    ),
    (fit.wall_area_m2, {"unit": UNIT, "mount": "upright", "clearances": FREE}, "m^2", 0.28),
    (fit.gap_margin_m, {"gap_m": 4 * UNITS("inch"), "clearances": FREE}, "m", 0.0016),
    (weight.total_kg, {"items": [(13 * KG, 2), (10 * LB, 1)]}, "kg", 30.536),
    (weight.payload_percent, {"total_kg": 82 * KG, "payload_kg": 1500 * LB}, "", 12.05),
    (cooling.fans_for, {"airflow_m3_per_h": 53 * CFM, "flow_each_m3_per_h": 70 * CFM}, "", 2),
]


@pytest.mark.parametrize(
    ("kernel", "arguments", "unit", "expected"),
    CASES,
    ids=lambda case: getattr(case, "__name__", ""),
)
def test_a_quantity_comes_out_in_the_dimension_of_the_name(
    kernel: Callable[..., Any], arguments: dict[str, Any], unit: str, expected: float
) -> None:
    result = kernel(**arguments) * ONE
    assert result.to(unit).magnitude == pytest.approx(expected, rel=1e-3)


def test_a_vent_is_an_area() -> None:
    # the kernel turns hours into seconds itself, so the hour is given as 3600 of its seconds
    area: Any = cooling.vent_area_m2(90 * M**3, 2 * M)
    assert area.to("m^2").magnitude == pytest.approx(0.0125)


def test_air_takes_heat_away_in_the_dimension_of_an_airflow(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    density = 1.2 * UNITS("kg/m^3")
    monkeypatch.setattr(cooling, "air_density_kg_per_m3", lambda _altitude, _ambient: density)
    monkeypatch.setattr(cooling, "AIR_HEAT_J_PER_KG_K", 1005 * UNITS("J/kg/K"))
    monkeypatch.setattr(cooling, "SECONDS_PER_HOUR", 1.0)
    flow: Any = cooling.airflow_m3_per_h(0.3 * KW, 10 * K, 0.0, 20.0)
    assert flow.to("m^3/h").magnitude == pytest.approx(2.985 * 300 / 10, rel=1e-3)
    rise: Any = cooling.temperature_rise_k(300 * W, flow, 0.0, 20.0)
    assert rise.to("K").magnitude == pytest.approx(10.0)


@given(inputs=WEEKS, scale=st.floats(0.01, 100.0))
@settings(max_examples=50)
def test_a_week_in_another_unit_of_energy_is_the_same_week(
    inputs: energy.WeekInputs, scale: float
) -> None:
    scaled = replace(
        inputs,
        capacity_wh=inputs.capacity_wh * scale,
        load_w=tuple(watts * scale for watts in inputs.load_w),
        solar_w=tuple(watts * scale for watts in inputs.solar_w),
        alternator_w=inputs.alternator_w * scale,
        shore_w=inputs.shore_w * scale,
        generator_w=inputs.generator_w * scale,
        charge_limit_w=inputs.charge_limit_w * scale,
        charger_limit_w=inputs.charger_limit_w * scale,
    )
    before, after = energy.simulate_week(inputs), energy.simulate_week(scaled)
    slack = 1e-6 * scale * (before.load_wh + before.throughput_wh + 1.0)
    assert after.state == pytest.approx(before.state, abs=1e-7)
    for name in ("unmet_wh", "throughput_wh", "lost_wh", "load_wh", "discharged_wh"):
        assert getattr(after, name) == pytest.approx(getattr(before, name) * scale, abs=slack)


@given(scale=st.floats(0.01, 100.0), chemistry=st.sampled_from(["lifepo4", "agm", "flooded"]))
def test_charge_time_depends_on_the_ratio_of_current_to_capacity_only(
    scale: float, chemistry: str
) -> None:
    hours = charging.hours_to_charge(0.2, 0.95, 100.0, 40.0, 5.0, chemistry)
    scaled = charging.hours_to_charge(0.2, 0.95, 100 * scale, 40 * scale, 5 * scale, chemistry)
    assert scaled == pytest.approx(hours)


def test_a_panel_gives_watts_in_proportion_to_its_light_and_its_label() -> None:
    one = solar.dc_power_w(400.0, 100.0, -0.0035, 45.0)
    assert solar.dc_power_w(800.0, 100.0, -0.0035, 45.0) == pytest.approx(2 * one)
    assert solar.dc_power_w(400.0, 300.0, -0.0035, 45.0) == pytest.approx(3 * one)


@given(scale=st.floats(0.01, 100.0), mount=st.sampled_from(fit.MOUNTS))
def test_a_margin_is_a_length(scale: float, mount: str) -> None:
    def margin(by: float) -> float:
        unit = fit.Box(0.5 * by, 0.3 * by, 0.2 * by)
        bay = fit.Box(0.7 * by, 0.6 * by, 0.4 * by)
        return fit.fits(unit, bay, fit.Clearances(side_m=0.04 * by), mount).margin_m

    assert margin(scale) == pytest.approx(scale * margin(1.0))


def test_the_quiet_week_is_measured_in_hours() -> None:
    # 100 W for 168 h
    assert energy.simulate_week(QUIET).load_wh * UNITS("W*h") == 100 * W * 168 * H
