"""What answers ask for: what stands for an answer that is missing, and which loads run together."""

from dataclasses import replace

import pytest

from engine.links import read_link
from engine.model.answers import LoadItem, Quantity
from engine.model.buses import BUSES, LEG
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.needs import (
    FROM_THE_WEATHER,
    applies,
    default_here,
    default_of,
    implied,
    load_listed,
    may_apply,
    needs_of,
    running_of,
)

PATH = "rig=rig-30/scope=whole/heavy=1/biggest=cooking/"
NONE_WITHOUT = (
    "nights",
    "cable_m",
    "house_v",
    "ambient_c",
    "generator_w",
    "altitude_m",
    "alternator_a",
    "drive_h",
    "solar_w",
    "latitude_deg",
)
"""Quantities that are nothing where neither the visitor nor the shop names any."""


def needs(guide: Guide, path: str = PATH, fragment: str = "") -> Needs:
    return needs_of(guide, read_link(guide, path, fragment))


@pytest.fixture(scope="module")
def without_defaults(guide: Guide) -> Needs:
    """What is asked for where the shop takes nothing for an answer that is missing."""
    needed = ("mount", "chemistry")
    questions = tuple(
        each if each.id in needed else replace(each, default="") for each in guide.questions
    )
    rigs = tuple(replace(rig, taken={}) for rig in guide.rigs)
    return needs(replace(guide, questions=questions, rigs=rigs))


@pytest.mark.parametrize("name", NONE_WITHOUT)
def test_a_quantity_without_answer_and_default_is_nothing(
    without_defaults: Needs, name: str
) -> None:
    assert getattr(without_defaults, name) == 0.0


def test_without_answer_and_default_it_is_june_and_the_whole_service(
    without_defaults: Needs,
) -> None:
    assert without_defaults.month == 6
    assert without_defaults.shore_a == without_defaults.service.amps
    assert without_defaults.bank_v is None
    assert without_defaults.gap_m is None
    assert without_defaults.bay is None


def listed(watts: float, at_once: bool | None = None) -> LoadItem:
    return LoadItem("", "blender", 2, Quantity(watts, f"{watts:g}W"), None, at_once=at_once)


def test_a_load_of_which_only_the_watts_are_known_is_resistive_and_starts_as_it_runs(
    guide: Guide,
) -> None:
    load = load_listed(guide, listed(300.0))
    assert (load.running_w, load.count, load.bus) == (300.0, 2, LEG)
    assert (load.power_factor, load.hours, load.duty) == (1.0, 1.0, 1.0)
    assert (load.locked_rotor_a, load.start_s, load.soft_startable) == (0.0, 0.0, False)
    assert load.hour_of_day == 18  # in the evening, when most is switched on


@pytest.mark.parametrize(("more_w", "heavy"), [(-1.0, False), (0.0, True)])
def test_a_listed_load_is_heavy_from_the_shops_own_watts_on(
    guide: Guide, more_w: float, heavy: bool
) -> None:
    load = load_listed(guide, listed(guide.planning.heavy_from + more_w))
    assert load.heavy is heavy
    assert load.at_once is not heavy


def test_what_is_said_to_run_alone_does_and_a_heavy_load_is_never_taken_for_granted(
    guide: Guide,
) -> None:
    assert load_listed(guide, listed(300.0, at_once=True)).at_once
    assert not load_listed(guide, listed(300.0, at_once=False)).at_once
    assert not load_listed(guide, listed(3000.0, at_once=True)).at_once


def test_a_motor_of_other_watts_starts_with_as_many_times_its_current(guide: Guide) -> None:
    motor = next(each for each in guide.appliances if each.locked_rotor and each.running)
    twice = Quantity(2.0 * motor.running, "twice")
    load = load_listed(guide, LoadItem(motor.id, motor.name, 1, twice, None))
    assert load.locked_rotor_a == pytest.approx(2.0 * motor.locked_rotor)
    assert load.running_w == twice.value


def loads_of(guide: Guide, *items: LoadItem) -> tuple[str, ...]:
    loads = tuple(load_listed(guide, item) for item in items)
    return tuple(load.name for load in running_of(loads, 2))


