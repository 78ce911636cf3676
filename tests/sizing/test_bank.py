"""What a bank stands: charge, surge, inrush, and whether one that is there can serve again."""

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import bank
from engine.sizing.bank import ExistingBank, ReuseFault

NAN = math.nan
CURRENTS = st.floats(0, 3000)
GOOD = ExistingBank("lifepo4", 2.0, 12.8, True, 100.0, 3)


def holds(surge_a: float, surge_s: float, parallel: int) -> bool:
    return bank.protection_holds(
        surge_a,
        surge_s,
        continuous_each_a=100.0,
        peak_each_a=250.0,
        peak_s=3.0,
        parallel=parallel,
    )


@pytest.mark.parametrize(
    ("surge_a", "surge_s", "stays"),
    [
        (200.0, 1e6, True),  # continuous, for ever
        (200.1, 3.0, True),  # peak, just long enough
        (200.1, 3.1, False),  # peak, too long
        (500.0, 3.0, True),  # at the peak
        (500.1, 0.001, False),  # beyond the peak, however short
        (0.0, 0.0, True),
    ],
)
def test_protection_of_two_strings_holds_by_current_and_time(
    surge_a: float, surge_s: float, *, stays: bool
) -> None:
    assert holds(surge_a, surge_s, 2) is stays


@settings(max_examples=80)
@given(CURRENTS, st.floats(0, 60), st.integers(1, 8))
def test_one_string_more_never_trips_a_bank_that_held(
    surge_a: float, surge_s: float, parallel: int
) -> None:
    assert holds(surge_a, surge_s, parallel + 1) or not holds(surge_a, surge_s, parallel)


@settings(max_examples=80)
@given(CURRENTS, CURRENTS, st.floats(0, 60), st.floats(0, 60), st.integers(1, 8))
def test_a_smaller_and_shorter_surge_never_trips_what_held(
    one_a: float, other_a: float, one_s: float, other_s: float, parallel: int
) -> None:
    small, large = sorted((one_a, other_a))
    short, long = sorted((one_s, other_s))
    assert holds(small, short, parallel) or not holds(large, long, parallel)


def test_peak_below_continuous_is_refused() -> None:
    with pytest.raises(ValueError, match=r"peak_each_a \(50.0\) must not be below"):
        bank.protection_holds(
            1.0, 1.0, continuous_each_a=100.0, peak_each_a=50.0, peak_s=3.0, parallel=1
        )


def test_peak_may_equal_continuous() -> None:
    assert bank.protection_holds(
        100.0, 9.0, continuous_each_a=100.0, peak_each_a=100.0, peak_s=0.0, parallel=1
    )


def test_inrush_of_just_the_peak_needs_no_precharge() -> None:
    assert not bank.inrush_needs_precharge(12.5, 0.025, 250.0, 2)
    assert bank.inrush_needs_precharge(12.6, 0.025, 250.0, 2)


def test_inrush_through_thin_long_cable_needs_no_precharge_and_through_thick_short_does() -> None:
    # 13.3 V over 4 milliohm is 3,325 A, over 100 milliohm 133 A; two batteries stand 500 A.
    assert bank.inrush_needs_precharge(13.3, 0.004, 250.0, 2)
    assert not bank.inrush_needs_precharge(13.3, 0.1, 250.0, 2)


def test_precharge_leaves_less_than_one_percent() -> None:
    seconds = bank.precharge_s(25.0, 0.02)
    assert 0.005 < math.exp(-seconds / (25.0 * 0.02)) < 0.01


@settings(max_examples=40)
@given(CURRENTS, st.integers(1, 12))
def test_charge_limit_is_that_of_every_string_together(each_a: float, parallel: int) -> None:
    assert bank.charge_limit_a(each_a, parallel) == pytest.approx(
        sum(each_a for _ in range(parallel))
    )


def test_sound_bank_of_the_right_kind_serves() -> None:
    assert bank.reuse_verdict(GOOD, "lifepo4", 12.0, 300.0) == ()


@pytest.mark.parametrize(
    ("there", "fault"),
    [
        (replace(GOOD, chemistry="agm"), ReuseFault("chemistry", "agm", "lifepo4")),
        (replace(GOOD, alike=False), ReuseFault("mixed", "mixed", "alike")),
        (replace(GOOD, age_years=10.0), ReuseFault("age", 10.0, 10.0)),
        (replace(GOOD, nominal_v=25.6), ReuseFault("voltage", 25.6, 12.0)),
        (replace(GOOD, parallel=2), ReuseFault("current", 200.0, 300.0)),
    ],
)
def test_each_fault_is_found_alone_with_its_numbers(there: ExistingBank, fault: ReuseFault) -> None:
    assert bank.reuse_verdict(there, "lifepo4", 12.0, 300.0) == (fault,)


def test_all_faults_are_told_at_once_in_their_order() -> None:
    there = ExistingBank("flooded", 6.0, 24.0, False, 50.0, 1)
    found = bank.reuse_verdict(there, "lifepo4", 12.0, 300.0)
    assert [fault.code for fault in found] == ["chemistry", "mixed", "age", "voltage", "current"]


def test_age_is_judged_by_the_chemistry_that_is_there() -> None:
    assert [
        [fault.code for fault in bank.reuse_verdict(replace(GOOD, chemistry=kind), kind, 12.0, 1.0)]
        for kind in ("lifepo4", "agm", "flooded")
    ] == [[], [], []]
    older = replace(GOOD, age_years=4.5)
    assert [
        [
            fault.code
            for fault in bank.reuse_verdict(replace(older, chemistry=kind), kind, 12.0, 1.0)
        ]
        for kind in ("lifepo4", "agm", "flooded")
    ] == [[], [], ["age"]]


@pytest.mark.parametrize(
    ("call", "fault"),
    [
        (lambda: bank.charge_limit_a(-1.0, 1), "limit_each_a must be zero or more"),
        (lambda: bank.charge_limit_a(1.0, 0), "parallel must be more than zero"),
        (lambda: holds(-1.0, 1.0, 1), "surge_a must be zero or more"),
        (lambda: holds(1.0, NAN, 1), "surge_s must be zero or more"),
        (lambda: holds(1.0, 1.0, 0), "parallel must be more than zero"),
        (lambda: bank.inrush_needs_precharge(0.0, 0.1, 1.0, 1), "source_v must be more"),
        (lambda: bank.inrush_needs_precharge(12.0, 0.0, 1.0, 1), "loop_resistance_ohm must be"),
        (lambda: bank.inrush_needs_precharge(12.0, 0.1, -1.0, 1), "peak_each_a must be zero"),
        (lambda: bank.precharge_s(0.0, 0.02), "resistor_ohm must be more than zero"),
        (lambda: bank.precharge_s(25.0, NAN), "capacitance_f must be more than zero"),
        (lambda: bank.reuse_verdict(GOOD, "gel", 12.0, 1.0), "chemistry must be one of"),
        (
            lambda: bank.reuse_verdict(replace(GOOD, chemistry="gel"), "agm", 12.0, 1.0),
            "chemistry must be one of",
        ),
        (lambda: bank.reuse_verdict(GOOD, "agm", 0.0, 1.0), "system_v must be more than zero"),
        (lambda: bank.reuse_verdict(GOOD, "agm", 12.0, NAN), "needed_a must be zero or more"),
    ],
)
def test_numbers_no_bank_can_have_are_refused(call: object, fault: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=fault):
        call()
