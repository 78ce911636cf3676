"""Equipment grounding and chassis bonding conductors, copper.

Sources: NEC Table 250.122; NEC 551.20(C) (chassis bond of a recreational vehicle); NEC 552.10(C)(4)
(battery's lead to the frame); ABYC A-31 (direct-current grounding conductor against the positive
one).
"""

from typing import Final

EGC_AWG: Final = (
    (15.0, "14"),
    (20.0, "12"),
    (60.0, "10"),
    (100.0, "8"),
    (200.0, "6"),
    (300.0, "4"),
    (400.0, "3"),
    (500.0, "2"),
    (600.0, "1"),
    (800.0, "1/0"),
)
"""Up to this rating of the protection [A], this equipment grounding conductor [AWG].

NEC Table 250.122, copper.
"""

CHASSIS_BOND_SMALLEST: Final = "8"
"""Smallest bond of a power unit's case to the frame, NEC 551.20(C) [AWG]."""

CHASSIS_BOND_SIZES_BELOW_POSITIVE: Final = 1
"""Sizes by which the bond may be thinner than the battery positive, ABYC A-31 [–].

Allowed there where the fuse is at most 135 % of the bond's ampacity. An internal fault from
battery positive to the case comes back through the bond, so it must outlast the fuse.
"""

BATTERY_TO_FRAME_SMALLEST: Final = "8"
"""Smallest lead from the battery's negative to the frame, NEC 552.10(C)(4), park trailers [AWG]."""
