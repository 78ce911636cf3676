"""Outlines of vans, trailers and coaches from their left side, the front to the left; our own.

A place on a rig is told by two shares: of its length from the front, and of its height from the
ground. Shapes and shares are usual ones: common practice, no source.
"""

import math
from collections.abc import Callable
from dataclasses import dataclass

from engine.model.guide import RigShape
from engine.pages.drawings.svg import FAINT, Canvas, at

ARCH = 1.08
"""Radius of the arch around a wheel, in radii of the wheel."""
THIN = 'stroke-width="1"'

Where = Callable[[float, float], str]
"""A point, as SVG writes it, of a share of the length and one of the height."""


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a rig lies on its canvas, in the canvas's measure.

    floor, wheel : height of the lowest floor above the ground, radius of a wheel
    """

    left: float
    ground: float
    length: float
    height: float
    floor: float
    wheel: float

    def x(self, share: float) -> float:
        """A share of the length."""
        return self.left + share * self.length

    def y(self, share: float) -> float:
        """A share of the height."""
        return self.ground - share * self.height

    def point(self, along: float, up: float) -> str:
        """A point as SVG writes it."""
        return f"{at(self.x(along))} {at(self.y(up))}"


@dataclass(frozen=True, slots=True)
class Shape:
    """What one kind of rig looks like, and where its parts usually are, as shares of its length.

    axles : where the wheels are
    ends : where its body begins and ends above the floor
    cab : where its front ends: a windshield, a slanted wall
    room : where batteries can stand at the front, and where the last unit ends
    inlet : where the cord is plugged in: at the rear on the left side
    body : the path from the floor at the front over the roof down to the floor at the rear
    more : what else makes its kind: a cab's window, a hitch
    """

    axles: tuple[float, ...]
    ends: tuple[float, float]
    cab: float
    room: tuple[float, float]
    inlet: float
    body: Callable[[Where], str]
    more: Callable[[Where, float], str]


def _van(p: Where) -> str:
    return (
        f"V{p(0, 0.46).split()[1]}Q{p(0, 0.51)} {p(0.03, 0.53)}L{p(0.14, 0.6)}L{p(0.26, 0.95)}"
        f"Q{p(0.28, 1)} {p(0.33, 1)}L{p(0.97, 1)}Q{p(1, 1)} {p(1, 0.93)}"
    )


def _van_cab(p: Where, _floor: float) -> str:
    return f"M{p(0.175, 0.62)}L{p(0.25, 0.88)}L{p(0.265, 0.88)}L{p(0.265, 0.62)}z"


def _trailer(p: Where) -> str:
    return f"L{p(0.135, 0.55)}Q{p(0.16, 1)} {p(0.24, 1)}L{p(0.975, 1)}Q{p(1, 1)} {p(1, 0.94)}"


def _trailer_hitch(p: Where, floor: float) -> str:
    return (
        f"M{p(0.13, floor)}L{p(0.01, floor * 0.9)}L{p(0.13, floor * 1.4)}"
        f"M{p(0.05, floor * 1.6)}L{p(0.05, floor * 0.15)}"
    )


def _coach(p: Where) -> str:
    return (
        f"L{p(0, 0.5)}L{p(0.012, 0.9)}Q{p(0.015, 1)} {p(0.05, 1)}L{p(0.98, 1)}Q{p(1, 1)}"
        f" {p(1, 0.95)}"
    )


def _coach_cab(p: Where, _floor: float) -> str:
    return f"M{p(0.008, 0.86)}L{p(0.085, 0.86)}L{p(0.085, 0.5)}L{p(0, 0.5)}"


SHAPES: dict[RigShape, Shape] = {
    "van": Shape((0.17, 0.76), (0.0, 1.0), 0.27, (0.37, 0.965), 0.955, _van, _van_cab),
    "trailer": Shape(
        (0.52, 0.615), (0.13, 1.0), 0.2, (0.2, 0.965), 0.955, _trailer, _trailer_hitch
    ),
    "coach": Shape((0.16, 0.72), (0.0, 1.0), 0.1, (0.25, 0.645), 0.965, _coach, _coach_cab),
}
"""The shape of each kind of rig that content may name."""


def draw_shape(canvas: Canvas, shape: Shape, frame: Frame) -> None:
    """The outline, its wheels, and the ground that it stands on."""
    p, floor = frame.point, frame.floor / frame.height
    first, last = shape.ends
    outline = f"M{p(first, floor)}{shape.body(p)}L{p(last, floor)}{_underside(shape, frame)}z"
    canvas.path(outline)
    canvas.path(shape.more(p, floor), THIN)
    canvas.line((0.0, frame.ground), (canvas.width, frame.ground), style=f"{THIN} {FAINT}")
    canvas.path("".join(_wheel(frame, frame.x(axle)) for axle in shape.axles), THIN)


def _underside(shape: Shape, frame: Frame) -> str:
    """From the rear to the front along the floor, with an arch over each wheel that rises above."""
    radius = frame.wheel * ARCH
    below = frame.floor - frame.wheel
    if abs(below) >= radius:
        return ""
    half, y = math.sqrt(radius**2 - below**2), at(frame.ground - frame.floor)
    round_ = f"A{at(radius)} {at(radius)} 0 {int(below < 0)} 0"
    return "".join(
        f"H{at(frame.x(axle) + half)}{round_} {at(frame.x(axle) - half)} {y}"
        for axle in reversed(shape.axles)
    )


def _wheel(frame: Frame, x: float) -> str:
    """A tire and its rim."""
    return "".join(
        f"M{at(x - radius)} {at(frame.ground - frame.wheel)}"
        f"a{at(radius)} {at(radius)} 0 1 0 {at(2 * radius)} 0"
        f"a{at(radius)} {at(radius)} 0 1 0 {at(-2 * radius)} 0"
        for radius in (frame.wheel, frame.wheel / 2)
    )
