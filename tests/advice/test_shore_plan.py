"""Shore and generator beside a design: limits, what starts, what is left for the charger."""

from dataclasses import replace

import pytest

from engine.advice.plan.shore import (
    busiest_a,
    charger_legs_of,
    charger_of,
    plan_generator,
    plan_shore,
    voltages_of,
)
from engine.model.buses import LEG
from engine.model.result import Design
from engine.model.sources import GeneratorPlan, ShorePlan
from tests.advice.conftest import (
    AIRCON,
    COACH,
    COOKING,
    SIDE_BY_SIDE,
    SOME,
    TWO_AIRCONS,
    VAN,
    Case,
    MakeCase,
)


def shore(case: MakeCase, text: str) -> ShorePlan:
    found = case(text)
    return plan_shore(found.needs, found.design)


def generator(case: MakeCase, text: str) -> GeneratorPlan:
    found = case(text)
    plan = plan_generator(found.guide, found.needs, found.design)
    assert plan is not None
    return plan


def unsupported(found: Case) -> Design:
    """The same design with a unit that cannot add battery power."""
    candidate = found.candidate
    unit = replace(candidate.inverter, generator_support=False)
    return replace(found.design, candidate=replace(candidate, inverter=unit))


@pytest.mark.parametrize(
    ("text", "limit_a"),
    [
        (VAN, 12.0),
        (f"{COOKING} shore=20A", 16.0),
        (COOKING, 24.0),
        (COACH, 40.0),
        (f"{COACH} shore=30A", 24.0),
        (f"{VAN} shore=50A", 12.0),
        (SOME, 16.0),  # one hob behind a breaker of 20 A
        (f"{SOME} shore=15A", 12.0),
    ],
)
def test_the_limit_is_80_percent_of_the_smallest_of_post_cord_and_breaker(
    case: MakeCase, text: str, limit_a: float
) -> None:
    """15 → 12, 20 → 16, 30 → 24, 50 → 40 A: settings from memory."""
    assert shore(case, text).input_limit_a == limit_a


@pytest.mark.parametrize("text", [VAN, COOKING, AIRCON, COACH, TWO_AIRCONS])
def test_charger_and_what_runs_along_stay_within_the_limit(case: MakeCase, text: str) -> None:
    plan = shore(case, text)
    assert plan.charger_ac_a + plan.light_a <= plan.input_limit_a + 1e-9
    assert plan.left_a == pytest.approx(plan.input_limit_a - plan.charger_ac_a)
    assert plan.charge_a > 0.0
    assert plan.hours is not None


def test_a_panel_of_its_own_hangs_on_one_leg(case: MakeCase) -> None:
    """A hob of 1,800 W and what is light run on it together, wherever the other leg is."""
    found, plan = case(SOME), shore(case, SOME)
    assert found.needs.shore_legs == 2
    assert plan.legs == 1
    (leg,) = found.supply.legs
    assert plan.load_a == pytest.approx(leg.demand.apparent_va / 120.0)


def test_a_post_of_30_a_has_one_leg_for_both_sides(case: MakeCase) -> None:
    full, adapter = shore(case, COACH), shore(case, f"{COACH} shore=30A")
    assert (full.legs, adapter.legs) == (2, 1)
    assert adapter.load_a > full.load_a  # both sides' loads meet on one leg
    assert case(f"{COACH} shore=30A").design == case(COACH).design


def test_two_chargers_on_two_legs_share_what_they_draw(case: MakeCase) -> None:
    found = case(TWO_AIRCONS)
    plan, charger = shore(case, TWO_AIRCONS), charger_of(found.needs, found.design)
    assert plan.charge_a == pytest.approx(charger.most_a)
    assert plan.charger_ac_a == pytest.approx(charger.ac_a(plan.charge_a) / 2)
    one_leg = shore(case, f"{TWO_AIRCONS} shore=30A")
    assert one_leg.charger_ac_a == pytest.approx(charger.ac_a(one_leg.charge_a))


