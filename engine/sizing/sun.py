"""Where the sun stands: declination, equation of time, hour angle, angles to a plane.

Hours are of local solar time (the sun is highest at 12); `solar_noon_clock_h` leads to the clock.
Azimuths count clockwise from north: 180° faces south.
"""

from math import acos, asin, atan2, cos, degrees, radians, sin, tan
from typing import NamedTuple

from engine.sizing import guard
from engine.standards.solar_constants import (
    DISTANCE_AU,
    EQUATION_OF_CENTRE_DEG,
    FIRST_DAY,
    MEAN_ANOMALY_DEG,
    MEAN_LONGITUDE_DEG,
    OBLIQUITY_DEG,
    SOLAR_CONSTANT_W_PER_M2,
)


def declination_deg(day_of_year: int) -> float:
    """Angle of the sun above the plane of the equator.

    sin δ = sin ε · sin λ, λ = L + 1.915° sin g + 0.020° sin 2g

    Parameters
    ----------
    day_of_year : 1 is the first of January

    Returns
    -------
    Declination [°], north positive.

    Raises
    ------
    ValueError : if the day is not 1 … 366.

    Source: Astronomical Almanac, low precision, as in Michalsky (1988).

    >>> round(declination_deg(172), 1), round(declination_deg(355), 1)
    (23.4, -23.4)
    """
    return degrees(_declination_rad(day_of_year))


def equation_of_time_min(day_of_year: int) -> float:
    """Minutes by which a sundial is ahead of the mean sun.

    EoT = 4 min/° · (L − α), tan α = cos ε · tan λ

    Parameters
    ----------
    day_of_year : 1 is the first of January

    Returns
    -------
    Equation of time [min].

    Raises
    ------
    ValueError : if the day is not 1 … 366.

    Source: Astronomical Almanac, low precision, as in Michalsky (1988).

    >>> round(equation_of_time_min(306)), round(equation_of_time_min(43))
    (16, -14)
    """
    mean_deg, true_rad = _longitudes(day_of_year)
    tilt = radians(OBLIQUITY_DEG)
    right_ascension_deg = degrees(atan2(cos(tilt) * sin(true_rad), cos(true_rad)))
    return 4.0 * ((mean_deg - right_ascension_deg + 180.0) % 360.0 - 180.0)


def extraterrestrial_w_per_m2(day_of_year: int) -> float:
    """Power of the sun's rays above the air, on a plane that faces them.

    G = 1366.1 / r², r = 1.00014 − 0.01671 cos g − 0.00014 cos 2g

    Parameters
    ----------
    day_of_year : 1 is the first of January

    Returns
    -------
    Irradiance [W/m²].

    Raises
    ------
    ValueError : if the day is not 1 … 366.

    Source: ASTM E490; distance as in Michalsky (1988).

    >>> round(extraterrestrial_w_per_m2(3))
    1413
    """
    anomaly = _anomaly_rad(day_of_year)
    constant, of_one, of_two = DISTANCE_AU
    distance = constant + of_one * cos(anomaly) + of_two * cos(2.0 * anomaly)
    return SOLAR_CONSTANT_W_PER_M2 / (distance * distance)


def solar_noon_clock_h(longitude_deg: float, day_of_year: int, zone_h: float) -> float:
    """Clock time at which the sun is highest.

    t = 12 + zone − longitude / 15 − EoT / 60

    Parameters
    ----------
    longitude_deg : longitude, east positive [°]
    day_of_year : 1 is the first of January
    zone_h : clock's lead over universal time [h]; −7 for mountain standard time

    Returns
    -------
    Clock time [h].

    Raises
    ------
    ValueError : if the longitude is not −180 … 180 or the day not 1 … 366.

    Source: definition of the equation of time.

    >>> round(solar_noon_clock_h(-105.0, 43, -7.0), 2)
    12.24
    """
    guard.finite(zone_h=zone_h)
    if not -180 <= longitude_deg <= 180:
        raise ValueError(f"longitude_deg must be between -180 and 180, got {longitude_deg!r}")
    return 12.0 + zone_h - longitude_deg / 15.0 - equation_of_time_min(day_of_year) / 60.0


def sunset_hour_angle_deg(latitude_deg: float, day_of_year: int) -> float:
    """Hour angle of sunset; sunrise is its negative.

    cos ω_s = −tan φ · tan δ

    Parameters
    ----------
    latitude_deg : latitude, north positive [°]
    day_of_year : 1 is the first of January

    Returns
    -------
    Hour angle [°]; 0 when the sun stays down, 180 when it stays up.

    Raises
    ------
    ValueError : if the latitude is not −90 … 90 or the day not 1 … 366.

    Source: spherical trigonometry.

    >>> round(sunset_hour_angle_deg(43.0, 105))
    99
    """
    _check_latitude(latitude_deg)
    declination = _declination_rad(day_of_year)
    return degrees(acos(_clip(-tan(radians(latitude_deg)) * tan(declination))))


