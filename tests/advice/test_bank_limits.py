"""What the maker of a battery allows, against what is asked of a bank of so many in parallel."""

from dataclasses import replace

import pytest

from engine.advice.plan.bank_checks import bank_checks
from tests.advice.conftest import COOKING, MakeCase


@pytest.mark.parametrize("strings", [1, 3])
@pytest.mark.parametrize(
    ("start_s", "peak_s", "peak_a", "each_a"),
    [
        (1.0, 5.0, 200.0, 200.0),
        (5.0, 5.0, 200.0, 200.0),
        (5.1, 5.0, 200.0, 100.0),
        (1.0, 5.0, 80.0, 100.0),
        (5.1, 5.0, 80.0, 100.0),
    ],
)
def test_a_start_may_take_the_peak_for_as_long_as_the_maker_allows_it(
    case: MakeCase, strings: int, start_s: float, peak_s: float, peak_a: float, each_a: float
) -> None:
    """By hand, of a battery that gives 100 A for long: 5 s of a start are 5 s of its peak; no
    start may take less than what lasts."""
    bank = case(COOKING).design.bank
    battery = replace(bank.battery, continuous_current=100.0, peak_current=peak_a, peak_time=peak_s)
    limit_a = strings * each_a
    for surge_a, passes in ((limit_a, True), (limit_a + 0.1, False)):
        asked = replace(bank, battery=battery, parallel=strings, surge_s=start_s, surge_a=surge_a)
        (check,) = (each for each in bank_checks(asked, 20.0) if each.id == "battery-surge")
        assert (check.value, check.limit, check.passed) == (surge_a, limit_a, passes)


@pytest.mark.parametrize("strings", [1, 3])
def test_what_lasts_is_shared_by_the_strings_and_just_that_will_do(
    case: MakeCase, strings: int
) -> None:
    bank = case(COOKING).design.bank
    battery = replace(bank.battery, continuous_current=100.0)
    for asked_a, passes in ((100.0 * strings, True), (100.0 * strings + 0.1, False)):
        asked = replace(bank, battery=battery, parallel=strings, continuous_a=asked_a)
        (check,) = (each for each in bank_checks(asked, 20.0) if each.id == "battery-current")
        assert (check.limit, check.passed) == (100.0 * strings, passes)
