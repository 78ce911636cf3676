"""Allowable current of direct-current conductors.

Source: 33 CFR 183.425 Table 5, with its notes 1 and 2 [CGD 73-217, 42 FR 5944, 1977; amended
48 FR 55736, 1983]. It is United States law for boats; for vehicles it is the published table
that fits best, since it goes by insulation class and is made for single stranded conductors.
The basis of 30 °C outside engine spaces and 50 °C inside them is from a trade copy of the
government's boat builder's guide.
"""

from typing import Final

from engine.standards.awg import SIZES

AMBIENT_C: Final = 30.0
"""Ambient temperature that the table stands on [°C]."""

ENGINE_SPACE_C: Final = 50.0
"""Ambient temperature that note 1 stands on [°C]."""

INSULATIONS_C: Final = (60, 75, 80, 90, 105, 125, 200)
"""Temperature ratings of conductor insulation, the columns of the table [°C]."""

_ROWS: Final = {
    "18": (10, 10, 15, 20, 20, 25, 25),
    "16": (15, 15, 20, 25, 25, 30, 35),
    "14": (20, 20, 25, 30, 35, 40, 45),
    "12": (25, 25, 35, 40, 45, 50, 55),
    "10": (40, 40, 50, 55, 60, 70, 70),
    "8": (55, 65, 70, 70, 80, 90, 100),
    "6": (80, 95, 100, 100, 120, 125, 135),
    "4": (105, 125, 130, 135, 160, 170, 180),
    "3": (120, 145, 150, 155, 180, 195, 210),
    "2": (140, 170, 175, 180, 210, 225, 240),
    "1": (165, 195, 210, 210, 245, 265, 280),
    "1/0": (195, 230, 245, 245, 285, 305, 325),
    "2/0": (225, 265, 285, 285, 330, 355, 370),
    "3/0": (260, 310, 330, 330, 385, 410, 430),
    "4/0": (300, 360, 385, 385, 445, 475, 510),
}

AMPACITY_A: Final = {
    insulation: {size: float(_ROWS[size][column]) for size in SIZES}
    for column, insulation in enumerate(INSULATIONS_C)
}
"""Allowable current by insulation class [°C] and size [AWG], at 30 °C ambient [A]."""

ENGINE_SPACE_FACTOR: Final = dict(
    zip(INSULATIONS_C, (0.58, 0.75, 0.78, 0.82, 0.85, 0.89, 1.00), strict=True)
)
"""Note 1: factor inside engine spaces, by insulation class [–].

All but the last equal the temperature equation at 50 °C within 0.01. For 200 °C insulation the
law allows 1.00 where the equation gives 0.94; the sizing takes the equation, the stricter one.
"""

_BUNDLE: Final = ((2, 1.0), (3, 0.70), (6, 0.60), (24, 0.50))
_BUNDLE_LARGEST: Final = 0.40


def column(insulation_c: int) -> dict[str, float]:
    """Column of the table for an insulation class: size [AWG] to current [A].

    Raises
    ------
    ValueError : if the class is not a column of the table; the message names those that are.
    """
    try:
        return AMPACITY_A[insulation_c]
    except KeyError:
        accepted = ", ".join(map(str, INSULATIONS_C))
        raise ValueError(
            f"insulation_c must be one of {accepted} °C, got {insulation_c!r}"
        ) from None


def bundle_factor(conductors: int) -> float:
    """Note 2: factor for current-carrying conductors that are bundled together.

    Parameters
    ----------
    conductors : current-carrying conductors in the bundle; a lone pair is 2 [–]

    Returns
    -------
    Factor on the ampacity [–].

    Raises
    ------
    ValueError : if there is not at least one conductor.

    Source: 33 CFR 183.425 Table 5 note 2. 183.435(b) makes it binding for circuits of 50 V and
    more; for lower voltages it is careful practice.

    >>> bundle_factor(4)
    0.6
    """
    if not conductors >= 1:
        raise ValueError(f"conductors must be 1 or more, got {conductors!r}")
    for most, factor in _BUNDLE:
        if conductors <= most:
            return factor
    return _BUNDLE_LARGEST
