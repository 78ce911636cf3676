"""Charge time and current: by handbook rules, by summing small steps, and by what must hold."""

from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import charging
from engine.sizing.charge_settings import cells_in_series, charge_voltages

CHEMISTRIES = st.sampled_from(["lifepo4", "agm", "flooded"])
STATES = st.floats(0.0, 1.0)
RATES = st.floats(0.01, 1.0)


def _hours_by_small_steps(start: float, end: float, rate: float, chemistry: str) -> float:
    steps = 20_000
    width = (end - start) / steps
    return sum(
        width
        * 100.0
        / charging.charge_current_a(start + width * (k + 0.5), rate * 100, 100.0, chemistry)
        for k in range(steps)
    )


@pytest.mark.parametrize("chemistry", ["lifepo4", "agm", "flooded"])
@pytest.mark.parametrize("rate", [0.04, 0.2, 0.5, 1.0])
def test_charge_time_is_the_sum_of_small_steps_of_the_current(chemistry: str, rate: float) -> None:
    exact = charging.hours_to_charge(0.1, 1.0, 100.0, rate * 100.0, 0.0, chemistry)
    assert exact == pytest.approx(_hours_by_small_steps(0.1, 1.0, rate, chemistry), rel=1e-4)


@given(start=STATES, hours=st.floats(0.0, 20.0), rate=RATES, chemistry=CHEMISTRIES)
@settings(max_examples=100)
def test_state_after_a_time_and_time_to_a_state_are_inverses(
    start: float, hours: float, rate: float, chemistry: str
) -> None:
    end = charging.state_after_charge(start, hours, rate, chemistry)
    assert start - 1e-12 <= end <= 1.0
    back = charging.hours_to_charge(start, end, 100.0, rate * 100.0, 0.0, chemistry)
    if end < 1.0:
        assert back == pytest.approx(hours, abs=1e-6)
    else:
        assert back <= hours + 1e-6


@given(start=STATES, end=STATES, low=RATES, high=RATES, chemistry=CHEMISTRIES)
@settings(max_examples=100)
def test_a_bigger_charger_is_never_slower(
    start: float, end: float, low: float, high: float, chemistry: str
) -> None:
    low, high = sorted((low, high))
    slow, fast = (
        charging.hours_to_charge(start, end, 200.0, rate * 200.0, 0.0, chemistry)
        for rate in (low, high)
    )
    assert fast <= slow + 1e-9


@given(state=STATES, more=STATES, amps=st.floats(0.0, 300.0), chemistry=CHEMISTRIES)
@settings(max_examples=100)
def test_a_fuller_battery_never_takes_more(
    state: float, more: float, amps: float, chemistry: str
) -> None:
    state, more = sorted((state, more))
    fuller = charging.charge_current_a(more, amps, 100.0, chemistry)
    assert fuller <= charging.charge_current_a(state, amps, 100.0, chemistry) <= amps


@given(start=STATES, end=STATES, rate=RATES, load=st.floats(0.0, 0.5), chemistry=CHEMISTRIES)
@settings(max_examples=50)
def test_a_load_never_makes_charging_faster(
    start: float, end: float, rate: float, load: float, chemistry: str
) -> None:
    alone = charging.hours_to_charge(start, end, 100.0, rate * 100.0, 0.0, chemistry)
    shared = charging.hours_to_charge(start, end, 100.0, rate * 100.0, load * 100.0, chemistry)
    assert shared >= alone - 1e-9


def test_a_load_as_large_as_the_charger_never_lets_it_fill() -> None:
    assert charging.hours_to_charge(0.2, 0.8, 100.0, 20.0, 20.0, "agm") == inf


def test_a_battery_already_there_takes_no_time_even_without_a_charger() -> None:
    assert charging.hours_to_charge(0.8, 0.5, 100.0, 0.0, 10.0, "agm") == 0.0


def test_lithium_ends_within_half_an_hour_of_its_constant_current() -> None:
    # common practice: constant current to about 95 %, then 0.3 to 0.5 h
    assert charging.absorption_state(0.5, "lifepo4") == pytest.approx(0.95)
    rest = charging.hours_to_charge(0.95, 1.0, 100.0, 50.0, 0.0, "lifepo4")
    assert 0.3 <= rest <= 0.5


