"""Air for a warm unit: against psychrolib's air, the trade's rule, and by what must hold."""

from math import inf

import psychrolib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import cooling
from engine.sizing.fit import Box, Clearances, fits

psychrolib.SetUnitSystem(psychrolib.SI)

M3_PER_H_IN_CFM = 1.69901
FAN = ((0.0, 180.0), (20.0, 120.0), (50.0, 0.0))


@pytest.mark.parametrize("altitude_m", [0.0, 500.0, 1500.0, 3000.0, 4500.0])
@pytest.mark.parametrize("ambient_c", [-10.0, 20.0, 45.0])
def test_airflow_is_that_of_psychrolibs_dry_air(altitude_m: float, ambient_c: float) -> None:
    pressure = psychrolib.GetStandardAtmPressure(altitude_m)
    density = psychrolib.GetDryAirDensity(ambient_c, pressure)
    enthalpy = psychrolib.GetDryAirEnthalpy
    carried = density * (enthalpy(ambient_c + 10.0) - enthalpy(ambient_c))  # J/m³
    ours = cooling.airflow_m3_per_h(400.0, 10.0, altitude_m, ambient_c)
    assert ours == pytest.approx(3600.0 * 400.0 / carried, rel=0.003)


@pytest.mark.parametrize("heat_w", [100.0, 333.0, 1000.0])
@pytest.mark.parametrize("rise_f", [10.0, 20.0, 30.0])
def test_the_trades_rule_holds_at_sea_level_and_seventy_fahrenheit(
    heat_w: float, rise_f: float
) -> None:
    # trade press: ft³/min = 3.16 · W / ΔT(°F), from 1.08 · ft³/min · ΔT = BTU/h
    cfm = cooling.airflow_m3_per_h(heat_w, rise_f / 1.8, 0.0, 21.1) / M3_PER_H_IN_CFM
    assert cfm == pytest.approx(3.16 * heat_w / rise_f, rel=0.01)


def test_thin_air_takes_more_of_it_by_the_ratio_of_the_pressures() -> None:
    sea, high = (cooling.airflow_m3_per_h(300.0, 10.0, m, 25.0) for m in (0.0, 3048.0))
    assert sea / high == pytest.approx(0.688, abs=0.001)  # standard atmosphere, 10,000 ft


@given(
    heat=st.floats(0.0, 2000.0),
    more=st.floats(0.0, 2000.0),
    rise=st.floats(1.0, 40.0),
    altitude=st.floats(0.0, 4500.0),
    ambient=st.floats(-20.0, 50.0),
)
@settings(max_examples=100)
def test_more_heat_never_needs_less_air(
    heat: float, more: float, rise: float, altitude: float, ambient: float
) -> None:
    heat, more = sorted((heat, more))
    less_air, more_air = (
        cooling.airflow_m3_per_h(watts, rise, altitude, ambient) for watts in (heat, more)
    )
    assert less_air <= more_air


@given(heat=st.floats(1.0, 2000.0), rise=st.floats(1.0, 40.0), altitude=st.floats(0.0, 4500.0))
@settings(max_examples=50)
def test_rise_and_airflow_are_inverses(heat: float, rise: float, altitude: float) -> None:
    air = cooling.airflow_m3_per_h(heat, rise, altitude, 30.0)
    assert cooling.temperature_rise_k(heat, air, altitude, 30.0) == pytest.approx(rise)


@given(low=st.floats(0.0, 80.0), high=st.floats(0.0, 80.0))
@settings(max_examples=100)
def test_more_resistance_never_lets_a_fan_move_more(low: float, high: float) -> None:
    low, high = sorted((low, high))
    assert cooling.fan_flow_at_pressure(FAN, high) <= cooling.fan_flow_at_pressure(FAN, low)


def test_a_fan_is_on_its_curve_at_every_point_and_dead_beyond_it() -> None:
    for pressure_pa, flow in FAN:
        assert cooling.fan_flow_at_pressure(FAN, pressure_pa) == flow
    assert cooling.fan_flow_at_pressure(FAN, 35.0) == pytest.approx(60.0)
    assert cooling.fan_flow_at_pressure(((0.0, 100.0), (20.0, 60.0)), 20.1) == 0.0


