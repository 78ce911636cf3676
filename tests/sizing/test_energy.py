"""The week of a battery: energy is kept, and more of a good thing never hurts."""

from dataclasses import fields, replace
from itertools import pairwise
from math import inf, nan
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing.charging import hours_to_charge
from engine.sizing.energy import Week, WeekInputs, balance_error_wh, simulate_week
from tests.counted import calls_of

QUIET = WeekInputs(
    capacity_wh=5000.0,
    usable_floor=0.1,
    start_state=1.0,
    load_w=(100.0,) * 24,
    solar_w=(0.0,) * 24,
    alternator_w=0.0,
    drive_hours=0.0,
    drive_start_hour=9.0,
    shore_w=0.0,
    shore_nights=(),
    generator_w=0.0,
    generator_hours=0.0,
    charge_limit_w=2000.0,
    charge_efficiency=0.97,
    discharge_efficiency=0.96,
    chemistry="lifepo4",
)

POWER = st.floats(0.0, 4000.0)
PROFILE = st.lists(st.floats(0.0, 1500.0), min_size=24, max_size=24).map(tuple)
START = st.floats(0.0, 23.9)
WEEKS = st.builds(
    WeekInputs,
    capacity_wh=st.floats(500.0, 30_000.0),
    usable_floor=st.floats(0.0, 0.5),
    start_state=st.floats(0.0, 1.0),
    load_w=PROFILE,
    solar_w=PROFILE,
    alternator_w=POWER,
    drive_hours=st.floats(0.0, 12.0),
    drive_start_hour=START,
    shore_w=POWER,
    shore_nights=st.lists(st.integers(0, 6), unique=True).map(tuple),
    generator_w=POWER,
    generator_hours=st.floats(0.0, 6.0),
    charge_limit_w=POWER,
    charge_efficiency=st.floats(0.7, 1.0),
    discharge_efficiency=st.floats(0.7, 1.0),
    chemistry=st.sampled_from(["lifepo4", "agm", "flooded"]),
    shore_start_hour=START,
    shore_hours=st.floats(0.0, 24.0),
    generator_start_hour=START,
    charger_limit_w=POWER,
    shore_share=st.sampled_from([0.5, 1.0]),
    generator_share=st.sampled_from([0.5, 1.0]),
)


def _all_in_wh(week: Week) -> float:
    return sum(week.charged_wh.values()) + sum(week.direct_wh.values())


@given(inputs=WEEKS)
@settings(max_examples=100)
def test_energy_is_neither_made_nor_lost(inputs: WeekInputs) -> None:
    week = simulate_week(inputs)
    assert len(week.state) == 7 * 24 + 1
    scale = week.throughput_wh + week.load_wh + week.solar_wh
    assert balance_error_wh(week) <= 1e-6 * max(week.throughput_wh, 1e-3 * scale, 1e-3)
    assert all(0.0 <= state <= 1.0 for state in week.state)
    assert week.lost_wh >= -1e-9


def test_the_balance_notices_a_missing_watt_hour() -> None:
    week = simulate_week(QUIET)
    assert balance_error_wh(week) < 1e-6
    for field, error in (("lost_wh", 1.0), ("unmet_wh", 1.0), ("spilled_wh", 1.0)):
        broken = replace(week, **{field: getattr(week, field) + error})
        assert balance_error_wh(broken) == pytest.approx(1.0, abs=1e-6)


@given(inputs=WEEKS)
@settings(max_examples=60)
def test_the_battery_never_goes_below_its_floor_unless_it_began_there(inputs: WeekInputs) -> None:
    week = simulate_week(inputs)
    assert min(week.state) >= min(inputs.usable_floor, inputs.start_state) - 1e-9


@given(inputs=WEEKS)
@settings(max_examples=60)
def test_no_hour_charges_faster_than_the_limit(inputs: WeekInputs) -> None:
    week = simulate_week(inputs)
    most = inputs.charge_limit_w * inputs.charge_efficiency / inputs.capacity_wh
    rises = [after - before for before, after in zip(week.state, week.state[1:], strict=False)]
    assert max(rises) <= most + 1e-9


