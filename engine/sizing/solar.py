"""What solar panels give: light on their plane, cell temperature, losses, energy of a day.

Hours are of local solar time; azimuths count clockwise from north, 180° faces south.
"""

from collections.abc import Callable, Mapping
from math import ceil, cos, exp, floor, pi, radians

from engine.sizing import guard
from engine.sizing.sky import ClearSky, MeanSky, Sky
from engine.sizing.sun import plane_angles, sunset_hour_angle_deg
from engine.standards.solar_constants import (
    AVERAGE_DAY,
    GROUND_ALBEDO,
    MOUNTINGS,
    PVWATTS_LOSSES_PERCENT,
    ROOF_LOSSES_PERCENT,
)

# Crystalline silicon; PVWatts takes −0.35 % for premium and −0.47 % for standard panels (memory).
TEMPERATURE_COEFFICIENT_PER_K = -0.0035
CONTROLLER_EFFICIENCY = 0.95  # charge controller that tracks the power point; common practice
# Gauss's three points: an hour's mean of so smooth a curve to a thousandth.
HOUR_POINTS = ((-0.7745966692414834, 5 / 18), (0.0, 8 / 18), (0.7745966692414834, 5 / 18))

SkyAt = Callable[[float, float], Sky]


def hourly_plane_w_per_m2(
    latitude_deg: float,
    day_of_year: int,
    tilt_deg: float,
    azimuth_deg: float,
    altitude_m: float,
    turbidity: float = 3.0,
) -> tuple[float, ...]:
    """Mean light of a clear day on a plane, hour by hour.

    G = beam · cos θ + diffuse · (1 + cos β) / 2 + level · ρ · (1 − cos β) / 2

    Parameters
    ----------
    latitude_deg : latitude, north positive [°]
    day_of_year : 1 is the first of January
    tilt_deg : tilt of the panel, 0 is flat on the roof [°]
    azimuth_deg : where the panel faces, clockwise from north [°]
    altitude_m : height above the sea [m]
    turbidity : Linke turbidity of the air

    Returns
    -------
    Mean irradiance of each of the 24 hours of solar time [W/m²].

    Raises
    ------
    ValueError : if an angle, the day, the altitude or the turbidity is out of its range.

    Source: engine.sizing.sky (Ineichen & Perez); isotropic sky, Liu & Jordan (1963).

    >>> noon = hourly_plane_w_per_m2(40.0, 172, 0.0, 180.0, 200.0)[12]
    >>> 940 < noon < 1000
    True
    """
    clear = ClearSky(day_of_year, altitude_m, turbidity)
    return _hourly(latitude_deg, day_of_year, tilt_deg, azimuth_deg, clear.at)


def daily_clear_sky_wh_per_m2(
    latitude_deg: float,
    day_of_year: int,
    tilt_deg: float,
    azimuth_deg: float,
    altitude_m: float,
    turbidity: float = 3.0,
) -> float:
    """Light of a clear day on a plane.

    H = Σ G over the 24 hours

    Parameters
    ----------
    latitude_deg : latitude, north positive [°]
    day_of_year : 1 is the first of January
    tilt_deg : tilt of the panel, 0 is flat on the roof [°]
    azimuth_deg : where the panel faces, clockwise from north [°]
    altitude_m : height above the sea [m]
    turbidity : Linke turbidity of the air

    Returns
    -------
    Irradiation of the day [Wh/m²].

    Raises
    ------
    ValueError : if an angle, the day, the altitude or the turbidity is out of its range.

    Source: as `hourly_plane_w_per_m2`.

    >>> round(daily_clear_sky_wh_per_m2(40.0, 172, 0.0, 180.0, 200.0), -2)
    8500.0
    """
    return sum(
        hourly_plane_w_per_m2(
            latitude_deg, day_of_year, tilt_deg, azimuth_deg, altitude_m, turbidity
        )
    )


def hourly_mean_plane_w_per_m2(
    latitude_deg: float,
    month: int,
    tilt_deg: float,
    clearness: float,
    azimuth_deg: float = 180.0,
) -> tuple[float, ...]:
    """Mean light on a plane, hour by hour, on the average day of a month with its clouds.

    As `hourly_plane_w_per_m2`, with the sky of the month's clearness index

    Parameters
    ----------
    latitude_deg : latitude, north positive [°]
    month : 1 … 12
    tilt_deg : tilt of the panel, 0 is flat on the roof [°]
    clearness : mean clearness index of the month, level irradiation over that above the air
    azimuth_deg : where the panel faces, clockwise from north [°]

    Returns
    -------
    Mean irradiance of each of the 24 hours of solar time [W/m²].

    Raises
    ------
    ValueError : if an angle, the month or the clearness is out of its range.

    Source: engine.sizing.sky; average days of the months: Klein (1977).

    >>> light = hourly_mean_plane_w_per_m2(43.0, 4, 0.0, 0.5)  # above the air 34 MJ/m²
    >>> round(sum(light) * 0.0036, 1)
    17.1
    """
    if month not in range(1, 13):
        raise ValueError(f"month must be between 1 and 12, got {month!r}")
    day_of_year = AVERAGE_DAY[month - 1]
    mean = MeanSky(latitude_deg, day_of_year, clearness)
    return _hourly(latitude_deg, day_of_year, tilt_deg, azimuth_deg, mean.at)