def test_the_charger_never_gives_more_than_the_bank_takes(case: MakeCase) -> None:
    found = case("rig=van scope=whole heavy=1 biggest=cooking bank=24V chemistry=flooded")
    charger = charger_of(found.needs, found.design)
    unit = found.candidate.inverter.charge_current
    assert charger.most_a == min(unit, found.design.bank.charge_limit_a) < unit


def test_with_nothing_left_it_never_gets_full(case: MakeCase) -> None:
    plan = shore(case, "rig=van scope=whole heavy=0 loads=tv*12,lights shore=5A")
    assert plan.light_a > plan.input_limit_a
    assert (plan.charge_a, plan.charger_ac_a, plan.hours) == (0.0, 0.0, None)


def test_what_everything_at_once_asks_above_the_limit_is_told(case: MakeCase) -> None:
    over = shore(case, "rig=van scope=whole heavy=1 biggest=heating")
    assert over.overloaded
    assert over.missing_a == pytest.approx(over.load_a - over.input_limit_a)
    assert not shore(case, COACH).overloaded
    assert shore(case, COACH).missing_a == 0.0


def test_without_a_generator_there_is_no_plan(case: MakeCase) -> None:
    found = case(VAN)
    assert plan_generator(found.guide, found.needs, found.design) is None


def test_height_and_heat_take_from_its_plate(case: MakeCase) -> None:
    """3.5 % each 1,000 ft, and 2 % each 10 °F above 85 °F (secondary); here it is 95 °F."""
    plan = generator(case, f"{VAN} gen=2000W altitude=7000ft")
    assert plan.derated_w == pytest.approx(2000.0 * (1 - 0.035 * 7) * 0.98)
    assert plan.start_limit_va == pytest.approx(2 * plan.derated_w)


def test_the_limit_on_a_generator_is_what_it_gives_and_what_the_breaker_bears(
    case: MakeCase,
) -> None:
    """1,480 W / 120 V = 12.33 A; 5,500 W would be 45 A, on a breaker that bears 24 A for hours."""
    assert generator(case, f"{COOKING} gen=2000W altitude=7000ft").input_limit_a == 12.0
    assert generator(case, f"{COOKING} gen=5500W").input_limit_a == 24.0


def test_two_hot_wires_share_what_a_leg_gives(case: MakeCase) -> None:
    """80 % of 15 A is 12 A, 6 A on each of two units; 24 A through an adapter, 12 A on each leg."""
    pair, adapter = shore(case, SIDE_BY_SIDE), shore(case, f"{COACH} shore=30A")
    assert (pair.input_limit_a, pair.setting_a) == (12.0, 6.0)
    assert (adapter.input_limit_a, adapter.setting_a) == (24.0, 12.0)
    assert shore(case, COACH).setting_a == shore(case, COACH).input_limit_a == 40.0


@pytest.mark.parametrize(
    ("text", "legs", "setting_a", "limit_a"),
    [
        (f"{COACH} gen=5500W", 2, 22.0, 22.0),  # 5,390 W over two legs: 22.46 A
        (f"{TWO_AIRCONS} gen=5500W", 2, 22.0, 22.0),
        (f"{SIDE_BY_SIDE} gen=5500W", 1, 6.0, 12.0),  # the cord bears 12 A for hours
        (f"{SIDE_BY_SIDE} gen=1000W", 1, 4.0, 8.0),  # 980 W over two units: 4.08 A
    ],
)
def test_the_generators_limit_is_set_for_each_leg(
    case: MakeCase, text: str, legs: int, setting_a: float, limit_a: float
) -> None:
    """2 % each 10 °F above 85 °F (secondary), at 95 °F; then by hand."""
    plan = generator(case, text)
    assert (plan.legs, plan.setting_a, plan.input_limit_a) == (legs, setting_a, limit_a)