@given(inputs=WEEKS, more=st.floats(1.0, 3.0))
@settings(max_examples=60)
def test_more_sun_never_leaves_more_unmet(inputs: WeekInputs, more: float) -> None:
    sunnier = replace(inputs, solar_w=tuple(watts * more for watts in inputs.solar_w))
    slack = 1e-6 * (1.0 + simulate_week(inputs).load_wh)
    assert simulate_week(sunnier).unmet_wh <= simulate_week(inputs).unmet_wh + slack


@given(inputs=WEEKS, more=st.floats(1.0, 3.0))
@settings(max_examples=60)
def test_more_load_never_leaves_less_unmet(inputs: WeekInputs, more: float) -> None:
    heavier = replace(inputs, load_w=tuple(watts * more for watts in inputs.load_w))
    slack = 1e-6 * (1.0 + simulate_week(heavier).load_wh)
    assert simulate_week(heavier).unmet_wh >= simulate_week(inputs).unmet_wh - slack


def test_hours_until_empty_are_usable_energy_over_load() -> None:
    # 5000 Wh x 0.9 x 0.96 / 100 W = 43.2 h, by hand
    week = simulate_week(QUIET)
    assert week.runs_out_hour == 43
    assert week.unmet_wh == pytest.approx((7 * 24 - 43.2) * 100.0)
    assert week.reserve_h == 0.0


def test_reserve_is_what_the_mean_load_could_still_draw_at_the_lowest_moment() -> None:
    # one day: 43.2 h less 24 h, by hand
    week = simulate_week(replace(QUIET, days=1))
    assert week.runs_out_hour is None
    assert week.reserve_h == pytest.approx(19.2)


def test_with_no_load_the_reserve_is_endless() -> None:
    assert simulate_week(replace(QUIET, load_w=(0.0,) * 24)).reserve_h == inf


def test_loads_are_fed_straight_from_a_source_before_the_battery_is() -> None:
    week = simulate_week(replace(QUIET, solar_w=(100.0,) * 24))
    assert week.direct_wh["solar"] == pytest.approx(week.load_wh)
    assert week.throughput_wh == week.lost_wh == 0.0


def test_sun_that_nobody_can_take_is_spilled_and_other_sources_only_rest() -> None:
    sunny = simulate_week(replace(QUIET, load_w=(0.0,) * 24, solar_w=(50.0,) * 24))
    assert sunny.spilled_wh == pytest.approx(7 * 24 * 50.0)
    plugged = simulate_week(
        replace(QUIET, load_w=(0.0,) * 24, shore_w=2000.0, shore_nights=tuple(range(7)))
    )
    assert plugged.spilled_wh == _all_in_wh(plugged) == 0.0


def test_the_sun_is_used_before_the_generator() -> None:
    both = replace(
        QUIET,
        start_state=0.3,
        load_w=(300.0,) * 24,
        solar_w=(0.0,) * 9 + (200.0,) * 6 + (0.0,) * 9,
        generator_w=500.0,
        generator_hours=2.0,
    )
    week = simulate_week(both)
    assert week.direct_wh["solar"] == pytest.approx(7 * 6 * 200.0)
    assert week.direct_wh["generator"] == pytest.approx(7 * 2 * 100.0)
    assert week.charged_wh["generator"] == pytest.approx(7 * 2 * 400.0)


def test_half_an_hour_of_driving_gives_half_an_hour_of_energy() -> None:
    week = simulate_week(
        replace(
            QUIET,
            start_state=0.3,
            load_w=(0.0,) * 24,
            alternator_w=800.0,
            drive_start_hour=9.75,
            drive_hours=0.5,
            days=1,
        )
    )
    assert week.charged_wh["alternator"] == pytest.approx(400.0)
    assert week.state[9] == week.state[8] < week.state[10] < week.state[11] == week.state[12]