def heavy(name: str, watts: float, bus: str = "", at_once: bool | None = None) -> LoadItem:
    return LoadItem("", name, 1, Quantity(watts, ""), None, bus, at_once)


def test_two_at_once_are_the_hardest_to_start_and_the_largest_of_the_others(guide: Guide) -> None:
    small, large, larger = heavy("kettle", 1500.0), heavy("oven", 1800.0), heavy("dryer", 1900.0)
    motor = next(each for each in guide.appliances if each.locked_rotor and each.heavy)
    hardest = LoadItem(motor.id, motor.name, 1, None, None)
    assert loads_of(guide, small, large, larger, hardest) == (
        load_listed(guide, hardest).name,
        "dryer",
    )


@pytest.mark.parametrize(
    ("running_w", "power_factor", "locked_a", "hardest"),
    [
        (1000.0, 1.0, 10.0, "heater"),  # 1,200 VA
        (1000.0, 1.0, 20.0, "motor"),  # 2,400 VA
        (900.0, 0.5, 10.0, "motor"),  # runs on 1,800 VA, more than the 1,200 VA of its start
        (1000.0, 0.8, 0.0, "heater"),  # 1,250 VA
    ],
)
def test_the_hardest_is_what_asks_the_most_as_it_starts_or_runs(
    guide: Guide, running_w: float, power_factor: float, locked_a: float, hardest: str
) -> None:
    """S = U · I at 120 V, and S = P / cos φ, beside a heater of 1,500 W."""
    like = load_listed(guide, heavy("heater", 1500.0))
    motor = replace(
        like,
        name="motor",
        running_w=running_w,
        power_factor=power_factor,
        locked_rotor_a=locked_a,
    )
    assert [load.name for load in running_of((like, motor), 1)] == [hardest]
    assert [load.name for load in running_of((motor, like), 1)] == [hardest]


@pytest.mark.parametrize("count", [1, 2, 3])
def test_of_several_of_a_kind_each_one_runs_by_itself(guide: Guide, count: int) -> None:
    lamp = replace(load_listed(guide, heavy("lamp", 10.0)), count=count)
    running = running_of((lamp,), 1)
    assert running == (replace(lamp, count=1),) * count


def test_equal_loads_keep_the_order_of_the_list(guide: Guide) -> None:
    assert loads_of(guide, heavy("one", 1500.0), heavy("two", 1500.0), heavy("three", 1500.0)) == (
        "one",
        "two",
    )


def test_what_is_on_240_v_or_heavy_on_dc_runs_beside_them(guide: Guide) -> None:
    dc = next(name for name, bus in BUSES.items() if not bus.legs)
    both = next(name for name, bus in BUSES.items() if bus.legs > 1)
    items = (heavy("stove", 2000.0, both), heavy("winch", 2000.0, dc), heavy("kettle", 1500.0))
    assert loads_of(guide, *items) == ("kettle", "winch", "stove")


def test_where_the_list_says_what_runs_together_nothing_else_does(guide: Guide) -> None:
    items = (
        heavy("dryer", 1900.0),
        heavy("oven", 1800.0),
        heavy("kettle", 1500.0, at_once=True),
        heavy("iron", 1400.0, at_once=True),
    )
    assert loads_of(guide, *items) == ("dryer", "kettle", "iron")
    alone = heavy("oven", 1800.0, at_once=False)
    assert loads_of(guide, items[0], alone, heavy("iron", 1400.0)) == ("dryer", "iron")


@pytest.mark.parametrize(("cord_a", "legs"), [("30A", 1), ("31A", 2), ("50A", 2)])
def test_a_post_of_30_a_or_less_has_one_leg(guide: Guide, cord_a: str, legs: int) -> None:
    """NEC 551.44(A) to (C), from memory."""
    coach = "rig=coach-50/scope=whole/heavy=1/biggest=cooking/v240=no/"
    assert needs(guide, coach, f"shore={cord_a}").shore_legs == legs


def test_no_post_gives_more_than_the_rigs_own_service(guide: Guide) -> None:
    assert needs(guide, fragment="shore=50A").shore_a == needs(guide).service.amps == 30.0


