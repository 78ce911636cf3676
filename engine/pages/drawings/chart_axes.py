"""The scale below a chart: a line with ticks at round numbers, and what it is counted in."""

import math
from collections.abc import Callable, Iterator

from engine.pages.drawings.svg import LETTER, WIDTH_OF_LETTER, Canvas, at
from engine.wording.tongue import plain

MOST_TICKS = 5
TICK = 4.0
Named = Callable[[float], str]


def round_steps(most: float) -> Iterator[float]:
    """Nothing, and then a few round numbers up to the greatest one.

    >>> [*round_steps(8_700.0)], [*round_steps(0.35)]
    ([0.0, 2000.0, 4000.0, 6000.0, 8000.0], [0.0, 0.1, 0.2, 0.3])
    """
    size = 10.0 ** math.floor(math.log10(most))
    step = next(
        share * size
        for share in (0.1, 0.2, 0.5, 1.0, 2.0, 5.0)
        if most / (share * size) <= MOST_TICKS
    )
    for place in range(int(most / step + 1e-9) + 1):
        yield round(place * step, 9)


def draw_axis(
    canvas: Canvas, left: float, y: float, wide: float, most: float, unit: str, named: Named = plain
) -> float:
    """A scale from nothing to the greatest value; return its lower end.

    wide : length of the greatest value on the canvas
    named : how a tick's number is written
    """
    ticks = [(left + value / most * wide, named(value)) for value in round_steps(most)]
    marks = "".join(f"M{at(x)} {at(y)}v{at(TICK)}" for x, _ in ticks)
    canvas.path(f"M{at(left)} {at(y)}h{at(wide)}{marks}", 'stroke-width="1"')
    for place, (x, text) in enumerate(ticks):
        anchor = "middle" if place or left > TICK else "start"
        canvas.text(x, y + 16.0, text, anchor)
    last_x, last = ticks[-1]
    canvas.text(last_x + 6.0 + len(last) * LETTER * WIDTH_OF_LETTER / 2, y + 16.0, unit)
    return y + 20.0
