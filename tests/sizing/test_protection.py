"""Protection: how large a fuse, how strong, and where."""

import inspect
from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import protection
from engine.standards import interrupt, overcurrent
from tests.equations import evaluate

CURRENTS = st.floats(0, 1500)
RATINGS = (100.0, 150.0, 200.0, 250.0, 300.0, 400.0)

few = settings(max_examples=100)


@given(CURRENTS, st.floats(1, 2), st.floats(1, 1.3))
@few
def test_more_current_or_margin_never_needs_a_smaller_fuse(
    current_a: float, more: float, factor: float
) -> None:
    base = protection.choose_fuse_a(current_a, RATINGS) or inf
    assert (protection.choose_fuse_a(current_a * more, RATINGS) or inf) >= base
    assert (protection.choose_fuse_a(current_a, RATINGS, 1.25 * factor) or inf) >= base


@given(CURRENTS, st.permutations(RATINGS))
@few
def test_the_smallest_sufficient_fuse_is_taken_in_whatever_order_they_are_offered(
    current_a: float, ratings: list[float]
) -> None:
    found = protection.choose_fuse_a(current_a, tuple(ratings))
    large_enough = sorted(rating for rating in ratings if rating >= 1.25 * current_a)
    assert found == (large_enough[0] if large_enough else None)


def test_a_fuse_that_just_reaches_the_minimum_is_taken() -> None:
    assert protection.choose_fuse_a(240.0, RATINGS) == 300.0
    assert protection.choose_fuse_a(240.001, RATINGS) == 400.0
    assert protection.choose_fuse_a(10.0, ()) is None


@given(st.floats(0, 2000))
@few
def test_the_next_standard_rating_is_the_nearest_above(current_a: float) -> None:
    found = protection.next_standard_rating_a(current_a)
    assert found >= current_a
    assert not any(current_a <= rating < found for rating in overcurrent.STANDARD_RATINGS_A)


@given(st.floats(0, 1600))
@few
def test_a_continuous_load_never_takes_a_smaller_breaker(load_a: float) -> None:
    lasting = protection.branch_breaker_a(load_a, continuous=True)
    assert lasting >= protection.branch_breaker_a(load_a, continuous=False)
    assert lasting >= 1.25 * load_a


@pytest.mark.parametrize(
    ("load_a", "breaker_a"),
    # NEC 210.20(A): 80 % of 15, 20, 30 and 50 A are 12, 16, 24 and 40 A
    [(12.0, 15.0), (16.0, 20.0), (24.0, 30.0), (40.0, 50.0), (40.01, 60.0)],
)
def test_continuous_load_may_be_eighty_per_cent_of_its_breaker(
    load_a: float, breaker_a: float
) -> None:
    assert protection.branch_breaker_a(load_a, continuous=True) == breaker_a


@given(st.floats(0, 10_000), st.integers(1, 8))
@few
def test_strings_in_parallel_add_up(battery_a: float, parallel: int) -> None:
    bank = protection.bank_short_circuit_a(battery_a, parallel)
    assert bank == pytest.approx(sum([battery_a] * parallel))


def test_series_adds_nothing_since_resistance_grows_with_voltage() -> None:
    one = protection.short_circuit_from_resistance_a(13.2, 0.003)
    four = protection.short_circuit_from_resistance_a(4 * 13.2, 4 * 0.003)
    assert four == pytest.approx(one)


def test_estimates_err_high_of_what_the_trade_reports() -> None:
    # trade pages: 1 … 2 kA, up to 4 kA, for 100 Ah of lead-acid; lithium is stiffer, from memory
    lead_a = [protection.planned_short_circuit_a(100.0, kind) for kind in ("agm", "flooded")]
    assert lead_a == [4000.0, 4000.0]
    assert protection.planned_short_circuit_a(100.0, "lifepo4") > max(lead_a)


@given(st.floats(0, 60_000), st.floats(0, 60_000))
@few
def test_a_fuse_suffices_if_it_stops_the_current_or_more(fuse_a: float, short_a: float) -> None:
    assert protection.interrupt_sufficient(fuse_a, short_a) == (fuse_a >= short_a)
    assert protection.interrupt_sufficient(short_a, short_a)