def test_a_drive_through_midnight_counts_in_both_days() -> None:
    night = replace(
        QUIET,
        start_state=0.2,
        load_w=(0.0,) * 24,
        alternator_w=100.0,
        drive_start_hour=23.0,
        drive_hours=2.0,
    )
    assert simulate_week(night).charged_wh["alternator"] == pytest.approx(7 * 200.0)


def test_a_night_on_shore_lasts_into_the_next_morning_and_ends_with_the_week() -> None:
    plugged = replace(
        QUIET, load_w=(50.0,) * 24, shore_w=1000.0, shore_start_hour=18.0, shore_hours=14.0
    )
    middle = simulate_week(replace(plugged, shore_nights=(2,)))
    assert middle.direct_wh["shore"] == pytest.approx(14 * 50.0)
    last = simulate_week(replace(plugged, shore_nights=(6,)))
    assert last.direct_wh["shore"] == pytest.approx(6 * 50.0)


def test_two_overlapping_nights_on_shore_do_not_give_twice_the_power() -> None:
    plugged = replace(
        QUIET, load_w=(500.0,) * 24, shore_w=100.0, shore_start_hour=0.0, shore_hours=24.0
    )
    week = simulate_week(replace(plugged, shore_nights=(0, 0, 1)))
    assert week.direct_wh["shore"] == pytest.approx(48 * 100.0)


def test_charging_follows_the_battery_to_full_in_the_time_of_the_charging_kernel() -> None:
    # 1000 W x 0.97 into 5000 Wh is 0.194 C
    empty = replace(
        QUIET,
        start_state=0.2,
        load_w=(0.0,) * 24,
        shore_w=1000.0,
        shore_nights=(0,),
        shore_start_hour=0.0,
        shore_hours=24.0,
        chemistry="agm",
        days=1,
    )
    states = simulate_week(empty).state
    for hour in range(1, 12):
        hours = hours_to_charge(0.2, states[hour], 5000.0, 970.0, 0.0, "agm")
        assert hours == pytest.approx(hour, abs=1e-6) or states[hour] == 1.0


