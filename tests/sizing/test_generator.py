"""Generators where they stand: height, heat, support from the battery, starts."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import generator
from engine.sizing.shore import largest_charge_a
from engine.standards.atmosphere import pressure_ratio

NAN = math.nan
FOOT_M = 0.3048
WATTS = st.floats(0, 10_000)
HEIGHTS_M = st.floats(-400, 9000)
TEMPERATURES_C = st.floats(-30, 70)


def test_at_sea_level_and_up_to_85_f_the_rating_holds() -> None:
    # A portable set's manual of 2008 begins its heat rule at 85 °F (secondary).
    assert generator.derated_w(2800.0, 0.0, (85.0 - 32.0) / 1.8 - 0.01) == 2800.0
    assert generator.derated_w(2800.0, 0.0, 30.0) < 2800.0


@pytest.mark.parametrize("feet", range(0, 10_001, 500))
def test_altitude_rule_follows_air_pressure(feet: int) -> None:
    # The choice between two printed rules: this one is a tenth of a point above air pressure at
    # most, and below it by four points at most up to 10,000 ft.
    share = generator.derated_w(1.0, feet * FOOT_M, 20.0)
    assert -0.001 <= pressure_ratio(feet * FOOT_M) - share <= 0.04


@pytest.mark.parametrize("metres", range(0, 4001, 250))
def test_altitude_rule_is_the_stricter_of_the_two_printed(metres: int) -> None:
    # The other: 3 % each 500 m above 1,000 m (generator manuals, secondary).
    other = 1 - 0.03 * max(0, metres - 1000) / 500
    assert generator.derated_w(1.0, float(metres), 20.0) <= other


@pytest.mark.parametrize("celsius", range(25, 71))
def test_temperature_rule_is_the_stricter_of_the_two_printed(celsius: int) -> None:
    # 2 % each 10 °F above 85 °F, and 3 % each 5 °C above 40 °C (generator manuals, secondary).
    portable = 1 - 0.02 * max(0.0, (celsius * 1.8 + 32) - 85) / 10
    large = 1 - 0.03 * max(0.0, celsius - 40) / 5
    assert generator.derated_w(1.0, 0.0, float(celsius)) == pytest.approx(min(portable, large))


@settings(max_examples=80)
@given(WATTS, HEIGHTS_M, HEIGHTS_M, TEMPERATURES_C, TEMPERATURES_C)
def test_higher_or_hotter_never_gives_more(
    rated_w: float, one_m: float, other_m: float, one_c: float, other_c: float
) -> None:
    low_m, high_m = sorted((one_m, other_m))
    cool_c, hot_c = sorted((one_c, other_c))
    best_w = generator.derated_w(rated_w, low_m, cool_c)
    assert generator.derated_w(rated_w, high_m, cool_c) <= best_w
    assert generator.derated_w(rated_w, low_m, hot_c) <= best_w
    assert 0 <= best_w <= rated_w


def test_where_the_rule_would_go_below_nothing_there_is_nothing() -> None:
    assert generator.derated_w(2800.0, 9000.0, 20.0) == 0.0
    assert generator.derated_w(2800.0, 0.0, 300.0) == 0.0


@settings(max_examples=60)
@given(WATTS, WATTS)
def test_source_and_support_together_carry_the_load(load_w: float, limit_w: float) -> None:
    support_w = generator.support_w(load_w, limit_w)
    assert min(load_w, limit_w) + support_w == pytest.approx(load_w)


@settings(max_examples=80)
@given(WATTS, WATTS, WATTS, WATTS)
def test_support_never_prevents_a_start(
    limit_va: float, running_va: float, start_va: float, support_va: float
) -> None:
    alone = generator.starts_motor(limit_va, running_va, start_va)
    supported = generator.starts_motor(limit_va, running_va, start_va, support_va)
    assert supported or not alone


def test_start_at_exactly_the_limit_succeeds() -> None:
    assert generator.starts_motor(3000.0, 500.0, 2500.0)
    assert not generator.starts_motor(3000.0, 500.0, 2500.1)


def test_charge_leaves_room_for_the_start_and_none_is_left_without_room() -> None:
    def charge_a(start_a: float) -> float:
        return generator.largest_charge_with_start_a(
            30.0,
            4.0,
            start_a,
            battery_v=14.2,
            efficiency=0.85,
            power_factor=1.0,
            volts=120.0,
            maximum_a=100.0,
        )

    assert charge_a(26.0) == 0.0
    assert charge_a(68.0) == 0.0
    assert charge_a(0.0) == 100.0
    assert charge_a(20.0) == largest_charge_a(
        10.0,
        4.0,
        battery_v=14.2,
        efficiency=0.85,
        power_factor=1.0,
        volts=120.0,
        maximum_a=100.0,
    )


@pytest.mark.parametrize(
    ("call", "fault"),
    [
        (lambda: generator.derated_w(-1.0, 0.0, 20.0), "rated_w must be zero or more"),
        (lambda: generator.derated_w(1.0, NAN, 20.0), "altitude_m must be finite"),
        (lambda: generator.derated_w(1.0, 0.0, math.inf), "ambient_c must be finite"),
        (lambda: generator.support_w(-1.0, 1.0), "load_w must be zero or more"),
        (lambda: generator.support_w(1.0, NAN), "limit_w must be zero or more"),
        (lambda: generator.starts_motor(1.0, -1.0, 1.0), "running_va must be zero or more"),
        (lambda: generator.starts_motor(1.0, 1.0, 1.0, NAN), "support_va must be zero or more"),
    ],
)
def test_numbers_no_generator_can_have_are_refused(call: object, fault: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=fault):
        call()


@settings(max_examples=60)
@given(WATTS, WATTS)
def test_a_larger_set_never_gives_less_for_a_start(one_w: float, other_w: float) -> None:
    low, high = sorted((one_w, other_w))
    assert generator.start_limit_va(low) <= generator.start_limit_va(high)


def test_the_peak_is_the_stricter_of_what_is_printed() -> None:
    """A manual is content with 3.5 kW for a 13,500 BTU/h unit of 68 A locked rotor (secondary)."""
    assert generator.start_limit_va(1800.0) == 30.0 * 120.0
    assert generator.input_limit_a(1800.0, 120.0) == 15.0
    assert not generator.starts_motor(generator.start_limit_va(3500.0), 0.0, 68.0 * 120.0)
    assert generator.starts_motor(generator.start_limit_va(5000.0), 0.0, 68.0 * 120.0)


@pytest.mark.parametrize("wrong", [-1.0, math.inf, NAN])
def test_an_impossible_set_is_refused_in_words(wrong: float) -> None:
    with pytest.raises(ValueError, match="continuous_w must be zero or more"):
        generator.start_limit_va(wrong)
