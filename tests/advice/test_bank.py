"""The battery bank: the cheapest that keeps every limit, and what decided how many."""

from dataclasses import replace

import pytest

from engine.advice.plan.bank import MOST_STRINGS, Demand, draws_of, energy_of, plan_bank
from engine.advice.plan.bank_floor import least_bank_price
from engine.advice.plan.charging import hourly_load_w
from engine.advice.plan.on_bank import on_bank_of, stock_of
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Battery, StepDown
from engine.model.result import BankPlan, Check
from tests.advice.conftest import AIRCON, COOKING, TWO_AIRCONS, VAN, Case, MakeCase, with_shelf


def planned(found: Case, guide: Guide | None = None) -> object:
    return bank_of(found, guide or found.guide)[0]


def bank_of(
    found: Case, shelf: Guide, needs: Needs | None = None
) -> tuple[BankPlan | None, tuple[Check, ...]]:
    """Its bank of what this shelf holds, with the checks."""
    on = on_bank_of(shelf, needs or found.needs, found.candidate.inverter.dc_nominal)
    return plan_bank(on, found.candidate, found.supply)


def test_the_cheapest_bank_is_taken_and_a_dearer_twin_never(guide: Guide, case: MakeCase) -> None:
    found = case(COOKING)
    bank = found.design.bank
    dearer = replace(bank.battery, id="twin", price=bank.battery.price + 1.0)
    cheaper = replace(bank.battery, id="twin", price=bank.battery.price - 1.0)
    shelf = guide.catalogue.batteries
    for twin, taken in ((dearer, bank.battery.id), (cheaper, "twin")):
        other = with_shelf(guide, batteries=(*shelf, twin))
        plan, _ = bank_of(found, other)
        assert plan is not None
        assert plan.battery.id == taken


def test_of_two_at_one_price_the_lighter_is_taken(guide: Guide, case: MakeCase) -> None:
    found = case(COOKING)
    battery = found.design.bank.battery
    light = replace(battery, id="light", mass=battery.mass - 1.0)
    plan, _ = bank_of(found, with_shelf(guide, batteries=(battery, light)))
    assert plan is not None
    assert plan.battery.id == "light"


@pytest.mark.parametrize(
    ("text", "decided_by"),
    [
        (f"{COOKING} nights=4", "for_energy"),
        (f"{COOKING} bank=12V loads=induction-hob:0.1h,tv*4:0.1h", "for_current"),
        (f"{AIRCON} loads=aircon-15k:0h bank=12V", "for_surge"),
    ],
)
def test_each_demand_can_decide_how_many_strings(
    case: MakeCase, text: str, decided_by: str
) -> None:
    bank = case(text).design.bank
    demands = {
        name: getattr(bank, name)
        for name in ("for_energy", "for_current", "for_surge", "for_voltage")
    }
    assert demands[decided_by] == bank.parallel == max(demands.values()) > 1
    assert [name for name, count in demands.items() if count == bank.parallel] == [decided_by]


def test_a_soft_battery_needs_more_strings_to_hold_the_voltage(
    guide: Guide, case: MakeCase
) -> None:
    """With 60 mΩ a string drops 6 V at 100 A, arithmetic."""
    found = case(COOKING)
    soft = replace(found.design.bank.battery, resistance=0.06, most_in_parallel=9)
    plan, _ = bank_of(found, with_shelf(guide, batteries=(soft,)))
    assert plan is not None
    assert plan.for_voltage == plan.parallel > plan.for_current


def test_conversion_and_idle_of_every_unit_are_part_of_the_energy(case: MakeCase) -> None:
    found = case(TWO_AIRCONS)
    efficiency = found.design.bank.house_efficiency
    on = on_bank_of(found.guide, found.needs, found.candidate.inverter.dc_nominal)
    need = energy_of(on, found.candidate, found.supply)
    assert found.candidate.units == 2
    assert need.idle_wh == pytest.approx(2 * found.candidate.inverter.idle * 24.0)
    daily = {
        is_dc: sum(
            load.count * load.running_w * load.hours * load.duty
            for load in found.needs.loads
            if (load.volts == 12) is is_dc
        )
        for is_dc in (True, False)
    }
    assert need.dc_wh == pytest.approx(daily[True] / efficiency)
    assert need.ac_wh == pytest.approx(daily[False])
    assert need.conversion_wh > 0.04 * need.ac_wh
    assert need.total_wh == pytest.approx(
        need.ac_wh + need.dc_wh + need.conversion_wh + need.idle_wh
    )