def test_who_answers_that_something_runs_on_240_v_gets_the_shops_appliance_once(
    guide: Guide,
) -> None:
    coach = "rig=coach-50/scope=whole/heavy=1/biggest=cooking/v240={}/"
    on_240 = guide.planning.appliance_240
    assert [load.id for load in needs(guide, coach.format("no")).loads].count(on_240) == 0
    assert [load.id for load in needs(guide, coach.format("yes")).loads].count(on_240) == 1


def test_who_lists_an_appliance_on_240_v_gets_no_second_one(guide: Guide) -> None:
    coach = "rig=coach-50/scope=whole/heavy=1/biggest=cooking/v240=yes/"
    on_240 = guide.planning.appliance_240
    loads = needs(guide, coach, f"loads={on_240},tv").loads
    assert sorted(load.id for load in loads) == sorted([on_240, "tv"])


def test_an_open_or_unsure_detail_is_told_as_assumed_and_an_answered_one_is_not(
    guide: Guide,
) -> None:
    assert "cable" in needs(guide).assumed
    assert "cable" in needs(guide, fragment="cable=unsure").assumed
    assert "cable" not in needs(guide, fragment="cable=9ft").assumed
    assert "heavy" not in needs(guide).assumed


@pytest.mark.parametrize("rig", ["van", "rig-30"])
def test_told_as_assumed_is_all_that_something_is_taken_for_and_nothing_else(
    guide: Guide, rig: str
) -> None:
    """The coldest air has no default of the shop's: it comes from climate and month."""
    assumed = needs(guide, f"rig={rig}/scope=whole/heavy=1/biggest=cooking/").assumed
    details = [each for each in guide.questions if each.where != "path" and not each.only_with]
    taken = {each.id for each in details if default_of(guide, each, rig)}
    assert "coldest" in FROM_THE_WEATHER
    assert {each.id for each in details} > taken
    assert {*assumed} & {each.id for each in details} == taken | {"coldest"}
    assert not {*assumed} & {each.id for each in guide.questions if each.where == "path"}


def test_a_question_with_two_conditions_is_asked_only_where_both_are_met(guide: Guide) -> None:
    question = replace(guide.questions[0], only_with={"rig": ("van",), "heavy": ("1", "2")})
    for values, has_meaning, may_get_one in (
        ({}, False, True),
        ({"rig": "van"}, False, True),
        ({"rig": "van", "heavy": "0"}, False, False),
        ({"rig": "coach-50", "heavy": "1"}, False, False),
        ({"rig": "van", "heavy": "2"}, True, True),
    ):
        assert applies(question, dict(values)) is has_meaning
        assert may_apply(question, dict(values)) is may_get_one


def test_a_kind_of_space_stands_for_its_measures_unless_they_are_given(guide: Guide) -> None:
    meant = implied(guide, read_link(guide, PATH, "space=shallow")).get("bay")
    given = read_link(guide, PATH, "space=shallow&bay=40in x 60in x 14in")
    assert meant is not None
    assert implied(guide, given)["bay"] == given.values["bay"] != meant
    unsure = read_link(guide, PATH, "space=shallow&bay=unsure")
    assert implied(guide, unsure)["bay"] == meant


@pytest.mark.parametrize("rig", ["van", "rig-30", "coach-50"])
def test_what_is_taken_here_is_that_of_the_rig_and_of_the_usual_one_where_it_is_not_said(
    guide: Guide, rig: str
) -> None:
    usual = guide.question("rig").usual
    for question in guide.questions:
        said = default_here(guide, question, read_link(guide, f"rig={rig}/", ""))
        unsaid = default_here(guide, question, read_link(guide, "rig=unsure/", ""))
        assert said == default_of(guide, question, rig)
        assert unsaid == default_of(guide, question, usual)
    others = [each.id for each in guide.rigs if each.id != rig]
    assert any(
        default_of(guide, each, rig) != default_of(guide, each, other)
        for each in guide.questions
        for other in others
    )


def test_a_load_of_which_nothing_is_known_stands_in_nobodys_way(guide: Guide) -> None:
    load = load_listed(guide, LoadItem("", "lamp", 1, None, None))
    assert (load.running_w, load.heavy, load.at_once) == (0.0, False, True)
