"""Ampacity: what conductors carry, and how warm they get."""

from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import ampacity
from engine.standards import ampacity_ac, ampacity_dc, awg
from engine.standards.overcurrent import SMALL_CONDUCTOR_LIMIT_A, STANDARD_RATINGS_A
from tests.reader import published

SIZES = st.sampled_from(awg.SIZES)
AC_SIZES = st.sampled_from(ampacity_ac.SIZES)
DC_CLASSES = st.sampled_from(ampacity_dc.INSULATIONS_C)
AC_CLASSES = st.sampled_from(ampacity_ac.INSULATIONS_C)
AMBIENTS = st.floats(-40, 120)
PAIR_OF_SIZES = st.lists(SIZES, min_size=2, max_size=2).map(lambda two: sorted(two, key=awg.rank))
LAW = published("dc_ampacity_33cfr183_425")

few = settings(max_examples=100)


@given(SIZES, DC_CLASSES, AMBIENTS, st.floats(0, 60))
@few
def test_hotter_surroundings_never_allow_more_direct_current(
    size: str, insulation_c: int, ambient_c: float, more_k: float
) -> None:
    cool = ampacity.dc_ampacity_a(size, insulation_c, ambient_c)
    assert ampacity.dc_ampacity_a(size, insulation_c, ambient_c + more_k) <= cool


@given(AC_SIZES, AC_CLASSES, AC_CLASSES, AMBIENTS, st.floats(0, 60))
@few
def test_hotter_surroundings_never_allow_more_alternating_current(
    size: str, insulation_c: int, terminal_c: int, ambient_c: float, more_k: float
) -> None:
    cool = ampacity.ac_ampacity_a(size, insulation_c, terminal_c, ambient_c)
    hot = ampacity.ac_ampacity_a(size, insulation_c, terminal_c, ambient_c + more_k)
    assert hot <= cool


@given(SIZES, st.integers(1, 50), st.integers(0, 50))
@few
def test_a_larger_bundle_never_allows_more(size: str, conductors_together: int, more: int) -> None:
    few_a = ampacity.dc_ampacity_a(size, 105, 30.0, conductors_together)
    assert ampacity.dc_ampacity_a(size, 105, 30.0, conductors_together + more) <= few_a


@given(PAIR_OF_SIZES, DC_CLASSES, AMBIENTS)
@few
def test_a_thicker_conductor_never_carries_less(
    sizes: list[str], insulation_c: int, ambient_c: float
) -> None:
    thin, thick = (ampacity.dc_ampacity_a(size, insulation_c, ambient_c) for size in sizes)
    assert thick >= thin


def test_cold_earns_no_credit_for_direct_current() -> None:
    assert ampacity.dc_ampacity_a("2/0", 105, -20.0) == 330.0


def test_nothing_may_flow_where_the_surroundings_are_as_hot_as_the_insulation_may_get() -> None:
    assert ampacity.dc_ampacity_a("2/0", 60, 60.0) == 0.0
    assert ampacity.ac_ampacity_a("10", 60, 60, 56.0) == 0.0


@pytest.mark.parametrize(
    ("insulation_c", "factor"),
    list(zip(LAW["insulation_c"], LAW["engine_space_factor"], strict=True)),
)
def test_engine_space_ampacity_is_never_laxer_than_the_law(
    insulation_c: int, factor: float
) -> None:
    # 33 CFR 183.425 Table 5 note 1; the printed factors are rounded, hence 0.01
    ratio = ampacity.dc_temperature_factor(insulation_c, 50.0)
    assert ratio <= factor + 0.01
    if insulation_c < 200:
        assert ratio == pytest.approx(factor, abs=0.01)


@given(AC_SIZES, AC_CLASSES, AC_CLASSES, AMBIENTS, st.integers(1, 45))
@few
def test_a_terminal_is_never_asked_for_more_than_its_column(
    size: str, insulation_c: int, terminal_c: int, ambient_c: float, together: int
) -> None:
    found = ampacity.ac_ampacity_a(size, insulation_c, terminal_c, ambient_c, together)
    assert found <= ampacity_ac.AMPACITY_A[terminal_c][size]


