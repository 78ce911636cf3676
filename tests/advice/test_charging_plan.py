"""What refills the bank, and the week that follows from it."""

from dataclasses import replace
from itertools import pairwise

import pytest

from engine.advice.plan.charging import driving_a, hourly_load_w, plan_charging
from engine.advice.plan.shore import charger_of, hours_to_full
from engine.model.products import AlternatorCharger
from engine.model.sources import ChargingPlan
from engine.sizing.energy import balance_error_wh
from engine.sizing.solar import hourly_yield_w
from tests.advice.conftest import COACH, COOKING, TWO_AIRCONS, VAN, MakeCase


def plan(case: MakeCase, text: str) -> ChargingPlan:
    found = case(text)
    return plan_charging(found.guide, found.needs, found.design)


@pytest.mark.parametrize("text", [VAN, COOKING, COACH, TWO_AIRCONS, f"{COOKING} nights=3"])
def test_the_hours_of_the_day_add_up_to_the_days_energy(case: MakeCase, text: str) -> None:
    found = case(text)
    hours = hourly_load_w(found.needs, found.design)
    assert len(hours) == 24
    assert sum(hours) == pytest.approx(found.design.bank.need_wh / found.needs.nights)
    assert min(hours) > 0.0  # idle at least


def test_a_load_stands_at_its_usual_hour(case: MakeCase) -> None:
    found = case(f"{VAN} loads=kettle:1h,lights:1h")
    hours = hourly_load_w(found.needs, found.design)
    morning, evening = hours[7], hours[19]
    rest = [watts for hour, watts in enumerate(hours) if hour not in (7, 19)]
    assert morning > evening > max(rest)


def test_the_week_starts_full_and_keeps_its_balance(case: MakeCase) -> None:
    found = plan(case, f"{VAN} gen=2000W alt=180A drive=1h solar=400W")
    for week in (found.away, found.hooked_up):
        assert len(week.state) == 7 * 24 + 1
        assert week.state[0] == 1.0
        assert balance_error_wh(week) <= 1e-6 * week.throughput_wh
    assert found.week is found.away


def test_the_bank_lasts_at_least_the_days_it_was_planned_for(case: MakeCase) -> None:
    for nights in (1, 3):
        away = plan(case, f"{COOKING} nights={nights}").away
        assert away.runs_out_hour is None or away.runs_out_hour >= 24 * nights - 12


def test_away_is_without_shore_and_the_other_week_is_with_it(case: MakeCase) -> None:
    found = plan(case, f"{COOKING} nights=2")
    assert found.away.charged_wh["shore"] == 0.0
    assert found.hooked_up.charged_wh["shore"] > 0.0
    assert min(found.hooked_up.state) >= min(found.away.state)
    often = plan(case, f"{COOKING} nights=1")
    assert often.hooked_up.charged_wh["shore"] > found.hooked_up.charged_wh["shore"] * 0.5


def test_each_source_lifts_the_week(case: MakeCase) -> None:
    nothing = plan(case, VAN).away
    for more, source in (
        ("solar=300W", "solar"),
        ("alt=180A drive=2h", "alternator"),
        ("gen=2000W", "generator"),
    ):
        lifted = plan(case, f"{VAN} {more}").away
        assert lifted.charged_wh[source] + lifted.direct_wh[source] > 0.0
        assert lifted.unmet_wh < nothing.unmet_wh
        assert all(
            lifted.charged_wh[other] == 0.0 for other in lifted.charged_wh if other != source
        )


def test_the_drive_of_a_day_begins_in_the_late_morning(case: MakeCase) -> None:
    """A camp is left by ten and moved two hours: common practice, no source."""
    with_it, without = (plan(case, f"{VAN} {each}").away for each in ("alt=180A drive=2h", ""))
    gained = [a - b for a, b in zip(with_it.state, without.state, strict=True)]
    grown = [hour for hour in range(24) if gained[hour + 1] > gained[hour] + 1e-9]
    assert grown == [10, 11]


def test_a_large_generator_charges_no_faster_than_the_charger(case: MakeCase) -> None:
    small = plan(case, f"{COOKING} gen=6000W").away
    huge = plan(case, f"{COOKING} gen=20000W").away
    assert huge.charged_wh["generator"] == pytest.approx(small.charged_wh["generator"])


def test_times_to_full_go_with_the_current(case: MakeCase) -> None:
    found = plan(case, f"{VAN} alt=180A drive=2h gen=2000W")
    bank = case(f"{VAN} alt=180A drive=2h gen=2000W").design.bank
    least_h = bank.battery.usable * bank.capacity_ah / bank.charge_limit_a
    assert found.shore.hours is not None
    assert found.shore.hours > least_h
    assert found.alternator_hours is not None
    assert found.alternator_hours > least_h
    assert found.generator is not None
    assert found.generator.hours is not None
    assert plan(case, VAN).alternator_hours is None