def test_energy_goes_with_the_days_between_charges(case: MakeCase) -> None:
    day, week = case(f"{VAN} nights=1").design.bank, case(f"{VAN} nights=3").design.bank
    assert week.need_wh == pytest.approx(3 * day.need_wh)
    assert week.mean_a == pytest.approx(day.mean_a)
    assert week.usable_wh >= week.need_wh


def test_lead_acid_counts_by_peukert_on_the_20_hour_basis(case: MakeCase) -> None:
    """t = H · (C / (I · H))^k; no more than the rated capacity is planned on."""
    bank = case(f"{COOKING} chemistry=agm").design.bank
    battery, share_a = bank.battery, bank.mean_a / bank.for_energy
    hours = 20.0 * (battery.capacity / (share_a * 20.0)) ** battery.peukert
    assert bank.string_ah == pytest.approx(min(battery.capacity, share_a * hours))
    busy = case("rig=van scope=whole heavy=0 chemistry=flooded nights=0.5").design.bank
    assert busy.string_ah <= busy.battery.capacity


def test_a_fast_draw_takes_capacity_from_lead_acid_and_none_from_lithium(
    guide: Guide, case: MakeCase
) -> None:
    hungry = f"{VAN} loads=kettle:2h"
    lead = case(f"{hungry} chemistry=flooded").design.bank
    assert lead.string_ah < lead.battery.capacity
    lithium = case(hungry).design.bank
    assert lithium.string_ah == lithium.battery.capacity
    assert guide.planning.ageing < 1.0


def test_cold_takes_capacity(case: MakeCase) -> None:
    """Lithium: 80 % left at 0 °C, sellers' claims (secondary)."""
    warm = case(f"{VAN} coldest=25C").design.bank
    cold = case(f"{VAN} coldest=0C").design.bank
    each = {
        bank.usable_each_wh / (bank.battery.capacity * bank.battery.nominal)
        for bank in (warm, cold)
    }
    assert max(each) / min(each) == pytest.approx(1 / 0.8)


def test_colder_than_anything_known_no_bank_is_planned_on(case: MakeCase) -> None:
    for chemistry in ("lifepo4", "agm", "flooded"):
        found = case(f"{VAN} ambient=-35C chemistry={chemistry}")
        assert found.outcome.best is None
        failed = found.considered("single", "small-12v-1300va").failed
        assert [check.id for check in failed] == ["charge-cold"]


def test_batteries_that_cannot_make_the_voltage_are_left_out(guide: Guide, case: MakeCase) -> None:
    found = case(COOKING)
    odd = replace(found.design.bank.battery, nominal=30.0)
    plan, checks = bank_of(found, with_shelf(guide, batteries=(odd,)))
    assert plan is None
    assert [(check.id, check.passed) for check in checks] == [("battery-series", False)]


def test_without_any_battery_of_the_kind_none_is_planned(guide: Guide, case: MakeCase) -> None:
    found = case(COOKING)
    needs = replace(found.needs, chemistry="agm")
    plan, checks = bank_of(found, with_shelf(guide, batteries=(found.design.bank.battery,)), needs)
    assert plan is None
    assert not any(check.passed for check in checks)


def test_where_none_fits_the_checks_are_those_of_the_nearest(guide: Guide, case: MakeCase) -> None:
    """One battery misses by one in parallel, the other by many."""
    found = case(COOKING)
    near = replace(found.design.bank.battery, id="near", capacity=60.0, most_in_parallel=1)
    far = replace(near, id="far", capacity=10.0, charge_current=5.0)

    def missed(shelf: tuple[Battery, ...]) -> float:
        plan, checks = bank_of(found, with_shelf(guide, batteries=shelf))
        assert plan is None
        return next(check.value for check in checks if check.id == "battery-parallel")

    assert missed((far, near)) == missed((near,)) < missed((far,)) <= MOST_STRINGS


