"""How much of the energy put into a battery comes out again."""

from types import MappingProxyType
from typing import Final

ENERGY_EFFICIENCY: Final = MappingProxyType({"lifepo4": 0.96, "agm": 0.80, "flooded": 0.75})
"""Energy out over energy in, by chemistry.

Source: LiFePO4 95–98 %, lead-acid 70–85 % (trade press); within them the middle for LiFePO4, and
for lead-acid the better half for AGM and the lower for flooded: common practice, no source.
"""
