"""Fuses, breakers and disconnects: how large, and where.

The door to all that concerns protection: the short circuit that a fuse must stop
(`short_circuit`) can be had from here.
"""

from engine.sizing import guard
from engine.sizing.short_circuit import (
    bank_short_circuit_a,
    cranking_interrupt_a,
    family_interrupt_a,
    interrupt_sufficient,
    planned_short_circuit_a,
    required_interrupt_a,
    short_circuit_from_resistance_a,
    stated_short_circuit_a,
)
from engine.standards import overcurrent

__all__ = [
    "bank_short_circuit_a",
    "branch_breaker_a",
    "choose_fuse_a",
    "cranking_interrupt_a",
    "disconnect_minimum_a",
    "family_interrupt_a",
    "fuse_minimum_a",
    "fuse_place_limit_m",
    "interrupt_sufficient",
    "next_standard_rating_a",
    "per_battery_protection_needed",
    "planned_short_circuit_a",
    "required_interrupt_a",
    "short_circuit_from_resistance_a",
    "stated_short_circuit_a",
]


def fuse_minimum_a(continuous_a: float, factor: float = overcurrent.CONTINUOUS_FACTOR) -> float:
    """Least rating of the fuse for a lasting current.

    I_f ≥ k · I

    Parameters
    ----------
    continuous_a : I, greatest lasting current, at the lowest battery voltage [A]
    factor : k, margin, so that the fuse does not age or open under its own load [–]

    Returns
    -------
    Least rating [A].

    Raises
    ------
    ValueError : if the current is negative, or the factor below 1 or not finite.

    Source: NEC 210.20(A) for 1.25 on alternating current; NEC 690.9(B) asks the same of the direct
    current of solar systems (from memory).

    >>> fuse_minimum_a(240.0)
    300.0
    """
    guard.not_negative(continuous_a=continuous_a)
    guard.positive(factor=factor)
    if factor < 1:
        raise ValueError(f"factor must be 1 or more, got {factor!r}")
    return continuous_a * factor


def next_standard_rating_a(current_a: float) -> float:
    """Smallest standard rating that is not below a current.

    Parameters
    ----------
    current_a : current that the rating must reach, up to 2000 [A]

    Returns
    -------
    Standard rating of a fuse or breaker, 15 or more [A].

    Raises
    ------
    ValueError : if the current is negative, not finite or above 2000 A.

    Source: NEC 240.6(A).

    >>> next_standard_rating_a(252.0)
    300.0
    """
    guard.not_negative(current_a=current_a)
    for rating_a in overcurrent.STANDARD_RATINGS_A:
        if rating_a >= current_a:
            return rating_a
    raise ValueError(
        f"current_a must be {overcurrent.STANDARD_RATINGS_A[-1]:.0f} A or less, got {current_a!r}"
    )


def choose_fuse_a(
    continuous_a: float,
    ratings_a: tuple[float, ...],
    factor: float = overcurrent.CONTINUOUS_FACTOR,
) -> float | None:
    """Smallest offered fuse for a lasting current.

    Parameters
    ----------
    continuous_a : greatest lasting current [A]
    ratings_a : ratings that are offered, in any order [A]
    factor : margin over the current [–]

    Returns
    -------
    Rating; None when the largest offered is too small [A].

    Raises
    ------
    ValueError : if the current is negative, the factor below 1, or a rating not positive.

    Source: as `fuse_minimum_a`.

    >>> choose_fuse_a(250.0, (200.0, 300.0, 350.0, 400.0))
    350.0
    """
    minimum_a = fuse_minimum_a(continuous_a, factor)
    guard.all_positive("ratings_a", ratings_a)
    return min((rating for rating in ratings_a if rating >= minimum_a), default=None)


def fuse_place_limit_m(sheathed: bool, from_battery: bool) -> float:
    """Longest conductor between a source of power and its fuse.

    Parameters
    ----------
    sheathed : True if a sheath or enclosure covers the conductor all the way
    from_battery : True for the conductor that leaves a battery

    Returns
    -------
    Greatest length along the conductor [m].

    Source: 33 CFR 183.455(b)(1) 7 in, (b)(2) 40 in, 183.460(a) 72 in. These are the limits of
    the law; land vehicles keep 18 in from the battery (installation manuals), and nearer is
    better.

    >>> round(fuse_place_limit_m(sheathed=False, from_battery=False), 4)
    0.1778
    """
    if from_battery:
        return overcurrent.FUSE_PLACE_BATTERY_M
    return overcurrent.FUSE_PLACE_SHEATHED_M if sheathed else overcurrent.FUSE_PLACE_M


def branch_breaker_a(load_a: float, continuous: bool) -> float:
    """Breaker of an alternating-current branch circuit.

    Ibreaker ≥ 1.25 · I for a continuous load, ≥ I else; then the next standard rating

    Parameters
    ----------
    load_a : load current [A]
    continuous : True if it lasts three hours or more

    Returns
    -------
    Standard rating [A].

    Raises
    ------
    ValueError : if the current is negative, or the rating would pass 2000 A.

    Source: NEC 210.20(A) and 240.6(A); three hours: NEC article 100, from memory.

    >>> branch_breaker_a(24.0, continuous=True), branch_breaker_a(24.0, continuous=False)
    (30.0, 25.0)
    """
    guard.not_negative(load_a=load_a)
    factor = overcurrent.CONTINUOUS_FACTOR if continuous else 1.0
    return next_standard_rating_a(load_a * factor)


def per_battery_protection_needed(parallel: int) -> bool:
    """Whether each string of a bank needs a fuse of its own besides the main one.

    n > 1: a fault on the cable of one string is fed by the others, past the main fuse

    Parameters
    ----------
    parallel : strings in parallel [–]

    Returns
    -------
    True for every bank with strings in parallel.

    Raises
    ------
    ValueError : if `parallel` is below 1.

    Source: ABYC E-11, July 2025 edition, 11.10.1.4.1 as quoted in the trade, above 500 Ah; smaller
    banks: common practice, no source.

    >>> per_battery_protection_needed(2), per_battery_protection_needed(1)
    (True, False)
    """
    guard.positive(parallel=parallel)
    return parallel > 1


def disconnect_minimum_a(continuous_a: float) -> float:
    """Least continuous rating of a battery disconnect, and of busbars and shunt beside it.

    I_s ≥ 1.25 · I

    As the fuse beside it, since it carries whatever the fuse lets pass.

    Parameters
    ----------
    continuous_a : I, greatest lasting current [A]

    Returns
    -------
    Least continuous rating [A].

    Raises
    ------
    ValueError : if the current is negative or not finite.

    Source: NEC 690.9(B), 1.25 on the direct current of solar systems (from memory).

    >>> disconnect_minimum_a(240.0)
    300.0
    """
    return fuse_minimum_a(continuous_a)