def test_a_curve_that_begins_above_zero_is_not_stretched_below_its_first_point() -> None:
    assert cooling.fan_flow_at_pressure(((10.0, 150.0), (50.0, 0.0)), 0.0) == 150.0


@pytest.mark.parametrize("mount", ["upright", "sideways", "flat"])
def test_only_a_free_upright_unit_goes_without_a_fan(mount: str) -> None:
    unit, bay = Box(0.4, 0.4, 0.4), Box(1.0, 1.0, 1.0)
    orientation = fits(unit, bay, Clearances(), mount).orientation
    assert cooling.fan_needed(orientation, True) is (mount != "upright")
    assert cooling.fan_needed(orientation, False) is True


@given(air=st.floats(0.001, 1000.0), each=st.floats(10.0, 300.0), factor=st.floats(0.3, 1.0))
@settings(max_examples=100)
def test_the_fans_are_enough_and_one_fewer_is_not(air: float, each: float, factor: float) -> None:
    count = cooling.fans_for(air, each, factor)
    assert count * each * factor >= air * (1 - 1e-12)
    assert (count - 1) * each * factor < air


@pytest.mark.parametrize(("air", "fans"), [(300.0, 3), (300.05, 4), (299.9, 3)])
def test_a_fan_more_is_asked_for_by_air_and_not_by_a_rounding(air: float, fans: int) -> None:
    """By hand: three fans that move 100 m³/h each, told in fourteen scales."""
    for scale in range(1, 15):
        assert cooling.fans_for(air * scale / 7, 100.0 * scale / 7, 1.0) == fans


def test_no_air_needs_no_fan() -> None:
    assert cooling.fans_for(0.0, 120.0) == 0


@given(air=st.floats(0.0, 1000.0), slow=st.floats(0.1, 5.0), fast=st.floats(0.1, 5.0))
def test_slower_air_needs_a_larger_vent(air: float, slow: float, fast: float) -> None:
    slow, fast = sorted((slow, fast))
    assert cooling.vent_area_m2(air, slow) >= cooling.vent_area_m2(air, fast)


def test_numbers_off_the_scale_are_refused_in_words() -> None:
    with pytest.raises(ValueError, match="rise_k must be more than zero"):
        cooling.airflow_m3_per_h(300.0, 0.0, 0.0, 25.0)
    with pytest.raises(ValueError, match="heat_w must be zero or more"):
        cooling.airflow_m3_per_h(-1.0, 10.0, 0.0, 25.0)
    with pytest.raises(ValueError, match="altitude_m must be between"):
        cooling.airflow_m3_per_h(300.0, 10.0, 20_000.0, 25.0)
    with pytest.raises(ValueError, match="airflow_m3_per_h must be more than zero"):
        cooling.temperature_rise_k(300.0, 0.0, 0.0, 25.0)
    with pytest.raises(ValueError, match="velocity_m_per_s must be more than zero"):
        cooling.vent_area_m2(90.0, 0.0)
    with pytest.raises(ValueError, match="must hold at least one point"):
        cooling.fan_flow_at_pressure((), 10.0)
    with pytest.raises(ValueError, match="put the points in order of pressure"):
        cooling.fan_flow_at_pressure(((20.0, 100.0), (0.0, 120.0)), 10.0)
    with pytest.raises(ValueError, match="put the points in order of pressure"):
        cooling.fan_flow_at_pressure(((0.0, 100.0), (20.0, 120.0)), 10.0)
    with pytest.raises(ValueError, match="pressure_pa must be zero or more and finite, got inf"):
        cooling.fan_flow_at_pressure(FAN, inf)
    with pytest.raises(ValueError, match="orientation must be one of upright, sideways, flat"):
        cooling.fan_needed("upside-down", True)
    with pytest.raises(ValueError, match="installed_factor must be between 0 and 1, got 70"):
        cooling.fans_for(90.0, 120.0, 70.0)
    with pytest.raises(ValueError, match="flow_each_m3_per_h must be more than zero"):
        cooling.fans_for(90.0, 0.0)
