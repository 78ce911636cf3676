"""What a design measures and counts, and what it is said to count at least before it is planned."""

from dataclasses import replace

import pytest

from engine.advice.judge.ranking import floor_of, labor_h, measures_of, rounded
from engine.advice.plan.bank_floor import least_bank_price
from engine.advice.plan.begun import Beginning
from engine.advice.plan.dc_begun import begin_dc, least_price
from engine.model.guide import Guide
from engine.model.result import BankPlan
from tests.advice.conftest import (
    AIRCON,
    COACH,
    COOKING,
    SOME,
    TWO_AIRCONS,
    VAN,
    Case,
    MakeCase,
    with_shelf,
)

TEXTS = (VAN, COOKING, f"{COOKING} bank=24V", AIRCON, COACH, TWO_AIRCONS, SOME)


def measured(found: Case) -> dict[str, float]:
    return measures_of(found.guide, found.needs, found.design)


@pytest.mark.parametrize("text", TEXTS)
@pytest.mark.parametrize("tools", ["screwdriver", "crimper", "unsure"])
def test_only_a_push_in_terminal_without_a_crimper_is_a_misfit_of_each_unit(
    case: MakeCase, text: str, tools: str
) -> None:
    found = case(f"{text} tools={tools}")
    push_in = found.candidate.inverter.terminals.kind == "push-in"
    misfits = found.candidate.units if push_in and tools != "crimper" else 0
    assert measured(found)["terminal-misfit"] == misfits


def test_both_kinds_of_terminals_are_among_them(case: MakeCase) -> None:
    """So that the test above cannot pass by having no push-in terminal at all."""
    kinds = {case(f"{text} tools=crimper").candidate.inverter.terminals.kind for text in TEXTS}
    assert kinds == {"push-in", "screw"}


@pytest.mark.parametrize("text", TEXTS)
def test_units_idle_draw_and_wall_are_those_of_every_unit(case: MakeCase, text: str) -> None:
    """Hung upright, a unit takes its height by its width: arithmetic."""
    found = case(f"{text} mount=upright")
    unit, units, has = found.candidate.inverter, found.candidate.units, measured(found)
    assert has["units"] == units
    assert has["idle"] == pytest.approx(units * unit.idle)
    assert has["wall-area"] == pytest.approx(units * unit.height * unit.width)


@pytest.mark.parametrize("text", TEXTS)
def test_hours_of_labor_are_the_shops_own(case: MakeCase, text: str) -> None:
    found = case(text)
    labor, unit, units = (
        found.guide.priorities.labor,
        found.candidate.inverter,
        found.candidate.units,
    )
    house = found.design.house
    batteries = found.design.bank.count + (house.batteries if house else 0)
    hours = labor.base + labor.each_unit * units + labor.each_battery * batteries
    if not found.needs.panel_there:
        hours += labor.sub_panel
    if unit.terminals.kind == "push-in":
        hours += labor.each_push_in_end * units * len(found.design.ac.ends_per_unit)
    assert labor_h(found.guide, found.needs, found.design) == pytest.approx(hours)
    assert measured(found)["labor"] == pytest.approx(labor.rate * hours)


def floors(found: Case, guide: Guide, bank: BankPlan) -> tuple[float, float, float]:
    """What it counts at least: with any bank, with this one, and with this one on its run."""
    needs, supply, candidate = found.needs, found.supply, found.candidate
    beginning = Beginning(guide, needs)
    begun, _ = beginning.of(candidate, supply)
    assert begun is not None
    run, _ = begin_dc(candidate, supply, bank, beginning.branches)
    return (
        floor_of(guide, needs, begun, least_bank_price(guide, needs)),
        floor_of(guide, needs, begun, bank),
        floor_of(guide, needs, begun, bank, run),
    )


@pytest.mark.parametrize("text", TEXTS)
def test_what_it_counts_at_least_is_near_what_it_counts(case: MakeCase, text: str) -> None:
    """A bound that is far below is true, too, and useless: everything would be planned wholly."""
    found = case(text)
    any_bank, this_bank, on_run = floors(found, found.guide, found.design.bank)
    assert 0.6 * found.best.score < any_bank <= this_bank <= on_run <= found.best.score
    assert on_run > 0.85 * found.best.score


@pytest.mark.parametrize("text", [VAN, COACH])
def test_a_dearer_and_heavier_battery_raises_it_by_what_it_adds(case: MakeCase, text: str) -> None:
    found = case(text)
    guide, bank = found.guide, found.design.bank
    counts = {each.measure: each.counts for each in guide.priorities.list}
    other = replace(bank.battery, price=bank.battery.price + 100.0, mass=bank.battery.mass + 10.0)
    before = floors(found, guide, bank)
    after = floors(found, guide, replace(bank, battery=other))
    added = bank.count * (100.0 * counts["parts-price"] + 10.0 * counts["mass"])
    assert after[0] == before[0]
    assert after[1] - before[1] == pytest.approx(added)
    assert after[2] - before[2] == pytest.approx(added)


