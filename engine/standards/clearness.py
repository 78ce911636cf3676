"""Typical clearness of the sky, month by month, in five kinds of climate.

The clearness index is the light on the level ground over that above the air, a month's mean.

Source: from memory, rounded; the shape of the United States station records of 1961 to 1990 (NREL
solar radiation manual). Enough to plan by, with the worst month of the journey: June, December and
the year come within a tenth of a station's record in each climate, and a tilted panel's yearly mean
falls into the band that the manual is quoted for (tests/standards). Northern half of the world,
January first.
"""

from types import MappingProxyType
from typing import Final

CLEARNESS: Final = MappingProxyType(
    {
        # desert southwest
        "dry": (0.62, 0.64, 0.66, 0.69, 0.70, 0.70, 0.65, 0.65, 0.67, 0.66, 0.63, 0.60),
        # gulf coast and southeast
        "humid": (0.48, 0.50, 0.52, 0.55, 0.54, 0.53, 0.51, 0.51, 0.52, 0.54, 0.51, 0.49),
        # midwest and northeast
        "continental": (0.45, 0.48, 0.48, 0.48, 0.49, 0.51, 0.52, 0.51, 0.49, 0.47, 0.40, 0.39),
        # pacific northwest
        "marine": (0.30, 0.36, 0.41, 0.44, 0.47, 0.49, 0.55, 0.54, 0.51, 0.42, 0.32, 0.28),
        # front range and high plateaus of the Rockies: bright winters, afternoon clouds in summer
        "mountain": (0.56, 0.57, 0.58, 0.58, 0.57, 0.59, 0.59, 0.59, 0.60, 0.59, 0.57, 0.55),
    }
)

# Neither the best nor the worst of them: for a rig whose route nobody has told.
USUAL_CLIMATE: Final = "continental"


def typical_clearness(month: int, climate: str = USUAL_CLIMATE) -> float:
    """Mean clearness index of a month.

    Parameters
    ----------
    month : 1 … 12
    climate : dry, humid, continental, marine or mountain

    Returns
    -------
    Clearness index, 0 … 1.

    Raises
    ------
    ValueError : if the month or the climate is unknown.

    Source: the table above, from memory.

    >>> typical_clearness(6), typical_clearness(12, "marine")
    (0.51, 0.28)
    """
    if month not in range(1, 13):
        raise ValueError(f"month must be between 1 and 12, got {month!r}")
    if climate not in CLEARNESS:
        raise ValueError(f"climate must be one of {', '.join(CLEARNESS)}, got {climate!r}")
    return CLEARNESS[climate][month - 1]