def cell_temperature_c(
    irradiance: float,
    ambient_c: float,
    wind_m_per_s: float = 1.0,
    mounting: str = "close_roof",
) -> float:
    """Temperature of the cells in a panel.

    T_c = G · exp(a + b · v) + T_air + G / 1000 · ΔT

    Parameters
    ----------
    irradiance : light on the panel [W/m²]
    ambient_c : temperature of the air [°C]
    wind_m_per_s : wind at 10 m [m/s]
    mounting : open_rack, close_roof (brackets on a roof) or insulated_back (glued on)

    Returns
    -------
    Cell temperature [°C].

    Raises
    ------
    ValueError : if the light or wind is negative, a value not finite or the mounting unknown.

    Source: King, Boyson & Kratochvil (2004), Sandia photovoltaic array performance model.

    >>> round(cell_temperature_c(1000.0, 10.0, 0.0, "open_rack"), 3)
    44.117
    """
    guard.not_negative(irradiance=irradiance, wind_m_per_s=wind_m_per_s)
    guard.finite(ambient_c=ambient_c)
    if mounting not in MOUNTINGS:
        raise ValueError(f"mounting must be one of {', '.join(MOUNTINGS)}, got {mounting!r}")
    a, b, cell_above_module_k = MOUNTINGS[mounting]
    return (
        irradiance * exp(a + b * wind_m_per_s)
        + ambient_c
        + irradiance / 1000.0 * cell_above_module_k
    )


def dc_power_w(irradiance: float, rated_w: float, temp_coefficient: float, cell_c: float) -> float:
    """Power of a panel before its losses.

    P = G / 1000 · P_rated · (1 + γ · (T_c − 25 °C)), not below zero

    Parameters
    ----------
    irradiance : light on the panel [W/m²]
    rated_w : power on the panel's label, at 1000 W/m² and 25 °C [W]
    temp_coefficient : γ, change of power with the cells' temperature, −0.005 … 0 [1/K]
    cell_c : cell temperature [°C]

    Returns
    -------
    Power [W].

    Raises
    ------
    ValueError : if light or rating is negative, a value is not finite, or the coefficient is
        above zero or below −0.01 (written in per cent by mistake).

    Source: PVWatts version 5 manual, NREL (2014).

    >>> round(dc_power_w(900.0, 400.0, -0.0035, 60.0), 1)
    315.9
    """
    guard.not_negative(irradiance=irradiance, rated_w=rated_w)
    guard.finite(cell_c=cell_c)
    if not -0.01 <= temp_coefficient <= 0.0:
        raise ValueError(
            "temp_coefficient must be between -0.01 and 0 per kelvin "
            f"(-0.35 %/K is -0.0035), got {temp_coefficient!r}"
        )
    return max(irradiance / 1000.0 * rated_w * (1.0 + temp_coefficient * (cell_c - 25.0)), 0.0)


def loss_factor(losses_percent: Mapping[str, float] = PVWATTS_LOSSES_PERCENT) -> float:
    """Share of a panel's power that is left after dirt, shade, wiring and the like.

    f = Π (1 − L_i / 100)

    Parameters
    ----------
    losses_percent : each loss by its name [%]

    Returns
    -------
    Factor, 0 … 1.

    Raises
    ------
    ValueError : if a loss is not 0 … 100.

    Source: PVWatts version 5 manual, NREL (2014), and its defaults: 14.08 % in all.

    >>> round(loss_factor(), 6)
    0.859243
    """
    factor = 1.0
    for name, percent in losses_percent.items():
        if not 0.0 <= percent <= 100.0:
            raise ValueError(f"loss {name} must be between 0 and 100 %, got {percent!r}")
        factor *= 1.0 - percent / 100.0
    return factor


