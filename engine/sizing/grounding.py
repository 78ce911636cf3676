"""Conductors that carry current only in a fault."""

from engine.sizing import guard
from engine.standards import awg, grounding


def equipment_ground(breaker_a: float) -> str:
    """Equipment grounding conductor, copper, for the rating of the protection.

    Parameters
    ----------
    breaker_a : rating of the breaker or fuse ahead of it, up to 800 [A]

    Returns
    -------
    Trade size; a rating between two rows takes the next row [AWG].

    Raises
    ------
    ValueError : if the rating is not positive or above 800 A.

    Source: NEC Table 250.122.

    >>> equipment_ground(30.0), equipment_ground(50.0), equipment_ground(100.0)
    ('10', '10', '8')
    """
    guard.positive(breaker_a=breaker_a)
    for up_to_a, size in grounding.EGC_AWG:
        if breaker_a <= up_to_a:
            return size
    raise ValueError(f"breaker_a must be 800 A or less, got {breaker_a!r}")


def chassis_bond(dc_positive_size: str) -> str:
    """Bond from the case of an inverter-charger to the chassis.

    bond = thicker of 8 AWG and one size below the battery positive

    Parameters
    ----------
    dc_positive_size : size of one battery-positive conductor of the unit [AWG]

    Returns
    -------
    Trade size [AWG].

    Raises
    ------
    ValueError : if the size is unknown.

    Source: NEC 551.20(C) for 8 AWG; ABYC A-31 for one size below; both together are this
    project's careful choice.

    >>> chassis_bond("2/0"), chassis_bond("10")
    ('1/0', '8')
    """
    below = awg.rank(dc_positive_size) - grounding.CHASSIS_BOND_SIZES_BELOW_POSITIVE
    return awg.SIZES[max(below, awg.rank(grounding.CHASSIS_BOND_SMALLEST))]
