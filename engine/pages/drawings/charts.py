"""Small charts of an answer, as SVG that takes the colour of the text around it.

Own code instead of a chart library: the one that would do (pygal) gives other bytes each time,
brings its own colours, style sheet and script, and eighteen kilobytes where these take three.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.answer import Advice
from engine.model.buses import DC
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.pages.drawings.chart_cable import cable_chart
from engine.pages.drawings.svg import (
    BOLD,
    DASHED,
    FAINT,
    SMALL,
    Canvas,
    Picture,
    Table,
    at,
    wrapped,
)
from engine.sizing.energy import Week
from engine.sizing.loads import daily_energy_wh
from engine.units import show
from engine.wording.sentences import Sentences
from engine.wording.tongue import plain

WIDTH = 360.0
BAR = 'fill="currentColor" fill-opacity="0.3"'
HOURS_A_DAY = 24
MOST_LOADS = 8
# Where the curve of the week lies on its canvas: left, top, width, height.
WEEK_FRAME = (40.0, 10.0, WIDTH - 46.0, 150.0)


def charts_of(guide: Guide, advice: Advice) -> tuple[Picture, ...]:
    """The charts of a recommendation, in reading order."""
    if advice.best.design is None:
        raise ValueError("a recommendation has a design")
    design, needs, page = advice.best.design, advice.outcome.needs, guide.wording.page
    return (
        surge_chart(page, guide.planning.load_margin, design),
        week_chart(page, advice),
        energy_chart(page, needs, design),
        cable_chart(guide, needs, design),
    )


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: what it is, how long, as it is read, and where its limit stands."""

    name: str
    value: float
    text: str
    limit: float | None = None
    limit_text: str = ""


def bars(canvas: Canvas, rows: Sequence[Bar], most: float) -> float:
    """Draw bars under each other, each with its name above; return the height."""
    y = 4.0
    wide = canvas.width - 70.0
    for row in rows:
        for line in wrapped(row.name, canvas.width):
            y += 15.0
            canvas.text(0.0, y - 4.0, line)
        canvas.box(0.5, y, max(row.value / most * wide, 0.5), 16.0, BAR)
        end = row.value / most * wide
        if row.limit is not None:
            x = row.limit / most * wide
            canvas.line((x, y + 0.5), (x, y + 20.0), style='stroke-width="3"')
            end = max(end, x)
        canvas.text(end + 6.0, y + 12.5, row.text, style=BOLD)
        y += 16.0
        if row.limit is not None:
            y += 16.0
            near_right = row.limit / most > 0.5
            anchor, shift = ("end", 2.0) if near_right else ("start", -2.0)
            canvas.text(x + shift, y - 0.5, row.limit_text, anchor, SMALL)
        y += 8.0
    return y


def surge_chart(page: Sentences, margin: float, design: Design) -> Picture:
    """What the busier leg asks, against what the unit gives: lasting, apparent, and at a start."""
    supply = design.supply
    legs = supply.legs
    asked = (
        (
            page["chart-lasting"],
            max(leg.demand.real_w for leg in legs) * margin,
            "W",
            supply.continuous_w,
        ),
        (
            page["chart-apparent"],
            max(leg.demand.apparent_va for leg in legs),
            "VA",
            supply.apparent_va,
        ),
        (page["chart-start"], max(leg.demand.worst_va for leg in legs), "VA", supply.surge_va),
    )
    rows = tuple(
        Bar(
            name,
            value,
            show(value, unit),
            limit,
            page.say("chart-gives", limit=show(limit, unit)),
        )
        for name, value, unit, limit in asked
    )
    most = max(max(value, limit) for _, value, _, limit in asked)
    canvas = Canvas("rig-svg-surge", WIDTH)
    height = bars(canvas, rows, most)
    title = page["chart-surge"]
    table = Table(
        (page["chart-what"], page["chart-asked"], page["chart-limit"]),
        tuple(
            (row.name, row.text, show(limit, unit))
            for row, (_, _, unit, limit) in zip(rows, asked, strict=True)
        ),
    )
    sentence = page["chart-surge-says"]
    return Picture("surge", title, sentence, canvas.svg(height, title, sentence), table=table)