@pytest.mark.parametrize("text", [VAN, COOKING, AIRCON, COACH, TWO_AIRCONS, SIDE_BY_SIDE])
def test_charging_on_the_generator_stays_within_the_limit_that_is_set(
    case: MakeCase, text: str
) -> None:
    for watts in (1000, 2500, 5500, 9000):
        found, plan = case(f"{text} gen={watts}W"), generator(case, f"{text} gen={watts}W")
        charger = charger_of(found.needs, found.design)
        on_legs = charger_legs_of(found.design, plan.legs)
        for charge_a in (plan.charge_a, plan.charge_free_a):
            if charge_a:
                assert charger.ac_a(charge_a, on_legs) + plan.light_a <= plan.input_limit_a + 1e-9


def test_a_strong_generator_starts_it_alone_and_a_weak_one_with_help(case: MakeCase) -> None:
    strong = generator(case, f"{AIRCON} gen=5500W")
    assert strong.starts_alone
    weak = generator(case, f"{AIRCON} gen=2000W")
    assert not weak.starts_alone
    assert weak.starts_supported
    assert weak.start_limit_va < weak.light_va + weak.start_va
    assert weak.start_limit_va + weak.support_start_va >= weak.light_va + weak.start_va


def test_a_unit_that_cannot_add_leaves_a_weak_generator_alone(case: MakeCase) -> None:
    found = case(f"{AIRCON} gen=1500W")
    plan = plan_generator(found.guide, found.needs, unsupported(found))
    assert plan is not None
    assert (plan.starts_alone, plan.starts_supported) == (False, False)
    assert plan.support_start_va == plan.battery_adds_w == plan.charge_a == 0.0
    assert plan.short_w == pytest.approx(found.design.supply.total_w - plan.derated_w)
    helped = generator(case, f"{AIRCON} gen=1500W")
    assert helped.battery_adds_w == pytest.approx(plan.short_w)
    assert helped.short_w == 0.0


def test_the_largest_charge_rate_still_lets_the_motor_start(case: MakeCase) -> None:
    """Charger, what runs along and the start together reach the limit and never pass it."""
    found = case(f"{AIRCON} gen=2700W")
    design = unsupported(found)
    plan = plan_generator(found.guide, found.needs, design)
    assert plan is not None
    assert plan.starts_alone
    charger = charger_of(found.needs, design)
    charger_va = charger.ac_a(plan.charge_a) * 120.0
    starting = plan.light_va + plan.start_va + charger_va
    running = plan.light_va + plan.motor_va + charger_va
    assert starting <= plan.start_limit_va + 1e-6
    assert running <= plan.derated_w + 1e-6
    assert plan.charge_a < charger.most_a
    limit_va = plan.input_limit_a * 120.0
    assert max(starting / plan.start_limit_va, running / limit_va) == pytest.approx(1.0)
    assert plan.charge_free_a > plan.charge_a


def test_more_generator_never_means_less_charge(case: MakeCase) -> None:
    rates = [
        generator(case, f"{AIRCON} gen={watts}W").charge_free_a
        for watts in (1000, 2000, 3000, 5000, 9000)
    ]
    assert rates == sorted(rates)
    assert rates[0] < rates[-1]


def test_without_a_motor_there_is_one_charge_rate(case: MakeCase) -> None:
    plan = generator(case, f"{VAN} gen=1000W")
    assert plan.starter == ""
    assert plan.starts_alone
    assert plan.charge_a == plan.charge_free_a > 0.0


def test_where_nothing_starts_nothing_is_asked_of_the_generator_for_it(case: MakeCase) -> None:
    found = generator(case, f"{VAN} gen=2000W loads=lights,fridge-12v")
    assert (found.starter, found.motor_va, found.start_va) == ("", 0.0, 0.0)
    assert (found.starts_alone, found.light_va) == (True, 0.0)


def test_a_motor_that_runs_along_is_counted_once(case: MakeCase) -> None:
    plan = generator(case, "rig=coach-50 scope=whole heavy=0 v240=no gen=3000W")
    assert plan.starter == "Household refrigerator"
    assert plan.motor_va == pytest.approx(150.0 / 0.85)
    assert plan.start_va == 8.0 * 120.0
    light = case("rig=coach-50 scope=whole heavy=0 v240=no gen=3000W").needs.light
    va = sum(load.running_w / load.power_factor for load in light if load.volts != 12)
    assert plan.light_va == pytest.approx(va - plan.motor_va)


