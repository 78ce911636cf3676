"""What is asked of a unit: soft starters that bear their motors, and loads on their legs."""

from dataclasses import replace

import pytest

from engine.advice.plan.supply import (
    Demands,
    arrangements,
    feeder_breaker_a,
    leg_demands,
    place,
    soft_starter_for,
    split,
    supply_of,
    unsoftened_va,
)
from engine.model.buses import LEG, LEGS
from engine.model.guide import Guide
from engine.model.result import LegDemand
from engine.needs import load_of
from engine.sizing.fit import Box, Clearances
from engine.sizing.loads import Demand
from engine.standards.overcurrent import STANDARD_RATINGS_A
from tests.advice.conftest import AIRCON, COOKING, SOME, TWO_AIRCONS, MakeCase, with_shelf


def running_a(guide: Guide, name: str) -> float:
    """P = S · cos φ and S = U · I at 120 V."""
    motor = guide.appliance(name)
    return motor.running / motor.power_factor / 120.0


def test_a_soft_starter_bears_the_largest_motor_it_goes_to(guide: Guide, case: MakeCase) -> None:
    needs = case(AIRCON).needs
    names = ("aircon-13k5", "aircon-15k")
    motors = tuple(load_of(guide.appliance(name), 1) for name in names)
    largest_a = max(running_a(guide, name) for name in names)
    like = guide.catalogue.soft_starters[0]
    for most_a, taken in ((largest_a + 0.01, True), (largest_a - 0.01, False)):
        shelf = with_shelf(guide, soft_starters=(replace(like, largest_running=most_a),))
        found = soft_starter_for(shelf, replace(needs, running=motors))
        assert (found is not None) is taken


def test_the_first_of_two_equal_loads_is_on_leg_1_and_240_v_is_half_on_either(
    guide: Guide,
) -> None:
    one = replace(load_of(guide.appliances[0], 1), name="one", bus=LEG, running_w=900.0)
    two, both = replace(one, name="two"), replace(one, name="both", bus=LEGS)
    first, second = split((one, two, both), 2, 0.0)
    assert [load.name for load, _ in first] == ["one", "both"]
    assert [load.name for load, _ in second] == ["two", "both"]
    assert first[1][1].real_w == pytest.approx(first[0][1].real_w / 2)
    # at twice the voltage the same locked-rotor current is twice the power
    for of, times in (("real_w", 1.0), ("apparent_va", 1.0), ("start_va", 2.0)):
        on_both = sum(getattr(leg[1][1], of) for leg in (first, second))
        assert on_both == pytest.approx(times * getattr(first[0][1], of)), of
    assert [load.name for load, _ in split((one, two, both), 1, 0.0)[0]] == ["one", "two"]


def test_what_was_not_designed_has_no_score(case: MakeCase) -> None:
    more = ("payload=50lb", "budget=$900", "nights=14", "cable=60ft")
    for text in (AIRCON, TWO_AIRCONS, SOME, *(f"{SOME} {each}" for each in more)):
        refused = [each for each in case(text).outcome.considered if each.design is None]
        assert refused
        assert {each.score for each in refused} == {0.0}


def test_two_units_hang_side_by_side_or_one_above_the_other_and_one_hangs_alone() -> None:
    """Arithmetic: two units and one clearance between them; the larger of top and bottom."""
    unit, free = Box(0.4, 0.3, 0.2), Clearances(top_m=0.2, bottom_m=0.1, side_m=0.05, front_m=0.0)
    assert arrangements(unit, 1, free) == (("single", unit),)
    (beside, wide), (above, high) = arrangements(unit, 2, free)
    assert (beside, above) == ("beside", "above")
    assert wide.width_m == pytest.approx(0.65)
    assert (wide.height_m, wide.depth_m) == (0.4, 0.2)
    assert high.height_m == pytest.approx(1.0)
    assert (high.width_m, high.depth_m) == (0.3, 0.2)


