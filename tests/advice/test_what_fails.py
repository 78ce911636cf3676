"""What fails has no score: it is ranked by how much it misses alone."""

import pytest

from tests.advice.conftest import COACH, COOKING, TWO_AIRCONS, VAN, MakeCase


@pytest.mark.parametrize(
    "text",
    [VAN, f"{VAN} cable=60ft", f"{COOKING} cable=30ft", COACH, f"{TWO_AIRCONS} ambient=55C"],
)
def test_setups_that_fail_stand_after_all_others_those_that_miss_least_first(
    case: MakeCase, text: str
) -> None:
    found = case(text).outcome.considered
    failing = [each for each in found if each.design is None]
    assert failing
    assert list(found[-len(failing) :]) == failing
    assert {each.score for each in failing} == {0.0}
    missed = [-min(check.margin for check in each.failed) for each in failing]
    assert missed == sorted(missed)
