"""Each limit of what runs together by itself: up to it all runs, a hair beyond it nothing does."""

from dataclasses import replace

import pytest

from engine.advice.judge.runs import Trial, _Side, heavy_loads, on_inverter, runs_of
from engine.model.buses import DC, LEG, LEGS
from engine.model.guide import Guide
from engine.model.needs import Load, Needs
from engine.model.result import Design
from engine.needs import load_of
from engine.sizing.loads import Running
from tests.advice.conftest import COACH, SIDE_BY_SIDE, TWO_AIRCONS, VAN, Case, MakeCase

HUGE = 1e6


def free(found: Case, **limits: float) -> Design:
    """The same design with all limits far away but those that are given."""
    design = found.design
    unit = replace(
        design.candidate.inverter, surge=((60.0, limits.get("surge_va", HUGE)),), apparent=HUGE
    )
    battery = replace(
        design.bank.battery,
        continuous_current=limits.get("bank_a", HUGE),
        peak_current=limits.get("peak_a", HUGE),
        peak_time=60.0,
    )
    return replace(
        design,
        candidate=replace(design.candidate, inverter=unit),
        supply=replace(
            design.supply,
            continuous_w=limits.get("continuous_w", HUGE),
            apparent_va=limits.get("apparent_va", HUGE),
        ),
        ac=replace(design.ac, output_a=limits.get("output_a", HUGE)),
        bank=replace(design.bank, battery=battery, parallel=1),
    )


def heavy(guide: Guide, name: str, watts: float, **more: object) -> Load:
    """A resistive load: its watts are its volt-amperes, and it starts as it runs."""
    like = replace(load_of(guide.appliances[0], 1), id=name, name=name, bus=LEG, power_factor=1.0)
    load = replace(like, running_w=watts, locked_rotor_a=0.0, start_s=0.0, heavy=True)
    return replace(load, **more)  # type: ignore[arg-type]


def with_loads(needs: Needs, *loads: Load) -> Needs:
    return replace(needs, loads=loads, running=loads)


@pytest.mark.parametrize("limit", ["continuous_w", "apparent_va", "output_a", "surge_va", "bank_a"])
def test_up_to_each_limit_it_runs(case: MakeCase, limit: str) -> None:
    """1,000 W and 1,250 VA run, 10.4 A at 120 V, and 750 VA more start: 2,000 VA."""
    found = case(VAN)
    margin = found.guide.planning.load_margin
    side = _Side(1000.0, 1250.0, 750.0, 1.0)
    trial = Trial(found.guide, found.needs, found.design)
    most = {
        "continuous_w": 1000.0 * margin,
        "apparent_va": 1250.0,
        "output_a": 1250.0 / 120.0,
        "surge_va": 2000.0,
        "bank_a": trial._bank_a(1000.0 * margin, 1),
    }[limit]
    for share, holds in ((1.0, True), (0.999, False)):
        design = free(found, **{limit: most * share})
        assert Trial(found.guide, found.needs, design)._holds((side,)) is holds


def test_of_two_legs_the_longer_start_counts_for_the_surge(case: MakeCase) -> None:
    """A unit that gives 4 kVA for a second gives no more than its 2 kVA for a start of ten."""
    found = case(TWO_AIRCONS)
    design = free(found)
    unit = replace(design.candidate.inverter, surge=((1.0, 4000.0), (10.0, 2000.0)))
    candidate = replace(design.candidate, inverter=unit, units_per_leg=1)
    trial = Trial(found.guide, found.needs, replace(design, candidate=candidate))
    for seconds, holds in ((1.0, True), (10.0, False)):
        sides = (_Side(500.0, 500.0, 2500.0, 1.0), _Side(500.0, 500.0, 100.0, seconds))
        assert trial._holds(sides) is trial._holds(sides[::-1]) is holds


def test_a_half_of_a_load_draws_half_and_the_harder_start_keeps_its_length(guide: Guide) -> None:
    """Arithmetic; of two equal starts the first one's length stays."""
    load, side = heavy(guide, "one", 900.0, start_s=3.0), _Side(100.0, 110.0, 500.0, 1.0)
    running = Running("one", 900.0, 1000.0, 3000.0)
    assert side.with_load(load, running, 0.5) == _Side(550.0, 610.0, 1000.0, 3.0)
    assert side.with_load(load, running) == _Side(1000.0, 1110.0, 2000.0, 3.0)
    assert side.with_load(load, running, 0.25).start_s == 1.0


