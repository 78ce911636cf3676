"""The rig's own 12 V system, and what its panel carries: over the tree and case by case."""

from collections.abc import Iterator
from dataclasses import replace

import pytest

from engine.advice.plan.branches import house_interrupt_a
from engine.advice.plan.house import buffer_of, converter_check, motor_a
from engine.advice.plan.house_side import house_side_of
from engine.advice.plan.kept import for_house
from engine.conversation import Conversation
from engine.model.buses import DC
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.shedding import busiest_va, carried
from engine.sizing.short_circuit import (
    cranking_interrupt_a,
    planned_short_circuit_a,
    required_interrupt_a,
)
from tests.advice.conftest import COACH, COOKING, VAN, MakeCase, with_shelf
from tests.advice.test_buses import rooftop
from tests.random_answers import concrete_states

Recommended = list[tuple[str, Needs, Design]]
KEPT_SIDE = {
    *("step-down", "step-down-fuse", "step-down-cable", "house-cable"),
    *("house-battery", "kept-fuse", "kept-fuse-holder", "charge-isolator"),
}


@pytest.fixture(scope="module")
def tree(guide: Guide) -> Recommended:
    """Every recommendation of the short path."""
    return list(_recommended(guide))


def _recommended(guide: Guide) -> Iterator[tuple[str, Needs, Design]]:
    conversation = Conversation(guide)
    for answers in concrete_states(conversation):
        outcome = conversation.outcome(answers)
        if outcome.best and outcome.best.design:
            yield str(answers.key()), outcome.needs, outcome.best.design


def groups(design: Design) -> set[str]:
    return {line.group for line in design.parts if line.product}


def test_every_trailer_and_coach_is_on_12_v_or_keeps_its_12_v_side(tree: Recommended) -> None:
    seen = set()
    for name, needs, design in tree:
        if needs.bare:
            continue
        own = design.candidate.inverter.dc_nominal == needs.house_v == 12.0
        seen.add(own)
        priced = {line.group for line in design.parts if line.price_each > 0}
        assert own or priced >= KEPT_SIDE, name
        assert not own or not groups(design) & {"step-down", "house-battery"}, name
    assert seen == {True, False}


def test_no_van_keeps_a_12_v_side_unless_it_is_said_to_have_one(
    tree: Recommended, case: MakeCase
) -> None:
    vans = [design for _, needs, design in tree if needs.bare]
    assert vans
    assert all(design.house is None and "house-battery" not in groups(design) for design in vans)
    assert "house-battery" in groups(case(f"{VAN} bank=24V house=12V").design)


def test_no_unit_stands_behind_a_panel_that_another_one_fills(tree: Recommended) -> None:
    """Two units of 3,600 W or more behind 30 A: the second could never be used."""
    seen = 0
    for name, needs, design in tree:
        if not needs.panel_there:
            continue
        seen += 1
        candidate = design.candidate
        panel_w = needs.service.amps * needs.service.volts
        without_one = candidate.units_per_leg - 1
        assert without_one * design.supply.continuous_w / candidate.units_per_leg < panel_w, name
        assert busiest_va(needs.running, needs.service.legs) <= panel_w, name
    assert seen > 50


def test_what_a_panel_does_not_carry_waits_and_is_named(case: MakeCase) -> None:
    found = case("rig=rig-30 scope=whole heavy=3 biggest=cooking")
    assert [load.id for load in found.needs.waits] == ["kettle"]
    asked = {"induction-hob", "microwave", "kettle"}
    assert asked <= {load.id for load in found.needs.loads}
    assert found.design.supply.planned_w <= 30.0 * 120.0
    assert not case("rig=rig-30 scope=some heavy=3 biggest=cooking").needs.waits
    assert not case("rig=coach-50 scope=whole heavy=3 biggest=cooking v240=no").needs.waits


@pytest.mark.parametrize("cord", ["15A", "20A"])
def test_what_runs_on_a_household_cord_waits_for_nothing(case: MakeCase, cord: str) -> None:
    """It has no panel of its own that could carry less than the unit gives."""
    found = case(f"rig=van scope=whole heavy=3 biggest=aircon-15k softstart=no cord={cord}")
    service = found.needs.service
    asked_a = busiest_va(found.needs.running, service.legs) / service.volts
    assert asked_a > service.amps
    assert not found.needs.waits


