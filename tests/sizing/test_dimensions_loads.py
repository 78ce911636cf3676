"""Quantities with units go through the kernels and come out with the dimension the name promises.

A kernel that takes the root of a number or holds a number against a limit in plain units is proved
by scaling instead: change every unit, and the result changes as its dimension does.
"""

from collections.abc import Callable
from typing import Any

import pint
import pytest

from engine.sizing import bank, battery, generator, inverter, loads, shore
from tests.sizing.quantities import UNITS

W, VA, A, V, AH, WH, H, OHM, F, S = (
    UNITS(symbol) for symbol in ("W", "V*A", "A", "V", "A*h", "W*h", "h", "ohm", "F", "s")
)
ONE = UNITS("")
CURVE: Any = (20 * W, 0.05 * ONE, 2e-5 / W)
CHARGER: Any = {
    "battery_v": 14200 * UNITS("mV"),
    "efficiency": 0.85 * ONE,
    "power_factor": 0.9 * ONE,
    "volts": 0.12 * UNITS("kV"),
}
# Arguments in mixed units of one dimension: a formula that only looked right in SI would show.
KW, KVA, MA = UNITS("kW"), UNITS("kV*A"), UNITS("mA")

CASES: list[tuple[Callable[..., Any], tuple[Any, ...], dict[str, Any], str, float]] = [
    (loads.apparent_power_va, (1.2 * KW, 0.8 * ONE), {}, "V*A", 1500),
    (loads.running_current_a, (1.5 * KVA, 120 * V), {}, "A", 12.5),
    (loads.locked_rotor_va, (68000 * MA, 120 * V), {}, "V*A", 8160),
    (loads.start_va, (8.16 * KVA, 0.5), {}, "V*A", 4080),
    (loads.microwave_input_w, (1 * KW, 0.625 * ONE), {}, "W", 1600),
    (inverter.dc_current_a, (6 * KW, 12 * V), {}, "A", 500),
    (inverter.behind_breaker_w, (4 * KW, 30 * A, 120 * V), {}, "W", 3600),
    (inverter.continuous_needed_w, (2 * KW, 1.25 * ONE), {}, "W", 2500),
    (lambda p: inverter.heat_w(inverter.LossCurve(*CURVE), p), (3 * KW,), {}, "W", 350),
    (lambda p: inverter.input_w(inverter.LossCurve(*CURVE), p), (3 * KW,), {}, "W", 3350),
    (lambda p: inverter.efficiency(inverter.LossCurve(*CURVE), p), (3 * KW,), {}, "", 3 / 3.35),
    (shore.pass_through_va, (50 * A, 0.12 * UNITS("kV"), 2), {}, "V*A", 12000),
    (shore.planning_current_a, (30000 * MA,), {}, "A", 24),
    (shore.left_for_loads_a, (24 * A, 13900 * MA), {}, "A", 10.1),
    (
        shore.charger_ac_current_a,
        (14.2 * V, 100 * A, 0.85 * ONE, 1.0 * ONE, 120 * V),
        {},
        "A",
        13.9216,
    ),
    (
        shore.largest_charge_a,
        (12 * A, 2000 * MA),
        {**CHARGER, "maximum_a": 100 * A},
        "A",
        10 * 120 * 0.85 * 0.9 / 14.2,
    ),
    (shore.neutral_current_in_phase_a, (15 * A, 15000 * MA), {}, "A", 30),
    (shore.neutral_current_split_a, (15 * A, 20000 * MA), {}, "A", 5),
    (generator.support_w, (3.5 * KW, 2100 * W), {}, "W", 1400),
    (
        generator.largest_charge_with_start_a,
        (30 * A, 3 * A, 20000 * MA),
        {**CHARGER, "maximum_a": 100 * A},
        "A",
        7 * 120 * 0.85 * 0.9 / 14.2,
    ),
    (battery.usable_wh, (12.8 * V, 100 * AH, 0.8 * ONE, 1.0 * ONE, 0.9 * ONE), {}, "W*h", 921.6),
    (battery.bank_energy_wh, (0.9216 * UNITS("kW*h"), 0.8, 1.0, 0.9), {}, "W*h", 1280),
    (battery.peukert_hours, (100 * AH, 20 * H, 25000 * MA, 1.2), {}, "h", 2.899),
    (battery.peukert_capacity_ah, (200 * AH, 20 * H, 100 * A, 1.15), {}, "A*h", 141.5),
    (bank.charge_limit_a, (50000 * MA, 3), {}, "A", 150),
    (bank.precharge_s, (25 * OHM, 20 * UNITS("mF")), {}, "s", 2.5),
]


