"""What conductors carry, and how warm they get.

Two tables stand behind it. Direct current goes by 33 CFR 183.425 Table 5, alternating current
by NEC Table 310.16; they differ on purpose and are never mixed.
"""

from math import sqrt

from engine.sizing import guard
from engine.standards import ampacity_ac, ampacity_dc, awg
from engine.standards.overcurrent import SMALL_CONDUCTOR_LIMIT_A


def dc_temperature_factor(insulation_c: int, ambient_c: float) -> float:
    """Factor on the direct-current ampacity for an ambient other than 30 °C.

    k = √[(Tc − Ta) / (Tc − 30)], at most 1

    Parameters
    ----------
    insulation_c : temperature rating of the insulation [°C]
    ambient_c : temperature around the conductor [°C]

    Returns
    -------
    Factor, 1 up to 30 °C and 0 from the rating of the insulation up [–].

    Raises
    ------
    ValueError : if the insulation is not a column of the table or the ambient not finite.

    Source: NEC temperature equation, 310.15(B). It equals note 1 of 33 CFR 183.425 Table 5
    (50 °C) within 0.01, but for 200 °C insulation, where the law gives 1.00 and the equation
    0.94: the stricter is taken. Cold earns no credit, for a rig that is built in winter is
    driven in summer.

    >>> round(dc_temperature_factor(105, 50.0), 3)
    0.856
    """
    ampacity_dc.column(insulation_c)
    guard.finite(ambient_c=ambient_c)
    if ambient_c <= ampacity_dc.AMBIENT_C:
        return 1.0
    if ambient_c >= insulation_c:
        return 0.0
    return sqrt((insulation_c - ambient_c) / (insulation_c - ampacity_dc.AMBIENT_C))


def dc_ampacity_a(size: str, insulation_c: int, ambient_c: float, bundled: int = 2) -> float:
    """Current that a direct-current conductor may carry without end.

    I = I30 · √[(Tc − Ta) / (Tc − 30)] · bundle factor

    Parameters
    ----------
    size : trade size [AWG]
    insulation_c : temperature rating: 60, 75, 80, 90, 105, 125 or 200 [°C]
    ambient_c : temperature around the conductor; the engine space counts as 50 [°C]
    bundled : current-carrying conductors that lie in one bundle; a lone pair is 2 [–]

    Returns
    -------
    Ampacity; 0 where the surroundings are as hot as the insulation may get [A].

    Raises
    ------
    ValueError : if the size or insulation is not in the table, the ambient not finite, or the
        bundle below one conductor.

    Source: 33 CFR 183.425 Table 5 with note 2 (2/0 AWG, 105 °C: 330 A); temperature equation of
    NEC 310.15(B).

    >>> dc_ampacity_a("2/0", 105, 30.0)
    330.0
    >>> round(dc_ampacity_a("2/0", 105, 50.0), 1)
    282.6
    """
    column = ampacity_dc.column(insulation_c)
    try:
        listed_a = column[size]
    except KeyError:
        raise awg.unknown(size) from None
    factor = dc_temperature_factor(insulation_c, ambient_c)
    return listed_a * factor * ampacity_dc.bundle_factor(bundled)


def run_ampacity_a(listed_a: float, insulation_c: int, ambient_c: float, runs: int) -> float:
    """Current that a run of equal direct-current conductors may carry without end.

    I = n · I_listed · √(min(1, max(0, (T_ins − T) / (T_ins − 30))))

    Parameters
    ----------
    listed_a : I_listed, ampacity of one conductor at 30 °C, from the table [A]
    insulation_c : T_ins, temperature rating of the insulation [°C]
    ambient_c : T, temperature around the conductors [°C]
    runs : n, equal conductors in parallel a pole, clamped apart [–]

    Returns
    -------
    Ampacity [A].

    Raises
    ------
    ValueError : if the insulation is not a column of the table or the ambient not finite.

    Source: 33 CFR 183.425 Table 5 on its 30 °C basis; temperature equation of NEC 310.15(B).

    >>> round(run_ampacity_a(330.0, 105, 50.0, 2), 1)
    565.2
    """
    return listed_a * dc_temperature_factor(insulation_c, ambient_c) * runs