def test_what_runs_on_12_v_comes_straight_from_the_bank(case: MakeCase) -> None:
    bank = case(f"{VAN} bank=12V").design.bank
    on_12_w = sum(load.running_w for load in case(VAN).needs.running if load.volts == 12)
    assert bank.house_efficiency == 1.0
    assert bank.house_w == on_12_w > 0.0
    assert bank.dc_w > on_12_w


def test_a_converter_to_12_v_takes_its_loss_from_the_bank_and_in_the_week(case: MakeCase) -> None:
    """230 W behind 92 % are 250 W; the hours of the week add up to the same need."""
    found = case(f"{VAN} bank=24V")
    bank = found.design.bank
    (line,) = [line for line in found.design.parts if line.group == "step-down"]
    converter = found.guide.article(line.product)
    assert isinstance(converter, StepDown)
    on_12_w = sum(load.running_w for load in found.needs.running if load.volts == 12)
    assert bank.house_efficiency == converter.efficiency < 1.0
    assert bank.house_w == pytest.approx(on_12_w / converter.efficiency)
    a_day_wh = sum(hourly_load_w(found.needs, found.design))
    assert a_day_wh * found.needs.nights == pytest.approx(bank.need_wh)


def test_planning_twice_gives_the_same(case: MakeCase) -> None:
    found = case(COOKING)
    assert planned(found) == planned(found) == found.design.bank


def demand_of(found: Case, guide: Guide) -> Demand:
    on = on_bank_of(guide, found.needs, found.candidate.inverter.dc_nominal)
    return Demand(on, found.candidate, found.supply)


@pytest.mark.parametrize("strings", [1, 2, 3])
def test_strings_that_hold_exactly_what_is_asked_for_are_enough(
    guide: Guide, case: MakeCase, strings: int
) -> None:
    """Arithmetic: energy over voltage, usable share, cold share, and what ageing leaves."""
    found = case(VAN)
    battery = found.design.bank.battery
    demand = demand_of(found, guide)
    string_v = battery.nominal * found.design.bank.series
    share = battery.usable * demand.cold_share * guide.planning.ageing
    full = replace(
        battery,
        id="full",
        capacity=demand.hold_wh / (strings * string_v * share),
        continuous_current=1e6,
        peak_current=1e6,
        charge_current=1e6,
        resistance=0.0,
        most_in_parallel=strings,
    )
    plan, _ = bank_of(found, with_shelf(guide, batteries=(full,)))
    assert plan is not None
    assert plan.parallel == plan.for_energy == least_strings(demand, full) == strings
    less = replace(full, capacity=full.capacity * 0.999)
    assert least_strings(demand, less) == strings + 1


def least_strings(demand: Demand, battery: Battery) -> int:
    stock = stock_of(demand.guide, battery, demand.system_v, demand.cold_share)
    return demand.least_strings(stock)


def test_never_more_strings_are_tried_than_the_most(guide: Guide, case: MakeCase) -> None:
    found = case(f"{VAN} chemistry=agm nights=4")
    tiny = replace(found.design.bank.battery, id="tiny", capacity=0.5)
    _, checks = bank_of(found, with_shelf(guide, batteries=(tiny,)))
    missed = next(check for check in checks if check.id == "battery-parallel")
    assert missed.value == MOST_STRINGS == 40


def test_of_equal_prices_what_is_out_of_stock_counts_its_waiting(
    guide: Guide, case: MakeCase
) -> None:
    """The shop counts waiting in money: what is absent must be cheaper by more than that."""
    found = case(COOKING)
    battery = found.design.bank.battery
    waiting = guide.priorities.counts_of("waiting")
    assert waiting > 0.0
    for cheaper_by, taken in ((waiting - 0.5, battery.id), (waiting + 0.5, "absent")):
        each = cheaper_by / found.design.bank.count
        twin = replace(battery, id="absent", price=battery.price - each, stock="out-of-stock")
        plan, _ = bank_of(found, with_shelf(guide, batteries=(battery, twin)))
        assert plan is not None
        assert plan.battery.id == taken