def test_what_is_looked_for_on_a_leg_is_that_of_the_heavier_and_of_all_the_sum(
    guide: Guide, case: MakeCase
) -> None:
    one = replace(load_of(guide.appliances[0], 1), name="one", bus=LEG, running_w=900.0)
    loads = (replace(one, power_factor=1.0), replace(one, name="two", running_w=300.0))
    needs = replace(case(TWO_AIRCONS).needs.power, running=loads)
    asked = Demands(guide, needs).of(case(TWO_AIRCONS).candidate)
    demands = [leg.demand for leg in asked.legs]
    assert len(demands) == 2
    assert demands[0].apparent_va != demands[1].apparent_va
    assert asked.heaviest_va == max(each.apparent_va for each in demands)
    assert asked.worst_va == max(each.worst_va for each in demands)
    assert asked.longest_start_s == max(leg.start_s for leg in asked.legs)
    assert asked.total_w == sum(each.real_w for each in demands) == 1200.0
    assert asked.planned_w == pytest.approx(900.0 * guide.planning.load_margin)


def test_the_largest_standard_rating_is_one_too_and_beyond_it_the_load_stands(
    guide: Guide, case: MakeCase
) -> None:
    """Standard ratings of NEC 240.6(A)."""
    needs = replace(case(SOME).needs.power, whole=False)
    before_a, last_a = STANDARD_RATINGS_A[-2:]
    load = replace(load_of(guide.appliances[0], 1), bus=LEG, power_factor=1.0, hours=1.0)
    for load_a, feeds_a in (
        (before_a - 1.0, before_a),
        (before_a + 1.0, last_a),
        (last_a, last_a),
        (last_a + 1.0, last_a + 1.0),
    ):
        huge = replace(load, running_w=needs.service.volts * load_a)
        assert feeder_breaker_a(needs, leg_demands((huge,), 1, 0.0)) == feeds_a


@pytest.mark.parametrize(
    ("locked_a", "worst_va", "total_va"),
    [((0.0, 0.0), 900.0, 1200.0), ((25.0, 0.0), 3000.0, 3300.0), ((25.0, 30.0), 3600.0, 4500.0)],
)
def test_beside_all_that_runs_on_either_leg_the_one_hardest_start_happens(
    guide: Guide, case: MakeCase, locked_a: tuple[float, float], worst_va: float, total_va: float
) -> None:
    """By hand, 900 W and 300 W on a leg each: 25 A of locked rotor at 120 V are 3,000 VA, 2,100
    more than running, and 30 A are 3,300 more. People start one at a time: common practice."""
    one = replace(load_of(guide.appliances[0], 1), name="one", bus=LEG, power_factor=1.0)
    loads = tuple(
        replace(one, name=name, running_w=watts, locked_rotor_a=each, soft_startable=False)
        for name, watts, each in zip(("one", "two"), (900.0, 300.0), locked_a, strict=True)
    )
    needs = replace(case(TWO_AIRCONS).needs.power, running=loads)
    asked = Demands(guide, needs).of(case(TWO_AIRCONS).candidate)
    assert len(asked.legs) == 2
    assert asked.worst_va == pytest.approx(worst_va)
    assert asked.total_worst_va == pytest.approx(total_va)


def test_a_surge_is_held_as_long_as_the_slowest_of_the_starts_lasts(
    guide: Guide, case: MakeCase
) -> None:
    """On two legs, a motor each: whichever of them is the slow one."""
    like = replace(
        load_of(guide.appliances[0], 1),
        bus=LEG,
        running_w=900.0,
        power_factor=1.0,
        locked_rotor_a=30.0,
    )
    for starts_s in ((0.5, 2.0), (2.0, 0.5)):
        loads = tuple(replace(like, name=f"{each:g} s", start_s=each) for each in starts_s)
        needs = replace(case(TWO_AIRCONS).needs.power, running=loads)
        asked = Demands(guide, needs).of(case(TWO_AIRCONS).candidate)
        assert {leg.start_s for leg in asked.legs} == {0.5, 2.0}
        assert asked.longest_start_s == 2.0


def test_hotter_than_its_maker_allows_a_unit_delivers_nothing(guide: Guide, case: MakeCase) -> None:
    needs, unit = case(COOKING).needs.power, case(COOKING).candidate.inverter
    hottest_c, there_w = unit.continuous[-1]
    for ambient_c, delivers_w in ((hottest_c, there_w), (hottest_c + 1.0, 0.0)):
        demands = Demands(guide, replace(needs, ambient_c=ambient_c))
        assert demands.warm_w(unit) == pytest.approx(delivers_w)


