"""Metric cross-sections in the content: each is planned as a gauge that is no better."""

import re

from engine.kept import kept
from engine.standards import awg, copper
from engine.standards.metric_cable import PLAIN_OHM_PER_KM_20C

_AREA = re.compile(r"(\d+(?:\.\d+)?)\s*mm(?:2|²)")


def gauge_of(text: str) -> str:
    """The gauge that a size such as "35 mm2" is planned as; any other text stays as it is.

    It is the thickest gauge that has no more copper and no less resistance, so that ampacity and
    voltage drop stay on the safe side. Source: areas of ASTM B258-02; resistances of IEC 60228
    class 5 and NEC chapter 9 table 8, both at 20 °C.

    >>> gauge_of("35 mm2"), gauge_of("16 mm²"), gauge_of("2/0")
    ('3', '6', '2/0')
    """
    found = _AREA.fullmatch(text.strip())
    return _gauge(float(found[1])) or text if found else text


@kept("never", None)
def _gauge(area_mm2: float) -> str | None:
    ohm_per_km = PLAIN_OHM_PER_KM_20C.get(area_mm2)
    if ohm_per_km is None:
        return None
    warm = copper.resistance_factor(20.0, 75.0)
    able = [
        size
        for size in awg.SIZES
        if awg.area_m2(size) * 1e6 <= area_mm2
        and awg.STRANDED_OHM_PER_M_75C[size] * 1000 / warm >= ohm_per_km
    ]
    return max(able, key=awg.rank, default=None)