@pytest.mark.parametrize("text", TEXTS)
def test_the_score_is_the_sum_of_what_each_measure_counts(case: MakeCase, text: str) -> None:
    found = case(text)
    has = measured(found)
    expected = sum(each.counts * has[each.measure] for each in found.guide.priorities.list)
    assert found.best.score == pytest.approx(expected)
    assert sum(counts for _, counts in found.best.contributions) == pytest.approx(expected)


def test_batteries_that_stay_cost_and_weigh_nothing_more(case: MakeCase) -> None:
    found = case(VAN)
    guide, bank = found.guide, found.design.bank
    counts = {each.measure: each.counts for each in guide.priorities.list}
    battery = bank.battery
    each_counts = battery.price * counts["parts-price"] + battery.mass * counts["mass"]
    new = floors(found, guide, bank)[1]
    kept = floors(found, guide, replace(bank, kept=bank.count))[1]
    assert new - kept == pytest.approx(bank.count * each_counts)


@pytest.mark.parametrize("text", [VAN, COACH])
def test_any_bank_of_a_price_counts_at_least_as_one_battery_of_that_price(
    case: MakeCase, text: str
) -> None:
    found = case(text)
    one = replace(found.design.bank.battery, price=700.0, mass=0.0)
    bank = replace(found.design.bank, battery=one, series=1, parallel=1, kept=0)
    begun, _ = Beginning(found.guide, found.needs).of(found.candidate, found.supply)
    assert begun is not None
    any_bank, this_bank = (floor_of(found.guide, found.needs, begun, of) for of in (700.0, bank))
    assert any_bank == this_bank


@pytest.mark.parametrize("text", (*TEXTS, f"{COOKING} bank=12V cable=20ft"))  # two cables in one
def test_a_run_costs_at_least_its_fuses_switch_and_cable_as_they_are_listed(
    case: MakeCase, text: str
) -> None:
    """Arithmetic over the lines of the parts list, each piece at its share of a pack."""
    found = case(text)
    beginning, bank = Beginning(found.guide, found.needs), found.design.bank
    run, _ = begin_dc(found.candidate, found.supply, bank, beginning.branches)
    assert run is not None
    listed = {"fuse", "fuse-holder", "disconnect", "battery-fuse", "battery-fuse-holder"}
    listed |= {"dc-cable", "branch-fuse-holder", "kept-fuse", "kept-fuse-holder"}
    listed |= {f"{each.id}-fuse" for each in run.branches}
    listed |= {f"{each.id}-switch" for each in run.branches}
    sum_of = sum(
        line.quantity * line.price_each / line.pack
        for line in found.design.parts
        if line.group in listed
    )
    least = least_price(found.guide, found.needs, found.candidate, (bank, run))
    assert least == pytest.approx(sum_of)


def test_scores_are_compared_to_the_tenth_of_a_cent() -> None:
    assert rounded(100.12349) == 100.123
    assert rounded(0.1 + 0.2) == 0.3


def test_only_what_is_bought_and_is_not_there_is_waited_for(guide: Guide, case: MakeCase) -> None:
    found = case(VAN)
    line = next(each for each in found.design.parts if each.product not in guide.absent)
    away = replace(guide.catalogue.batteries[0], id="away", stock="out-of-stock")
    shelf = with_shelf(guide, batteries=(*guide.catalogue.batteries, away))
    for has, waited in (
        (line, 0),
        (line._replace(product=""), 1),
        (line._replace(product="away"), 1),
        (line._replace(product="", have=True), 0),
        (line._replace(product="away", have=True), 0),
    ):
        design = replace(found.design, parts=(has,))
        assert measures_of(shelf, found.needs, design)["waiting"] == waited


def test_what_nobody_knows_beforehand_raises_no_floor(guide: Guide, case: MakeCase) -> None:
    """However much the shop counts what is waited for, a design may have nothing of it."""
    found = case(VAN)
    begun, checks = Beginning(guide, found.needs).of(found.candidate, found.supply)
    assert begun is not None, checks
    dear = tuple(
        replace(each, counts=1e9) if each.measure == "waiting" else each
        for each in guide.priorities.list
    )
    assert any(each.counts == 1e9 for each in dear)
    other = replace(guide, priorities=replace(guide.priorities, list=dear))
    assert floor_of(other, found.needs, begun, 0.0) == floor_of(guide, found.needs, begun, 0.0)


def test_every_push_in_end_of_every_unit_takes_its_time(guide: Guide, case: MakeCase) -> None:
    found = case(TWO_AIRCONS)
    unit, hours = found.candidate.inverter, {}
    for kind in ("screw", "push-in"):
        inverter = replace(unit, terminals=replace(unit.terminals, kind=kind))
        candidate = replace(found.candidate, inverter=inverter)
        hours[kind] = labor_h(guide, found.needs, replace(found.design, candidate=candidate))
    ends = 2 * len(found.design.ac.ends_per_unit)
    more_h = guide.priorities.labor.each_push_in_end * ends
    assert hours["push-in"] - hours["screw"] == pytest.approx(more_h)
    assert more_h > 0.0
