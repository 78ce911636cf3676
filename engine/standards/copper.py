"""What copper is like: the constants that every conductor figure rests on.

Source: 100 % IACS copper as tabulated in NBS Handbook 100 (1966), *Copper Wire Tables*.
"""

RESISTIVITY_20C_OHM_M = 1.7241e-8
"""Resistivity at 20 °C [Ω·m]; 0.017241 Ω·mm²/m, or 58 MS/m."""

TEMPERATURE_COEFFICIENT_20C_PER_K = 3.93e-3
"""Rise of resistance a kelvin, as a share of the resistance at 20 °C [1/K]."""

DENSITY_KG_PER_M3 = 8890.0
"""Density [kg/m³]; 8.89 g/cm³."""

LOWEST_C = -100.0
HIGHEST_C = 250.0
"""Where the straight line R20·[1 + α·(T − 20)] is used here [°C].

It covers every insulation class and every climate; outside it a temperature is a slip of the
keyboard (common practice, no source).
"""


def resistance_factor(from_c: float, to_c: float) -> float:
    """Resistance at one temperature over the resistance at another.

    k = [1 + α20 · (T2 − 20)] / [1 + α20 · (T1 − 20)]

    Parameters
    ----------
    from_c : temperature at which the resistance is known [°C]
    to_c : temperature at which it is wanted [°C]

    Returns
    -------
    The factor to multiply the known resistance by [–].

    Raises
    ------
    ValueError : if a temperature is outside −100 … 250 °C or not a number.

    Source: NBS Handbook 100 (1966); IEC 60228 prints the same law as correction factors, for
    example 0.820 to bring a resistance measured at 75 °C back to 20 °C (test within 0.003).

    >>> round(resistance_factor(75.0, 20.0), 3)
    0.822
    """
    for name, value in (("from_c", from_c), ("to_c", to_c)):
        if not LOWEST_C <= value <= HIGHEST_C:
            raise ValueError(
                f"{name} must be between {LOWEST_C:.0f} and {HIGHEST_C:.0f} °C, got {value!r}"
            )
    alpha = TEMPERATURE_COEFFICIENT_20C_PER_K
    return (1 + alpha * (to_c - 20.0)) / (1 + alpha * (from_c - 20.0))
