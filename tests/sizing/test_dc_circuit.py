"""The battery circuit under a constant power, against a root finder."""

from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from engine.sizing.dc_circuit import loop_resistance_ohm, strings_for_voltage, terminal_voltage_v
from engine.sizing.inverter import constant_power_current_a

powers = st.floats(0.0, 20_000.0)
voltages = st.floats(10.0, 60.0)
ohms = st.floats(1e-4, 0.1)


@given(power=powers, source=voltages, ohm=ohms)
@settings(max_examples=100)
def test_the_current_is_the_smaller_root_of_the_circuits_equation(
    power: float, source: float, ohm: float
) -> None:
    """R·I² − U·I + P = 0 has its physical root below U / 2R, where the power is greatest."""
    found = constant_power_current_a(power, source, ohm)
    at_most = source / (2 * ohm)

    def unbalanced_w(current: float) -> float:
        return source * current - ohm * current**2 - power

    if unbalanced_w(at_most) < 0:
        assert found is None
        assert terminal_voltage_v(power, source, ohm) is None
        return
    assert found is not None
    root = brentq(unbalanced_w, 0.0, at_most, xtol=1e-12, rtol=1e-14, maxiter=500)
    near = max(1e-6, 1e-6 * root)
    # At the very peak both roots meet and the finder's own slope is zero.
    if unbalanced_w(at_most) > 1e-6 * max(power, 1.0):
        assert found == pytest.approx(root, abs=near)
    volts = terminal_voltage_v(power, source, ohm)
    assert volts is not None
    assert volts * found == pytest.approx(power, rel=1e-6, abs=1e-6)
    assert source / 2 - 1e-9 <= volts <= source


@given(power=st.floats(10.0, 4000.0), source=voltages, ohm=st.floats(1e-4, 0.01))
@settings(max_examples=60)
def test_more_load_or_more_resistance_never_leaves_more_voltage(
    power: float, source: float, ohm: float
) -> None:
    left = terminal_voltage_v(power, source, ohm)
    for more in (
        terminal_voltage_v(power * 1.1, source, ohm),
        terminal_voltage_v(power, source, ohm * 1.1),
    ):
        assert more is None or (left is not None and more <= left)


@given(
    watts=st.floats(100.0, 5000.0),
    string=st.floats(1e-3, 0.05),
    cable=st.floats(0.0, 0.003),
)
@settings(max_examples=100)
def test_so_many_strings_keep_the_voltage_and_one_fewer_does_not(
    watts: float, string: float, cable: float
) -> None:
    source, lowest = 12.8, 11.0
    strings = strings_for_voltage(watts / lowest, source, lowest, string, cable)
    if strings is None:
        endless = terminal_voltage_v(watts, source, cable)
        assert endless is None or endless <= lowest + 1e-9
        return
    enough = terminal_voltage_v(watts, source, string / strings + cable)
    assert enough is not None
    assert enough >= lowest - 1e-6
    if strings > 1:
        fewer = terminal_voltage_v(watts, source, string / (strings - 1) + cable)
        assert fewer is None or fewer < lowest + 1e-6


def test_parallel_strings_cables_and_units_each_divide_their_part() -> None:
    one = loop_resistance_ohm(0.006, 1, 0.0003, 2.0)
    assert one == pytest.approx(0.006 + 0.0012)
    assert loop_resistance_ohm(0.006, 3, 0.0003, 2.0) == pytest.approx(0.002 + 0.0012)
    assert loop_resistance_ohm(0.006, 1, 0.0003, 2.0, runs=2) == pytest.approx(0.0066)
    assert loop_resistance_ohm(0.006, 1, 0.0003, 2.0, runs=2, units=2) == pytest.approx(0.0063)


def test_no_load_needs_one_string_and_loses_nothing() -> None:
    assert strings_for_voltage(0.0, 12.8, 11.0, 0.01, 0.0) == 1
    assert terminal_voltage_v(0.0, 12.8, 0.01) == 12.8


@pytest.mark.parametrize("wrong", [-1.0, inf, nan])
def test_what_no_circuit_can_have_is_refused_in_words(wrong: float) -> None:
    with pytest.raises(ValueError, match="dc_w must be zero or more"):
        terminal_voltage_v(wrong, 12.8, 0.004)
    with pytest.raises(ValueError, match="string_ohm must be zero or more"):
        loop_resistance_ohm(wrong, 1, 0.0003, 2.0)
    with pytest.raises(ValueError, match="current_a must be zero or more"):
        strings_for_voltage(wrong, 12.8, 11.0, 0.01, 0.0)
    with pytest.raises(ValueError, match="lowest_v must be more than zero"):
        strings_for_voltage(100.0, 12.8, wrong, 0.01, 0.0)


def test_a_count_below_one_is_refused() -> None:
    for counts in ({"parallel": 0}, {"runs": 0}, {"units": 0}):
        given_counts = {"parallel": 1, "runs": 1, "units": 1} | counts
        with pytest.raises(ValueError, match="must be more than zero"):
            loop_resistance_ohm(0.006, cable_ohm_per_m=0.0003, one_way_m=2.0, **given_counts)


def test_a_cable_that_loses_all_that_may_be_lost_leaves_nothing_for_strings() -> None:
    """Ohm's law: 100 A over 20 mΩ are the 2 V between 12 V and 10 V."""
    assert strings_for_voltage(100.0, 12.0, 10.0, 0.01, 0.02) is None


@pytest.mark.parametrize(("string_ohm", "strings"), [(0.04, 2), (0.04001, 3), (0.02, 1), (0.0, 1)])
def test_a_little_more_resistance_than_strings_can_share_needs_one_more(
    string_ohm: float, strings: int
) -> None:
    """Ohm's law: 100 A may lose 2 V, so the strings together have 20 mΩ."""
    assert strings_for_voltage(100.0, 12.0, 10.0, string_ohm, 0.0) == strings
