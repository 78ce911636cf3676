"""The search for the best: it finds what weighing every candidate finds, and works out less."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from engine.advice.judge import best as search
from engine.advice.judge.consider import able_of, design_of, order_of
from engine.model.guide import Guide
from engine.model.result import Considered
from tests.advice.conftest import AIRCON, COACH, COOKING, VAN, Case, MakeCase, with_shelf

TEXTS = (
    VAN,
    f"{COOKING} aim=lighter",
    f"{AIRCON} ambient=45C",
    f"{COACH} aim=lighter budget=$9000",
    f"{VAN} budget=$2500",
)


@pytest.fixture
def called(monkeypatch: pytest.MonkeyPatch) -> dict[str, list[tuple[Any, ...]]]:
    """The arguments of each bank, run and design that the search asks for."""
    noted: dict[str, list[tuple[Any, ...]]] = {}
    for name in ("banked_of", "begin_dc", "sized_of", "design_of"):
        noted[name] = []
        monkeypatch.setattr(search, name, _noting(noted[name], getattr(search, name)))
    return noted


def _noting(calls: list[tuple[Any, ...]], function: Callable[..., Any]) -> Callable[..., Any]:
    def call(*given: Any) -> Any:
        calls.append(given)
        return function(*given)

    return call


@pytest.mark.parametrize("text", TEXTS)
def test_it_finds_what_weighing_every_candidate_finds(case: MakeCase, text: str) -> None:
    found = case(text)
    needs, guide = found.needs, found.guide
    every = (design_of(guide, needs, each) for each in able_of(guide, needs.power))
    first = min((each for each in every if each.design), key=order_of, default=None)
    best = search.best_of(guide, needs)
    assert (best and order_of(best)) == (first and order_of(first))


def test_what_no_conductor_suits_is_given_no_bank(
    guide: Guide, case: MakeCase, called: dict[str, list[tuple[Any, ...]]]
) -> None:
    """One unit takes nothing thicker than 14 AWG, 15 A at most (NEC 240.4(D), from memory)."""
    found = case(COACH)
    narrow = replace(found.candidate.inverter.terminals, largest_awg="14")
    units = tuple(
        replace(each, terminals=narrow) if each.id == found.candidate.inverter.id else each
        for each in guide.catalogue.inverters
    )
    shelf = with_shelf(guide, inverters=units)
    best = search.best_of(shelf, found.needs)
    assert best is not None and best.candidate.inverter.id != found.candidate.inverter.id
    given = {powered.candidate.inverter.id for _, powered, _ in called["banked_of"]}
    assert found.candidate.inverter.id not in given
    assert best.candidate.inverter.id in given


@pytest.mark.parametrize("text", [VAN, AIRCON, COACH])
def test_without_a_budget_nothing_is_designed_before_its_run_is_known(
    case: MakeCase, called: dict[str, list[tuple[Any, ...]]], text: str
) -> None:
    found = case(text)
    best = search.best_of(found.guide, found.needs)
    assert isinstance(best, Considered)
    designed = [run for *_, run in called["sized_of"]]
    assert designed and all(run is not None for run in designed)
    assert not called["design_of"]
    assert len(designed) <= len(called["begin_dc"]) <= len(called["banked_of"])


def test_with_a_budget_the_lighter_bank_gives_way_to_the_cheaper(
    case: MakeCase, called: dict[str, list[tuple[Any, ...]]]
) -> None:
    """No run is planned ahead on a bank that may not stay."""
    found = case(f"{COACH} aim=lighter budget=$9000")
    search.best_of(found.guide, found.needs)
    assert not called["begin_dc"]
    assert called["sized_of"]


def with_a_light_twin(guide: Guide, found: Case) -> Guide:
    """Only the battery that is recommended, and one of half its weight for $50 more."""
    battery = found.design.bank.battery
    light = replace(battery, id="light", mass=battery.mass / 2, price=battery.price + 50.0)
    return with_shelf(guide, batteries=(battery, light))


def test_only_a_bank_beyond_the_budget_is_planned_again(
    guide: Guide, case: MakeCase, called: dict[str, list[tuple[Any, ...]]]
) -> None:
    found = case(COOKING)
    shelf, needs = with_a_light_twin(guide, found), replace(found.needs, aim="lighter")
    free = search.best_of(shelf, needs)
    assert free is not None and free.design is not None
    assert free.design.bank.battery.id == "light"
    assert search.best_of(shelf, replace(needs, budget=1e6)) is not None
    assert free.candidate not in {powered.candidate for _, _, powered in called["design_of"]}
    own = found.design.bank.battery.id
    cheap = search.best_of(shelf, replace(needs, budget=free.design.parts_price - 1.0))
    assert cheap is not None and cheap.design is not None
    assert cheap.design.bank.battery.id == own
    assert free.candidate in {powered.candidate for _, _, powered in called["design_of"]}


def test_what_was_designed_without_the_aim_serves_where_the_bank_is_the_same(
    guide: Guide, case: MakeCase, called: dict[str, list[tuple[Any, ...]]]
) -> None:
    found = case(COOKING)
    needs = replace(found.needs, aim="lighter")
    best = search.best_of(guide, needs, found.outcome)
    assert best is not None
    assert not called["sized_of"]
    twin = search.best_of(with_a_light_twin(guide, found), needs, found.outcome)
    assert twin is not None and twin.design is not None
    assert twin.design.bank.battery.id == "light"
    assert called["sized_of"]
    assert search.best_of(guide, replace(needs, budget=1.0), found.outcome) is None


def test_without_any_bank_nothing_is_designed(
    guide: Guide, case: MakeCase, called: dict[str, list[tuple[Any, ...]]]
) -> None:
    found = case(COOKING)
    odd = replace(found.design.bank.battery, nominal=30.0)
    assert search.best_of(with_shelf(guide, batteries=(odd,)), found.needs) is None
    assert called["banked_of"]
    assert not called["sized_of"]