def energy_chart(page: Sentences, needs: Needs, design: Design) -> Picture:
    """Where the energy of one day goes: the loads, what converting takes, the unit's own draw."""
    need = design.bank.energy
    found = [
        (
            f"{load.count} × {load.name}" if load.count > 1 else load.name,
            load.count * daily_energy_wh(load.running_w, load.hours, load.duty),
        )
        for load in needs.loads
    ]
    # What a converter to 12 V loses is in what its loads take of the battery.
    on_dc_wh = sum(
        load.count * daily_energy_wh(load.running_w, load.hours, load.duty)
        for load in needs.loads
        if load.bus is DC
    )
    lost_wh = need.conversion_wh + need.dc_wh - on_dc_wh * needs.nights
    found += [
        (page["chart-conversion"], lost_wh / needs.nights),
        (page["chart-idle"], need.idle_wh / needs.nights),
    ]
    found = sorted((each for each in found if each[1] > 0), key=lambda each: -each[1])
    if len(found) > MOST_LOADS + 1:
        rest = sum(value for _, value in found[MOST_LOADS:])
        count = len(found) - MOST_LOADS
        found = [*found[:MOST_LOADS], (page.say("chart-rest", count=count), rest)]
    total = sum(value for _, value in found)
    rows = tuple(
        Bar(name, value, f"{show(value, 'Wh')}, {plain(value / total * 100)} %")
        for name, value in found
    )
    canvas = Canvas("rig-svg-energy", WIDTH)
    height = bars(canvas, rows, max(value for _, value in found) * 1.2)
    title = page["chart-energy"]
    sentence = page.say("chart-energy-says", total=show(total, "Wh"))
    table = Table(
        (page["chart-what"], page["chart-a-day"]),
        (*((row.name, row.text) for row in rows), (page["total"], show(total, "Wh"))),
    )
    return Picture("energy", title, sentence, canvas.svg(height, title, sentence), table=table)


def week_chart(page: Sentences, advice: Advice) -> Picture:
    """State of charge over the week away from shore, with the floor that it must not pass."""
    if advice.best.design is None:
        raise ValueError("a recommendation has a design")
    week, battery = advice.charging.week, advice.best.design.bank.battery
    canvas = Canvas("rig-svg-week", WIDTH)
    _week_axes(canvas, page, week)
    _week_line(canvas, page, week, 1.0 - battery.usable)
    if week.runs_out_hour is not None:
        sentence = page.count("chart-week-ends", week.runs_out_hour / HOURS_A_DAY, 1)
    else:
        sentence = page.say("chart-week-lasts", lowest=show(min(week.state), "share"))
    title = page["chart-week"]
    table = Table(
        (page["chart-day"], page["chart-lowest"], page["chart-evening"]), _week_rows(week)
    )
    _, top, _, high = WEEK_FRAME
    return Picture(
        "week", title, sentence, canvas.svg(top + high + 40.0, title, sentence), table=table
    )


def _week_axes(canvas: Canvas, page: Sentences, week: Week) -> None:
    left, top, wide, high = WEEK_FRAME
    days = _days(week)
    for share in (0.0, 0.5, 1.0):
        y = top + high * (1.0 - share)
        canvas.line((left, y), (left + wide, y), style=FAINT)
        canvas.text(left - 6.0, y + 4.0, show(share, "share"), "end", SMALL)
    for day in range(days + 1):
        x = left + wide * day / days
        canvas.line((x, top + high), (x, top + high + 5.0))
        if day < days:
            middle = x + wide / days / 2
            canvas.text(middle, top + high + 17.0, plain(day + 1), "middle", SMALL)
    canvas.text(left + wide / 2, top + high + 33.0, page["chart-days"], "middle", SMALL)


def _week_line(canvas: Canvas, page: Sentences, week: Week, floor: float) -> None:
    """The state of charge, the floor, and where it runs out."""
    left, top, wide, high = WEEK_FRAME
    floor_y = top + high * (1.0 - floor)
    canvas.line((left, floor_y), (left + wide, floor_y), style=DASHED)
    below = floor_y + 12.0 if floor_y + 12.0 < top + high else floor_y - 5.0
    canvas.text(left + wide, below, page["chart-floor"], "end", SMALL)
    hours = len(week.state) - 1
    points = "L".join(
        f"{at(left + wide * hour / hours)} {at(top + high * (1.0 - state))}"
        for hour, state in enumerate(week.state)
    )
    canvas.path(f"M{points}", style='stroke-width="2.5"')
    if week.runs_out_hour is not None:
        x = left + wide * week.runs_out_hour / hours
        canvas.line((x, top), (x, top + high), style=DASHED)
        anchor, shift = ("end", -5.0) if week.runs_out_hour > hours / 2 else ("start", 5.0)
        canvas.text(x + shift, top + 14.0, page["chart-empty"], anchor, SMALL, BOLD)


def _days(week: Week) -> int:
    return (len(week.state) - 1) // HOURS_A_DAY


def _week_rows(week: Week) -> tuple[tuple[str, str, str], ...]:
    return tuple(
        (
            plain(day + 1),
            show(min(span), "share"),
            show(span[-1], "share"),
        )
        for day in range(_days(week))
        for span in (week.state[day * HOURS_A_DAY : (day + 1) * HOURS_A_DAY + 1],)
    )
