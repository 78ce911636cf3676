"""Ratings and places of fuses and circuit breakers.

Sources: NEC 240.6(A), 240.4(D), 210.20(A); 33 CFR 183.455 and 183.460.
"""

from typing import Final

STANDARD_RATINGS_A: Final = (
    15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0, 125.0,
    150.0, 175.0, 200.0, 225.0, 250.0, 300.0, 350.0, 400.0, 450.0, 500.0, 600.0,
    700.0, 800.0, 1000.0, 1200.0, 1600.0, 2000.0,
)  # fmt: skip
"""Standard ratings of fuses and inverse-time breakers, NEC 240.6(A) [A].

Those above 600 A are from memory.
"""

FUSE_ONLY_RATINGS_A: Final = (1.0, 3.0, 6.0, 10.0, 601.0)
"""Ratings that are standard for fuses alone, NEC 240.6(A) [A]."""

SMALL_CONDUCTOR_LIMIT_A: Final = {"18": 7.0, "16": 10.0, "14": 15.0, "12": 20.0, "10": 30.0}
"""Largest protection of small copper conductors, NEC 240.4(D) [A].

18 and 16 AWG are from memory and hold under conditions of that clause only.
"""

CONTINUOUS_FACTOR: Final = 1.25
"""Protection over continuous load, NEC 210.20(A) [–].

NEC 690.9(B) asks the same of the direct current of solar systems, from memory.
"""

CONTINUOUS_FROM_H: Final = 3.0
"""A load that lasts this long is continuous, NEC article 100, from memory [h]."""

FUSE_PLACE_M: Final = 7 * 0.0254
"""Longest way from the source of power to its protection, 33 CFR 183.455(b)(1) [m]: 7 in."""

FUSE_PLACE_SHEATHED_M: Final = 40 * 0.0254
"""The same where a sheath or enclosure covers it all the way, 183.455(b)(2) [m]: 40 in."""

FUSE_PLACE_BATTERY_M: Final = 72 * 0.0254
"""The same for the conductor that leaves a battery, 33 CFR 183.460(a) [m]: 72 in."""

FUSE_PLACE_VEHICLE_M: Final = 18 * 0.0254
"""Practice of land vehicles for an inverter's fuse, from installation manuals [m]: 18 in."""

FUSE_OVER_TABLE_LIMIT: Final = 1.5
"""Largest rating over the ampacity of Table 5 below 50 V, 33 CFR 183.455(c)(1) [–].

A legal maximum for boats. The sizing holds a fuse to the corrected ampacity, which is better.
"""

ALTERNATOR_FUSE_LIMIT: Final = 1.2
"""Largest alternator output fuse over its rated current at 60 °C, 33 CFR 183.460(b) [–]."""

MOST_LUGS_ON_A_STUD: Final = 4
"""Lugs on one stud, from memory of ABYC E-11; more of them want a busbar [–]."""