def test_sun_fills_the_bank_only_where_it_gives_more_than_the_loads_take(case: MakeCase) -> None:
    assert plan(case, VAN).solar_days is None
    assert plan(case, f"{VAN} solar=200W lat=47 month=12").solar_days is None
    strong = plan(case, f"{VAN} solar=2000W lat=35 month=6")
    assert strong.solar_days is not None
    assert strong.solar_days > 0.0
    assert strong.away.runs_out_hour is None
    assert strong.solar_daily_wh > plan(case, f"{VAN} solar=2000W lat=35 month=12").solar_daily_wh


def test_the_alternator_stays_within_half_of_its_rating(case: MakeCase) -> None:
    """50 to 60 % for hours: trade practice, the low end."""
    found = case(f"{VAN} alt=100A drive=2h")
    set_a = plan(case, f"{VAN} alt=100A drive=2h").alternator_a
    charge_v = plan(case, VAN).absorption_v
    taken_a = set_a * charge_v / (0.88 * 14.0) + found.guide.planning.vehicle_load
    assert taken_a == pytest.approx(50.0)


def test_the_week_charges_no_faster_on_a_generator_than_its_limit_on_the_charger_s_leg(
    case: MakeCase,
) -> None:
    """A unit that passes two legs charges from one: 8 A of 2,000 W over two, 960 W at 120 V."""
    text = f"{COACH} gen=2000W"
    found, design = plan(case, text), case(text).design
    assert found.generator is not None
    assert (found.generator.legs, found.generator.input_limit_a) == (2, 8.0)
    hours = 7 * case(text).guide.planning.generator_hours
    most_w = 8.0 * 120.0 * design.candidate.inverter.charge_efficiency
    assert 0.0 < found.away.charged_wh["generator"] <= most_w * hours


def test_sources_of_the_week_are_current_times_voltage(case: MakeCase) -> None:
    """P = U · I: the road at the absorption voltage, the cord at 120 V a leg."""
    found = case(f"{COOKING} alt=180A drive=2h")
    plan = plan_charging(found.guide, found.needs, found.design)
    peak_w = max(offer[1] for offer in plan.away.offers_w)
    assert 0.3 * plan.alternator_a * plan.absorption_v <= peak_w
    assert peak_w <= plan.alternator_a * plan.absorption_v * 1.001
    shore_w = max(offer[2] for offer in plan.hooked_up.offers_w)
    legs_w = plan.shore.input_limit_a * plan.shore.legs * 120.0
    assert 0.8 * legs_w < shore_w < legs_w


def test_a_cord_of_two_legs_offers_the_chargers_what_both_carry(case: MakeCase) -> None:
    """P = U · I on each leg, times what the charger makes of it."""
    found, both = case(COACH), plan(case, COACH)
    efficiency = found.candidate.inverter.charge_efficiency
    assert (both.shore.legs, both.shore.input_limit_a) == (2, 40.0)
    offered_w = max(offer[2] for offer in both.hooked_up.offers_w)
    assert offered_w == pytest.approx(2 * 40.0 * 120.0 * efficiency)


def test_a_dc_dc_charger_makes_the_banks_voltage_and_spares_the_alternator(
    case: MakeCase,
) -> None:
    """Half of an alternator's rating for long, common practice (test above)."""
    found = case(f"{COOKING} bank=24V alt=180A drive=2h")
    (line,) = [each for each in found.design.parts if each.group == "alternator-charger"]
    charger = found.guide.article(line.product)
    assert isinstance(charger, AlternatorCharger)
    assert charger.output == 24.0
    assert charger.input_a <= 90.0


def test_a_dc_dc_charger_is_set_to_no_more_than_it_or_the_bank_may(case: MakeCase) -> None:
    found = case(f"{VAN} alt=400A drive=2h")
    (line,) = (each for each in found.design.parts if each.group == "alternator-charger")
    charger = found.guide.article(line.product)
    assert isinstance(charger, AlternatorCharger)
    for limit_a in (5.0, 1000.0):
        bank = replace(found.design.bank, charge_limit_a=limit_a)
        set_a, _ = driving_a(found.guide, found.needs, replace(found.design, bank=bank))
        assert set_a == min(limit_a, charger.current)


