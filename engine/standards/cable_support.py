"""How far apart a battery cable is held."""

from typing import Final

CLAMP_EVERY_M: Final = 18 * 0.0254
"""Farthest from one support of a cable to the next, ABYC E-11, from memory [m]: 18 in."""