def test_a_blade_fuse_does_not_stop_a_lithium_battery_but_class_t_does() -> None:
    short_a = protection.planned_short_circuit_a(100.0, "lifepo4")
    blade_a = protection.family_interrupt_a("blade", 14.6)
    class_t_a = protection.family_interrupt_a("Class T", 14.6)
    assert not protection.interrupt_sufficient(blade_a, short_a)
    assert protection.interrupt_sufficient(class_t_a, short_a)


@given(st.sampled_from([row.name for row in interrupt.FUSE_FAMILIES]), st.floats(1, 150))
@few
def test_a_higher_voltage_never_raises_what_a_fuse_stops(family: str, system_v: float) -> None:
    low = protection.family_interrupt_a(family, system_v)
    assert protection.family_interrupt_a(family, 1.5 * system_v) <= low


def test_a_fuse_stops_nothing_above_its_voltage() -> None:
    assert protection.family_interrupt_a("blade", 32.0) == 1000.0
    assert protection.family_interrupt_a("blade", 32.1) == 0.0


def test_large_banks_are_content_with_20_ka_above_10_ka() -> None:
    # ABYC E-11 11.10.1.2
    assert protection.required_interrupt_a(8_000.0) == 10_000.0
    assert protection.required_interrupt_a(8_000.1) == 20_000.0


def test_a_fuse_that_just_reaches_the_short_circuit_is_not_enough() -> None:
    # The margin of 1.25 is common practice, no source.
    assert protection.required_interrupt_a(6000.0) == 7500.0


def test_a_lithium_battery_has_one_floor_whether_new_or_kept() -> None:
    # 3,733 A of a 60 Ah pack, worked out from its cells (forum calculation, seen): 62 A an Ah.
    for capacity_ah, stated_a in ((100.0, 2600.0), (300.0, 4900.0)):
        kept_a = protection.planned_short_circuit_a(capacity_ah, "lifepo4")
        assert kept_a == pytest.approx(3733.0 / 60.0 * capacity_ah, rel=0.01)
        assert protection.stated_short_circuit_a(stated_a, capacity_ah, "lifepo4") == kept_a
    assert protection.stated_short_circuit_a(9000.0, 100.0, "lifepo4") == 9000.0
    assert protection.stated_short_circuit_a(2000.0, 100.0, "agm") == 2000.0


@pytest.mark.parametrize(
    ("cranking_a", "main_a", "branch_a"),
    # ABYC E-11 Table V-A at both ends of each row
    [
        (0.0, 1500.0, 750.0),
        (650.0, 1500.0, 750.0),
        (651.0, 3000.0, 1500.0),
        (1100.0, 3000.0, 1500.0),
        (1101.0, 5000.0, 2500.0),
        (2200.0, 5000.0, 2500.0),
    ],
)
def test_interrupt_rating_by_cranking_current(
    cranking_a: float, main_a: float, branch_a: float
) -> None:
    assert protection.cranking_interrupt_a(cranking_a) == main_a
    assert protection.cranking_interrupt_a(cranking_a, branch=True) == branch_a


def test_a_sheath_never_shortens_the_way_to_the_fuse() -> None:
    for from_battery in (False, True):
        bare = protection.fuse_place_limit_m(sheathed=False, from_battery=from_battery)
        assert protection.fuse_place_limit_m(sheathed=True, from_battery=from_battery) >= bare
    # 33 CFR 183.460(a) asks for no sheath within its 72 in
    assert protection.fuse_place_limit_m(sheathed=False, from_battery=True) == 72 * 0.0254


@pytest.mark.parametrize(
    # ABYC E-11, July 2025, above 500 Ah (secondary); smaller banks: common practice, no source
    ("parallel", "needed"),
    [(1, False), (2, True), (3, True), (4, True)],
)
def test_every_battery_of_a_parallel_bank_is_protected(parallel: int, needed: bool) -> None:
    assert protection.per_battery_protection_needed(parallel) is needed


