"""Electrical symbols as SVG, from schemdraw: drawn once, then only placed.

Placing a symbol takes microseconds, drawing one takes half a millisecond; and schemdraw is loaded
only when the first diagram is drawn: not in a browser, which is given what the build drew.
"""

import re
from dataclasses import dataclass
from typing import Any

from engine.pages.drawings.svg import at, through

UNIT = 24.0
"""Size of one length unit of schemdraw: a switch or breaker is one long.

Quarters and eighths of it are whole or end in .5, so rounding never stands on an edge.
"""

POINTS_PER_INCH = 72.0
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?(?:e-?\d+)?")
_POINT = re.compile(r"(-?[\d.]+),(-?[\d.]+)")
_STRAIGHT = re.compile(r'<path d="([ML\d., -]*)"/>')


@dataclass(frozen=True, slots=True)
class Symbol:
    """A symbol from its first terminal at 0, 0 to the second, `length` below (or to the right)."""

    name: str
    drawing: str
    length: float


ELEMENTS = {
    "source": ("SourceSin", "down"),
    "inlet": ("Plug", "down"),
    "breaker": ("Breaker", "down"),
    "contact": ("Switch", "down"),
    "switch": ("Switch", "down"),
    "isolator": ("Switch", "down"),
    "isolator-across": ("Switch", "right"),
    "relay-across": ("Switch", "right"),
    "momentary": ("Button", "down"),
    "tie": ("Switch", "right"),
    "ground": ("Ground", ""),
    "chassis": ("GroundChassis", ""),
    "fuse": ("FuseIEEE", "down"),
    "resistor": ("ResistorIEC", "down"),
    "shunt": ("ResistorIEC", "down"),
    "battery": ("Battery", "down"),
    "kept-battery": ("Battery", "down"),
    "buffer": ("Capacitor", "down"),
    "fuse-across": ("FuseIEEE", "right"),
    "solar-across": ("Solar", "right"),
    "generator-across": ("Source", "right"),
}
"""Each symbol's element of schemdraw, and the way that it points."""


_DRAWN: dict[str, Symbol] = {}


def recall_symbols(drawn: tuple[Symbol, ...]) -> None:
    """Take over symbols that were drawn elsewhere."""
    _DRAWN.update((each.name, each) for each in drawn)


def symbol(name: str) -> Symbol:
    """The symbol of this name.

    Raises
    ------
    KeyError : if there is none.
    """
    if name not in _DRAWN:
        _DRAWN[name] = _drawn(name)
    return _DRAWN[name]


def _drawn(name: str) -> Symbol:
    import schemdraw  # noqa: PLC0415 - only a page with a diagram should pay for it
    from schemdraw import elements  # noqa: PLC0415

    drawing = schemdraw.Drawing(
        canvas="svg", show=False, unit=0.01, inches_per_unit=UNIT / POINTS_PER_INCH
    )
    element, direction = ELEMENTS[name]
    made: Any = getattr(elements, element)()
    drawing.add(getattr(made, direction)() if direction else made)
    length = round((abs(drawing.here[0]) + abs(drawing.here[1])) * UNIT, 1)
    shapes = drawing.get_imagedata("svg").decode().partition(">")[2].rpartition("</svg>")[0]
    return Symbol(name, _plain(shapes), length)


def _plain(shapes: str) -> str:
    """Shapes that inherit line and color from the picture, with coordinates rounded."""
    shapes = re.sub(r' style="[^"]*"', "", shapes)
    shapes = re.sub(
        r'(?<= )(d|points|c[xy]|r[xy]?|x[12]?|y[12]?)="([^"]*)"',
        lambda found: f'{found[1]}="{_NUMBER.sub(lambda each: at(float(each[0])), found[2])}"',
        shapes,
    ).replace(" />", "/>")
    shapes = _STRAIGHT.sub(lambda found: f'<path d="{_short(found[1])}"/>', shapes)
    return shapes.replace('<path d=""/>', "").replace(' cx="0"', "").replace(' cy="0"', "")


def _short(path: str) -> str:
    """A path of straight lines, in the fewest signs, without what has no length.

    >>> _short("M 0,0 L 0,0 M 0,9.6 L -6,9.6 L 6,9.6 M 0,24")
    'M0 9.6H-6H6'
    """
    found = []
    for stretch in path.split("M")[1:]:
        points = [(float(x), float(y)) for x, y in _POINT.findall(stretch)]
        if len(set(points)) > 1:
            found.append(through(points))
    return "".join(found)
