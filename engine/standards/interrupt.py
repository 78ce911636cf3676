"""What short-circuit current a fuse family can stop on direct current.

Sources: ABYC E-11 Table V-A and V-B and 11.10.1.2 as quoted in the trade; families as noted.
A fuse's own data sheet goes before this table.
"""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class FuseFamily:
    """One kind of fuse: what it can stop, up to which voltage, and who says so."""

    name: str
    interrupt_a: float
    volts: float
    source: str


_TRADE: Final = "trade tables, seen"
_MEMORY: Final = "from memory"

FUSE_FAMILIES: Final = (
    FuseFamily("blade", 1000.0, 32.0, _TRADE),
    FuseFamily("small bolt-down", 1000.0, 32.0, _TRADE),
    FuseFamily("large bolt-down", 2000.0, 32.0, _TRADE),
    FuseFamily("marine strip", 6000.0, 32.0, _MEMORY),
    FuseFamily("battery post", 10_000.0, 14.0, _MEMORY),
    FuseFamily("battery post", 5000.0, 32.0, _MEMORY),
    FuseFamily("battery post", 2000.0, 58.0, _MEMORY),
    FuseFamily("Class T", 20_000.0, 125.0, "UL 248-15, figure from memory"),
)
"""Direct-current interrupt ratings of fuse families; the voltage bounds each row."""

# Total connected cold cranking current up to which a row of Table V-A holds, then main, branch.
E11_CRANKING_ROWS_A: Final = (
    (650.0, 1500.0, 750.0),
    (1100.0, 3000.0, 1500.0),
    (2200.0, 5000.0, 2500.0),
)
"""ABYC E-11 Table V-A, 12 and 24 V: cranking current up to, main, branch [A].

The last row holds above 1,100 A; above 2,200 A clause 11.10.1.2 takes over.
"""

E11_LARGE_BANK_AH: Final = 500.0
"""Bank above which the battery maker's short-circuit figure decides, 11.10.1.2 [Ah]."""

E11_OWN_FIGURE_UP_TO_A: Final = 10_000.0
"""Up to this short-circuit current the fuse must reach the bank's own figure [A]."""

E11_LARGE_INTERRUPT_A: Final = 20_000.0
E11_LARGE_INTERRUPT_V: Final = 125.0
"""Above that, an interrupt rating of 20 kA at 125 V DC or more is called for."""

SHORE_BREAKER_INTERRUPT_A: Final = 3000.0
"""Main and branch breakers of a 120 V, 30 or 50 A shore supply, ABYC E-11 Table V-B [A]."""

LEAD_ACID_SHORT_A_PER_AH: Final = (10.0, 20.0, 40.0)
"""Short-circuit current of a 12 V lead-acid battery a capacity: low, usual, highest [A/Ah].

Trade pages: about 1 … 2 kA, up to 4 kA, for 100 Ah.
"""

LITHIUM_SHORT_A_PER_AH: Final = 62.0
"""Least figure planned on for a lithium iron phosphate pack, whatever its maker states [A/Ah].

A 60 Ah pack worked out from its cells' data sheet: 3,733 A (forum calculation, seen).
"""

LITHIUM_SAG_A_PER_AH: Final = 16.0
"""Short circuit by which the resistance of a lithium pack is planned, over its capacity [A/Ah].

Four times under the figure for fuses, since protection and terminals add to the cells: from memory.
"""

INTERRUPT_MARGIN: Final = 1.25
"""Interrupt rating over the short circuit that was worked out [–]: common practice, no source.

The figure is an estimate; a fuse that just reaches it has nothing in hand.
"""
