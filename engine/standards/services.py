"""Shore services of recreational vehicles and what of them is planned on."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Service:
    """A shore service: voltage from each leg to neutral [V], rating of each leg [A], legs."""

    volts: float
    amps: float
    legs: int
    source: str


# Source of the ratings: power-supply assemblies of NEC 551.44(A)–(D) (clause from memory); the
# resulting 1,800, 2,400, 3,600 and 12,000 VA are arithmetic and agree with secondary copies.
SERVICES: dict[str, Service] = {
    "household-15": Service(120.0, 15.0, 1, "NEC 551.44(A), from memory"),
    "household-20": Service(120.0, 20.0, 1, "NEC 551.44(B), from memory"),
    "30": Service(120.0, 30.0, 1, "NEC 551.44(C), from memory"),
    "50": Service(120.0, 50.0, 2, "NEC 551.44(D), from memory"),
}

LARGEST_HOUSEHOLD_A = SERVICES["household-20"].amps

# Below it an energy management system cuts a 120 V leg off, and an air conditioner suffers: 104 to
# 105 V (trade pages, secondary).
LOW_SHORE_V = 104.0

# Source: NEC 210.20(A): a device at 1.25 × the continuous load carries 80 % of its rating.
CONTINUOUS_SHARE = 0.8

# Source: NEC 551.73(A), volt-amperes a site is reckoned at (secondary copies); it is a rule for
# the park's feeder and never sizes a vehicle. 9,600 until 2014; 12,000 from the 2017 edition.
PARK_SITE_VA: dict[str, float] = {"50": 12_000.0, "30": 3_600.0, "household-20": 2_400.0}
