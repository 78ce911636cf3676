"""The week away from shore: charge of the battery hour by hour, and when each source gives."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from engine.answer import Advice
from engine.pages.drawings.svg import (
    BOLD,
    DASHED,
    FAINT,
    LETTER,
    WIDTH_OF_LETTER,
    Canvas,
    Picture,
    Table,
    at,
)
from engine.sizing.energy import HOURS_PER_DAY, SOURCES, Week
from engine.units import show
from engine.wording.sentences import Sentences
from engine.wording.tongue import all_of, plain

WIDTH = 354.0
LEFT = 66.0
AN_HOUR = 1.7
TOP, HIGH = 24.0, 150.0
BAND, STEP = 9.0, 14.0
FILLED = 'fill="currentColor" fill-opacity="0.45" stroke="none"'
PLUGGED_IN = 'stroke-width="1.25" stroke-dasharray="1 3"'

Span = tuple[int, int]


def week_chart(page: Sentences, advice: Advice) -> Picture:
    """The charge with its floor, without and with a hookup at times, over bands of the sources."""
    if advice.best.design is None:
        raise ValueError("a recommendation has a design")
    plan, battery = advice.charging, advice.best.design.bank.battery
    week, hooked = plan.away, plan.hooked_up
    canvas = Canvas("rig-svg-week", WIDTH)
    bands = [(name, spans) for name, spans in _bands(hooked) if spans]
    low = _draw_axes(canvas, page, week, _draw_bands(canvas, page, bands))
    _draw_floor(canvas, page, 1.0 - battery.usable)
    canvas.path(_curve(hooked.state), PLUGGED_IN)
    canvas.path(_curve(week.state), 'stroke-width="2.5"')
    if week.runs_out_hour is not None:
        _draw_end(canvas, page, week.runs_out_hour)
    title, sentence = page["chart-week"], _sentence(page, week, hooked, bands)
    table = Table(
        (
            page["chart-day"],
            page["chart-lowest"],
            page["chart-evening"],
            page["chart-lowest-hooked"],
        ),
        tuple(_rows(week, hooked)),
    )
    return Picture("week", title, sentence, canvas.svg(low, title, sentence), table=table)


def _bands(week: Week) -> Iterator[tuple[str, tuple[Span, ...]]]:
    """Each source with the hours in which it has something to give, first and end."""
    for place, name in enumerate(SOURCES):
        gives = [False, *(offer[place] > 0.0 for offer in week.offers_w), False]
        turns = [hour for hour, (before, now) in enumerate(pairwise(gives)) if before != now]
        yield name, tuple(zip(turns[::2], turns[1::2], strict=True))


def _sentence(
    page: Sentences, week: Week, hooked: Week, bands: Sequence[tuple[str, tuple[Span, ...]]]
) -> str:
    if week.runs_out_hour is not None:
        said = [page.count("chart-week-ends", week.runs_out_hour / HOURS_PER_DAY, 1)]
    else:
        said = [page.say("chart-week-lasts", lowest=show(min(week.state), "share"))]
    said.append(page.say("chart-week-hooked", lowest=show(min(hooked.state), "share")))
    times = [
        page.one_of(
            "chart-from-",
            name,
            SOURCES,
            start=f"{spans[0][0] % HOURS_PER_DAY}:00",
            end=f"{spans[0][1] % HOURS_PER_DAY}:00",
        )
        for name, spans in bands
    ]
    return " ".join((*said, page.say("chart-week-bands", bands=all_of(times))))


def _draw_bands(
    canvas: Canvas, page: Sentences, bands: Sequence[tuple[str, tuple[Span, ...]]]
) -> float:
    """A row for each source, its hours filled; return the lower end."""
    y = TOP + HIGH + 6.0
    for name, spans in bands:
        boxes = (
            f"M{at(LEFT + first * AN_HOUR)} {at(y)}h{at((end - first) * AN_HOUR)}"
            f"v{at(BAND)}h{at((first - end) * AN_HOUR)}z"
            for first, end in spans
        )
        canvas.path("".join(boxes), FILLED)
        canvas.text(LEFT - 6.0, y + BAND, page.one_of("chart-source-", name, SOURCES), "end")
        y += STEP
    return y


def _draw_axes(canvas: Canvas, page: Sentences, week: Week, low: float) -> float:
    """Shares to the left, days below the bands; return the lower end."""
    days = _days(week)
    right = LEFT + days * HOURS_PER_DAY * AN_HOUR
    canvas.text(0.0, 12.0, page["chart-charge"])
    for share in (0.0, 0.5, 1.0):
        y = TOP + HIGH * (1.0 - share)
        canvas.line((LEFT, y), (right, y), style=FAINT)
        canvas.text(LEFT - 6.0, y + 4.0, show(share, "share"), "end")
    for day in range(days + 1):
        x = LEFT + day * HOURS_PER_DAY * AN_HOUR
        canvas.line((x, TOP), (x, low + 3.0), style='stroke-width="1" stroke-opacity="0.25"')
        if day < days:
            middle = x + HOURS_PER_DAY * AN_HOUR / 2
            canvas.text(middle, low + 13.0, plain(day + 1), "middle")
    canvas.text(LEFT - 6.0, low + 13.0, page["chart-day"], "end")
    return low + 18.0


def _draw_floor(canvas: Canvas, page: Sentences, floor: float) -> None:
    """What the charge must not pass."""
    y = TOP + HIGH * (1.0 - floor)
    canvas.line((LEFT, y), (WIDTH - 4.0, y), style=DASHED)
    below = y + 12.0 if y + 12.0 < TOP + HIGH else y - 5.0
    canvas.text(WIDTH - 4.0, below, page["chart-floor"], "end")


def _draw_end(canvas: Canvas, page: Sentences, hour: int) -> None:
    """Where it is empty for the first time."""
    x, text = LEFT + hour * AN_HOUR, page["chart-empty"]
    canvas.line((x, TOP), (x, TOP + HIGH), style=DASHED)
    fits = x + 5.0 + len(text) * LETTER * WIDTH_OF_LETTER < WIDTH
    anchor, shift = ("start", 5.0) if fits else ("end", -5.0)
    canvas.text(x + shift, TOP + HIGH * 0.62, text, anchor, style=BOLD)


def _curve(states: Sequence[float]) -> str:
    """The charge hour by hour, each point from the one before it."""
    heights = [round((1.0 - state) * HIGH, 1) for state in states]
    steps = " ".join(f"{at(AN_HOUR)} {at(now - before)}" for before, now in pairwise(heights))
    return f"M{at(LEFT)} {at(TOP + heights[0])}l{steps}"


def _days(week: Week) -> int:
    return (len(week.state) - 1) // HOURS_PER_DAY


def _rows(week: Week, hooked: Week) -> Iterator[tuple[str, ...]]:
    """Each day: lowest and last charge, and the lowest with hookups."""
    for day in range(_days(week)):
        hours = slice(day * HOURS_PER_DAY, (day + 1) * HOURS_PER_DAY + 1)
        state, plugged = week.state[hours], hooked.state[hours]
        yield (
            plain(day + 1),
            show(min(state), "share"),
            show(state[-1], "share"),
            show(min(plugged), "share"),
        )
