"""Climate, month, hottest and coldest air: what of the plan follows them."""

import pytest

from engine.advice.plan.charging import plan_charging
from engine.links import read_pairs
from engine.model.guide import Guide
from engine.model.needs import Load, Needs
from engine.needs import needs_of
from engine.sizing import weather
from engine.standards.air import AIR
from tests.advice.conftest import AIRCON, VAN, Case, MakeCase


def needs(guide: Guide, text: str) -> Needs:
    """What these answers ask for."""
    answers = read_pairs(guide, text.split())
    assert not answers.faults
    return needs_of(guide, answers)


def load(guide: Guide, text: str, name: str) -> Load:
    """One load of these answers."""
    return next(each for each in needs(guide, text).loads if each.id == name)


def test_a_link_without_climate_takes_the_continental_june(guide: Guide) -> None:
    found = needs(guide, VAN)
    assert found.weather.climate == "continental"
    assert {"climate", "month", "coldest"} <= set(found.assumed)
    mean_c, half_range_k = AIR["continental"].mean_c[5], AIR["continental"].half_range_k
    assert (found.weather.coldest_c, found.weather.bank_c) == (mean_c - half_range_k, mean_c)
    told = needs(guide, f"{VAN} coldest=50F").weather
    assert told.coldest_c == told.bank_c == pytest.approx(10.0)
    assert found.loads == found.listed


def test_a_place_stands_for_latitude_and_climate_unless_they_are_given(guide: Guide) -> None:
    found = needs(guide, f"{VAN} place=phoenix")
    assert (found.latitude_deg, found.weather.climate) == (33.0, "dry")
    found = needs(guide, f"{VAN} place=phoenix climate=marine lat=50")
    assert (found.latitude_deg, found.weather.climate) == (50.0, "marine")


def test_south_of_the_equator_january_is_summer(guide: Guide) -> None:
    south = needs(guide, f"{VAN} lat=-35 month=1").weather
    north = needs(guide, f"{VAN} lat=35 month=7").weather
    assert south == north


def test_an_air_conditioner_draws_a_quarter_more_at_96_than_at_70_degrees() -> None:
    """14 A at 70 °F and a quarter more at 96 °F (trade column, secondary)."""
    cool_w, hot_w = (weather.air_conditioner_w(1480.0, c) for c in (190 / 9, 320 / 9))
    assert hot_w / cool_w == pytest.approx(1.25, rel=0.01)


def test_above_100_degrees_an_air_conditioner_runs_without_pause(guide: Guide) -> None:
    """It runs without pause above 100 °F (trade column, secondary)."""
    assert load(guide, f"{AIRCON} ambient=111F", "aircon-15k").duty == 1.0
    listed = load(guide, AIRCON, "aircon-15k")
    desert = load(guide, f"{AIRCON} climate=dry month=7", "aircon-15k")
    assert desert.duty == 1.0
    assert desert.running_w > listed.running_w
    assert desert.locked_rotor_a == listed.locked_rotor_a


def test_heat_asks_for_more_of_inverter_and_bank(case: MakeCase) -> None:
    listed, hot = case(AIRCON).design, case(f"{AIRCON} climate=dry month=7").design
    assert hot.supply.planned_w > listed.supply.planned_w
    assert hot.bank.need_wh > 1.2 * listed.bank.need_wh


def test_a_refrigerator_runs_a_tenth_more_for_five_degrees(guide: Guide) -> None:
    """About 10 % more energy for every 5 °C above 25 °C (club magazine, secondary)."""
    listed = load(guide, VAN, "fridge-12v")
    desert = load(guide, f"{VAN} climate=dry month=7", "fridge-12v")
    mean_c = AIR["dry"].mean_c[6]
    assert desert.duty == pytest.approx(listed.duty * (1 + 0.1 * (mean_c - 25.0) / 5.0))


def test_the_cold_at_the_battery_is_not_the_heat_at_the_unit(case: MakeCase) -> None:
    """Lithium: 80 % at 0 °C, sellers' claims (secondary); charged from 0 °C (data sheets)."""

    def usable(found: Case) -> float:
        bank = found.design.bank
        return bank.usable_each_wh / (bank.battery.capacity * bank.battery.nominal)

    warm, cold = case(f"{VAN} coldest=25C ambient=120F"), case(f"{VAN} coldest=0C ambient=120F")
    assert usable(cold) / usable(warm) == pytest.approx(0.8)
    frozen = case(f"{VAN} coldest=-5C ambient=120F")
    assert frozen.design.bank.battery.lowest_charge_temperature <= -5.0
    assert frozen.check("charge-cold").value == -5.0


@pytest.mark.parametrize(
    ("text", "listed"),
    [
        (f"{VAN} coldest=4C", True),
        (f"{VAN} coldest=10C", False),
        (f"{VAN} month=12", True),
        (f"{VAN} chemistry=agm coldest=-10C", False),
    ],
)
def test_a_lithium_bank_near_freezing_gets_a_sensor(
    case: MakeCase, text: str, listed: bool
) -> None:
    groups = {line.group for line in case(text).design.parts}
    assert ("frost-sensor" in groups) is listed


def test_panels_are_as_warm_as_the_month_and_not_as_the_hottest_air(case: MakeCase) -> None:
    cool, hot = case(f"{VAN} solar=400W"), case(f"{VAN} solar=400W ambient=120F")
    assert plan_charging(cool.guide, cool.needs, cool.design).solar_daily_wh == pytest.approx(
        plan_charging(hot.guide, hot.needs, hot.design).solar_daily_wh
    )


def test_a_desert_sky_gives_more_than_a_rainy_one(case: MakeCase) -> None:
    """Phoenix 2,927 and Chicago 1,403 Wh/m² in December (TMY2), apart in latitude, too."""
    found = [
        plan_charging(each.guide, each.needs, each.design).solar_daily_wh
        for each in (
            case(f"{VAN} solar=400W month=12 coldest=50F place={place}")
            for place in ("phoenix", "chicago", "seattle")
        )
    ]
    assert found == sorted(found, reverse=True)
    assert found[0] / found[1] == pytest.approx(2927 / 1403, rel=0.15)


def test_an_idling_engine_charges_less_than_one_on_the_road(case: MakeCase) -> None:
    """0.32 of its rating at idle (marine data, secondary); a fifth of the hours (planning)."""
    found = case(f"{VAN} alt=180A drive=2h")
    plan = plan_charging(found.guide, found.needs, found.design)
    driven = plan.away.charged_wh["alternator"] + plan.away.direct_wh["alternator"]
    steady_wh = plan.alternator_a * plan.absorption_v * 2.0 * 7
    assert 0.0 < driven < steady_wh