def test_charge_voltages_follow_the_bank(case: MakeCase) -> None:
    """14.4 V for four LiFePO4 cells within 14.2 … 14.6 V (secondary)."""
    low = voltages_of(case(VAN).design)
    high = voltages_of(case(f"{COOKING} bank=48V").design)
    assert 14.2 <= low.absorption_v <= 14.6
    assert high.absorption_v == pytest.approx(4 * low.absorption_v)
    assert low.float_v < low.absorption_v


def test_a_few_circuits_hang_on_the_legs_of_their_unit_and_a_whole_rig_on_those_of_its_cord(
    case: MakeCase,
) -> None:
    """Whatever the layout is called; a subpanel never has more than its unit."""
    found = case(COACH)
    one = replace(found.design, candidate=replace(found.candidate, layout="single", legs=1))
    panel = replace(one, candidate=replace(one.candidate, layout="sub-panel"))
    some = replace(found.needs, whole=False)
    for needs, design, legs in (
        (found.needs, one, 2),
        (some, one, 1),
        (some, panel, 1),
        (found.needs, panel, 1),
    ):
        assert plan_shore(needs, design).legs == legs


def test_a_unit_that_does_not_support_a_generator_leaves_it_room_for_the_start(
    case: MakeCase,
) -> None:
    """What the start takes of the generator is not there to charge with; else the unit adds it."""
    found = case(f"{AIRCON} gen=2500W")
    plans = []
    for support in (True, False):
        unit = replace(found.candidate.inverter, generator_support=support)
        design = replace(found.design, candidate=replace(found.candidate, inverter=unit))
        plan = plan_generator(found.guide, found.needs, design)
        assert plan is not None and plan.starts_alone
        plans.append((plan, charger_of(found.needs, design)))
    (supported, _), (alone, charger) = plans
    amps = (each / 120.0 for each in (alone.start_limit_va, alone.light_va, alone.start_va))
    assert alone.charge_a == pytest.approx(charger.largest_with_start_a(*amps))
    assert 0.0 < alone.charge_a < supported.charge_a


def test_two_units_charge_with_both_their_chargers_where_the_bank_takes_it(case: MakeCase) -> None:
    found = case(TWO_AIRCONS)
    each_a = found.candidate.inverter.charge_current
    for limit_a, most_a in ((1e6, 2 * each_a), (each_a, each_a)):
        bank = replace(found.design.bank, charge_limit_a=limit_a)
        assert charger_of(found.needs, replace(found.design, bank=bank)).most_a == most_a


def test_the_busier_leg_is_the_one_that_its_limit_holds_for(case: MakeCase) -> None:
    """P = U · I: 3,000 W on one leg and 600 W on the other are 25 A and 5 A at 120 V."""
    needs = case(COACH).needs
    like = replace(needs.running[0], bus=LEG, power_factor=1.0, locked_rotor_a=0.0)
    large, small = replace(like, running_w=3000.0), replace(like, running_w=600.0)
    for running in ((large, small), (small, large)):
        assert busiest_a(needs, running, 2) == pytest.approx(25.0)
        assert busiest_a(needs, running, 1) == pytest.approx(30.0)


def test_beside_the_one_motor_that_starts_no_other_of_its_name_is_reckoned(case: MakeCase) -> None:
    found = case(f"{AIRCON} gen=3000W")
    (motor,) = (load for load in found.needs.running if load.locked_rotor_a and load.heavy)
    twice = replace(found.needs, running=(*found.needs.running, motor))
    one, two = (plan_generator(found.guide, needs, found.design) for needs in (found.needs, twice))
    assert one is not None and one.starter == motor.name
    assert one.charge_a > 0.0
    assert two == one
