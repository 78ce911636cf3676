"""Grounding conductors, the chassis bond, and metric cable in place of a gauge."""

from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import conductors, grounding, metric
from engine.standards import awg, metric_cable
from tests.reader import published

SIZES = st.sampled_from(awg.SIZES)

few = settings(max_examples=100)


@given(st.floats(0.1, 800), st.floats(1, 3))
@few
def test_a_larger_breaker_never_has_a_thinner_ground(breaker_a: float, more: float) -> None:
    small = grounding.equipment_ground(breaker_a)
    large = grounding.equipment_ground(min(breaker_a * more, 800.0))
    assert awg.rank(large) >= awg.rank(small)


@pytest.mark.parametrize(
    ("rating_a", "size"), published("protection_nec")["equipment_ground"], ids=str
)
def test_ground_follows_table_250_122_up_to_the_very_rating(rating_a: float, size: str) -> None:
    assert grounding.equipment_ground(rating_a) == size
    if rating_a < 800:
        above = grounding.equipment_ground(rating_a + 0.5)
        assert awg.rank(above) > awg.rank(size)


@given(SIZES)
@few
def test_chassis_bond_is_8_awg_at_least_and_at_most_one_size_below(size: str) -> None:
    bond = awg.rank(grounding.chassis_bond(size))
    assert bond >= awg.rank("8")
    assert bond >= awg.rank(size) - 1


@given(SIZES, SIZES)
@few
def test_the_negatives_lead_to_the_frame_is_no_thinner_than_positive_and_case_bond(
    positive: str, bond: str
) -> None:
    """NEC 552.10(C)(4), 8 AWG and the lead that is not joined; the case bond beside it."""
    lead = awg.rank(grounding.negative_to_frame(positive, bond))
    assert lead == max(awg.rank("8"), awg.rank(positive), awg.rank(bond))


@given(SIZES)
@few
def test_metric_equal_is_the_next_area_that_is_not_smaller(size: str) -> None:
    area_mm2 = metric.metric_equal_mm2(size)
    copper_mm2 = awg.area_m2(size) * 1e6
    assert area_mm2 >= copper_mm2
    assert all(area < copper_mm2 for area in metric_cable.AREAS_MM2 if area < area_mm2)


def test_metric_equal_resists_up_to_six_per_cent_more_for_2_and_2_0_awg_alone() -> None:
    # IEC 60228 class 5 against NEC chapter 9 table 8, where the areas lie close together
    excess = {
        size: metric.metric_resistance_ohm_per_m(metric.metric_equal_mm2(size), 75.0)
        / conductors.resistance_ohm_per_m(size, 75.0)
        - 1
        for size in awg.SIZES
    }
    assert {size for size, share in excess.items() if share > 0} == {"2", "2/0"}
    # by hand: 0.554 · 1.2161 / 0.6365 and 0.272 · 1.2161 / 0.3173
    assert excess["2"] == pytest.approx(0.0585, abs=0.001)
    assert excess["2/0"] == pytest.approx(0.0425, abs=0.001)


@pytest.mark.parametrize("bad", [0.0, -1.0, nan, inf])
def test_an_impossible_breaker_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="breaker_a must be more than zero"):
        grounding.equipment_ground(bad)


def test_what_no_table_holds_is_refused_with_what_it_holds() -> None:
    with pytest.raises(ValueError, match="breaker_a must be 800 A or less"):
        grounding.equipment_ground(801.0)
    with pytest.raises(ValueError, match=r"size must be one of 18, .* AWG, got '7'"):
        grounding.chassis_bond("7")
    with pytest.raises(ValueError, match=r"size must be one of 18, .* AWG, got '7'"):
        grounding.negative_to_frame("7", "8")
    with pytest.raises(ValueError, match=r"size must be one of 18, .* AWG, got '7'"):
        metric.metric_equal_mm2("7")
    with pytest.raises(ValueError, match=r"area_mm2 must be one of 0.5, .*, 120, got 30"):
        metric.metric_resistance_ohm_per_m(30.0, 20.0)
