"""Panels in series between what charges the bank when hot and what the controller bears cold."""

from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing.panels import (
    COLD_OVER_RATED,
    CONTROLLER_HEADROOM_V,
    HOT_OVER_RATED,
    WORKING_OVER_OPEN,
    cold_open_circuit_v,
    panels_in_series,
)


@given(
    open_circuit=st.floats(15.0, 60.0),
    battery=st.sampled_from([14.4, 28.8, 57.6]),
    largest=st.sampled_from([75.0, 100.0, 150.0, 250.0]),
)
@settings(max_examples=100)
def test_the_fewest_that_charge_are_taken_and_never_too_many(
    open_circuit: float, battery: float, largest: float
) -> None:
    series = panels_in_series(open_circuit, battery, largest)
    hot_v = WORKING_OVER_OPEN * HOT_OVER_RATED * open_circuit
    wanted = next(n for n in range(1, 50) if n * hot_v >= battery + CONTROLLER_HEADROOM_V - 1e-9)
    if series is None:
        assert wanted * open_circuit * COLD_OVER_RATED > largest
    else:
        assert series == wanted
        assert cold_open_circuit_v(open_circuit, series) <= largest


def test_the_coldest_row_of_the_table_is_taken() -> None:
    """NEC Table 690.7(A), −36 … −40 °C: 1.25, from memory."""
    assert cold_open_circuit_v(40.0, 3) == 150.0


@pytest.mark.parametrize("wrong", [0.0, -1.0, inf, nan])
def test_impossible_voltages_are_refused_in_words(wrong: float) -> None:
    with pytest.raises(ValueError, match="open_circuit_v must be more than zero"):
        panels_in_series(wrong, 14.4, 100.0)
    with pytest.raises(ValueError, match="battery_v must be more than zero"):
        panels_in_series(40.0, wrong, 100.0)
    with pytest.raises(ValueError, match="series must be more than zero"):
        cold_open_circuit_v(40.0, 0)


def test_a_controller_may_be_filled_to_its_last_volt() -> None:
    most_v = cold_open_circuit_v(22.5, 2)
    assert panels_in_series(22.5, 14.4, most_v) == 2
    assert panels_in_series(22.5, 14.4, most_v - 0.01) is None
