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


def negative_to_frame(dc_positive_size: str, case_bond_size: str) -> str:
    """Lead from the battery's negative to the frame, one for each lead of the battery's positive.

    joint = thickest of 8 AWG, the positive lead and the case bond

    A fault from positive to the case goes through the case bond into the frame, and only through
    this lead back to the battery. As thick as the positive one, it bears what the fuse lets pass.

    Parameters
    ----------
    dc_positive_size : size of one battery-positive conductor, all units together [AWG]
    case_bond_size : size of the bond from a case to the frame [AWG]

    Returns
    -------
    Trade size [AWG].

    Raises
    ------
    ValueError : if a size is unknown.

    Source: NEC 552.10(C)(4), 2008, park trailers, for 8 AWG and the positive lead; that it is
    no thinner than the case bond is this project's careful choice.

    >>> negative_to_frame("2/0", "1/0"), negative_to_frame("10", "8")
    ('2/0', '8')
    """
    sizes = (grounding.BATTERY_TO_FRAME_SMALLEST, dc_positive_size, case_bond_size)
    return max(sizes, key=awg.rank)