@given(CURRENTS)
@few
def test_a_disconnect_carries_what_its_least_fuse_lets_pass(current_a: float) -> None:
    assert protection.disconnect_minimum_a(current_a) == protection.fuse_minimum_a(current_a)


@pytest.mark.parametrize("bad", [-1.0, nan, inf])
def test_impossible_quantities_are_refused_by_name(bad: float) -> None:
    with pytest.raises(ValueError, match="continuous_a must be zero or more"):
        protection.fuse_minimum_a(bad)
    with pytest.raises(ValueError, match="continuous_a must be zero or more"):
        protection.disconnect_minimum_a(bad)
    with pytest.raises(ValueError, match="ratings_a must be more than zero"):
        protection.choose_fuse_a(1.0, (bad,))
    with pytest.raises(ValueError, match="current_a must be zero or more"):
        protection.next_standard_rating_a(bad)
    with pytest.raises(ValueError, match="load_a must be zero or more"):
        protection.branch_breaker_a(bad, continuous=True)
    with pytest.raises(ValueError, match="battery_short_a must be zero or more"):
        protection.bank_short_circuit_a(bad, 1)
    with pytest.raises(ValueError, match="open_circuit_v must be zero or more"):
        protection.short_circuit_from_resistance_a(bad, 0.01)
    with pytest.raises(ValueError, match="resistance_ohm must be more than zero"):
        protection.short_circuit_from_resistance_a(12.0, bad)
    with pytest.raises(ValueError, match="capacity_ah must be zero or more"):
        protection.planned_short_circuit_a(bad, "agm")
    with pytest.raises(ValueError, match="fuse_interrupt_a must be zero or more"):
        protection.interrupt_sufficient(bad, 1.0)
    with pytest.raises(ValueError, match="short_circuit_a must be zero or more"):
        protection.interrupt_sufficient(1.0, bad)
    with pytest.raises(ValueError, match="short_circuit_a must be zero or more"):
        protection.required_interrupt_a(bad)
    with pytest.raises(ValueError, match="cold_cranking_a must be zero or more"):
        protection.cranking_interrupt_a(bad)
    with pytest.raises(ValueError, match="system_v must be more than zero"):
        protection.family_interrupt_a("blade", bad)


def test_what_no_table_holds_is_refused() -> None:
    with pytest.raises(ValueError, match="current_a must be 2000 A or less"):
        protection.next_standard_rating_a(2001.0)
    with pytest.raises(ValueError, match="maker's short-circuit figure decides"):
        protection.cranking_interrupt_a(2201.0)
    with pytest.raises(ValueError, match=r"family must be one of blade, .*, got 'glass'"):
        protection.family_interrupt_a("glass", 12.0)
    with pytest.raises(ValueError, match="chemistry must be one of lifepo4, agm, flooded"):
        protection.planned_short_circuit_a(100.0, "gel")
    with pytest.raises(ValueError, match="factor must be 1 or more"):
        protection.fuse_minimum_a(10.0, 0.8)
    with pytest.raises(ValueError, match="parallel must be more than zero"):
        protection.bank_short_circuit_a(1000.0, 0)
    with pytest.raises(ValueError, match="parallel must be more than zero"):
        protection.per_battery_protection_needed(0)


def test_a_fuse_may_be_as_large_as_its_current_and_no_smaller() -> None:
    assert protection.fuse_minimum_a(100.0, 1.0) == 100.0
    with pytest.raises(ValueError, match="factor"):
        protection.fuse_minimum_a(100.0, 0.999)


def test_the_equation_of_a_breaker_is_that_of_a_lasting_load() -> None:
    """24 A for three hours ask for 30 A, NEC 210.20(A): by hand."""
    said = inspect.getdoc(protection.branch_breaker_a) or ""
    lasting, _, rest = said.splitlines()[2].partition(" for a continuous load, ")
    assert evaluate(lasting, {"I": 24.0}) == pytest.approx(30.0)
    assert rest.startswith("≥ I else")
