"""The International Standard Atmosphere up to 11 km, and the density of dry air in it.

Source: ISO 2533:1975, Standard Atmosphere (constants from memory; pressure ratios checked against
0.964, 0.896, 0.832, 0.772 and 0.688 at 1,000, 3,000, 5,000, 7,000 and 10,000 ft).
"""

import math

SEA_LEVEL_PA = 101_325.0
SEA_LEVEL_K = 288.15
LAPSE_K_PER_M = 0.0065
GRAVITY_M_PER_S2 = 9.80665
GAS_CONSTANT_J_PER_KG_K = 287.05287
ZERO_CELSIUS_K = 273.15

# The lowest land is about 430 m below the sea; the lapse rate holds up to the tropopause.
LOWEST_M = -500.0
HIGHEST_M = 11_000.0

_EXPONENT = GRAVITY_M_PER_S2 / (GAS_CONSTANT_J_PER_KG_K * LAPSE_K_PER_M)


def pressure_ratio(altitude_m: float) -> float:
    """Air pressure at an altitude as a share of that at sea level.

    p/p0 = (1 − L·h/T0)^(g/(R·L))

    Parameters
    ----------
    altitude_m : height above the sea, −500 … 11,000 [m]

    Returns
    -------
    Ratio of pressures, 1 at sea level.

    Raises
    ------
    ValueError : if the altitude is outside the range or not finite.

    Source: ISO 2533:1975 (constants from memory).

    >>> round(pressure_ratio(5000 * 0.3048), 3)
    0.832
    """
    if not LOWEST_M <= altitude_m <= HIGHEST_M:
        raise ValueError(
            f"altitude_m must be between {LOWEST_M:g} and {HIGHEST_M:g}, got {altitude_m!r}"
        )
    ratio: float = (1 - LAPSE_K_PER_M * altitude_m / SEA_LEVEL_K) ** _EXPONENT
    return ratio


def air_density_kg_per_m3(altitude_m: float, temperature_c: float) -> float:
    """Density of dry air at an altitude and a temperature.

    ρ = p / (R·T)

    The temperature is that of the air itself, which in a compartment is not that of the standard
    atmosphere.

    Parameters
    ----------
    altitude_m : height above the sea, −500 … 11,000 [m]
    temperature_c : temperature of the air [°C]

    Returns
    -------
    Density [kg/m³].

    Raises
    ------
    ValueError : if the altitude is outside the range or the temperature at or below absolute zero.

    Source: ideal gas law; ISO 2533:1975 for pressure.

    >>> round(air_density_kg_per_m3(0.0, 15.0), 3)
    1.225
    """
    kelvin = temperature_c + ZERO_CELSIUS_K
    if not 0 < kelvin < math.inf:
        raise ValueError(
            f"temperature_c must be above absolute zero and finite, got {temperature_c!r}"
        )
    return pressure_ratio(altitude_m) * SEA_LEVEL_PA / (GAS_CONSTANT_J_PER_KG_K * kelvin)
