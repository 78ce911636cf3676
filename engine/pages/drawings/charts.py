"""Small charts of an answer, as SVG that takes the color of the text around it.

Own code instead of a chart library: the one that would do (pygal) gives other bytes each time,
brings its own colors, style sheet and script, and eighteen kilobytes where these take three.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.answer import Advice
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.pages.drawings.chart_axes import draw_axis
from engine.pages.drawings.chart_cable import cable_chart
from engine.pages.drawings.chart_week import week_chart
from engine.pages.drawings.svg import BOLD, Canvas, Picture, Table, wrapped
from engine.sizing.loads import daily_energy_wh
from engine.units import show
from engine.wording.sentences import Sentences
from engine.wording.tongue import plain

WIDTH = 350.0
BESIDE_BAR = 76.0
BAR = 'fill="currentColor" fill-opacity="0.3"'
MOST_LOADS = 8


def charts_of(guide: Guide, advice: Advice) -> tuple[Picture, ...]:
    """The charts of a recommendation, in reading order."""
    if advice.best.design is None:
        raise ValueError("a recommendation has a design")
    design, needs, page = advice.best.design, advice.outcome.needs, guide.wording.page
    return (
        surge_chart(page, design),
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


def bars(canvas: Canvas, rows: Sequence[Bar], most: float, unit: str) -> float:
    """Draw bars under each other, each with its name above, and their scale; return the height."""
    y = 4.0
    wide = canvas.width - BESIDE_BAR
    for row in rows:
        name = row.name if row.limit is None else f"{row.name}: {row.text}"
        for line in wrapped(name, canvas.width):
            y += 15.0
            canvas.text(0.0, y - 4.0, line)
        end = row.value / most * wide
        canvas.box(0.5, y, max(end, 0.5), 16.0, BAR)
        if row.limit is None:
            canvas.text(end + 6.0, y + 12.5, row.text, style=BOLD)
        else:
            x = row.limit / most * wide
            canvas.line((x, y + 0.5), (x, y + 20.0), style='stroke-width="3"')
            near_right = row.limit / most > 0.5
            anchor, shift = ("end", 2.0) if near_right else ("start", -2.0)
            canvas.text(x + shift, y + 31.5, row.limit_text, anchor)
            y += 16.0
        y += 24.0
    return draw_axis(canvas, 0.5, y, wide, most, unit)


def surge_chart(page: Sentences, design: Design) -> Picture:
    """What the busier leg asks, against what the unit gives: lasting, apparent, and at a start."""
    supply = design.supply
    legs = supply.legs
    asked = (
        (
            page["chart-lasting"],
            supply.planned_w,
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
    height = bars(canvas, rows, most, page["chart-watts"])
    title = page["chart-surge"]
    table = Table(
        (page["chart-what"], page["chart-asked"], page["chart-limit"]),
        tuple(
            (row.name, row.text, show(limit, unit))
            for row, (_, _, unit, limit) in zip(rows, asked, strict=True)
        ),
    )
    sentence = page["chart-surge-says" if len(legs) > 1 else "chart-surge-says-one"]
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
        if not load.bus.legs
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
    height = bars(canvas, rows, max(value for _, value in found) * 1.2, page["chart-watt-hours"])
    title = page["chart-energy"]
    sentence = page.say("chart-energy-says", total=show(total, "Wh"), largest=found[0][0])
    table = Table(
        (page["chart-what"], page["chart-a-day"]),
        (*((row.name, row.text) for row in rows), (page["total"], show(total, "Wh"))),
    )
    return Picture("energy", title, sentence, canvas.svg(height, title, sentence), table=table)