@pytest.mark.parametrize(
    ("kernel", "args", "named", "unit", "value"),
    CASES,
    ids=[f"{index}-{case[3] or 'share'}" for index, case in enumerate(CASES)],
)
def test_result_has_the_dimension_and_the_value_of_its_name(
    kernel: Callable[..., Any],
    args: tuple[Any, ...],
    named: dict[str, Any],
    unit: str,
    value: float,
) -> None:
    got = kernel(*args, **named)
    assert got.dimensionality == UNITS(unit).dimensionality
    assert got.to(UNITS(unit).units).magnitude == pytest.approx(value, rel=1e-3)


def test_current_in_place_of_power_has_another_dimension() -> None:
    # The check above can fail: amperes for watts do not come out as amperes.
    wrong: Any = inverter.dc_current_a
    assert wrong(6 * A, 12 * V).dimensionality != A.dimensionality


def test_currents_and_powers_do_not_add() -> None:
    wrong: Any = generator.starts_motor
    with pytest.raises(pint.DimensionalityError):
        wrong(3 * KVA, 5 * A, 1 * KVA, 0 * VA)


def test_comparisons_hold_across_units() -> None:
    starts: Any = generator.starts_motor
    needs: Any = bank.inrush_needs_precharge
    assert starts(3 * KVA, 500 * VA, 2500 * VA, 0 * VA)
    assert not starts(3 * KVA, 501 * VA, 2500 * VA, 0 * VA)
    assert needs(13.3 * V, 4 * UNITS("mohm"), 0.25 * UNITS("kA"), 2)


@pytest.mark.parametrize(("volt", "ohm"), [(1000.0, 1.0), (1.0, 1000.0), (0.01, 7.0)])
def test_constant_power_current_scales_as_volts_over_ohms(volt: float, ohm: float) -> None:
    plain = inverter.constant_power_current_a(3300.0, 12.8, 0.004)
    scaled = inverter.constant_power_current_a(3300.0 * volt**2 / ohm, 12.8 * volt, 0.004 * ohm)
    assert plain is not None
    assert scaled == pytest.approx(plain * volt / ohm)


@pytest.mark.parametrize("watt", [1000.0, 0.001])
def test_fitted_curve_scales_as_its_powers(watt: float) -> None:
    points = ((300.0, 0.9), (1000.0, 0.92), (3000.0, 0.88))
    plain = inverter.fit_losses(points, 20.0)
    scaled = inverter.fit_losses(tuple((p * watt, eff) for p, eff in points), 20.0 * watt)
    assert scaled.proportional == pytest.approx(plain.proportional, rel=1e-6)
    assert scaled.quadratic_per_w == pytest.approx(plain.quadratic_per_w / watt, rel=1e-6)


@pytest.mark.parametrize("watt", [1000.0, 0.001])
def test_energy_needed_scales_with_power(watt: float) -> None:
    def total_wh(scale: float) -> float:
        curve = inverter.LossCurve(25.0 * scale, 0.04, 2e-5 / scale)
        return battery.energy_needed_wh(
            (1200.0 * scale,),
            (600.0 * scale,),
            2.0,
            curve=curve,
            idle_hours=24.0,
            typical_ac_w=1000.0 * scale,
        ).total_wh

    assert total_wh(watt) == pytest.approx(total_wh(1.0) * watt)


@pytest.mark.parametrize("watt", [1000.0, 0.001])
def test_daily_energy_and_demand_scale_with_power(watt: float) -> None:
    assert loads.daily_energy_wh(150.0 * watt, 24.0, 0.5) == pytest.approx(1800.0 * watt)
    motor = loads.Running("motor", 300.0 * watt, 400.0 * watt, 1600.0 * watt)
    assert loads.demand((motor, motor)).worst_va == pytest.approx(2000.0 * watt)
