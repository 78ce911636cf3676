"""The figures that the worked cases ascribe to pvlib are what the installed pvlib computes."""

from typing import Any

import numpy as np
import pandas as pd
import pvlib
import pytest

from site_src.build.cases import Case, cases

LONGITUDE_DEG = -100.0
CASES = [each for each in cases() if each.document and each.document.title.startswith("pvlib,")]


def _clear_day_wh_per_m2(
    latitude_deg: float,
    day_of_year: int,
    tilt_deg: float,
    azimuth_deg: float,
    altitude_m: float,
    turbidity: float,
) -> float:
    start = pd.Timestamp("2026-01-01", tz="UTC") + pd.Timedelta(
        days=day_of_year - 1, hours=-LONGITUDE_DEG / 15 - 12
    )
    minutes = pd.date_range(start, periods=24 * 60, freq="1min")
    sun = pvlib.solarposition.get_solarposition(minutes, latitude_deg, LONGITUDE_DEG, altitude_m)
    air_mass = pvlib.atmosphere.get_absolute_airmass(
        pvlib.atmosphere.get_relative_airmass(sun["apparent_zenith"]),
        pvlib.atmosphere.alt2pres(altitude_m),
    )
    above = pvlib.irradiance.get_extra_radiation(minutes)
    sky = pvlib.clearsky.ineichen(sun["apparent_zenith"], air_mass, turbidity, altitude_m, above)
    plane = pvlib.irradiance.get_total_irradiance(
        tilt_deg, azimuth_deg, sun["apparent_zenith"], sun["azimuth"],
        sky["dni"], sky["ghi"], sky["dhi"], albedo=0.2, model="isotropic",
    )  # fmt: skip
    return float(np.nansum(plane["poa_global"]) / 60)


def _elevation_deg(latitude_deg: float, day_of_year: int, solar_hour: float) -> float:
    day = pd.Timestamp("2026-01-01", tz="Etc/GMT+7") + pd.Timedelta(days=day_of_year - 1)
    transit = pvlib.solarposition.sun_rise_set_transit_spa(
        pd.DatetimeIndex([day]), latitude_deg, LONGITUDE_DEG
    )["transit"].iloc[0]
    moment = pd.DatetimeIndex([transit + pd.Timedelta(hours=solar_hour - 12)])
    sun = pvlib.solarposition.spa_python(moment, latitude_deg, LONGITUDE_DEG)
    return float(sun["elevation"].iloc[0])


MOUNTINGS = {
    "open_rack": "open_rack_glass_glass",
    "close_roof": "close_mount_glass_glass",
    "insulated_back": "insulated_back_glass_polymer",
}


def _cell_c(irradiance: float, ambient_c: float, wind_m_per_s: float, mounting: str) -> float:
    known = pvlib.temperature.TEMPERATURE_MODEL_PARAMETERS["sapm"][MOUNTINGS[mounting]]
    return float(pvlib.temperature.sapm_cell(irradiance, ambient_c, wind_m_per_s, **known))


def _left_of_losses() -> float:
    return 1 - float(pvlib.pvsystem.pvwatts_losses()) / 100


THEIRS: dict[str, Any] = {
    "daily_clear_sky_wh_per_m2": _clear_day_wh_per_m2,
    "elevation_deg": _elevation_deg,
    "cell_temperature_c": _cell_c,
    "loss_factor": _left_of_losses,
}


def test_there_are_such_cases() -> None:
    assert CASES


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_the_figure_is_what_pvlib_computes(case: Case) -> None:
    theirs = THEIRS[case.call.partition(":")[2]](**case.arguments)
    assert theirs == pytest.approx(case.gives, rel=1e-4)
