"""Coefficients of sun, panel and losses, cell by cell; clearness by the sun hours it leads to."""

from datetime import date
from typing import Any

import pytest

from engine.sizing.solar import hourly_mean_plane_w_per_m2
from engine.standards import clearness, solar_constants
from engine.standards.air import AIR
from tests.reader import published

SUN = published("sun_position")
LOSSES = published("pvwatts_losses")
SUN_HOURS = published("sun_hours")
STATIONS = published("stations_level")
DAYS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


def test_every_constant_of_the_sun_is_as_published() -> None:
    ours = {name: getattr(solar_constants, name.upper()) for name in SUN}
    assert {
        name: list(value) if isinstance(value, tuple) else value for name, value in ours.items()
    } == SUN


def test_the_first_day_is_counted_from_noon_of_the_year_2000() -> None:
    assert (date(2026, 1, 1) - date(2000, 1, 1)).days == solar_constants.FIRST_DAY


def test_every_mounting_is_as_published() -> None:
    ours = {name: list(mounting) for name, mounting in solar_constants.MOUNTINGS.items()}
    assert ours == published("cell_temperature")


def test_every_default_loss_is_as_published() -> None:
    assert dict(solar_constants.PVWATTS_LOSSES_PERCENT) == LOSSES["losses_percent"]


def test_roof_losses_differ_from_the_published_ones_in_dirt_and_shade_only() -> None:
    roof, published_losses = solar_constants.ROOF_LOSSES_PERCENT, LOSSES["losses_percent"]
    changed = {name for name, percent in roof.items() if percent != published_losses[name]}
    assert changed == {"soiling", "shading"}
    assert all(roof[name] > published_losses[name] for name in changed)


@pytest.mark.parametrize("climate", SUN_HOURS)
def test_typical_clearness_leads_to_the_sun_hours_quoted_for_its_region(climate: str) -> None:
    region: Any = SUN_HOURS[climate]
    latitude_deg = float(region["latitude_deg"])
    days = [
        sum(
            hourly_mean_plane_w_per_m2(
                latitude_deg, month, latitude_deg, clearness.typical_clearness(month, climate)
            )
        )
        for month in range(1, 13)
    ]
    low, high = region["band"]
    assert low <= sum(days) / 12 / 1000 <= high


@pytest.mark.parametrize("station", STATIONS)
def test_june_december_and_the_year_are_within_a_tenth_of_a_station_record(station: str) -> None:
    record: Any = STATIONS[station]
    days_wh = [
        sum(
            hourly_mean_plane_w_per_m2(
                record["latitude_deg"],
                month,
                0.0,
                clearness.typical_clearness(month, record["climate"]),
            )
        )
        for month in range(1, 13)
    ]
    year_wh = sum(wh * days for wh, days in zip(days_wh, DAYS, strict=True)) / 365
    found = (year_wh, days_wh[5], days_wh[11])
    assert found == pytest.approx((record["year"], record["june"], record["december"]), rel=0.1)


def test_every_climate_has_a_station_and_its_air() -> None:
    assert {record["climate"] for record in STATIONS.values()} == set(clearness.CLEARNESS)
    assert set(AIR) == set(clearness.CLEARNESS)


def test_every_climate_has_sun_hours_to_be_checked_by() -> None:
    assert set(clearness.CLEARNESS) == set(SUN_HOURS)


def test_a_dry_climate_is_the_clearest_in_every_month() -> None:
    for month in range(1, 13):
        others = [clearness.typical_clearness(month, name) for name in ("humid", "marine")]
        assert clearness.typical_clearness(month, "dry") > max(others)


def test_unknown_month_or_climate_is_refused_with_what_is_known() -> None:
    with pytest.raises(ValueError, match="month must be between 1 and 12, got 13"):
        clearness.typical_clearness(13)
    with pytest.raises(ValueError, match="climate must be one of dry, humid, continental, marine"):
        clearness.typical_clearness(6, "rainy")
