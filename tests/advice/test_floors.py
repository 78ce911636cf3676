"""Bounds below which nothing is bought: never above the true price, and no lower than they say.

A floor above the truth drops the best setup unseen; one far below only costs time.
"""

from dataclasses import replace

import pytest

from engine.advice.judge import best as search
from engine.advice.judge.consider import able_of, design_of, order_of
from engine.advice.judge.ranking import floor_of
from engine.advice.plan.bank import Demand
from engine.advice.plan.bank_floor import least_bank_price
from engine.advice.plan.begun import Beginning
from engine.advice.plan.dc_begun import begin_dc
from engine.model.guide import BankBy, Guide, Measure
from engine.model.result import Design
from tests.advice.conftest import AIRCON, COACH, COOKING, SIDE_BY_SIDE, SOME, VAN, Case, MakeCase

TEXTS = (VAN, COOKING, AIRCON, COACH, SOME, SIDE_BY_SIDE, f"{COOKING} chemistry=agm nights=1")


def designed(found: Case) -> list[tuple[float, Design]]:
    """Every setup that passes, with its score."""
    return [(each.score, each.design) for each in found.outcome.considered if each.design]


@pytest.mark.parametrize("text", TEXTS)
def test_no_setup_that_passes_counts_less_than_its_floors(case: MakeCase, text: str) -> None:
    """Each step knows more, so each floor is as high as the one before."""
    found = case(text)
    guide, needs = found.guide, found.needs
    beginning = Beginning(guide, needs)
    least = least_bank_price(guide, needs)
    assert designed(found)
    for score, design in designed(found):
        candidate, supply, bank = design.candidate, design.supply, design.bank
        begun, _ = beginning.of(candidate, supply)
        run, _ = begin_dc(candidate, supply, bank, beginning.branches)
        assert begun is not None and run is not None
        floors = (
            floor_of(guide, needs, begun, least),
            floor_of(guide, needs, begun, bank),
            floor_of(guide, needs, begun, bank, run),
        )
        assert floors == tuple(sorted(floors))
        assert floors[-1] <= score, candidate
        assert least <= bank.count * bank.battery.price


@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("by", ["price", "mass"])
def test_no_bank_costs_or_weighs_less_than_the_floor_of_its_battery(
    case: MakeCase, text: str, by: BankBy
) -> None:
    """What so many of them cost and weigh, by the price list; the bound is met by some of them."""
    found = case(text)
    met = []
    for _, design in designed(found):
        on = Beginning(found.guide, found.needs).on_bank(design.candidate.inverter.dc_nominal)
        demand = Demand(on, design.candidate, design.supply)
        for stock in on.shelf:
            floor, strings = demand.least(stock, by), demand.strings_of(stock.battery)
            if floor is None or strings is None:
                continue
            each = stock.battery.price if by == "price" else stock.battery.mass
            true = strings.series * strings.parallel * each
            assert floor <= true + 1e-9, stock.battery.id
            assert floor >= strings.series * each - 1e-9
            met.append(floor == pytest.approx(true))
    assert any(met)


@pytest.mark.parametrize("measure", ["units", "wall-area", "idle", "terminal-misfit"])
@pytest.mark.parametrize("text", [VAN, COOKING, COACH])
def test_of_setups_that_count_the_same_the_first_in_order_is_found(
    guide: Guide, case: MakeCase, text: str, measure: Measure
) -> None:
    """A shop that counts only how many units there are: nearly all are equals, whose floors are
    their scores, and weighing every one finds the same as the search."""
    own = tuple(each for each in guide.priorities.list if each.measure == measure)
    if not own:
        own = (replace(guide.priorities.list[0], measure=measure, counts=1.0),)
    shop = replace(guide, priorities=replace(guide.priorities, list=own))
    needs = case(text).needs
    for units in (shop.catalogue.inverters, shop.catalogue.inverters[::-1]):
        shelf = replace(shop, catalogue=replace(shop.catalogue, inverters=units))
        every = (design_of(shelf, needs, each) for each in able_of(shelf, needs.power))
        first = min((each for each in every if each.design), key=order_of)
        best = search.best_of(shelf, needs)
        assert best is not None
        assert order_of(best) == order_of(first)