def elevation_deg(latitude_deg: float, day_of_year: int, solar_hour: float) -> float:
    """Height of the sun above the horizon, without the air's refraction.

    sin h = sin φ sin δ + cos φ cos δ cos ω, ω = 15° · (t − 12)

    Parameters
    ----------
    latitude_deg : latitude, north positive [°]
    day_of_year : 1 is the first of January
    solar_hour : local solar time [h]

    Returns
    -------
    Elevation [°], negative at night.

    Raises
    ------
    ValueError : if the latitude is not −90 … 90, the day not 1 … 366 or the hour not finite.

    Source: spherical trigonometry.

    >>> round(elevation_deg(40.0, 172, 12.0), 1)
    73.4
    """
    guard.finite(solar_hour=solar_hour)
    level = plane_angles(latitude_deg, day_of_year, 0.0, 180.0)
    return degrees(asin(_clip(level.cosine(radians(15.0 * (solar_hour - 12.0))))))


class PlaneAngles(NamedTuple):
    """Cosine of the angle between sun and a plane's normal, as a function of the hour angle."""

    constant: float
    of_cosine: float
    of_sine: float

    def cosine(self, hour_angle_rad: float) -> float:
        """cos θ at an hour angle; negative when the sun is behind the plane."""
        return (
            self.constant
            + self.of_cosine * cos(hour_angle_rad)
            + self.of_sine * sin(hour_angle_rad)
        )


def plane_angles(
    latitude_deg: float, day_of_year: int, tilt_deg: float, azimuth_deg: float
) -> PlaneAngles:
    """Incidence of the sun on a plane through one day.

    cos θ = A + B cos ω + C sin ω, with A, B and C from latitude, declination, tilt and azimuth

    Parameters
    ----------
    latitude_deg : latitude, north positive [°]
    day_of_year : 1 is the first of January
    tilt_deg : tilt of the plane, 0 is level [°]
    azimuth_deg : where the plane faces, clockwise from north [°]

    Returns
    -------
    The three coefficients; a level plane gives the sine of the sun's height.

    Raises
    ------
    ValueError : if the latitude is not −90 … 90, the tilt not 0 … 90, the azimuth not finite or
        the day not 1 … 366.

    Source: spherical trigonometry, Duffie & Beckman eq. 1.6.2.

    >>> round(degrees(acos(plane_angles(43.0, 44, 45.0, 195.0).cosine(radians(-22.5)))), 0)
    35.0
    """
    _check_latitude(latitude_deg)
    guard.finite(azimuth_deg=azimuth_deg)
    if not 0 <= tilt_deg <= 90:
        raise ValueError(f"tilt_deg must be between 0 (level) and 90, got {tilt_deg!r}")
    latitude, tilt = radians(latitude_deg), radians(tilt_deg)
    from_south = radians(azimuth_deg - 180.0)
    declination = _declination_rad(day_of_year)
    facing = sin(tilt) * cos(from_south)
    return PlaneAngles(
        sin(declination) * (sin(latitude) * cos(tilt) - cos(latitude) * facing),
        cos(declination) * (cos(latitude) * cos(tilt) + sin(latitude) * facing),
        cos(declination) * sin(tilt) * sin(from_south),
    )


def _days(day_of_year: int) -> int:
    if not 1 <= day_of_year <= 366:
        raise ValueError(f"day_of_year must be between 1 and 366, got {day_of_year!r}")
    return FIRST_DAY + day_of_year - 1


def _anomaly_rad(day_of_year: int) -> float:
    start_deg, daily_deg = MEAN_ANOMALY_DEG
    return radians(start_deg + daily_deg * _days(day_of_year))


def _longitudes(day_of_year: int) -> tuple[float, float]:
    """Mean longitude of the sun [°] and true longitude [rad]."""
    start_deg, daily_deg = MEAN_LONGITUDE_DEG
    of_one, of_two = EQUATION_OF_CENTRE_DEG
    anomaly = _anomaly_rad(day_of_year)
    mean_deg = start_deg + daily_deg * _days(day_of_year)
    return mean_deg, radians(mean_deg + of_one * sin(anomaly) + of_two * sin(2.0 * anomaly))


def _declination_rad(day_of_year: int) -> float:
    _, longitude_rad = _longitudes(day_of_year)
    return asin(sin(radians(OBLIQUITY_DEG)) * sin(longitude_rad))


def _check_latitude(latitude_deg: float) -> None:
    if not -90 <= latitude_deg <= 90:
        raise ValueError(f"latitude_deg must be between -90 and 90, got {latitude_deg!r}")


def _clip(cosine: float) -> float:
    return max(-1.0, min(1.0, cosine))