def test_where_one_load_alone_is_too_much_nothing_waits(case: MakeCase) -> None:
    found = case("rig=rig-30 scope=whole heavy=1 biggest=cooking loads=lights,kiln:3700W")
    assert not found.needs.waits
    running = found.needs.running
    assert carried(running, found.needs.service) == (running, ())
    assert "output-breaker" in {check.id for check in found.outcome.considered[0].failed}


def test_the_battery_that_stays_starts_what_the_charger_cannot(
    guide: Guide, case: MakeCase
) -> None:
    """By hand: a start of 100 A is far above the charger's 27 A; the battery gives 500 A."""
    motor = rooftop(guide, running=120.0, locked_rotor=100.0, start_time=0.8)
    text = f"{COOKING} bank=24V loads=fridge-12v,microwave,rooftop-12v"
    design = case(text, motor).design
    assert "buffer" not in groups(design)
    assert "buffer" in groups(case(f"{text} house=none", motor).design)


def test_the_charger_gives_what_runs_and_no_more_than_the_battery_accepts(case: MakeCase) -> None:
    for text in (COOKING, COACH):
        side = case(f"{text} bank=48V").design.house
        assert side is not None and side.battery is not None and side.charger is not None
        assert side.running_a <= side.charge_a <= side.batteries * side.battery.charge_current
        assert side.charge_a <= side.charger.current
        assert side.battery.chemistry == "agm"
        lasting_a = side.batteries * side.battery.continuous_current
        assert lasting_a >= side.motor_a + side.running_a


def test_a_12_v_bank_feeds_the_largest_motor_beside_what_runs(case: MakeCase) -> None:
    found = case(f"{COOKING} bank=12V")
    (branch,) = (each for each in found.design.dc.branches if each.id == "house")
    side = found.design.house
    assert side is not None and side.battery is None and side.charger is None
    assert (side.batteries, side.charge_a, side.isolator, side.there) == (0, 0.0, False, False)
    assert branch.current_a >= side.motor_a + side.running_a


@pytest.mark.parametrize(
    ("hangs", "largest_a"),
    [
        ({"slides": 40.0, "jacks": 80.0}, 80.0),
        ({"slides": 80.0, "jacks": 40.0}, 80.0),
        ({"slides": 60.0}, 60.0),
        ({"brake": 12.0}, 0.0),
        ({}, 0.0),
    ],
)
def test_slides_and_jacks_move_one_at_a_time_and_the_larger_counts(
    case: MakeCase, hangs: dict[str, float], largest_a: float
) -> None:
    """Common practice, no source; in the feed of a 12 V bank and in the battery that stays."""
    found = case(COACH)
    needs = replace(found.needs, rig=replace(found.needs.rig, hangs=hangs))
    assert motor_a(needs) == largest_a
    side = house_side_of(found.guide, needs, 48.0)
    assert side is not None and side.motor_a == largest_a
    assert side.battery is not None
    assert side.batteries * side.battery.continuous_current >= largest_a + side.running_a


def test_an_alternator_has_the_charge_line_so_it_needs_no_isolator(case: MakeCase) -> None:
    assert "charge-isolator" in groups(case(f"{COOKING} bank=24V").design)
    assert "charge-isolator" not in groups(case(f"{COOKING} bank=24V alt=180A").design)


def test_where_no_12_v_battery_is_sold_for_it_a_check_says_so(guide: Guide, case: MakeCase) -> None:
    lithium = tuple(each for each in guide.catalogue.batteries if each.chemistry == "lifepo4")
    found = case(f"{COOKING} bank=24V", with_shelf(guide, batteries=lithium))
    assert found.outcome.best is None
    failed = {tuple(check.id for check in each.failed) for each in found.outcome.considered}
    assert ("house-battery",) in failed
    side = house_side_of(found.guide, found.needs, 24.0)
    assert side is not None
    assert (side.battery, side.batteries, side.charge_a) == (None, 0, 0.0)


