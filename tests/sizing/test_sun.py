"""Where the sun stands, against the calendar, handbook examples and pvlib's own algorithm."""

from math import acos, degrees, radians

import pandas as pd
import pvlib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import sun

LATITUDES = st.floats(-90.0, 90.0)
DAYS = st.integers(1, 365)


def _pvlib_days() -> pd.DataFrame:
    """Sun at Greenwich, noon of universal time, on each day of 2026: it stands for all years."""
    noons = pd.date_range("2026-01-01 12:00", periods=365, freq="D", tz="UTC")
    return pvlib.solarposition.get_solarposition(noons, 40.0, 0.0)


def test_declination_is_within_a_hundredth_of_a_degree_of_pvlib_on_every_day() -> None:
    # at noon of its longitude: height = 90° - latitude + declination
    rows = _pvlib_days()
    for day, (height, minutes) in enumerate(
        zip(rows["elevation"], rows["equation_of_time"], strict=True), start=1
    ):
        hour = 12.0 + minutes / 60.0
        assert sun.elevation_deg(40.0, day, hour) == pytest.approx(height, abs=0.01), day


def test_equation_of_time_is_within_three_seconds_of_pvlib_on_every_day() -> None:
    for day, minutes in enumerate(_pvlib_days()["equation_of_time"], start=1):
        assert sun.equation_of_time_min(day) == pytest.approx(minutes, abs=0.05), day


def test_distance_of_the_sun_follows_pvlib() -> None:
    for day in range(1, 366):
        ours = sun.extraterrestrial_w_per_m2(day)
        theirs = pvlib.irradiance.get_extra_radiation(day, method="nrel", epoch_year=2026)
        assert ours == pytest.approx(theirs, rel=0.0006), day


def test_days_are_twelve_hours_at_the_equator_and_endless_beyond_the_circle() -> None:
    assert sun.sunset_hour_angle_deg(0.0, 200) == pytest.approx(90.0)
    assert sun.sunset_hour_angle_deg(70.0, 172) == 180.0
    assert sun.sunset_hour_angle_deg(70.0, 355) == 0.0


def test_clock_noon_is_late_west_of_the_zones_middle() -> None:
    # Denver stands on its zone's meridian; ten degrees west is 40 minutes later
    on, west = (sun.solar_noon_clock_h(longitude, 100, -7.0) for longitude in (-105.0, -115.0))
    assert west - on == pytest.approx(40 / 60)


@given(latitude=LATITUDES, day=DAYS, hour=st.floats(0.0, 12.0))
@settings(max_examples=100)
def test_mornings_and_afternoons_are_alike(latitude: float, day: int, hour: float) -> None:
    before = sun.elevation_deg(latitude, day, 12.0 - hour)
    assert before == pytest.approx(sun.elevation_deg(latitude, day, 12.0 + hour), abs=1e-6)


@given(latitude=st.floats(-65.0, 65.0), day=DAYS)
@settings(max_examples=100)
def test_the_sun_stands_on_the_horizon_at_sunset(latitude: float, day: int) -> None:
    hour = 12.0 + sun.sunset_hour_angle_deg(latitude, day) / 15.0
    assert sun.elevation_deg(latitude, day, hour) == pytest.approx(0.0, abs=1e-6)


@given(latitude=LATITUDES, day=DAYS, azimuth=st.floats(0.0, 360.0), hour=st.floats(-180, 180))
@settings(max_examples=100)
def test_a_level_plane_faces_nowhere(
    latitude: float, day: int, azimuth: float, hour: float
) -> None:
    south = sun.plane_angles(latitude, day, 0.0, 180.0).cosine(radians(hour))
    turned = sun.plane_angles(latitude, day, 0.0, azimuth).cosine(radians(hour))
    assert turned == pytest.approx(south, abs=1e-12)


@pytest.mark.parametrize("azimuth_deg", [90.0, 135.0, 180.0, 270.0])
@pytest.mark.parametrize("tilt_deg", [15.0, 60.0])
def test_angle_to_a_plane_is_as_pvlib_has_it(tilt_deg: float, azimuth_deg: float) -> None:
    moments = pd.date_range("2023-05-01 09:00", periods=8, freq="h", tz="UTC")
    rows = pvlib.solarposition.get_solarposition(moments, 40.0, 0.0)
    theirs = pvlib.irradiance.aoi(tilt_deg, azimuth_deg, rows["zenith"], rows["azimuth"])
    plane = sun.plane_angles(40.0, 121, tilt_deg, azimuth_deg)
    for moment, minutes, expected in zip(moments, rows["equation_of_time"], theirs, strict=True):
        hour_angle = 15.0 * (moment.hour + minutes / 60.0 - 12.0)
        angle = degrees(acos(plane.cosine(radians(hour_angle))))
        assert angle == pytest.approx(expected, abs=0.15)


def test_days_latitudes_tilts_and_longitudes_off_the_globe_are_refused() -> None:
    with pytest.raises(ValueError, match="day_of_year must be between 1 and 366, got 0"):
        sun.declination_deg(0)
    with pytest.raises(ValueError, match="latitude_deg must be between -90 and 90, got 91"):
        sun.sunset_hour_angle_deg(91.0, 1)
    with pytest.raises(ValueError, match=r"tilt_deg must be between 0 \(level\) and 90, got -5"):
        sun.plane_angles(40.0, 1, -5.0, 180.0)
    with pytest.raises(ValueError, match="latitude_deg"):
        sun.elevation_deg(float("nan"), 1, 12.0)
    with pytest.raises(ValueError, match="longitude_deg must be between -180 and 180"):
        sun.solar_noon_clock_h(200.0, 1, 0.0)