@given(DC_CLASSES, st.floats(-40, 59), SIZES)
@few
def test_full_ampacity_warms_a_conductor_to_its_rating(
    insulation_c: int, ambient_c: float, size: str
) -> None:
    full_a = ampacity.dc_ampacity_a(size, insulation_c, ambient_c)
    at_full = ampacity.conductor_temperature_c(full_a, full_a, insulation_c, ambient_c)
    idle = ampacity.conductor_temperature_c(0.0, full_a, insulation_c, ambient_c)
    assert at_full == pytest.approx(insulation_c)
    assert idle == ambient_c


@given(st.sampled_from([r for r in STANDARD_RATINGS_A if r <= 100]), AC_CLASSES, st.floats(0, 50))
@few
def test_the_chosen_ac_conductor_carries_its_breaker_and_the_next_thinner_may_not(
    breaker_a: float, terminal_c: int, ambient_c: float
) -> None:
    size = ampacity.ac_conductor(breaker_a, 90, terminal_c, ambient_c, 3)

    def allowed(candidate: str) -> bool:
        carries = ampacity.ac_ampacity_a(candidate, 90, terminal_c, ambient_c) >= breaker_a
        return carries and breaker_a <= SMALL_CONDUCTOR_LIMIT_A.get(candidate, inf)

    assert allowed(size)
    assert not any(map(allowed, ampacity_ac.SIZES[: ampacity_ac.SIZES.index(size)]))


@pytest.mark.parametrize(("breaker_a", "size"), [(15.0, "14"), (20.0, "12"), (30.0, "10")])
def test_small_conductors_are_held_to_240_4_d_even_on_hot_terminals(
    breaker_a: float, size: str
) -> None:
    assert ampacity.ac_conductor(breaker_a, 90, 90, 30.0, 3) == size


@pytest.mark.parametrize("bad", [-1.0, nan, inf])
def test_impossible_quantities_are_refused_by_name(bad: float) -> None:
    with pytest.raises(ValueError, match="current_a must be zero or more"):
        ampacity.conductor_temperature_c(bad, 1.0, 105, 30.0)
    with pytest.raises(ValueError, match="ampacity_a must be more than zero"):
        ampacity.conductor_temperature_c(1.0, bad, 105, 30.0)
    with pytest.raises(ValueError, match="breaker_a must be more than zero"):
        ampacity.ac_conductor(bad, 90, 75, 30.0, 3)


@pytest.mark.parametrize("bad", [nan, inf, -inf])
def test_an_ambient_that_is_no_temperature_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="ambient_c must be finite"):
        ampacity.dc_ampacity_a("2", 105, bad)
    with pytest.raises(ValueError, match="ambient_c must be finite"):
        ampacity.ac_ampacity_a("10", 90, 75, bad)
    with pytest.raises(ValueError, match="ambient_c must be finite"):
        ampacity.conductor_temperature_c(1.0, 1.0, 105, bad)


def test_counts_below_one_are_refused() -> None:
    with pytest.raises(ValueError, match="conductors must be 1 or more"):
        ampacity.dc_ampacity_a("2", 105, 30.0, bundled=0)
    with pytest.raises(ValueError, match="current_carrying must be 1 or more"):
        ampacity.ac_ampacity_a("10", 90, 75, 30.0, current_carrying=0)


def test_what_no_table_holds_is_refused_with_what_it_holds() -> None:
    with pytest.raises(ValueError, match=r"size must be one of 18, .* AWG, got '7'"):
        ampacity.dc_ampacity_a("7", 105, 30.0)
    with pytest.raises(ValueError, match=r"size must be one of 14, .* AWG, got '18'"):
        ampacity.ac_ampacity_a("18", 90, 75, 30.0)
    with pytest.raises(ValueError, match=r"one of 60, 75, 80, 90, 105, 125, 200 °C, got 100"):
        ampacity.dc_ampacity_a("2", 100, 30.0)
    with pytest.raises(ValueError, match=r"one of 60, 75, 90 °C, got 105"):
        ampacity.ac_ampacity_a("2", 105, 75, 30.0)
    with pytest.raises(ValueError, match=r"one of 60, 75, 90 °C, got 105"):
        ampacity.ac_ampacity_a("2", 90, 105, 30.0)
    with pytest.raises(ValueError, match=r"300 A is more than a 4/0 AWG conductor may carry"):
        ampacity.ac_conductor(300.0, 90, 75, 30.0, 3)
    with pytest.raises(ValueError, match="ambient_c must be below the insulation's 60 °C"):
        ampacity.conductor_temperature_c(1.0, 10.0, 60, 60.0)