def ac_ampacity_a(
    size: str, insulation_c: int, terminal_c: int, ambient_c: float, current_carrying: int = 3
) -> float:
    """Current that an alternating-current conductor may carry without end.

    I = min(I[insulation] · ambient factor · adjustment, I[terminal])

    Parameters
    ----------
    size : trade size, 14 … 4/0 [AWG]
    insulation_c : temperature rating of the insulation: 60, 75 or 90 [°C]
    terminal_c : temperature rating of the terminals at both ends: 60, 75 or 90 [°C]
    ambient_c : temperature around the conductor [°C]
    current_carrying : current-carrying conductors in the same cable or raceway [–]

    Returns
    -------
    Ampacity; 0 where the table allows no current [A].

    Raises
    ------
    ValueError : if the size or a temperature class is not in the table, the ambient not finite,
        or the conductors below one.

    Source: NEC Table 310.16, Table 310.15(B)(1), Table 310.15(C)(1); limit of the terminals
    110.14(C).

    >>> ac_ampacity_a("10", 90, 60, 40.0)
    30.0
    >>> round(ac_ampacity_a("6", 90, 75, 40.0, current_carrying=6), 1)
    54.6
    """
    ampacity_ac.column(insulation_c)
    ampacity_ac.column(terminal_c)
    try:
        listed_a = ampacity_ac.AMPACITY_A[insulation_c][size]
    except KeyError:
        raise awg.unknown(size, ampacity_ac.SIZES) from None
    corrected_a = (
        listed_a
        * ampacity_ac.ambient_factor(insulation_c, ambient_c)
        * ampacity_ac.adjustment_factor(current_carrying)
    )
    return min(corrected_a, ampacity_ac.AMPACITY_A[terminal_c][size])


def conductor_temperature_c(
    current_a: float, ampacity_a: float, insulation_c: int, ambient_c: float
) -> float:
    """Temperature that a conductor settles at.

    T = T_amb + (T_ins − T_amb) · (I / I_amp)²

    Parameters
    ----------
    current_a : I, current in the conductor [A]
    ampacity_a : I_amp, its ampacity at this ambient, where it reaches its insulation's rating [A]
    insulation_c : T_ins, temperature rating of the insulation [°C]
    ambient_c : T_amb, temperature around the conductor [°C]

    Returns
    -------
    Temperature; above the rating when the current is above the ampacity [°C].

    Raises
    ------
    ValueError : if the current is negative, the ampacity not positive, or the ambient not below
        the insulation's rating.

    Source: heat balance behind the NEC temperature equation 310.15(B). Heat goes with the
    square of the current, and loss with the excess of temperature.

    >>> conductor_temperature_c(165.0, 330.0, 105, 30.0)
    48.75
    """
    guard.not_negative(current_a=current_a)
    guard.positive(ampacity_a=ampacity_a)
    guard.finite(ambient_c=ambient_c)
    if ambient_c >= insulation_c:
        raise ValueError(
            f"ambient_c must be below the insulation's {insulation_c} °C, got {ambient_c!r}"
        )
    return ambient_c + (insulation_c - ambient_c) * (current_a / ampacity_a) ** 2


def ac_conductor(
    breaker_a: float, insulation_c: int, terminal_c: int, ambient_c: float, current_carrying: int
) -> str:
    """Thinnest copper conductor that a breaker may protect.

    Iamp ≥ Ibreaker, and Ibreaker ≤ limit of small conductors

    Parameters
    ----------
    breaker_a : rating of the breaker [A]
    insulation_c : temperature rating of the insulation: 60, 75 or 90 [°C]
    terminal_c : temperature rating of the terminals: 60, 75 or 90 [°C]
    ambient_c : temperature around the conductor [°C]
    current_carrying : current-carrying conductors in the same cable or raceway [–]

    Returns
    -------
    Trade size [AWG].

    Raises
    ------
    ValueError : if no size of the table will do, or an argument is out of its range.

    Source: NEC Table 310.16 and 240.4(D). The next-size-up permission of 240.4(B) is not used.

    >>> ac_conductor(30.0, 90, 60, 40.0, 3)
    '10'
    >>> ac_conductor(50.0, 90, 60, 40.0, 3)
    '6'
    """
    guard.positive(breaker_a=breaker_a)
    for size in ampacity_ac.SIZES:
        if breaker_a > SMALL_CONDUCTOR_LIMIT_A.get(size, breaker_a):
            continue
        if ac_ampacity_a(size, insulation_c, terminal_c, ambient_c, current_carrying) >= breaker_a:
            return size
    raise ValueError(
        f"breaker_a of {breaker_a:g} A is more than a 4/0 AWG conductor may carry here: "
        f"{insulation_c} °C insulation, {terminal_c} °C terminals, {ambient_c:g} °C around it, "
        f"{current_carrying} conductors together"
    )
