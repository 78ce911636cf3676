"""What fails has no score: it is ranked by how much it misses alone."""

from dataclasses import replace

import pytest

from engine.advice.judge.consider import Powered, design_of, may_be_cheaper
from engine.model.guide import BankBy, Guide
from tests.advice.conftest import COACH, COOKING, TWO_AIRCONS, VAN, MakeCase, with_shelf


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


def test_a_feed_that_no_conductor_carries_has_no_score_either(case: MakeCase) -> None:
    """A wire of 4/0 on terminals of 75 °C carries 230 A at most, NEC 310.16."""
    found = case(VAN)
    for feeder_a, carried in ((found.supply.feeder_a, True), (400.0, False)):
        fed = Powered(found.candidate, replace(found.supply, feeder_a=feeder_a), ())
        needs = replace(found.needs, altitude_m=feeder_a)  # for each its own
        considered = design_of(found.guide, needs, fed)
        assert (considered.design is not None) is carried is (considered.score > 0.0)
        assert carried or [each.id for each in considered.failed] == ["ac-conductor"]
        assert carried or considered.score == 0.0


@pytest.mark.parametrize(
    ("by", "budget", "may"),
    [("price", None, False), ("price", 900.0, False), ("mass", None, False), ("mass", 900.0, True)],
)
def test_a_budget_alone_makes_a_lighter_bank_give_way_to_a_cheaper(
    case: MakeCase, by: BankBy, budget: float | None, may: bool
) -> None:
    """Who asked for the lightest and named no sum is given no heavier one; of the cheapest there
    is none cheaper."""
    assert may_be_cheaper(replace(case(VAN).needs, budget=budget), by) is may


def test_who_wants_the_lightest_bank_gets_it_as_long_as_the_budget_holds_it(
    guide: Guide, case: MakeCase
) -> None:
    """A twin of half the weight costs $50 more: within the budget it is taken, beyond it not."""
    found = case(COOKING)
    battery = found.design.bank.battery
    light = replace(battery, id="light", mass=battery.mass / 2, price=battery.price + 50.0)
    shelf = with_shelf(guide, batteries=(battery, light))
    needs = replace(found.needs, aim="lighter")
    powered = Powered(found.candidate, found.supply, ())
    aimed = design_of(shelf, needs, powered).design
    assert aimed is not None
    assert aimed.bank.battery.id == "light"
    for more, taken in ((0.0, "light"), (-1.0, battery.id)):
        limited = replace(needs, budget=aimed.parts_price + more)
        design = design_of(shelf, limited, powered).design
        assert design is not None
        assert design.bank.battery.id == taken
