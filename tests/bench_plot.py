"""Draws a measured curve: what a work takes as something grows by tens.

The picture stands in a file of its own. It brings its ground and its colors along, for a light and
for a dark device, so that it can be read wherever it is put. The same figures give the same bytes.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from engine.pages.drawings.chart_axes import round_steps
from engine.pages.drawings.svg import BOLD, FAINT, Canvas

WIDTH, HEIGHT = 480.0, 270.0
LEFT, RIGHT, TOP, LOW = 64.0, 430.0, 44.0, 210.0
ROOM = 1.15
"""Above the greatest value, for its label."""
COLORS = (
    "svg{color:#1f2328;background:#fff}text{fill:currentColor;stroke:none;font-family:sans-serif}"
    "@media(prefers-color-scheme:dark){svg{color:#e6e6e6;background:#1e1e24}}"
)


@dataclass(frozen=True, slots=True)
class Plot:
    """A curve: what grows, what it takes, the unit of that, and the points measured.

    name: of its file, without the suffix
    """

    name: str
    grows: str
    takes: str
    unit: str
    points: Sequence[tuple[float, float]]

    @property
    def title(self) -> str:
        """What the picture shows."""
        return f"{self.takes.capitalize()} over the number of {self.grows}"


def told(plot: Plot) -> str:
    """What the picture shows in a sentence, for those who do not see it too."""
    (first, least), (last, most) = plot.points[0], plot.points[-1]
    return (
        f"{plot.title}: {read(least)} {plot.unit} with {first:,.0f} and {read(most)} {plot.unit} "
        f"with {last:,.0f}. At {last / first:.0f} times the {plot.grows} it is "
        f"{most / least:.1f} times as large."
    )


def read(value: float) -> str:
    """A figure with three digits that count.

    >>> read(0.5234), read(14.6), read(361.0), read(1520.4)
    ('0.523', '14.6', '361', '1,520')
    """
    digits = max(0, 2 - math.floor(math.log10(value)))
    return f"{value:,.{digits}f}"


def draw(plot: Plot) -> str:
    """The picture as SVG; what grows stands on a scale of tens, what it takes begins at nothing."""
    least, most = (round(math.log10(plot.points[place][0])) for place in (0, -1))
    highest = ROOM * max(value for _, value in plot.points)

    def across(count: float) -> float:
        return LEFT + (math.log10(count) - least) / (most - least) * (RIGHT - LEFT)

    def up(value: float) -> float:
        return LOW - value / highest * (LOW - TOP)

    canvas = Canvas(plot.name, WIDTH)
    canvas.text(8.0, 20.0, f"{plot.takes} [{plot.unit}]", style=BOLD)
    for value in round_steps(highest):
        canvas.line((LEFT, up(value)), (RIGHT, up(value)), style=FAINT)
        canvas.text(LEFT - 8.0, up(value) + 4.0, f"{value:,g}", "end")
    for power in range(least, most + 1):
        canvas.line((across(10**power), LOW), (across(10**power), LOW + 5.0))
        canvas.text(across(10**power), LOW + 20.0, f"{10**power:,}", "middle")
    canvas.text((LEFT + RIGHT) / 2, LOW + 44.0, plot.grows, "middle", style=BOLD)
    found = [(across(count), up(value)) for count, value in plot.points]
    canvas.line(*found, style='stroke-width="2"')
    for (x, y), (_, value) in zip(found, plot.points, strict=True):
        canvas.dot(x, y, 4.0)
        canvas.text(x, y - 10.0, read(value), "middle")
    drawn = str(canvas.svg(HEIGHT, plot.title, told(plot)))
    return drawn.replace("</desc>", f"</desc><style>{COLORS}</style>", 1) + "\n"
