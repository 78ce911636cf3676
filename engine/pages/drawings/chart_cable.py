"""Cable drop against size: every size on the shelf, and why the chosen one is it."""

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.pages.drawings.chart_axes import draw_axis
from engine.pages.drawings.svg import BOLD, DASHED, Canvas, Picture, Table
from engine.sizing.ampacity import conductor_temperature_c, dc_ampacity_a
from engine.sizing.conductors import resistance_ohm_per_m, voltage_drop_v
from engine.standards import awg
from engine.units import show
from engine.wording.tongue import plain

WIDTH = 350.0
ROW = 22.0
LEFT = 76.0
RIGHT = 50.0
FIGURE_WIDTH = 36.0
MOST_SHARE = 0.08


@dataclass(frozen=True, slots=True)
class Size:
    """One size on the shelf as this run would load it; `drop` is a share of the bank's voltage.

    verdict : "chosen", "thin" (it may not carry what the fuse lets through), "drop", "thick"
        (it would do, and a thinner one does too); "good" where none was chosen by the guide
    """

    awg: str
    ampacity_a: float
    drop: float
    verdict: str


def sizes_of(guide: Guide, needs: Needs, design: Design) -> tuple[Size, ...]:
    """The sizes on the shelf with as many conductors a pole as the chosen run has."""
    dc, planning = design.dc, guide.planning
    volts, insulation_c = design.candidate.inverter.dc_nominal, planning.cable_insulation_c
    largest = awg.rank(design.candidate.inverter.dc_largest_awg)
    shelf = {
        cable.awg
        for cable in guide.catalogue.cables
        if cable.use == "dc" and awg.rank(cable.awg) <= largest
    }
    found = []
    for size in sorted(shelf | {dc.cable.size}, key=awg.rank):
        ampacity_a, drop_v = loaded(
            size, dc.cable.runs, dc.current_a, dc.cable_m, insulation_c, needs.ambient_c
        )
        drop = drop_v / volts
        if size == dc.cable.size:
            verdict = "chosen"
        elif ampacity_a < max(dc.current_a, dc.fuse.rating):
            verdict = "thin"
        elif drop > planning.drop_limit:
            verdict = "drop"
        else:
            verdict = "thick"
        found.append(Size(size, ampacity_a, drop, verdict))
    return tuple(found)


def loaded(
    size: str,
    runs: int,
    current_a: float,
    length_m: float,
    insulation_c: int,
    ambient_c: float,
) -> tuple[float, float]:
    """What cables of a size may carry [A], and what they lose there and back when warm [V].

    length_m : one way [m]
    """
    ampacity_a = runs * dc_ampacity_a(size, insulation_c, ambient_c)
    warm_c = conductor_temperature_c(
        min(current_a, ampacity_a), ampacity_a, insulation_c, ambient_c
    )
    ohm_per_m = resistance_ohm_per_m(size, warm_c)
    return ampacity_a, voltage_drop_v(current_a, length_m, ohm_per_m, runs)


VERDICTS = ("chosen", "thin", "drop", "thick")


def cable_chart(guide: Guide, needs: Needs, design: Design) -> Picture:
    """A bar for each size, the limit as a line, the chosen one filled and named."""
    page, cable = guide.wording.page, design.dc.cable
    sizes = sizes_of(guide, needs, design)
    runs = _times(cable.runs)
    title = page["chart-cable"]
    sentence = page.say(
        "chart-cable-says",
        amps=show(design.dc.current_a, "A"),
        length=show(design.dc.cable_m, "m"),
        size=f"{runs}{cable.size} AWG",
    )
    svg = size_bars(guide, sizes, cable.size, cable.runs, "rig-svg-cable", title, sentence)
    table = Table(
        (page["chart-size"], page["chart-drop"], page["chart-ampacity"], page["chart-verdict"]),
        tuple(
            (
                f"{runs}{size.awg} AWG",
                f"{plain(size.drop * 100, 1)} %",
                f"{plain(size.ampacity_a)} A",
                page.one_of("chart-is-", size.verdict, VERDICTS),
            )
            for size in sizes
        ),
    )
    return Picture("cable", title, sentence, svg, table=table)


def _times(runs: int) -> str:
    return f"{runs} × " if runs > 1 else ""


def size_bars(
    guide: Guide,
    sizes: Sequence[Size],
    chosen_awg: str,
    runs: int,
    name: str,
    title: str,
    sentence: str,
) -> Markup:
    """The loss of each size as a bar against the limit, as SVG; `name` is the drawing's own id."""
    page, limit = guide.wording.page, guide.planning.drop_limit
    most = min(max(limit, *(size.drop for size in sizes)) * 1.05, MOST_SHARE)
    wide = WIDTH - LEFT - RIGHT
    canvas = Canvas(name, WIDTH)
    y = 24.0
    x = LEFT + limit / most * wide
    for size in sizes:
        chosen = size.awg == chosen_awg
        style = BOLD if chosen else ""
        canvas.text(LEFT - 8.0, y + 12.0, f"{_times(runs)}{size.awg} AWG", "end", style=style)
        length = min(size.drop / most, 1.0) * wide
        opacity = "0.75" if chosen else "0.2" if size.verdict in ("thick", "good") else "0"
        fill = f'fill="currentColor" fill-opacity="{opacity}"'
        fill += f" {DASHED}" if size.verdict in ("thin", "drop") else ""
        canvas.box(LEFT, y, max(length, 0.5), 15.0, fill)
        text_x = LEFT + length + 6.0
        if text_x - 6.0 <= x <= text_x + FIGURE_WIDTH:  # never across the line of the limit
            text_x = x + 6.0
        canvas.text(text_x, y + 12.0, f"{plain(size.drop * 100, 1)} %", style=style)
        y += ROW
    canvas.line((x, 18.0), (x, y), style='stroke-width="2"')
    text = page.say("chart-drop-limit", limit=show(limit, "share"))
    canvas.text(x, 13.0, text, "middle" if x < WIDTH - 70 else "end")
    low = draw_axis(canvas, LEFT, y + 2.0, wide, most, "%", lambda share: plain(share * 100, 1))
    return canvas.svg(low, title, sentence)