@pytest.mark.parametrize("watts", ["2000W", "9000W"])
def test_a_generator_gives_what_is_left_of_it_here_up_to_the_limit_of_each_leg(
    case: MakeCase, watts: str
) -> None:
    """P = U · I on each leg, times what the charger makes of it."""
    text = f"{COACH} gen={watts}"
    found, design = plan(case, text), case(text).design
    assert found.generator is not None
    limit_w = found.generator.input_limit_a * found.generator.legs * 120.0
    most_w = min(limit_w, found.generator.derated_w) * design.candidate.inverter.charge_efficiency
    assert max(offer[3] for offer in found.away.offers_w) == pytest.approx(most_w)


def test_without_panels_no_light_is_counted(case: MakeCase) -> None:
    found = plan(case, VAN)
    assert (found.solar_daily_wh, found.away.solar_wh, found.solar_days) == (0.0, 0.0, None)
    assert plan(case, f"{VAN} solar=200W").solar_daily_wh > 0.0


@pytest.mark.parametrize(("chemistry", "left"), [("lifepo4", 0.1), ("agm", 0.5), ("flooded", 0.5)])
def test_a_week_without_charging_ends_where_the_bank_is_empty_for_the_loads(
    case: MakeCase, chemistry: str, left: float
) -> None:
    """Lead-acid is planned on to half, lithium to what its maker allows (planning figures)."""
    text = f"{VAN} chemistry={chemistry}"
    away, battery = plan(case, text).away, case(text).design.bank.battery
    assert left - 0.11 <= 1.0 - battery.usable <= left + 0.11
    assert min(away.state) == pytest.approx(1.0 - battery.usable)
    assert away.unmet_wh > 0.0


@pytest.mark.parametrize("rate", [0.005, 0.01, 0.02])
@pytest.mark.parametrize("chemistry", ["lifepo4", "agm"])
def test_a_slow_charger_takes_what_the_bank_gives_over_its_current(
    case: MakeCase, chemistry: str, rate: float
) -> None:
    """Arithmetic: 80 Ah at 1 A are 80 h, whatever the kind, below its slowest acceptance."""
    design = case(f"{VAN} chemistry={chemistry}").design
    bank = design.bank
    hours = hours_to_full(design, rate * bank.capacity_ah)
    assert hours == pytest.approx(bank.battery.usable / rate)


@pytest.mark.parametrize(
    ("nights", "evenings"),
    [("1", [0, 1, 2, 3, 4, 5, 6]), ("2", [1, 3, 5]), ("3", [2, 5]), ("0.5", list(range(7)))],
)
def test_the_rig_is_plugged_in_on_the_last_evening_of_each_stretch_between_charges(
    case: MakeCase, nights: str, evenings: list[int]
) -> None:
    offers = [each[2] for each in plan(case, f"{COOKING} nights={nights}").hooked_up.offers_w]
    plugged_in = [
        hour for hour, (before, now) in enumerate(pairwise([0.0, *offers])) if now > before
    ]
    assert [hour // 24 for hour in plugged_in] == evenings


@pytest.mark.parametrize("text", [VAN, f"{VAN} chemistry=agm"])
def test_a_week_without_charging_gives_out_what_may_be_used_of_the_bank(
    case: MakeCase, text: str
) -> None:
    """Conservation of energy: it starts full and ends empty for the loads."""
    away, bank = plan(case, text).away, case(text).design.bank
    assert away.unmet_wh > 0.0
    assert away.load_wh - away.unmet_wh == pytest.approx(bank.usable_wh)


def test_on_shore_power_an_empty_bank_takes_the_full_current_of_the_charger(
    case: MakeCase,
) -> None:
    """P = U · I, less what the battery loses: no more than that, and not half of it."""
    text = f"{COOKING} nights=2"
    found, week = case(text), plan(case, text).hooked_up
    charger, bank = charger_of(found.needs, found.design), found.design.bank
    most = charger.most_a * charger.charge_v / (bank.usable_wh / bank.battery.usable)
    fastest = max(after - before for before, after in pairwise(week.state))
    assert 0.5 * most < fastest <= most


def test_panels_lie_flat_on_the_roof(case: MakeCase) -> None:
    found = case(f"{VAN} solar=400W lat=40 month=12")
    needs, weather = found.needs, found.needs.weather
    flat, tilted = (
        sum(hourly_yield_w(400.0, 40.0, 12, tilt_deg, weather.clearness, weather.mean_c))
        for tilt_deg in (0.0, 1.0)
    )
    assert flat < tilted
    daily_wh = plan_charging(found.guide, needs, found.design).solar_daily_wh
    assert daily_wh == pytest.approx(flat, rel=1e-6)
