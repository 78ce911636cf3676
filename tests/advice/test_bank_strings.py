"""How many strings a battery takes for a start and for its voltage, and which are tried at all."""

from dataclasses import replace

import pytest

from engine.advice.plan.bank import Demand, Strings, plan_bank
from engine.advice.plan.on_bank import on_bank_of
from engine.model.guide import Guide
from engine.model.products import Battery
from engine.model.result import Check
from tests.advice.conftest import AIRCON, COOKING, TWO_AIRCONS, VAN, Case, MakeCase, with_shelf


def demand_of(found: Case) -> Demand:
    on = on_bank_of(found.guide, found.needs, found.candidate.inverter.dc_nominal)
    return Demand(on, found.candidate, found.supply)


@pytest.mark.parametrize("text", [COOKING, AIRCON, TWO_AIRCONS])
def test_a_start_draws_what_the_units_make_of_it_each_of_its_share(
    case: MakeCase, text: str
) -> None:
    """Power out and losses, P_0 + a · P + b · P² of each unit, beside what runs on DC. A heater
    draws no more as it starts than it runs on; running is planned with the shop's margin."""
    found = case(text)
    bank, supply, units = found.design.bank, found.supply, found.candidate.units
    curve, each_w = supply.curve, supply.total_worst_va / units
    drawn_w = (
        each_w + curve.idle_w + curve.proportional * each_w + curve.quadratic_per_w * each_w**2
    )
    assert bank.start_dc_w == pytest.approx(units * drawn_w + bank.house_w)
    assert (bank.start_dc_w > bank.dc_w) is (text != COOKING)


def test_a_start_lasts_as_long_as_the_slowest_of_the_inverters_or_of_a_motor_on_dc(
    case: MakeCase,
) -> None:
    found = case(AIRCON)
    on = on_bank_of(found.guide, found.needs, found.candidate.inverter.dc_nominal)
    (leg,) = found.supply.legs
    assert leg.start_s > 0.0
    for of_dc_s, longest_s in ((0.0, leg.start_s), (leg.start_s + 1.0, leg.start_s + 1.0)):
        demand = Demand(on._replace(step_s=of_dc_s), found.candidate, found.supply)
        assert demand.surge_s == longest_s


def test_two_batteries_in_series_hold_the_voltage_as_one_with_both_of_theirs(
    case: MakeCase,
) -> None:
    found = case(f"{COOKING} bank=24V")
    demand, battery = demand_of(found), found.design.bank.battery
    half = replace(battery, nominal=12.8, resistance=0.02, continuous_current=1e4)
    whole = replace(half, nominal=25.6, resistance=0.04)
    of_half, of_whole = strings_of(demand, half), strings_of(demand, whole)
    assert (of_half.series, of_whole.series) == (2, 1)
    assert of_half.for_voltage == of_whole.for_voltage > 1


def strings_of(demand: Demand, battery: Battery) -> Strings:
    found = demand.strings_of(battery)
    assert found is not None
    return found


def test_a_cable_is_taken_to_lose_at_full_output_what_the_shop_allows(case: MakeCase) -> None:
    """R = U / I: of 3 % of 24 V at the current of full output and of its losses."""
    found = case(f"{COOKING} bank=24V")
    demand, unit, curve = demand_of(found), found.candidate.inverter, found.supply.curve
    full_w = max(watts for _, watts in unit.continuous)
    drawn_w = (
        full_w + curve.idle_w + curve.proportional * full_w + curve.quadratic_per_w * full_w**2
    )
    lost_v = demand.cable_ohm * drawn_w / demand.low_v
    assert lost_v == pytest.approx(found.guide.planning.drop_limit * 24.0)


@pytest.mark.parametrize(("more_s", "strings"), [(0.0, 1), (0.1, 1), (-0.1, 4)])
def test_a_start_of_just_the_peaks_time_may_take_the_peak(
    case: MakeCase, more_s: float, strings: int
) -> None:
    """A quarter of the start for long, all of it at its peak."""
    found = case(AIRCON)
    demand = demand_of(found)
    battery = replace(
        found.design.bank.battery,
        peak_current=demand.surge_a,
        continuous_current=demand.surge_a / 4,
        peak_time=demand.surge_s + more_s,
    )
    assert strings_of(demand, battery).for_surge == strings


