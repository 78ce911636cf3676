"""Whether a unit fits the place where it will hang, with the free space that it needs."""

from dataclasses import dataclass

from engine.sizing import guard

MOUNTS = ("upright", "sideways", "flat")
SIDES = ("height", "width", "depth")
# A tenth of a millimetre: sums of floats must not refuse a bay that is exactly right.
TOLERANCE_M = 1e-4


@dataclass(frozen=True, slots=True)
class Box:
    """A unit standing upright, or a bay seen from its front [m]."""

    height_m: float
    width_m: float
    depth_m: float


@dataclass(frozen=True, slots=True)
class Clearances:
    """Free space that a unit needs about its own faces [m]; it turns with the unit."""

    top_m: float = 0.0
    bottom_m: float = 0.0
    side_m: float = 0.0
    front_m: float = 0.0


@dataclass(frozen=True, slots=True)
class FitResult:
    """Whether it fits, how it lies, and the side of the bay that is tightest.

    `margin_m` is what is left over on `tight_side`; negative, it is too big by that much.
    """

    fits: bool
    orientation: str
    margin_m: float
    tight_side: str


def fits(unit: Box, bay: Box, clearances: Clearances, mount: str) -> FitResult:
    """Compare a unit and its free space with a bay.

    margin = bay − (unit + clearances), side by side; the smallest decides

    Parameters
    ----------
    unit : size of the unit as it stands upright [m]
    bay : inside of the bay [m]
    clearances : free space about the unit's own faces [m]
    mount : upright; sideways, turned a quarter on the wall; flat, on its back on the floor, where
        both ways round are tried

    Returns
    -------
    Verdict with orientation (upright, sideways, flat or flat-turned), margin and tight side.

    Raises
    ------
    ValueError : if a size is not positive, a clearance negative, or the mount unknown.

    Source: geometry. Clearances are the maker's; where none are stated, common practice.

    >>> unit, bay = Box(0.50, 0.30, 0.20), Box(0.40, 0.80, 0.30)
    >>> fits(unit, bay, Clearances(side_m=0.025), "upright").fits
    False
    >>> turned = fits(unit, bay, Clearances(side_m=0.025), "sideways")
    >>> turned.fits, round(turned.margin_m, 3), turned.tight_side
    (True, 0.05, 'height')
    """
    _check(unit)
    _check(bay)
    room = _with_clearances(unit, clearances)
    return max((_compare(turned, bay, name) for name, turned in _ways(room, mount)), key=_margin)


def wall_area_m2(unit: Box, mount: str, clearances: Clearances | None = None) -> float:
    """Area that a unit takes on the surface that carries it: the wall, or the floor when flat.

    A = h · w of the unit as mounted, with its free space where given

    Parameters
    ----------
    unit : size of the unit as it stands upright [m]
    mount : upright, sideways or flat
    clearances : free space to count as taken [m]; none counts the unit alone

    Returns
    -------
    Area [m²].

    Raises
    ------
    ValueError : if a size is not positive, a clearance negative, or the mount unknown.

    Source: geometry.

    >>> round(wall_area_m2(Box(0.50, 0.30, 0.20), "upright"), 4)
    0.15
    """
    _check(unit)
    room = _with_clearances(unit, clearances or Clearances())
    _, mounted = _ways(room, mount)[0]
    off_floor = mounted.depth_m if mount == "flat" else mounted.height_m
    return off_floor * mounted.width_m


def gap_margin_m(gap_m: float, clearances: Clearances) -> float:
    """Free space measured all round a unit, less the largest that it asks for.

    Parameters
    ----------
    gap_m : smallest free space about the unit [m]
    clearances : free space that the unit needs [m]

    Returns
    -------
    Margin [m]; negative when the gap is too small.

    Raises
    ------
    ValueError : if a length is negative or not finite.

    Source: geometry.

    >>> round(gap_margin_m(0.10, Clearances(0.15, 0.10, 0.05, 0.05)), 3)
    -0.05
    """
    guard.not_negative(gap_m=gap_m)
    _check_clearances(clearances)
    largest_m = max(clearances.top_m, clearances.bottom_m, clearances.side_m, clearances.front_m)
    return gap_m - largest_m


def gap_ok(gap_m: float, clearances: Clearances) -> bool:
    """Whether a free space all round a unit meets every clearance that it asks for.

    Parameters
    ----------
    gap_m : smallest free space about the unit [m]
    clearances : free space that the unit needs [m]

    Returns
    -------
    True when the gap is enough.

    Raises
    ------
    ValueError : if a length is negative or not finite.

    Source: geometry.

    >>> gap_ok(0.15, Clearances(0.15, 0.10, 0.05, 0.05))
    True
    """
    return gap_margin_m(gap_m, clearances) >= -TOLERANCE_M


def _check(box: Box) -> None:
    guard.positive(height_m=box.height_m, width_m=box.width_m, depth_m=box.depth_m)


def _check_clearances(clearances: Clearances) -> None:
    guard.not_negative(
        top_m=clearances.top_m,
        bottom_m=clearances.bottom_m,
        side_m=clearances.side_m,
        front_m=clearances.front_m,
    )


def _with_clearances(unit: Box, clearances: Clearances) -> Box:
    _check_clearances(clearances)
    return Box(
        height_m=unit.height_m + clearances.top_m + clearances.bottom_m,
        width_m=unit.width_m + 2 * clearances.side_m,
        depth_m=unit.depth_m + clearances.front_m,
    )


def _ways(room: Box, mount: str) -> tuple[tuple[str, Box], ...]:
    height, width, depth = room.height_m, room.width_m, room.depth_m
    match mount:
        case "upright":
            return ((mount, room),)
        case "sideways":
            return ((mount, Box(width, height, depth)),)
        case "flat":
            return (
                (mount, Box(depth, width, height)),
                ("flat-turned", Box(depth, height, width)),
            )
    raise ValueError(f"mount must be one of {', '.join(MOUNTS)}, got {mount!r}")


def _compare(room: Box, bay: Box, orientation: str) -> FitResult:
    margins = (
        bay.height_m - room.height_m,
        bay.width_m - room.width_m,
        bay.depth_m - room.depth_m,
    )
    margin_m = min(margins)
    return FitResult(
        margin_m >= -TOLERANCE_M, orientation, margin_m, SIDES[margins.index(margin_m)]
    )


def _margin(result: FitResult) -> float:
    return result.margin_m
