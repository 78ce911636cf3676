"""Ends of conductors: ferrules, lugs, the terminals that take them and the tools for them."""

from dataclasses import dataclass
from typing import Literal

from engine.sizing import guard
from engine.standards import ferrules
from engine.standards.awg import rank, unknown

INSULATED_STRIP_ALLOWANCE_M = 0.002
"""Stripped beyond the barrel of a ferrule with collar [m].

One instruction sheet: barrel of 10 mm, strip 12 mm with collar and 10 mm bare.
"""

PUSH_IN_BARREL_M = 0.018
"""Bare ferrule that the push-in terminals of inverter-chargers want, one for every conductor
end [m]; common practice, no source."""

DEEP_TERMINAL_M = 0.015
"""Push-in terminals deeper than this have their clamp behind a funnel that no collar enters
[m]; common practice, no source."""

BARREL_TOLERANCE_M = 0.001
"""By how much a barrel may miss the depth of its terminal [m]; common practice, no source."""

HYDRAULIC_FROM = "4"
"""Size from which a lug wants a hydraulic tool or a hexagonal die [AWG]; trade pages."""

Refusal = Literal["collar", "short", "long"]
CrimperKind = Literal["hydraulic", "ratchet"]
Side = Literal["input", "output"]
Function = Literal["hot", "hot-1", "hot-2", "neutral", "ground"]
SIDES: tuple[Side, ...] = ("input", "output")
BESIDE_HOT: tuple[Function, ...] = ("neutral", "ground")
""" "hot" alone, or "hot-1" and "hot-2", comes before these on either side."""


@dataclass(frozen=True, slots=True)
class ConductorEnd:
    """One end of a conductor that enters an AC or control terminal of the unit."""

    side: Side
    awg: str
    function: Function


def strip_length_m(barrel_m: float, insulated: bool) -> float:
    """Insulation to strip from a conductor for a ferrule.

    l = barrel, and 2 mm more under a collar

    Parameters
    ----------
    barrel_m : length of the ferrule's metal barrel [m]
    insulated : True if the ferrule has a plastic collar

    Returns
    -------
    Strip length [m].

    Raises
    ------
    ValueError : if the barrel is not longer than zero or not finite.

    Source: one instruction sheet (10 mm barrel: 12 mm with collar, 10 mm bare).

    >>> strip_length_m(0.010, insulated=True), strip_length_m(0.018, insulated=False)
    (0.012, 0.018)
    """
    guard.positive(barrel_m=barrel_m)
    return barrel_m + (INSULATED_STRIP_ALLOWANCE_M if insulated else 0.0)


def ferrule_area_mm2(awg: str) -> float:
    """Cross-section of the ferrule that takes a gauge.

    Parameters
    ----------
    awg : trade size, 18 … 1/0 [AWG]

    Returns
    -------
    Standard cross-section [mm²].

    Raises
    ------
    ValueError : if the standard has no ferrule for the size.

    Source: cross-sections of DIN 46228; pairing as in engine.standards.ferrules.

    >>> ferrule_area_mm2("10"), ferrule_area_mm2("6")
    (6.0, 16.0)
    """
    try:
        return ferrules.AREA_FOR_AWG_MM2[awg]
    except KeyError:
        raise unknown(awg, tuple(ferrules.AREA_FOR_AWG_MM2)) from None


def ferrule_barrels_m(awg: str, insulated: bool) -> tuple[float, ...]:
    """Barrel lengths in which the ferrule for a gauge is made.

    Parameters
    ----------
    awg : trade size, 18 … 1/0 [AWG]
    insulated : True for ferrules with a plastic collar

    Returns
    -------
    Lengths of the metal barrel, short to long [m].

    Raises
    ------
    ValueError : if the standard has no ferrule for the size.

    Source: DIN 46228-1 (bare), from memory; DIN 46228-4 (with collar), partly from memory.

    >>> ferrule_barrels_m("10", insulated=False)
    (0.01, 0.012, 0.015, 0.018)
    """
    lengths = ferrules.INSULATED_BARRELS_M if insulated else ferrules.BARE_BARRELS_M
    return lengths[ferrule_area_mm2(awg)]


def ferrule_refusal(insulated: bool, barrel_m: float, terminal_depth_m: float) -> Refusal | None:
    """Why a ferrule does not suit a push-in terminal.

    Parameters
    ----------
    insulated : True if the ferrule has a plastic collar
    barrel_m : length of its metal barrel [m]
    terminal_depth_m : depth of bare metal that the terminal asks for [m]

    Returns
    -------
    "collar" if its collar stops short of the clamp, "short" or "long" if its barrel does not
    reach the clamp or leaves live metal outside; None if the ferrule suits.

    Raises
    ------
    ValueError : if a length is not above zero or not finite.

    Source: common practice, no source.

    >>> ferrule_refusal(insulated=False, barrel_m=0.018, terminal_depth_m=0.018) is None
    True
    >>> ferrule_refusal(insulated=True, barrel_m=0.012, terminal_depth_m=0.018)
    'collar'
    """
    guard.positive(barrel_m=barrel_m, terminal_depth_m=terminal_depth_m)
    barrel_mm, depth_mm = barrel_m * 1000, terminal_depth_m * 1000
    if insulated and terminal_depth_m > DEEP_TERMINAL_M:
        return "collar"
    allowance_mm = BARREL_TOLERANCE_M * 1000 + 1e-9
    if barrel_mm < depth_mm - allowance_mm:
        return "short"
    return "long" if barrel_mm > depth_mm + allowance_mm else None


def terminal_accepts(awg: str, smallest_awg: str, largest_awg: str) -> bool:
    """Whether a terminal takes a conductor.

    Parameters
    ----------
    awg : size of the conductor [AWG]
    smallest_awg : thinnest that the terminal takes [AWG]
    largest_awg : thickest that the terminal takes [AWG]

    Returns
    -------
    True if the size lies within the range, ends included.

    Raises
    ------
    ValueError : if a size is unknown, or the range is the wrong way round.

    Source: order of the gauge, ASTM B258-02.

    >>> terminal_accepts("6", "14", "6"), terminal_accepts("4", "14", "6")
    (True, False)
    """
    lowest, highest = rank(smallest_awg), rank(largest_awg)
    if lowest > highest:
        raise ValueError(
            f"smallest_awg must not be thicker than largest_awg, got {smallest_awg} and "
            f"{largest_awg}"
        )
    return lowest <= rank(awg) <= highest


def crimper_kind(awg: str) -> CrimperKind:
    """Kind of tool that makes a sound crimp of a lug.

    Parameters
    ----------
    awg : size of the cable [AWG]

    Returns
    -------
    "hydraulic", which a hexagonal die equals, from 4 AWG up; "ratchet" below.

    Raises
    ------
    ValueError : if the size is unknown.

    Source: trade pages.

    >>> crimper_kind("2/0"), crimper_kind("10")
    ('hydraulic', 'ratchet')
    """
    return "hydraulic" if rank(awg) >= rank(HYDRAULIC_FROM) else "ratchet"
