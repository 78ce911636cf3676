"""Inverters: output by temperature and time, losses, and the current they draw."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import nnls

from engine.sizing import inverter
from engine.sizing.inverter import LossCurve

NAN = math.nan
BY_TEMPERATURE = ((25.0, 3000.0), (40.0, 2400.0), (65.0, 1950.0))
BY_TIME = ((0.1, 9000.0), (5.0, 6000.0), (1800.0, 3300.0))
CURVES = st.builds(
    LossCurve,
    idle_w=st.floats(0, 60),
    proportional=st.floats(0, 0.2),
    quadratic_per_w=st.floats(0, 1e-4),
)
OUTPUTS = st.floats(1, 8000)


@pytest.mark.parametrize("point", BY_TEMPERATURE)
def test_output_at_a_listed_temperature_is_the_listed_one(point: tuple[float, float]) -> None:
    assert inverter.continuous_at(BY_TEMPERATURE, point[0]) == point[1]


def test_cold_adds_nothing_to_the_rating() -> None:
    assert inverter.continuous_at(BY_TEMPERATURE, -20.0) == 3000.0


def test_output_is_never_guessed_above_the_last_listed_temperature() -> None:
    assert inverter.continuous_at(BY_TEMPERATURE, 65.0) == 1950.0
    assert inverter.continuous_at(BY_TEMPERATURE, 65.001) is None


def test_single_point_holds_up_to_its_own_temperature() -> None:
    assert inverter.continuous_at(((40.0, 2000.0),), 30.0) == 2000.0
    assert inverter.continuous_at(((40.0, 2000.0),), 41.0) is None


@settings(max_examples=100)
@given(st.floats(-40, 65), st.floats(-40, 65))
def test_hotter_never_allows_more(one_c: float, other_c: float) -> None:
    cool = inverter.continuous_at(BY_TEMPERATURE, min(one_c, other_c))
    hot = inverter.continuous_at(BY_TEMPERATURE, max(one_c, other_c))
    assert cool is not None
    assert hot is not None
    assert hot <= cool + 1e-9


@settings(max_examples=60)
@given(st.floats(25, 65))
def test_interpolation_agrees_with_an_independent_one(ambient_c: float) -> None:
    temperatures, watts = zip(*BY_TEMPERATURE, strict=True)
    expected = float(np.interp(ambient_c, temperatures, watts))
    assert inverter.continuous_at(BY_TEMPERATURE, ambient_c) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("seconds", "held_va"),
    [
        (0.0, 9000.0),
        (0.1, 9000.0),
        (0.11, 6000.0),
        (5.0, 6000.0),
        (5.1, 3300.0),
        (1800.0, 3300.0),
        (1801.0, 0.0),
    ],
)
def test_surge_is_that_of_the_shortest_listed_time_that_lasts(
    seconds: float, held_va: float
) -> None:
    assert inverter.surge_for(BY_TIME, seconds) == held_va


@settings(max_examples=60)
@given(st.floats(0, 3000), st.floats(0, 3000))
def test_longer_surge_never_gets_more(one_s: float, other_s: float) -> None:
    short_s, long_s = sorted((one_s, other_s))
    assert inverter.surge_for(BY_TIME, long_s) <= inverter.surge_for(BY_TIME, short_s)


def test_unit_may_give_nothing_when_hot_and_the_same_for_two_durations() -> None:
    assert inverter.continuous_at(((40.0, 2000.0), (70.0, 0.0)), 55.0) == 1000.0
    assert inverter.continuous_at(((40.0, 2000.0), (70.0, 0.0)), 70.0) == 0.0
    assert inverter.surge_for(((1.0, 6000.0), (5.0, 6000.0)), 3.0) == 6000.0


def test_surge_list_that_rises_with_time_is_refused() -> None:
    with pytest.raises(ValueError, match="must not rise in power with duration"):
        inverter.surge_for(((1.0, 3000.0), (5.0, 6000.0)), 0.5)


@pytest.mark.parametrize(
    "points",
    [
        (),
        ((40.0, 2400.0), (25.0, 3000.0)),
        ((25.0, 3000.0), (25.0, 2400.0)),
        ((25.0, NAN),),
        ((NAN, 3000.0),),
        ((25.0, -1.0),),
        ((math.inf, 1.0),),
    ],
)
def test_lists_out_of_order_empty_or_not_finite_are_refused(
    points: tuple[tuple[float, float], ...],
) -> None:
    with pytest.raises(ValueError, match="points_c_w must"):
        inverter.continuous_at(points, 30.0)
    with pytest.raises(ValueError, match="points_s_va must"):
        inverter.surge_for(points, 1.0)


@settings(max_examples=60)
@given(CURVES, st.lists(OUTPUTS, min_size=2, max_size=6, unique_by=round))
def test_fit_finds_the_curve_its_points_were_made_with(
    curve: LossCurve, outputs: list[float]
) -> None:
    points = tuple((watts, inverter.efficiency(curve, watts)) for watts in sorted(outputs))
    fitted = inverter.fit_losses(points, curve.idle_w)
    for watts, _ in points:
        assert inverter.heat_w(fitted, watts) == pytest.approx(
            inverter.heat_w(curve, watts), rel=1e-4, abs=1e-3
        )


@settings(max_examples=100)
@given(
    st.lists(st.tuples(st.floats(50, 6000), st.floats(0.6, 0.99)), min_size=1, max_size=7),
    st.floats(0, 60),
)
def test_fit_is_the_least_squares_that_an_independent_solver_finds(
    points: list[tuple[float, float]], idle_w: float
) -> None:
    curve = inverter.fit_losses(tuple(points), idle_w)
    watts = np.array([point[0] for point in points])
    loss = np.array([output * (1 / eff - 1) - idle_w for output, eff in points])
    # Columns of like size keep the reference solver exact; the residual does not depend on scale.
    columns = np.column_stack((watts / 1000, (watts / 1000) ** 2))
    _, least = nnls(columns, loss)
    ours = curve.proportional * watts + curve.quadratic_per_w * watts**2 - loss
    assert float(np.linalg.norm(ours)) == pytest.approx(least, rel=1e-5, abs=1e-3)


def test_single_point_is_taken_as_proportional_loss() -> None:
    # 1000 W at 90 %: 111.1 W lost, 91.1 W beyond an idle of 20 W.
    curve = inverter.fit_losses(((1000.0, 0.9),), 20.0)
    assert curve.quadratic_per_w == 0.0
    assert inverter.heat_w(curve, 1000.0) == pytest.approx(111.11, abs=0.01)


def test_idle_beyond_every_stated_loss_leaves_a_flat_curve() -> None:
    assert inverter.fit_losses(((100.0, 0.99), (200.0, 0.99)), 50.0) == LossCurve(50.0, 0.0, 0.0)


@settings(max_examples=80)
@given(CURVES, OUTPUTS, OUTPUTS)
def test_more_output_never_makes_less_heat(curve: LossCurve, one_w: float, other_w: float) -> None:
    low_w, high_w = sorted((one_w, other_w))
    assert inverter.heat_w(curve, low_w) <= inverter.heat_w(curve, high_w)


@settings(max_examples=80)
@given(CURVES, OUTPUTS)
def test_input_output_heat_and_efficiency_close(curve: LossCurve, output_w: float) -> None:
    drawn_w = inverter.input_w(curve, output_w)
    assert drawn_w == pytest.approx(output_w + inverter.heat_w(curve, output_w))
    assert inverter.efficiency(curve, output_w) * drawn_w == pytest.approx(output_w)
    assert 0 < inverter.efficiency(curve, output_w) <= 1


def test_with_no_output_the_efficiency_is_nothing_and_the_draw_is_idle() -> None:
    assert inverter.efficiency(LossCurve(20.0, 0.05, 0.0), 0.0) == 0.0
    assert inverter.efficiency(LossCurve(0.0, 0.0, 0.0), 0.0) == 0.0
    assert inverter.input_w(LossCurve(20.0, 0.05, 0.0), 0.0) == 20.0


@pytest.mark.parametrize(
    ("nominal_v", "low_v"),
    [(12.0, 11), (12.8, 11), (24.0, 22), (25.6, 22), (36.0, 33), (48.0, 44), (51.2, 44)],
)
def test_lead_and_lithium_of_one_class_plan_at_one_voltage(nominal_v: float, low_v: float) -> None:
    assert inverter.low_battery_v(nominal_v) == low_v


def test_stated_cut_off_goes_before_the_planning_voltage() -> None:
    assert inverter.low_battery_v(12.8, 10.0) == 10.0


def test_cut_off_at_or_above_nominal_is_refused() -> None:
    with pytest.raises(ValueError, match=r"cut_off_v must be below nominal_v \(12.0\)"):
        inverter.low_battery_v(12.0, 12.0)


def test_voltage_below_the_12_v_class_is_refused() -> None:
    with pytest.raises(ValueError, match="12 V class or above"):
        inverter.low_battery_v(6.0)


@settings(max_examples=100)
@given(st.floats(1, 8000), st.floats(10, 60), st.floats(0, 0.05))
def test_constant_power_current_delivers_the_power(
    dc_w: float, source_v: float, resistance_ohm: float
) -> None:
    current_a = inverter.constant_power_current_a(dc_w, source_v, resistance_ohm)
    if current_a is None:
        assert source_v**2 / (4 * resistance_ohm) < dc_w
        return
    at_unit_v = source_v - current_a * resistance_ohm
    assert at_unit_v * current_a == pytest.approx(dc_w, rel=1e-6)
    # Of the two solutions the one at the higher voltage is the working point.
    assert at_unit_v >= source_v / 2 * (1 - 1e-9)


@settings(max_examples=80)
@given(st.floats(1, 3000), st.floats(11, 60), st.floats(0, 0.005), st.floats(0, 0.005))
def test_more_resistance_never_draws_less(
    dc_w: float, source_v: float, one_ohm: float, other_ohm: float
) -> None:
    thick = inverter.constant_power_current_a(dc_w, source_v, min(one_ohm, other_ohm))
    thin = inverter.constant_power_current_a(dc_w, source_v, max(one_ohm, other_ohm))
    assert thin is None or (thick is not None and thin >= thick * (1 - 1e-12))


@pytest.mark.parametrize(
    ("call", "fault"),
    [
        (lambda: LossCurve(-1.0, 0.0, 0.0), "idle_w must be zero or more"),
        (lambda: LossCurve(0.0, -0.1, 0.0), "proportional must be zero or more"),
        (lambda: LossCurve(0.0, 0.0, NAN), "quadratic_per_w must be zero or more"),
        (lambda: inverter.continuous_at(BY_TEMPERATURE, NAN), "ambient_c must be finite"),
        (lambda: inverter.surge_for(BY_TIME, -1.0), "seconds must be zero or more"),
        (lambda: inverter.fit_losses((), 20.0), "points_w_eff must hold at least one point"),
        (lambda: inverter.fit_losses(((0.0, 0.9),), 20.0), "output_w must be more than zero"),
        (lambda: inverter.fit_losses(((9.0, 1.1),), 20.0), "efficiency must be between 0 and 1"),
        (lambda: inverter.fit_losses(((9.0, 0.9),), -1.0), "idle_w must be zero or more"),
        (lambda: inverter.heat_w(LossCurve(1.0, 0.0, 0.0), -1.0), "output_w must be zero or more"),
        (lambda: inverter.dc_current_a(-1.0, 12.0), "dc_w must be zero or more"),
        (lambda: inverter.dc_current_a(1.0, 0.0), "battery_v must be more than zero"),
        (lambda: inverter.low_battery_v(NAN), "nominal_v must be more than zero"),
        (lambda: inverter.low_battery_v(12.0, -1.0), "cut_off_v must be more than zero"),
        (lambda: inverter.constant_power_current_a(1.0, 0.0, 0.1), "source_v must be more"),
        (lambda: inverter.constant_power_current_a(1.0, 9.0, -0.1), "loop_resistance_ohm must"),
        (lambda: inverter.continuous_needed_w(1.0, 0.9), "margin must be 1 or more"),
        (lambda: inverter.continuous_needed_w(1.0, NAN), "margin must be finite"),
        (lambda: inverter.continuous_needed_w(-1.0), "load_w must be zero or more"),
        (lambda: inverter.behind_breaker_w(-1.0, 30.0, 120.0), "needed_w must be zero or more"),
        (lambda: inverter.behind_breaker_w(1.0, -1.0, 120.0), "breaker_a must be zero or more"),
        (lambda: inverter.behind_breaker_w(1.0, 30.0, -1.0), "volts must be zero or more"),
    ],
)
def test_numbers_no_inverter_can_have_are_refused(call: object, fault: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=fault):
        call()
