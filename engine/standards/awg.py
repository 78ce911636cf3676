"""The American Wire Gauge: the sizes of the trade, their geometry and their resistance.

Sources: ASTM B258-02 (geometry); NEC chapter 9 table 8, direct-current resistance at 75 °C.
"""

from math import pi
from typing import Final

SIZES: Final = (
    "18", "16", "14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0",
)  # fmt: skip
"""Trade sizes, thin to thick."""

_RANK: Final = {size: place for place, size in enumerate(SIZES)}
_INCH_M: Final = 0.0254
_FOOT_M: Final = 0.3048
_RATIO: Final = 92 ** (1 / 39)

STRANDED_OHM_PER_1000_FT_75C: Final = {
    "18": 7.95, "16": 4.99, "14": 3.14, "12": 1.98, "10": 1.24, "8": 0.778, "6": 0.491,
    "4": 0.308, "3": 0.245, "2": 0.194, "1": 0.154,
    "1/0": 0.122, "2/0": 0.0967, "3/0": 0.0766, "4/0": 0.0608,
}  # fmt: skip
"""Stranded uncoated copper, NEC chapter 9 table 8 [Ω per 1000 ft at 75 °C]."""

SOLID_OHM_PER_1000_FT_75C: Final = {
    "18": 7.77, "16": 4.89, "14": 3.07, "12": 1.93, "10": 1.21, "8": 0.764,
}  # fmt: skip
"""Solid uncoated copper, NEC chapter 9 table 8 [Ω per 1000 ft at 75 °C]."""

COATED_OHM_PER_1000_FT_75C: Final = {
    "10": 1.29, "8": 0.809, "6": 0.510, "4": 0.321, "2": 0.201,
    "1/0": 0.127, "2/0": 0.101, "4/0": 0.0626,
}  # fmt: skip
"""Stranded tinned copper, NEC chapter 9 table 8, the sizes seen [Ω per 1000 ft at 75 °C]."""

STRANDED_OHM_PER_M_75C: Final = {
    size: value / (1000 * _FOOT_M) for size, value in STRANDED_OHM_PER_1000_FT_75C.items()
}
"""The stranded column in SI [Ω/m at 75 °C]."""


def unknown(size: object, accepted: tuple[str, ...] = SIZES) -> ValueError:
    """The error for a size that a table does not hold, naming those it holds."""
    return ValueError(f"size must be one of {', '.join(accepted)} AWG, got {size!r}")


def rank(size: str) -> int:
    """Place of a size among the trade sizes, 0 for the thinnest.

    Parameters
    ----------
    size : trade size, for example "2/0" [AWG]

    Returns
    -------
    Place in `SIZES`; a thicker conductor has a higher one [–].

    Raises
    ------
    ValueError : if the size is not a trade size; the message names those that are.

    Source: order of the gauge, ASTM B258-02.

    >>> rank("2/0") > rank("2")
    True
    """
    try:
        return _RANK[size]
    except (KeyError, TypeError):
        raise unknown(size) from None


def gauge_number(size: str) -> int:
    """Gauge number that the ASTM formula takes: 2/0 is −1.

    Parameters
    ----------
    size : trade size [AWG]

    Returns
    -------
    Gauge number n; 1/0, 2/0, 3/0 and 4/0 are 0, −1, −2 and −3 [–].

    Raises
    ------
    ValueError : if the size is not a trade size.

    Source: ASTM B258-02.

    >>> gauge_number("4/0")
    -3
    """
    rank(size)
    return 1 - int(size[0]) if size.endswith("/0") else int(size)


def diameter_m(size: str) -> float:
    """Diameter of the solid round conductor of a gauge.

    d = 0.005 in × 92^((36 − n) / 39)

    Parameters
    ----------
    size : trade size [AWG]

    Returns
    -------
    Diameter [m].

    Raises
    ------
    ValueError : if the size is not a trade size.

    Source: ASTM B258-02; 2 AWG is 6.544 mm.

    >>> round(diameter_m("2") * 1000, 3)
    6.544
    """
    return 0.005 * _INCH_M * _RATIO ** (36 - gauge_number(size))


def area_m2(size: str) -> float:
    """Copper cross-section of a gauge.

    A = π · d² / 4

    Parameters
    ----------
    size : trade size [AWG]

    Returns
    -------
    Cross-section [m²].

    Raises
    ------
    ValueError : if the size is not a trade size.

    Source: ASTM B258-02; 2/0 AWG is 67.43 mm².

    >>> round(area_m2("2/0") * 1e6, 2)
    67.43
    """
    return pi * diameter_m(size) ** 2 / 4


def circular_mils(size: str) -> float:
    """Cross-section in circular mils: the square of the diameter in thousandths of an inch.

    CM = (d / 0.001 in)²

    Parameters
    ----------
    size : trade size [AWG]

    Returns
    -------
    Cross-section [cmil].

    Raises
    ------
    ValueError : if the size is not a trade size.

    Source: ASTM B258-02; 4/0 AWG is 211,600 cmil.

    >>> round(circular_mils("4/0"))
    211600
    """
    return (diameter_m(size) / (0.001 * _INCH_M)) ** 2
