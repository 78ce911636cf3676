"""Metric cable in place of a gauge."""

from engine.standards import awg, copper, metric_cable


def metric_equal_mm2(size: str) -> float:
    """Metric cross-section to take in place of a gauge: the next that is not smaller.

    Parameters
    ----------
    size : trade size [AWG]

    Returns
    -------
    Nominal cross-section [mm²].

    Raises
    ------
    ValueError : if the size is unknown.

    Source: areas of IEC 60228 and ASTM B258-02. The area is not smaller, but the greatest
    resistance that class 5 allows may be above the stranded gauge's: by 6 % with 35 mm² for 2 AWG
    and by 4 % with 70 mm² for 2/0.

    >>> metric_equal_mm2("2/0"), metric_equal_mm2("6")
    (70.0, 16.0)
    """
    copper_mm2 = awg.area_m2(size) * 1e6
    return next(area for area in metric_cable.AREAS_MM2 if area >= copper_mm2)


def metric_resistance_ohm_per_m(area_mm2: float, temperature_c: float) -> float:
    """Greatest resistance of a flexible metric conductor, plain copper, class 5.

    r = r20 · [1 + α20 · (T − 20)]

    Parameters
    ----------
    area_mm2 : nominal cross-section [mm²]
    temperature_c : temperature of the conductor [°C]

    Returns
    -------
    Resistance of one conductor [Ω/m].

    Raises
    ------
    ValueError : if the cross-section is not one of the standard, or the temperature outside
        −100 … 250 °C.

    Source: IEC 60228 class 5 (70 mm²: 0.272 Ω/km at 20 °C).

    >>> round(metric_resistance_ohm_per_m(70.0, 20.0), 6)
    0.000272
    """
    try:
        known = metric_cable.PLAIN_OHM_PER_KM_20C[area_mm2] / 1000
    except KeyError:
        accepted = ", ".join(f"{area:g}" for area in metric_cable.AREAS_MM2)
        raise ValueError(f"area_mm2 must be one of {accepted}, got {area_mm2!r}") from None
    return known * copper.resistance_factor(20.0, temperature_c)