def test_a_week_is_little_work() -> None:
    busy = replace(
        QUIET,
        load_w=tuple(50.0 + 20.0 * hour for hour in range(24)),
        solar_w=(0.0,) * 7 + (200.0,) * 10 + (0.0,) * 7,
        alternator_w=600.0,
        drive_hours=2.0,
        shore_w=1500.0,
        shore_nights=(3,),
        generator_w=1000.0,
        generator_hours=1.0,
        chemistry="agm",
    )
    assert calls_of(lambda: simulate_week(busy)) < 1000  # each hour of seven days, a few times


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"capacity_wh": 0.0}, "capacity_wh must be more than zero"),
        ({"usable_floor": 10.0}, "usable_floor must be between 0 and 1, got 10"),
        ({"start_state": nan}, "start_state must be between 0 and 1, got nan"),
        ({"load_w": (100.0,) * 23}, "load_w must hold 24 hours, got 23"),
        ({"solar_w": (-1.0,) * 24}, "solar_w_0 must be zero or more"),
        ({"alternator_w": inf}, "alternator_w must be zero or more and finite"),
        ({"charge_efficiency": 0.0}, "charge_efficiency must be more than zero"),
        ({"discharge_efficiency": 96.0}, "discharge_efficiency must be between 0 and 1"),
        ({"drive_hours": 25.0}, "drive_hours from 0 to 24"),
        ({"generator_start_hour": 24.0}, "generator_start_hour must be from 0 to below 24"),
        ({"shore_nights": (7,)}, "shore_nights must be days from 0 to 6, got 7"),
        ({"days": 0}, "days must be more than zero"),
        ({"chemistry": "gel"}, "chemistry must be one of lifepo4, agm, flooded"),
    ],
)
def test_inputs_off_the_scale_are_refused_in_words(change: dict[str, Any], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        simulate_week(replace(QUIET, **change))


def test_every_input_can_be_wrong_and_is_named_by_its_own_name() -> None:
    # a new input has to be thought of here: it is a number, a profile, a list or the chemistry
    numbers = {field.name for field in fields(WeekInputs)} - {
        "load_w",
        "solar_w",
        "shore_nights",
        "chemistry",
        "days",
    }
    for name in numbers:
        wrong: dict[str, Any] = {name: nan}
        with pytest.raises(ValueError, match=name):
            simulate_week(replace(QUIET, **wrong))


def test_shore_and_generator_charge_through_one_charger_and_feed_loads_past_it() -> None:
    both = replace(
        QUIET,
        start_state=0.3,
        load_w=(500.0,) * 24,
        shore_w=3000.0,
        shore_nights=(0,),
        generator_w=3000.0,
        generator_hours=4.0,
        generator_start_hour=18.0,
    )
    for limit_w in (0.0, 200.0, 800.0):
        week = simulate_week(replace(both, charger_limit_w=limit_w))
        hourly = [
            (after - before) * both.capacity_wh / both.charge_efficiency
            for before, after in pairwise(week.state)
        ]
        assert max(hourly) <= limit_w + 1e-6
        assert week.direct_wh["shore"] > 0.0
        assert balance_error_wh(week) <= 1e-6 * week.load_wh
    free, tight = simulate_week(both), simulate_week(replace(both, charger_limit_w=200.0))
    assert sum(free.charged_wh.values()) > sum(tight.charged_wh.values())


@pytest.mark.parametrize("source", ["shore", "generator"])
def test_a_charger_on_one_of_two_legs_takes_half_of_what_is_left_over(source: str) -> None:
    """By hand: 1,500 W less 500 W of loads leave 1,000 W, and half of them for the charger."""
    fed: dict[str, Any] = {f"{source}_w": 1500.0, f"{source}_share": 0.5}
    one_leg = replace(
        QUIET,
        capacity_wh=50_000.0,
        start_state=0.3,
        load_w=(500.0,) * 24,
        shore_nights=(0,),
        shore_hours=1.0,
        generator_hours=1.0,
        **fed,
    )
    week = simulate_week(one_leg)
    days = len(one_leg.shore_nights) if source == "shore" else one_leg.days
    assert week.charged_wh[source] == pytest.approx(500.0 * days)
    assert week.direct_wh[source] == pytest.approx(500.0 * days)
    assert balance_error_wh(week) <= 1e-6 * week.load_wh


def test_sun_and_alternator_do_not_go_through_that_charger() -> None:
    sunny = replace(QUIET, start_state=0.3, solar_w=(800.0,) * 24, charger_limit_w=0.0)
    assert simulate_week(sunny).charged_wh["solar"] > 0.0


@pytest.mark.parametrize("wrong", [-1.0, nan])
def test_a_charger_limit_that_is_none_is_refused_in_words(wrong: float) -> None:
    with pytest.raises(ValueError, match="charger_limit_w must be zero or more"):
        simulate_week(replace(QUIET, charger_limit_w=wrong))


def test_the_least_surplus_is_charged() -> None:
    """Half a watt over an hour: conservation of energy."""
    inputs = replace(QUIET, start_state=0.5, load_w=(100.0,) * 24, solar_w=(100.5,) * 24)
    week = simulate_week(inputs)
    hours = len(week.state) - 1
    gained_wh = 0.5 * hours * inputs.charge_efficiency
    assert (week.state[-1] - 0.5) * inputs.capacity_wh == pytest.approx(gained_wh, rel=1e-3)


@pytest.mark.parametrize("hours", range(1, 24))
def test_a_load_that_just_empties_the_battery_is_fed_to_its_end(hours: int) -> None:
    """So many equal parts of 1,200 Wh: what a rounding leaves over is no load gone dark."""
    for efficiency in (0.96, 0.9, 1.0):
        each_w = 1200.0 * efficiency / hours
        just = replace(
            QUIET,
            capacity_wh=1200.0,
            usable_floor=0.0,
            start_state=1.0,
            load_w=(each_w,) * hours + (0.0,) * (24 - hours),
            discharge_efficiency=efficiency,
            days=1,
        )
        week = simulate_week(just)
        assert (week.unmet_wh, week.runs_out_hour) == (0.0, None)
        assert week.state[-1] == pytest.approx(0.0, abs=1e-12)