def test_a_warm_unit_delivers_as_much_less_in_volt_amperes_as_in_watts_and_a_cold_one_no_more(
    guide: Guide, case: MakeCase
) -> None:
    """At the temperatures that its maker names; common practice, no source."""
    needs, candidate = case(COOKING).needs.power, case(COOKING).candidate
    unit = candidate.inverter
    (cool_c, full_w), *warmer = unit.continuous
    assert candidate.units_per_leg == 1
    assert warmer
    for ambient_c, watts in ((cool_c - 20.0, full_w), (cool_c, full_w), *warmer):
        at = replace(needs, ambient_c=ambient_c)
        supply = supply_of(at, candidate, Demands(guide, at))
        assert supply.continuous_w == pytest.approx(watts)
        assert supply.apparent_va == pytest.approx(unit.apparent * watts / full_w)


def test_each_of_two_units_gives_off_the_heat_of_its_half(case: MakeCase) -> None:
    """Heat rises with the square of the output, so half on each is less than all on one."""
    found = case(TWO_AIRCONS)
    supply, units = found.supply, found.candidate.units
    assert units == 2
    half_w = sum(leg.demand.real_w for leg in supply.legs) / 2
    curve = supply.curve
    each_w = curve.idle_w + curve.proportional * half_w + curve.quadratic_per_w * half_w**2
    assert supply.heat_w == pytest.approx(2 * each_w)


def test_the_busier_leg_decides_breaker_and_start_whichever_it_is(
    guide: Guide, case: MakeCase
) -> None:
    """By hand: 3,000 W at 120 V are 25 A for a short time, a standard rating of NEC 240.6(A)."""
    needs = replace(case(SOME).needs.power, whole=False)
    like = replace(
        load_of(guide.appliances[0], 1), bus=LEG, power_factor=1.0, hours=1.0, locked_rotor_a=0.0
    )
    for watts in ((3000.0, 600.0), (600.0, 3000.0)):
        loads = tuple(replace(like, name=f"{each:g} W", running_w=each) for each in watts)
        legs = leg_demands(loads, 2, 0.0)
        assert [leg.demand.real_w for leg in legs] in ([3000.0, 600.0], [600.0, 3000.0])
        assert feeder_breaker_a(needs, legs) == 25.0
        assert unsoftened_va(loads, 2) == 3000.0


def test_where_nothing_runs_a_leg_carries_and_starts_nothing(guide: Guide) -> None:
    nothing = LegDemand((), Demand(0.0, 0.0, 0.0, ""), 0.0, 0.0, 0.0)
    assert leg_demands((), 1, 0.0) == (nothing,)
    heater = replace(load_of(guide.appliances[0], 1), bus=LEG, locked_rotor_a=0.0, start_s=2.0)
    assert leg_demands((heater,), 1, 0.0)[0].start_s == 0.0


def test_of_two_motors_of_one_name_the_slower_start_counts(guide: Guide) -> None:
    like = replace(load_of(guide.appliances[0], 1), bus=LEG, locked_rotor_a=30.0)
    for starts_s in ((0.5, 2.0), (2.0, 0.5)):
        motors = tuple(replace(like, start_s=each) for each in starts_s)
        assert leg_demands(motors, 1, 0.0)[0].start_s == 2.0


@pytest.mark.parametrize(("hours", "lasts"), [(2.9, False), (3.0, True), (8.0, True)])
def test_what_runs_for_three_hours_or_more_is_continuous_for_the_breaker(
    guide: Guide, hours: float, lasts: bool
) -> None:
    """NEC 100, continuous load: three hours or more."""
    load = replace(
        load_of(guide.appliances[0], 1), bus=LEG, running_w=900.0, power_factor=1.0, hours=hours
    )
    (leg,) = leg_demands((load,), 1, 0.0)
    assert (leg.lasting_va, leg.short_va) == ((900.0, 0.0) if lasts else (0.0, 900.0))


def test_less_free_space_than_its_maker_asks_for_leaves_more_room_and_more_changes_nothing(
    case: MakeCase,
) -> None:
    """Whether that little is enough is another matter, which a caution tells."""
    found = case(f"{COOKING} bay=40x40x40in")
    unit, room = found.candidate.inverter, {}
    for gap_m in (None, 0.0, 5.0):
        result = place(replace(found.needs.power, gap_m=gap_m), unit, 1)
        assert result is not None
        room[gap_m] = result.margin_m
    assert room[0.0] > room[None] == room[5.0]
