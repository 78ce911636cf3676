"""How the units lie in their place, as boxes along their own axes.

h runs from the top downwards, w from the left, d from the surface that carries them. How they are
mounted turns these axes.
"""

from dataclasses import dataclass

from engine.advice.plan.supply import arrangements
from engine.model.needs import Needs
from engine.model.products import InverterCharger
from engine.sizing import fit

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Solid:
    """A box along its own axes [m]."""

    h: Span
    w: Span
    d: Span

    def spans(self, orientation: str) -> tuple[Span, Span, Span]:
        """To the right, down, and away from the back, as it is mounted; down may count upwards."""
        if orientation == "sideways":
            return self.h, self.w, self.d
        if orientation == "flat":
            return self.w, _up(self.d), self.h
        if orientation == "flat-turned":
            return self.h, _up(self.d), self.w
        return self.w, self.h, self.d


def _up(span: Span) -> Span:
    return (-span[1], -span[0])


@dataclass(frozen=True, slots=True)
class Mounting:
    """The units, the space that they take with what must stay free, and how they are turned."""

    units: tuple[Solid, ...]
    space: Solid
    orientation: str


def mounting_of(needs: Needs, inverter: InverterCharger, units: int) -> Mounting:
    """As the check of the place has it; with no place given, side by side and as asked."""
    asked = inverter.clearances
    gap = needs.gap_m if needs.bay is not None else None
    clear = fit.Clearances(
        *(
            side if gap is None else min(side, gap)
            for side in (asked.top, asked.bottom, asked.sides, asked.front)
        )
    )
    unit = fit.Box(inverter.height, inverter.width, inverter.depth)
    ways = arrangements(unit, units, clear)
    orientation, (name, box) = needs.mount, ways[0]
    if needs.bay is not None:
        bay = fit.Box(needs.bay.height_m, needs.bay.width_m, needs.bay.depth_m)
        found = [(fit.fits(box, bay, clear, needs.mount), (name, box)) for name, box in ways]
        best, (name, box) = max(found, key=lambda each: each[0].margin_m)
        orientation = best.orientation
    step_h = unit.height_m + max(clear.top_m, clear.bottom_m) if name == "above" else 0.0
    step_w = unit.width_m + clear.side_m if name == "beside" else 0.0
    solids = tuple(
        Solid(
            (place * step_h, place * step_h + unit.height_m),
            (place * step_w, place * step_w + unit.width_m),
            (0.0, unit.depth_m),
        )
        for place in range(units)
    )
    space = Solid(
        (-clear.top_m, box.height_m + clear.bottom_m),
        (-clear.side_m, box.width_m + clear.side_m),
        (0.0, unit.depth_m + clear.front_m),
    )
    return Mounting(solids, space, orientation)