def test_a_buffer_lasts_as_long_as_the_start_and_gives_as_much(
    guide: Guide, case: MakeCase
) -> None:
    """100 A at 12 V beside 120 W that run on: 1,080 W for 0.8 s."""
    motor = rooftop(guide, running=120.0, locked_rotor=100.0, start_time=0.8)
    needs = case(f"{COOKING} bank=24V house=none loads=microwave,rooftop-12v", motor).needs
    like = guide.catalogue.buffers[0]
    for current_a, seconds, does in ((90.0, 0.8, True), (90.0, 0.79, False), (89.9, 0.8, False)):
        one = replace(like, volts=12.0, current=current_a, time=seconds)
        found = buffer_of(with_shelf(motor, buffers=(one,)), needs, 24.0)
        assert (found == one) is does


def test_where_no_converter_is_sold_what_it_gives_is_nothing(guide: Guide, case: MakeCase) -> None:
    needs = case(f"{COOKING} bank=24V").needs
    for sold in ((), tuple(each for each in guide.catalogue.step_downs if each.input != 24.0)):
        (check,) = converter_check(with_shelf(guide, step_downs=sold), needs, 24.0)
        assert (check.id, check.limit, check.passed) == ("step-down", 0.0, False)


@pytest.mark.parametrize(("have", "strings"), [("2x200Ah-12V-agm", 2), ("4x225Ah-6V-flooded", 2)])
def test_a_fuse_at_theirs_stops_what_all_of_their_strings_give(
    guide: Guide, case: MakeCase, have: str, strings: int
) -> None:
    """Their own where they stay, a starter battery's where they do not."""
    needs = case(f"{COOKING} bank=24V have={have}").needs
    assert needs.existing is not None
    stays = for_house(guide, needs, 24.0)
    assert stays is not None and stays.strings == strings
    each_a = planned_short_circuit_a(needs.existing.capacity_ah, needs.existing.chemistry)
    theirs_a = required_interrupt_a(strings * each_a)
    usual_a = cranking_interrupt_a(guide.planning.starter_cranking)
    assert house_interrupt_a(guide, needs, 24.0) == theirs_a != usual_a
    old = replace(needs, existing=replace(needs.existing, age_years=99.0))
    for gone in (old, replace(needs, existing=None)):
        assert house_interrupt_a(guide, gone, 24.0) == usual_a


@pytest.mark.parametrize(
    ("running_w", "moving_a", "most", "count"),
    [
        (0.0, 0.0, 1, 1),
        (240.0, 0.0, 1, 1),  # 20 A, which one accepts
        (252.0, 0.0, 2, 2),  # 21 A, more than one accepts
        (240.0, 30.0, 1, 1),  # 50 A together, which one gives
        (240.0, 40.0, 2, 2),  # 60 A together
        (240.0, 40.0, 1, 0),
    ],
)
def test_as_many_12_v_batteries_stay_as_accept_what_runs_and_move_the_motor_beside_it(
    guide: Guide, case: MakeCase, running_w: float, moving_a: float, most: int, count: int
) -> None:
    """By hand, of one that accepts 20 A and gives 50 A."""
    needs = case(f"{COOKING} bank=24V").needs
    like = next(each for each in guide.catalogue.batteries if each.chemistry == "agm")
    one = replace(
        like, nominal=12.0, charge_current=20.0, continuous_current=50.0, most_in_parallel=most
    )
    rig = replace(needs.rig, hangs={**needs.rig.hangs, "slides": moving_a, "jacks": moving_a})
    load = replace(needs.running[0], bus=DC, running_w=running_w)
    asked = replace(needs, rig=rig, running=(load,))
    side = house_side_of(with_shelf(guide, batteries=(one,)), asked, 24.0)
    assert side is not None
    assert side.batteries == count
    bare = house_side_of(with_shelf(guide, batteries=(one,), step_downs=()), asked, 24.0)
    assert bare is not None
    assert (bare.charger, bare.charge_a) == (None, 0.0)
