"""What is left of an alternator for the house battery."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import alternator

AMPS = st.floats(0.0, 400.0)


@given(rated=AMPS)
def test_continuous_current_lies_at_the_low_end_of_the_trades_half_to_six_tenths(
    rated: float,
) -> None:
    assert 0.5 * rated <= alternator.continuous_a(rated) <= 0.6 * rated


@given(rated=AMPS, vehicle=AMPS, battery_v=st.sampled_from([14.4, 28.8, 57.6]), most=AMPS)
@settings(max_examples=100)
def test_the_converter_never_takes_the_alternator_over_its_limit(
    rated: float, vehicle: float, battery_v: float, most: float
) -> None:
    charge = alternator.converter_current_a(
        rated_a=rated, vehicle_load_a=vehicle, battery_v=battery_v, converter_max_a=most
    )
    assert 0.0 <= charge <= most
    taken = alternator.converter_input_a(charge, battery_v)
    assert taken <= max(alternator.continuous_a(rated) - vehicle, 0.0) + 1e-9


@given(rated=AMPS, more=AMPS)
def test_a_bigger_alternator_never_gives_less(rated: float, more: float) -> None:
    rated, more = sorted((rated, more))
    small, big = (
        alternator.converter_current_a(
            rated_a=amps, vehicle_load_a=30.0, battery_v=14.4, converter_max_a=100.0
        )
        for amps in (rated, more)
    )
    assert small <= big


def test_a_vehicle_that_takes_all_leaves_nothing() -> None:
    charge = alternator.converter_current_a(
        rated_a=100.0, vehicle_load_a=60.0, battery_v=14.4, converter_max_a=30.0
    )
    assert charge == 0.0


def test_numbers_off_the_scale_are_refused_in_words() -> None:
    with pytest.raises(ValueError, match="rated_a must be zero or more"):
        alternator.continuous_a(-1.0)
    with pytest.raises(ValueError, match="efficiency must be between 0 and 1, got 90"):
        alternator.converter_input_a(30.0, 14.4, efficiency=90.0)
    with pytest.raises(ValueError, match="battery_v must be more than zero"):
        alternator.converter_current_a(
            rated_a=180.0, vehicle_load_a=30.0, battery_v=0.0, converter_max_a=30.0
        )