def test_a_battery_that_never_holds_the_voltage_takes_one_string_and_a_check_says_so(
    case: MakeCase,
) -> None:
    found = case(f"{COOKING} bank=12V")
    demand = demand_of(found)
    demand.cable_ohm = 1.0  # which loses more than there is
    assert strings_of(demand, found.design.bank.battery).for_voltage == 1


def test_so_cold_that_nothing_is_known_one_string_gives_nothing(case: MakeCase) -> None:
    found = case(VAN)
    on = on_bank_of(found.guide, found.needs, found.candidate.inverter.dc_nominal)
    demand = Demand(on._replace(cold_share=0.0), found.candidate, found.supply)
    battery = found.design.bank.battery
    strings = strings_of(demand, battery)
    assert (strings.for_energy, strings.string_ah, strings.usable_wh) == (1, battery.capacity, 0.0)


def test_where_no_battery_makes_the_voltage_the_check_of_the_series_says_so(
    guide: Guide, case: MakeCase
) -> None:
    found = case(COOKING)
    odd = replace(found.design.bank.battery, nominal=30.0)
    on = on_bank_of(
        with_shelf(guide, batteries=(odd,)), found.needs, found.candidate.inverter.dc_nominal
    )
    nothing = (None, (Check("battery-series", 0.0, 1.0, "yes", False),))
    assert plan_bank(on, found.candidate, found.supply) == nothing


def test_the_nearest_miss_is_looked_for_among_the_twelve_most_promising(
    guide: Guide, case: MakeCase, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of twenty that need as many strings, those of which the most may stand in parallel."""
    found = case(COOKING)
    like = replace(found.design.bank.battery, capacity=1.0)
    shelf = tuple(replace(like, id=f"of-{most}", most_in_parallel=most) for most in range(1, 21))
    tried: list[int] = []
    strings = Demand.strings_of

    def noted(demand: Demand, battery: Battery) -> Strings | None:
        tried.append(battery.most_in_parallel)
        return strings(demand, battery)

    monkeypatch.setattr(Demand, "strings_of", noted)
    on = on_bank_of(
        with_shelf(guide, batteries=shelf), found.needs, found.candidate.inverter.dc_nominal
    )
    plan, _ = plan_bank(on, found.candidate, found.supply)
    assert plan is None
    assert tried == list(range(20, 8, -1))


@pytest.mark.parametrize("strings", [1, 2, 3])
def test_lead_acid_that_holds_just_what_is_asked_for_is_enough(
    case: MakeCase, strings: int
) -> None:
    found = case(f"{VAN} chemistry=agm")
    demand, bank = demand_of(found), found.design.bank
    _, each_wh = demand.lead_string(bank.battery, bank.series, strings)
    for more_wh, count in ((0.0, strings), (0.01, strings + 1)):
        demand.hold_wh = strings * each_wh + more_wh
        assert strings_of(demand, bank.battery).for_energy == count


@pytest.mark.parametrize("text", [f"{VAN} loads=kettle:0h,tv", TWO_AIRCONS])
def test_what_runs_on_ac_loses_what_each_unit_loses_at_its_share_of_the_usual_power(
    case: MakeCase, text: str
) -> None:
    """E_loss = E · (a + b · P); the units share the load, and what is off has no part in it."""
    found = case(text)
    on = on_bank_of(found.guide, found.needs, found.candidate.inverter.dc_nominal)
    need, curve = found.design.bank.energy, found.supply.curve
    assert on.typical_ac_w > 1.0
    each_w = on.typical_ac_w / found.candidate.units
    lost = curve.proportional + curve.quadratic_per_w * each_w
    assert need.conversion_wh == pytest.approx(need.ac_wh * lost)