def test_the_last_fifth_of_lead_acid_is_no_faster_with_twice_the_charger() -> None:
    slow, fast = (
        charging.hours_to_charge(0.8, 1.0, 100.0, amps, 0.0, "agm") for amps in (20.0, 40.0)
    )
    assert fast == pytest.approx(slow)


def test_flooded_takes_no_more_than_the_trades_steps_when_nearly_full() -> None:
    # trade press: C/10 above 85 %, C/20 to C/15 above 95 %
    assert charging.charge_current_a(0.85, 50.0, 100.0, "flooded") == pytest.approx(10.0, rel=0.1)
    assert charging.charge_current_a(0.951, 50.0, 100.0, "flooded") <= 5.0


def test_a_full_battery_takes_nothing() -> None:
    assert charging.charge_current_a(1.0, 50.0, 100.0, "lifepo4") == 0.0


@pytest.mark.parametrize(
    ("nominal_v", "chemistry", "cells"),
    [
        (12.0, "lifepo4", 4),
        (12.8, "lifepo4", 4),
        (24.0, "lifepo4", 8),
        (25.6, "lifepo4", 8),
        (48.0, "lifepo4", 16),
        (51.2, "lifepo4", 16),
        (12.0, "agm", 6),
        (24.0, "flooded", 12),
        (48.0, "agm", 24),
    ],
)
def test_cells_of_every_usual_bank(nominal_v: float, chemistry: str, cells: int) -> None:
    assert cells_in_series(nominal_v, chemistry) == cells


@given(cold=st.floats(-20.0, 50.0), warm=st.floats(-20.0, 50.0))
def test_lead_acid_is_charged_higher_when_cold_and_lithium_is_not(cold: float, warm: float) -> None:
    cold, warm = sorted((cold, warm))
    low, high = charge_voltages(6, "agm", warm), charge_voltages(6, "agm", cold)
    assert high.absorption_v >= low.absorption_v
    assert charge_voltages(4, "lifepo4", cold) == charge_voltages(4, "lifepo4", warm)


@given(
    source=st.floats(0.0, 5000.0),
    load=st.floats(0.0, 5000.0),
    charger=st.floats(0.0, 200.0),
    battery=st.floats(0.0, 400.0),
)
@settings(max_examples=100)
def test_no_more_reaches_the_battery_than_source_charger_and_battery_allow(
    source: float, load: float, charger: float, battery: float
) -> None:
    amps = charging.usable_source_a(
        source_w=source,
        load_w=load,
        battery_v=14.4,
        efficiency=0.85,
        charger_max_a=charger,
        battery_limit_a=battery,
    )
    assert 0.0 <= amps <= min(charger, battery)
    assert amps * 14.4 <= max(source - load, 0.0) * 0.85 + 1e-9


def test_numbers_off_the_scale_are_refused_in_words() -> None:
    with pytest.raises(ValueError, match="from_state must be between 0 and 1, got 50"):
        charging.hours_to_charge(50.0, 100.0, 100.0, 20.0, 0.0, "agm")
    with pytest.raises(ValueError, match="capacity_ah must be more than zero"):
        charging.hours_to_charge(0.5, 1.0, 0.0, 20.0, 0.0, "agm")
    with pytest.raises(ValueError, match="charge_a must be zero or more and finite, got nan"):
        charging.hours_to_charge(0.5, 1.0, 100.0, nan, 0.0, "agm")
    with pytest.raises(ValueError, match="chemistry must be one of lifepo4, agm, flooded"):
        charging.charge_current_a(0.5, 20.0, 100.0, "gel")
    with pytest.raises(ValueError, match="hours must be zero or more and finite, got inf"):
        charging.state_after_charge(0.5, inf, 0.2, "agm")
    with pytest.raises(ValueError, match="rate_per_h must be zero or more"):
        charging.absorption_state(-0.2, "agm")
    with pytest.raises(ValueError, match="of the 12, 24 or 48 V class, got 3"):
        cells_in_series(3.0, "agm")
    with pytest.raises(ValueError, match="cells must be more than zero"):
        charge_voltages(0, "agm")
    with pytest.raises(ValueError, match="battery_c must be finite"):
        charge_voltages(6, "agm", inf)
    with pytest.raises(ValueError, match="capacity_ah must be more than zero"):
        charging.usual_charge_a(-1.0, "agm")
