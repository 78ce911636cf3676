"""How bright the sky is: on a clear day, and on the mean day of a month."""

from math import asin, cos, degrees, exp, pi, radians, sin, tan
from typing import NamedTuple

from engine.sizing import guard
from engine.sizing.sun import extraterrestrial_w_per_m2, sunset_hour_angle_deg
from engine.standards.atmosphere import pressure_ratio


class Sky(NamedTuple):
    """Irradiance of the sun's disc on a plane facing it, and of the rest on the level [W/m²]."""

    beam_w_per_m2: float
    diffuse_w_per_m2: float


NIGHT = Sky(0.0, 0.0)


class ClearSky:
    """A cloudless day, after Ineichen and Perez.

    global = c₁ · G · sin h · exp(−c₂ · m · (f₁ + f₂ · (T_L − 1)))
    beam = b · G · exp(−0.09 · m · (T_L − 1)), bounded by an empirical correction for a low sun

    Parameters
    ----------
    day_of_year : 1 is the first of January
    altitude_m : height above the sea [m]
    turbidity : Linke turbidity, clean cold air 2, warm moist air 3, hazy air 5 or more

    Raises
    ------
    ValueError : if the day is not 1 … 366, the altitude out of the atmosphere's table or the
        turbidity below 1 (air without water or dust).

    Source: Ineichen & Perez (2002), Solar Energy 73, pages 151 to 157; air mass by Kasten & Young
    (1989); refraction by Saemundsson (1986).
    """

    def __init__(self, day_of_year: int, altitude_m: float, turbidity: float) -> None:
        guard.finite(turbidity=turbidity)
        if turbidity < 1.0:
            raise ValueError(f"turbidity must be 1 or more, got {turbidity!r}")
        self._above_w_per_m2 = extraterrestrial_w_per_m2(day_of_year)
        self._pressure = pressure_ratio(altitude_m)
        scale_1, scale_2 = exp(-altitude_m / 8000.0), exp(-altitude_m / 1250.0)
        self._global_factor = 5.09e-5 * altitude_m + 0.868
        self._global_depth = (3.92e-5 * altitude_m + 0.0387) * (
            scale_1 + scale_2 * (turbidity - 1.0)
        )
        self._beam_factor = 0.664 + 0.163 / scale_1
        self._beam_depth = 0.09 * (turbidity - 1.0)
        self._beam_bound = 1.0 - (0.1 - 0.2 * exp(-turbidity)) / (0.1 + 0.882 / scale_1)

    def at(self, sine_of_elevation: float, _hour_angle_rad: float) -> Sky:
        """Sky at a height of the sun."""
        elevation = degrees(asin(max(-1.0, min(1.0, sine_of_elevation))))
        if elevation <= 0.0:
            return NIGHT
        arc_minutes = 1.02 / tan(radians(elevation + 10.3 / (elevation + 5.11)))
        elevation += self._pressure * arc_minutes / 60.0
        sine = sin(radians(elevation))
        air_mass = self._pressure / (sine + 0.50572 * (elevation + 6.07995) ** -1.6364)
        above = self._above_w_per_m2
        level = self._global_factor * above * sine * exp(-self._global_depth * air_mass)
        beam = self._beam_factor * above * exp(-self._beam_depth * air_mass)
        beam = min(beam, level * self._beam_bound / sine)
        return Sky(beam, level - beam * sine)


class MeanSky:
    """The mean day of a month, sun and cloud together.

    H = K · H₀; diffuse share by Erbs, Klein and Duffie; over the day, the diffuse follows the sine
    of the sun's height (Liu and Jordan), the total that times a + b cos ω (Collares-Pereira and
    Rabl), scaled so that the day sums to H

    Parameters
    ----------
    latitude_deg : latitude, north positive [°]
    day_of_year : the month's average day
    clearness : mean daily clearness index K, level irradiation over that above the air, 0 … 0.85

    Raises
    ------
    ValueError : if the latitude is not −90 … 90, the day not 1 … 366 or the clearness not
        0 … 0.85.

    Source: Duffie & Beckman, Solar Engineering of Thermal Processes, sections 2.12 and 2.13; from
    memory. The diffuse share was fitted for K from 0.3 to 0.8; below, it is held under 1.
    """

    def __init__(self, latitude_deg: float, day_of_year: int, clearness: float) -> None:
        if not 0.0 <= clearness <= 0.85:
            raise ValueError(f"clearness must be between 0 and 0.85, got {clearness!r}")
        sunset = radians(sunset_hour_angle_deg(latitude_deg, day_of_year))
        shift = sunset - pi / 3
        constant, of_cosine = 0.409 + 0.5016 * sin(shift), 0.6609 - 0.4767 * sin(shift)
        day = sin(sunset) - sunset * cos(sunset)
        weight = 0.5 * (sunset - sin(sunset) * cos(sunset)) / day if day > 0.0 else 1.0
        total = constant + of_cosine * weight
        self._constant, self._of_cosine = constant / total, of_cosine / total
        self._diffuse_share = mean_diffuse_share(clearness, degrees(sunset))
        self._level_w_per_m2 = clearness * extraterrestrial_w_per_m2(day_of_year)

    def at(self, sine_of_elevation: float, hour_angle_rad: float) -> Sky:
        """Sky at an hour angle."""
        if sine_of_elevation <= 0.0:
            return NIGHT
        total = max(self._constant + self._of_cosine * cos(hour_angle_rad), 0.0)
        diffuse = min(self._diffuse_share, total)
        return Sky(
            self._level_w_per_m2 * (total - diffuse),
            self._level_w_per_m2 * diffuse * sine_of_elevation,
        )


def mean_diffuse_share(clearness: float, sunset_hour_angle_deg: float) -> float:
    """Share of a month's mean level irradiation that does not come straight from the sun.

    winter (ω_s up to 81.4°): 1.391 − 3.560 K + 4.189 K² − 2.137 K³
    else: 1.311 − 3.022 K + 3.427 K² − 1.821 K³; never above 1

    Parameters
    ----------
    clearness : mean daily clearness index K, 0 … 0.85
    sunset_hour_angle_deg : hour angle of sunset on the average day [°]

    Returns
    -------
    Diffuse share, 0 … 1.

    Raises
    ------
    ValueError : if a value is not a fraction or the angle negative.

    Source: Erbs, Klein & Duffie (1982), from memory; fitted for 0.3 ≤ K ≤ 0.8.

    >>> round(mean_diffuse_share(0.5, 75.0), 3), round(mean_diffuse_share(0.5, 105.0), 3)
    (0.391, 0.429)
    """
    guard.fraction(clearness=clearness)
    guard.not_negative(sunset_hour_angle_deg=sunset_hour_angle_deg)
    k = clearness
    if sunset_hour_angle_deg <= 81.4:
        share = 1.391 - 3.560 * k + 4.189 * k * k - 2.137 * k**3
    else:
        share = 1.311 - 3.022 * k + 3.427 * k * k - 1.821 * k**3
    return min(share, 1.0)