@pytest.mark.parametrize("text", [VAN, COOKING, f"{COOKING} nights=3"])
def test_no_new_bank_costs_less_than_its_loads_alone_ask_for(case: MakeCase, text: str) -> None:
    """And not far less, so that the bound is of use."""
    found = case(text)
    bank = found.design.bank
    least = least_bank_price(found.guide, found.needs)
    assert 0.5 * bank.count * bank.battery.price <= least <= bank.count * bank.battery.price


def test_of_lead_acid_nothing_is_said_beforehand(case: MakeCase) -> None:
    found = case(f"{VAN} chemistry=agm")
    assert least_bank_price(found.guide, found.needs) == 0.0


def test_nearest_is_what_misses_by_the_smallest_share_of_what_its_maker_allows(
    guide: Guide, case: MakeCase
) -> None:
    """Eight of which four may be in parallel miss by less than two of which one may not be."""
    found = case(COOKING)
    like = replace(found.design.bank.battery, continuous_current=1e6, peak_current=1e6)
    demand = demand_of(found, guide)
    many = replace(like, id="many", capacity=like.capacity / 16, most_in_parallel=12)
    few = replace(like, id="few", capacity=like.capacity / 8, most_in_parallel=1)
    assert least_strings(demand, many) > least_strings(demand, few) > 1
    ways = [
        bank_of(found, with_shelf(guide, batteries=shelf)) for shelf in ((few, many), (many, few))
    ]
    values = {
        next(each for each in checks if each.id == "battery-parallel").limit for _, checks in ways
    }
    assert values == {12.0}


@pytest.mark.parametrize(
    "text",
    [
        VAN,
        COOKING,
        f"{VAN} loads=lights",
        f"{VAN} loads=kettle:0h,lights",
        f"{COOKING} loads=kettle:0h,tv",
    ],
)
def test_what_each_load_draws_adds_up_to_the_need_and_never_less_than_it_runs_on(
    case: MakeCase, text: str
) -> None:
    """Conservation of energy: each AC load bears its share of what the inverter loses."""
    found = case(text)
    on = on_bank_of(found.guide, found.needs, found.candidate.inverter.dc_nominal)
    need = energy_of(on, found.candidate, found.supply)
    watts, energy_wh = draws_of(on, need)
    assert sum(energy_wh) == pytest.approx(need.total_wh)
    assert energy_wh[-1] == need.idle_wh
    assert len(watts) == len(on.draws) + 1
    loss = need.conversion_wh / need.ac_wh if need.ac_wh else 0.0
    for each, taken_w in zip(on.draws, watts[:-1], strict=True):
        factor = 1.0 + loss if each.factor is None else each.factor
        assert taken_w == pytest.approx(each.running_w * factor)


@pytest.mark.parametrize("chemistry", ["lifepo4", "agm", "flooded"])
def test_a_bank_for_next_to_nothing_costs_at_least_the_cheapest_of_its_kind(
    guide: Guide, case: MakeCase, chemistry: str
) -> None:
    needs = replace(case(VAN).needs, chemistry=chemistry, nights=1e-6)
    prices = [each.price for each in guide.catalogue.batteries if each.chemistry == chemistry]
    least = least_bank_price(guide, needs)
    assert least == (min(prices) if chemistry == "lifepo4" else 0.0)


def test_a_battery_that_holds_nothing_counts_once(guide: Guide, case: MakeCase) -> None:
    empty = replace(guide.catalogue.batteries[0], chemistry="lifepo4", usable=0.0, price=7.0)
    assert least_bank_price(with_shelf(guide, batteries=(empty,)), case(VAN).needs) == 7.0
    assert least_bank_price(with_shelf(guide, batteries=()), case(VAN).needs) == 0.0


def test_a_battery_may_be_charged_at_just_its_coldest(guide: Guide, case: MakeCase) -> None:
    found = case(COOKING)
    coldest_c = found.needs.weather.coldest_c
    battery = found.design.bank.battery
    for at_c, does in ((coldest_c, True), (coldest_c + 0.1, False)):
        one = replace(battery, lowest_charge_temperature=at_c)
        plan, _ = bank_of(found, with_shelf(guide, batteries=(one,)))
        assert (plan is not None) is does