def hourly_yield_w(
    rated_w: float,
    latitude_deg: float,
    month: int,
    tilt_deg: float,
    clearness: float,
    ambient_c: float,
    *,
    azimuth_deg: float = 180.0,
    temp_coefficient: float = TEMPERATURE_COEFFICIENT_PER_K,
    mounting: str = "close_roof",
    wind_m_per_s: float = 1.0,
    losses_percent: Mapping[str, float] = ROOF_LOSSES_PERCENT,
    controller_efficiency: float = CONTROLLER_EFFICIENCY,
) -> tuple[float, ...]:
    """Power of panels into the battery, hour by hour, on the average day of a month.

    P = P_dc(G, T_c(G)) · f · η_controller

    Parameters
    ----------
    rated_w : power on the panels' labels together [W]
    latitude_deg : latitude, north positive [°]
    month : 1 … 12
    tilt_deg : tilt of the panels, 0 is flat on the roof [°]
    clearness : mean clearness index of the month (engine.standards.clearness)
    ambient_c : temperature of the air by day [°C]
    azimuth_deg : where the panels face, clockwise from north [°]
    temp_coefficient : change of power with the cells' temperature [1/K]
    mounting : as in `cell_temperature_c`
    wind_m_per_s : wind [m/s]
    losses_percent : as in `loss_factor` [%]
    controller_efficiency : efficiency of the charge controller, 0 … 1

    Returns
    -------
    Mean power at the battery in each of the 24 hours of solar time [W].

    Raises
    ------
    ValueError : if a value is out of its range.

    Source: PVWatts version 5 manual, NREL (2014), over the parts above.

    >>> power = hourly_yield_w(400.0, 40.0, 6, 0.0, 0.55, 25.0)
    >>> len(power), power[0], 190.0 < power[12] < 215.0
    (24, 0.0, True)
    """
    guard.fraction(controller_efficiency=controller_efficiency)
    kept = loss_factor(losses_percent) * controller_efficiency
    light = hourly_mean_plane_w_per_m2(latitude_deg, month, tilt_deg, clearness, azimuth_deg)
    return tuple(
        kept
        * dc_power_w(
            irradiance,
            rated_w,
            temp_coefficient,
            cell_temperature_c(irradiance, ambient_c, wind_m_per_s, mounting),
        )
        for irradiance in light
    )


def daily_yield_wh(
    rated_w: float,
    latitude_deg: float,
    month: int,
    tilt_deg: float,
    clearness: float,
    ambient_c: float,
) -> float:
    """Energy of panels into the battery on the average day of a month.

    E = Σ P over the 24 hours of `hourly_yield_w`, with its stated defaults

    Parameters
    ----------
    rated_w : power on the panels' labels together [W]
    latitude_deg : latitude, north positive [°]
    month : 1 … 12
    tilt_deg : tilt of the panels, 0 is flat on the roof [°]
    clearness : mean clearness index of the month (engine.standards.clearness)
    ambient_c : temperature of the air by day [°C]

    Returns
    -------
    Energy of the day [Wh].

    Raises
    ------
    ValueError : if a value is out of its range.

    Source: as `hourly_yield_w`.

    >>> 1600 < daily_yield_wh(400.0, 40.0, 6, 0.0, 0.55, 25.0) < 1900
    True
    """
    return sum(hourly_yield_w(rated_w, latitude_deg, month, tilt_deg, clearness, ambient_c))


def _hourly(
    latitude_deg: float, day_of_year: int, tilt_deg: float, azimuth_deg: float, sky_at: SkyAt
) -> tuple[float, ...]:
    """Mean irradiance on a plane in each hour, from the sky at points of it while the sun is up."""
    level = plane_angles(latitude_deg, day_of_year, 0.0, azimuth_deg)
    plane = plane_angles(latitude_deg, day_of_year, tilt_deg, azimuth_deg)
    up = (1.0 + cos(radians(tilt_deg))) / 2.0
    ground = GROUND_ALBEDO * (1.0 - up)
    half_day_h = sunset_hour_angle_deg(latitude_deg, day_of_year) / 15.0
    sunrise, sunset = 12.0 - half_day_h, 12.0 + half_day_h
    hours = [0.0] * 24
    for hour in range(floor(sunrise), min(ceil(sunset), 24)):
        start, end = max(float(hour), sunrise), min(hour + 1.0, sunset)
        middle, half = (start + end) / 2.0, (end - start) / 2.0
        for place, weight in HOUR_POINTS:
            hour_angle = (middle + half * place - 12.0) * pi / 12.0
            sine = level.cosine(hour_angle)
            beam, diffuse = sky_at(sine, hour_angle)
            facing = max(plane.cosine(hour_angle), 0.0)
            light = beam * (facing + ground * sine) + diffuse * (up + ground)
            hours[hour] += 2.0 * half * weight * light
    return tuple(hours)
