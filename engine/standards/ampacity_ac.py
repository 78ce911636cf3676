"""Allowable current of alternating-current branch and supply conductors, copper.

Sources: NEC Table 310.16 (at most three current-carrying conductors, 30 °C ambient), Table
310.15(B)(1) (ambient), Table 310.15(C)(1) (number of conductors), 2020 and 2023 numbering.
"""

from typing import Final

AMBIENT_C: Final = 30.0
"""Ambient temperature that the table stands on [°C]."""

INSULATIONS_C: Final = (60, 75, 90)
"""Temperature ratings of insulation and of terminals, the columns of the table [°C]."""

# Editions up to about 2008 printed 20 and 25 A at 60 °C for 14 and 12 AWG. The present edition
# is taken: it is the law now, and 240.4(D) held those sizes to 15 and 20 A then as well.
_ROWS: Final = {
    "14": (15, 20, 25),
    "12": (20, 25, 30),
    "10": (30, 35, 40),
    "8": (40, 50, 55),
    "6": (55, 65, 75),
    "4": (70, 85, 95),
    "3": (85, 100, 110),
    "2": (95, 115, 130),
    "1": (110, 130, 150),
    "1/0": (125, 150, 170),
    "2/0": (145, 175, 195),
    "3/0": (165, 200, 225),
    "4/0": (195, 230, 260),
}

SIZES: Final = tuple(_ROWS)
"""Sizes that the table holds, thin to thick [AWG]."""

AMPACITY_A: Final = {
    insulation: {size: float(row[column]) for size, row in _ROWS.items()}
    for column, insulation in enumerate(INSULATIONS_C)
}
"""Allowable current by temperature class [°C] and size [AWG], at 30 °C ambient [A]."""

PARALLEL_SMALLEST: Final = "1/0"
"""Smallest conductor that may be run in parallel [AWG]; NEC 310.10(G), from memory."""

# Upper edge of each ambient band, then the factor for 60, 75 and 90 °C; 0 where the table has
# a dash, since such a conductor may carry nothing there.
_AMBIENT: Final = (
    (10.0, (1.29, 1.20, 1.15)),
    (15.0, (1.22, 1.15, 1.12)),
    (20.0, (1.15, 1.11, 1.08)),
    (25.0, (1.08, 1.05, 1.04)),
    (30.0, (1.00, 1.00, 1.00)),
    (35.0, (0.91, 0.94, 0.96)),
    (40.0, (0.82, 0.88, 0.91)),
    (45.0, (0.71, 0.82, 0.87)),
    (50.0, (0.58, 0.75, 0.82)),
    (55.0, (0.41, 0.67, 0.76)),
    (60.0, (0.00, 0.58, 0.71)),
    (65.0, (0.00, 0.47, 0.65)),
    (70.0, (0.00, 0.33, 0.58)),
    (75.0, (0.00, 0.00, 0.50)),
    (80.0, (0.00, 0.00, 0.41)),
    (85.0, (0.00, 0.00, 0.29)),
)

_ADJUSTMENT: Final = ((3, 1.00), (6, 0.80), (9, 0.70), (20, 0.50), (30, 0.45), (40, 0.40))
_ADJUSTMENT_LARGEST: Final = 0.35


def column(temperature_class_c: int) -> int:
    """Column of the tables for a temperature class.

    Raises
    ------
    ValueError : if the class is none of 60, 75 and 90 °C.
    """
    try:
        return INSULATIONS_C.index(temperature_class_c)
    except ValueError:
        raise ValueError(
            f"temperature class must be one of 60, 75, 90 °C, got {temperature_class_c!r}"
        ) from None


def ambient_factor(insulation_c: int, ambient_c: float) -> float:
    """Correction of the ampacity for the ambient temperature.

    Parameters
    ----------
    insulation_c : temperature rating of the insulation: 60, 75 or 90 [°C]
    ambient_c : ambient temperature along the conductor [°C]

    Returns
    -------
    Factor on the ampacity; 0 where the table allows no current [–].

    Raises
    ------
    ValueError : if the class is not in the table or the ambient is not a number.

    Source: NEC Table 310.15(B)(1), by band; a value between two bands falls into the hotter one.

    >>> ambient_factor(90, 40.0)
    0.91
    """
    place = column(insulation_c)
    if ambient_c - ambient_c != 0:
        raise ValueError(f"ambient_c must be finite, got {ambient_c!r}")
    for up_to_c, factors in _AMBIENT:
        if ambient_c <= up_to_c:
            return factors[place]
    return 0.0


def adjustment_factor(current_carrying: int) -> float:
    """Adjustment of the ampacity for the number of current-carrying conductors together.

    Parameters
    ----------
    current_carrying : current-carrying conductors in the same cable or raceway [–]

    Returns
    -------
    Factor on the ampacity; 1 up to three conductors [–].

    Raises
    ------
    ValueError : if there is not at least one conductor.

    Source: NEC Table 310.15(C)(1); it applies where they lie together for more than 24 in.

    >>> adjustment_factor(6)
    0.8
    """
    if not current_carrying >= 1:
        raise ValueError(f"current_carrying must be 1 or more, got {current_carrying!r}")
    for most, factor in _ADJUSTMENT:
        if current_carrying <= most:
            return factor
    return _ADJUSTMENT_LARGEST