@pytest.mark.parametrize(
    ("limit_w", "alone", "together", "never"),
    [
        (650.0, (), (), ("big", "small")),
        (1600.0, ("small",), (), ("big",)),
        (2100.0, ("big", "small"), (), ()),
        (2700.0, ("big", "small"), (("big", "small"),), ()),
        (4100.0, ("big", "small"), (("big", "big"), ("big", "small")), ()),
    ],
)
def test_what_runs_alone_in_pairs_or_never(
    case: MakeCase,
    limit_w: float,
    alone: tuple[str, ...],
    together: tuple[tuple[str, str], ...],
    never: tuple[str, ...],
) -> None:
    """By hand, two of 1,800 W and one of 600 W with a tenth more: 1,980, 660, 2,640 and 3,960 W;
    1,600 W of the unit carry the small one alone. Only what there are two of runs twice."""
    found = case(VAN)
    guide = found.guide
    big = replace(heavy(guide, "big", 1800.0), count=2)
    needs = with_loads(found.needs, big, heavy(guide, "small", 600.0))
    needs = replace(needs, rig=replace(needs.rig, heavy={}))
    told = runs_of(guide, needs, free(found, continuous_w=limit_w))
    assert (told.alone, told.never) == (alone, never)
    assert told.together == together


def test_two_of_1_500_w_share_the_legs_of_a_pair_and_a_third_does_not_fit(case: MakeCase) -> None:
    """Each leg of 2 kW bears one: as they can be placed, not as they come."""
    found = case(TWO_AIRCONS)
    guide = found.guide
    trial = Trial(guide, with_loads(found.needs), free(found, continuous_w=2000.0))
    one, two, three = (heavy(guide, name, 1500.0) for name in ("one", "two", "three"))
    assert found.candidate.legs == 2
    assert trial.runs(one) and trial.runs(one, two)
    assert not trial.runs(one, two, three)
    stove = heavy(guide, "stove", 3000.0, bus=LEGS)
    assert trial.runs(stove)
    assert not trial.runs(stove, one)
    (placed,) = trial._placed((stove,), (_Side(), _Side(100.0, 100.0)))
    assert [(side.real_w, side.apparent_va) for side in placed] == [(1500.0,) * 2, (1600.0,) * 2]
    half_w = 1500.0 * guide.planning.load_margin
    for most_w, runs in ((half_w + 0.1, True), (half_w - 0.1, False)):
        design = free(found, continuous_w=most_w)
        assert Trial(guide, with_loads(found.needs), design).runs(stove) is runs


def test_two_units_on_one_leg_start_twice_what_one_does(case: MakeCase) -> None:
    found = case(SIDE_BY_SIDE)
    assert found.candidate.units_per_leg == 2
    side = _Side(500.0, 500.0, 3500.0, 1.0)
    for each_va, holds in ((2000.0, True), (1999.0, False)):
        design = free(found, surge_va=each_va)
        assert Trial(found.guide, found.needs, design)._holds((side,)) is holds


def test_light_loads_and_those_past_the_inverter_are_not_asked_of_it(guide: Guide) -> None:
    load = heavy(guide, "one", 1500.0)
    assert on_inverter(load) and on_inverter(replace(load, bus=LEGS, heavy=False))
    assert not on_inverter(replace(load, heavy=False))
    assert not on_inverter(replace(load, bus=DC))


@pytest.mark.parametrize(("text", "legs"), [(VAN, 1), (COACH, 2)])
def test_what_a_rig_usually_has_is_tried_too_and_on_two_legs_what_runs_on_240_v(
    case: MakeCase, text: str, legs: int
) -> None:
    """Theirs first, each once, and of a kind that they count as light none."""
    found = case(text)
    guide, needs = found.guide, found.needs
    assert needs.service.legs == legs
    usual = guide.appliance(next(iter(needs.rig.heavy.values()))[0])
    own = replace(needs, loads=(heavy(guide, "theirs", 1500.0),))
    names = [load.name for load in heavy_loads(guide, own)]
    assert names[0] == "theirs" and usual.name in names and len(set(names)) == len(names)
    assert (guide.appliance(guide.planning.appliance_240).name in names) is (legs == 2)
    assert {load.count for load in heavy_loads(guide, own)} == {1}
    light = replace(needs, loads=(heavy(guide, usual.name, 100.0, heavy=False),))
    assert usual.name not in [load.name for load in heavy_loads(guide, light)]
