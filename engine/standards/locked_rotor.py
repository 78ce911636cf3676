"""Starting of motors: code letters of locked-rotor input, rooftop air conditioners, soft starters.

A motor at rest draws its locked-rotor current until it turns; that first moment sizes the source.
"""

from dataclasses import dataclass
from typing import Literal

# Source: NEC Table 430.7(B), seen in three secondary copies that agree but for one hundredth at
# some edges (3.54 or 3.55); each band here ends 0.01 below the next, so that no value is in two.
# kVA per horsepower with locked rotor: (from, to). The last band has no upper edge.
KVA_PER_HORSEPOWER: dict[str, tuple[float, float | None]] = {
    "A": (0.0, 3.14),
    "B": (3.15, 3.54),
    "C": (3.55, 3.99),
    "D": (4.0, 4.49),
    "E": (4.5, 4.99),
    "F": (5.0, 5.59),
    "G": (5.6, 6.29),
    "H": (6.3, 7.09),
    "J": (7.1, 7.99),
    "K": (8.0, 8.99),
    "L": (9.0, 9.99),
    "M": (10.0, 11.19),
    "N": (11.2, 12.49),
    "P": (12.5, 13.99),
    "R": (14.0, 15.99),
    "S": (16.0, 17.99),
    "T": (18.0, 19.99),
    "U": (20.0, 22.39),
    "V": (22.4, None),
}


@dataclass(frozen=True, slots=True)
class RooftopAirConditioner:
    """Nameplate currents of a rooftop unit with a single-speed compressor, 120 V 60 Hz [A]."""

    compressor_rated_a: float
    compressor_locked_a: float
    fan_rated_a: float
    fan_locked_a: float
    source: str


# The nameplate governs. Columns that report 19–32 A for a stock start were read on slow meters and
# contradict the locked-rotor current on the plate, so they are not used.
_UNIT_DATA = "unit-data table of a published installation manual (secondary copy)"
ROOFTOP_AIR_CONDITIONERS: dict[str, RooftopAirConditioner] = {
    "13500-btu": RooftopAirConditioner(12.7, 68.0, 2.8, 8.0, _UNIT_DATA),
    "15000-btu": RooftopAirConditioner(13.2, 70.0, 2.8, 8.0, _UNIT_DATA),
}

# Source: a logged start of a 15,000 BTU/h unit, 50–65 A without and about 24 A with an electronic
# soft starter, which is 52–63 % less (secondary); 50–70 % from memory. Here it is taken off the
# locked-rotor current with its fan, which is more than that log's start: 36 A are planned for 24 A.
SOFT_START_REDUCTION = 0.5


@dataclass(frozen=True, slots=True)
class StartReduction:
    """From which share to which soft starters lower a start, and the start that it is a share of.

    base : "locked-rotor" is the current on the nameplate, "measured-peak" what a meter caught
        without one, which is less
    """

    base: Literal["locked-rotor", "measured-peak"]
    least: float
    most: float
    source: str


# The same soft starter is 65 % by the one base and 52 % by the other: neither is said without it.
START_REDUCTIONS: dict[str, StartReduction] = {
    each.base: each
    for each in (
        StartReduction("locked-rotor", 0.65, 0.75, "a trailer magazine, 2018 (secondary)"),
        StartReduction(
            "measured-peak", 0.52, 0.63, "a trade column's log, 24 A of 50 to 65 A (secondary)"
        ),
    )
}
# Common practice, no source: nothing on the market is planned to take away more than this share of
# the locked rotor.
MOST_SOFT_START_REDUCTION = 0.8
# Source: the same logged starts, about 0.1 s without a soft starter (secondary).
START_S = 0.1
# Common practice, no source: a soft starter ramps over about half a second.
SOFT_START_S = 0.5
