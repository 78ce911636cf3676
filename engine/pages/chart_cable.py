"""Cable drop against size: every size on the shelf, and why the chosen one is it."""

from dataclasses import dataclass

from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.pages.svg import BOLD, DASHED, INK, SMALL, Picture, Sheet, Table
from engine.sizing.ampacity import conductor_temperature_c, dc_ampacity_a
from engine.sizing.conductors import resistance_ohm_per_m, voltage_drop_v
from engine.standards import awg
from engine.units import plain, show

WIDTH = 360.0
ROW = 22.0
LEFT = 76.0
RIGHT = 50.0
FIGURE_WIDTH = 36.0
MOST_SHARE = 0.08


@dataclass(frozen=True, slots=True)
class Size:
    """One size on the shelf as this run would load it; `drop` is a share of the bank's voltage.

    verdict : "chosen", "thin" (it may not carry what the fuse lets through), "drop", "thick"
        (it would do, and a thinner one does too)
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
        ampacity_a = dc.cable.runs * dc_ampacity_a(size, insulation_c, needs.ambient_c)
        warm_c = conductor_temperature_c(
            min(dc.current_a, ampacity_a), ampacity_a, insulation_c, needs.ambient_c
        )
        ohm_per_m = resistance_ohm_per_m(size, warm_c)
        drop = voltage_drop_v(dc.current_a, dc.cable_m, ohm_per_m, dc.cable.runs) / volts
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


def cable_chart(guide: Guide, needs: Needs, design: Design) -> Picture:
    """A bar for each size, the limit as a line, the chosen one filled and named."""
    page, limit = guide.wording.page, guide.planning.drop_limit
    sizes = sizes_of(guide, needs, design)
    runs = f"{design.dc.cable.runs} × " if design.dc.cable.runs > 1 else ""
    most = min(max(limit, *(size.drop for size in sizes)) * 1.05, MOST_SHARE)
    wide = WIDTH - LEFT - RIGHT
    sheet = Sheet("rig-svg-cable", WIDTH)
    y = 24.0
    x = LEFT + limit / most * wide
    for size in sizes:
        chosen = size.verdict == "chosen"
        style = BOLD if chosen else INK
        sheet.text(LEFT - 8.0, y + 12.0, f"{runs}{size.awg} AWG", "end", style=style)
        length = min(size.drop / most, 1.0) * wide
        opacity = "0.75" if chosen else "0.2" if size.verdict == "thick" else "0"
        fill = f'fill="currentColor" fill-opacity="{opacity}"'
        fill += f" {DASHED}" if size.verdict in ("thin", "drop") else ""
        sheet.box(LEFT, y, max(length, 0.5), 15.0, fill)
        text_x = LEFT + length + 6.0
        if text_x - 6.0 <= x <= text_x + FIGURE_WIDTH:  # never across the line of the limit
            text_x = x + 6.0
        sheet.text(text_x, y + 12.0, f"{plain(size.drop * 100, 1)} %", style=style)
        y += ROW
    sheet.line((x, 18.0), (x, y), style='stroke-width="2"')
    text = page["chart-drop-limit"].format(limit=show(limit, "share"))
    sheet.text(x, 13.0, text, "middle" if x < WIDTH - 70 else "end", SMALL, INK)
    title = page["chart-cable"]
    sentence = page["chart-cable-says"].format(
        amps=show(design.dc.current_a, "A"),
        length=show(design.dc.cable_m, "m"),
        size=f"{runs}{design.dc.cable.size} AWG",
    )
    table = Table(
        (page["chart-size"], page["chart-drop"], page["chart-ampacity"], page["chart-verdict"]),
        tuple(
            (
                f"{runs}{size.awg} AWG",
                f"{plain(size.drop * 100, 1)} %",
                f"{plain(size.ampacity_a)} A",
                page[f"chart-is-{size.verdict}"],
            )
            for size in sizes
        ),
    )
    return Picture("cable", title, sentence, sheet.svg(y + 6.0, title, sentence), table=table)
