"""This rig from its left side, the parts of the setup in it, all of it to one scale.

Where parts stand is a proposal: inlet at the rear on the left side, units ahead of it, batteries
low and as far from the units as their cable is long. Source: common practice, no source.
"""

from dataclasses import dataclass

from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.pages.drawings.rig_shapes import SHAPES, THIN, Frame, draw_shape
from engine.pages.drawings.svg import FAINT, LETTER, WIDTH_OF_LETTER, Canvas, Picture
from engine.units import show

WIDTH = 320.0
MOST_HEIGHT = 112.0
EDGE = 3.0
TINT = 'fill="currentColor" fill-opacity="0.3"'
INLET_M, INLET_UP_M = 0.18, 0.75
"""An inlet and how far above the floor it is: common practice, no source."""
PANEL_HEIGHT_M, PANEL_WIDTH_M = 0.36, 0.33
"""A rig's own breaker panel: common practice, no source."""
RULE_M = 5 * 12 * 0.0254
GAP = 7.0
POST = 2.0  # from the edge of a battery
ROW = 15.0
STUDS_UP = 0.15
"""How far up a unit its battery studs are, as a share of its height: common practice, no source."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Label:
    """Words over a part: where their middle is, and how wide they are."""

    text: str
    x: float

    @property
    def half(self) -> float:
        """Half of their width."""
        return len(self.text) * LETTER * WIDTH_OF_LETTER / 2


def rig_side_of(guide: Guide, needs: Needs, design: Design) -> Picture:
    """The rig that was asked for, with what is recommended for it."""
    page = guide.wording.page
    side = _Side(guide, needs, design)
    height = side.draw()
    title = page.say("head-picture", rig=needs.rig.name)
    says = page.say("head-says", units=side.units, batteries=side.batteries, cable=side.run)
    svg = side.canvas.svg(height, title, f"{says} {page['head-to-scale']}")
    return Picture("head", title, page["head-to-scale"], svg)


class _Side:
    """The canvas, and where each part stands on it."""

    def __init__(self, guide: Guide, needs: Needs, design: Design) -> None:
        outline, page = needs.rig.outline, guide.wording.page
        self.page = page
        self.design = design
        self.canvas = Canvas("rig-svg-head", WIDTH)
        self.scale = min((WIDTH - 2 * EDGE) / outline.length, MOST_HEIGHT / outline.height)
        length, height = outline.length * self.scale, outline.height * self.scale
        self.shape = SHAPES[outline.shape]
        self.frame = Frame(
            (WIDTH - length) / 2,
            EDGE + height,
            length,
            height,
            outline.floor * self.scale,
            outline.tire / 2 * self.scale,
        )
        self.floor = self.frame.ground - self.frame.floor
        numbers, bank = guide.wording.numbers, design.bank
        self.units = numbers.count("count-units", design.candidate.units)
        self.batteries = numbers.count("count-batteries", bank.count)
        self.over_units = page.count("head-units", design.candidate.units)
        self.over_bank = page.count("head-batteries", bank.count)
        self.run = show(design.dc.cable_m, "m").partition(" (")[0]
        self.panel = _panel_m(guide, design)
        self.row = 0.0

    def draw(self) -> float:
        """Everything; return the height."""
        draw_shape(self.canvas, self.shape, self.frame)
        units, top = self._units()
        inlet = self._inlet()
        self.row = min(top, inlet[1]) - 9.0
        bank, run = self._bank_and_run(units[0])
        self._labels((sum(units) / 2, top), inlet, bank, run)
        return self._rule()

    def _box(self, x: float, bottom: float, width_m: float, height_m: float) -> float:
        """A part; return its upper edge."""
        top = bottom - height_m * self.scale
        self.canvas.box(x, top, width_m * self.scale, height_m * self.scale, f"{THIN} {TINT}")
        return top

    def _units(self) -> tuple[tuple[float, float], float]:
        """The units side by side, above what must stay free below them: both ends, upper edge."""
        unit, count = self.design.candidate.inverter, self.design.candidate.units
        step = (unit.width + unit.clearances.sides) * self.scale
        wide = step * (count - 1) + unit.width * self.scale
        right = self.frame.x(self.shape.room[1])
        bottom = self.floor - unit.clearances.bottom * self.scale
        for place in range(count):
            top = self._box(right - wide + place * step, bottom, unit.width, unit.height)
        return (right - wide, right), top

    def _bank_and_run(self, to: float) -> tuple[Point, Point]:
        """Batteries on the floor, the run at its length; return the middles of bank and run."""
        battery, count = self.design.bank.battery, self.design.bank.count
        unit = self.design.candidate.inverter
        wide, high = battery.width * self.scale, battery.height * self.scale
        first = self.frame.x(self.shape.room[0])
        shown = max(1, min(count, int((to - first) / 2 / wide)))  # the rest stands behind
        start_y = self.floor - high
        studs = unit.clearances.bottom + unit.height * STUDS_UP
        end_y = min(start_y - 2.0, self.floor - studs * self.scale)
        wanted = self.design.dc.cable_m * self.scale
        room = to - first - shown * wide + POST
        across = min(max(wanted - (start_y - end_y), GAP), room)
        right = to - across + POST
        for place in range(shown):
            self._box(right - (place + 1) * wide, self.floor, battery.width, battery.height)
        more = max(wanted - (start_y - end_y) - across, 0.0) / 2
        run_y = self._run((to - across, start_y), (to, end_y), more)
        return (right - shown * wide / 2, start_y), ((right + to) / 2, run_y)

    def _run(self, start: Point, end: Point, more: float) -> float:
        """The cable at its length, what has no room up and down again; return how high it lies."""
        style = 'stroke-width="2.5"'
        up = min(more, end[1] - self.row - 4.0)
        points = [start, (start[0], end[1] - up)]
        if more:
            points += [(end[0] - 4.0, end[1] - up), (end[0] - 4.0, end[1])]
        self.canvas.line(*points, end, style=style)
        if up < more:  # longer than what is drawn: the usual sign for it
            x, y = (start[0] + end[0]) / 2, end[1] - up
            self.canvas.line((x - 3.0, y + 5.0), (x + 1.0, y - 5.0), style=THIN)
            self.canvas.line((x + 1.0, y + 5.0), (x + 5.0, y - 5.0), style=THIN)
        return end[1] - up

    def _inlet(self) -> Point:
        """The inlet; return the middle of its upper edge."""
        x = self.frame.x(self.shape.inlet)
        side = INLET_M * self.scale
        top = self._box(x - side / 2, self.floor - INLET_UP_M * self.scale, INLET_M, INLET_M)
        return x, top

    def _labels(self, units: Point, inlet_at: Point, bank_at: Point, run: Point) -> None:
        """Two rows: what stands low below, cable and panel above; none over another."""
        low, high = self.row, self.row - ROW
        edge = self.frame.x(self.shape.ends[1]) - 4.0
        inlet = self._before(self.page["head-inlet"], inlet_at[0], edge)
        unit = self._before(self.over_units, units[0], inlet.x - inlet.half - GAP)
        bank = self._before(self.over_bank, bank_at[0], unit.x - unit.half - GAP)
        cable = self._behind_panel(self.page.say("head-cable", length=self.run), run[0], edge)
        between = (bank.x + bank.half + unit.x - unit.half) / 2
        leaders = (
            ((inlet.x, low + 3.0), inlet_at),
            ((unit.x, low + 3.0), units),
            ((bank.x, low + 3.0), bank_at),
            (
                (max(between, cable.x - cable.half + GAP), high + 3.0),
                (between, low - LETTER * 0.75),  # past what stands on either side of it
                (between, low + 3.0),
                run,
            ),
        )
        for points in leaders:
            self.canvas.line(*points, style=f"{THIN} {FAINT}")
        for label, y in ((inlet, low), (unit, low), (bank, low), (cable, high)):
            self.canvas.text(label.x, y, label.text, "middle")
        self._panel(cable, edge, high)

    def _before(self, text: str, x: float, right: float) -> Label:
        """The words over x, or left of it where they would pass the right edge."""
        label = Label(text, x)
        return Label(text, max(min(x, right - label.half), label.half))

    def _behind_panel(self, text: str, x: float, edge: float) -> Label:
        """The words of the cable, with room for the panel behind or before them."""
        cable = self._before(text, x, edge)
        if self._is_panel_behind(cable, edge):
            return cable
        front = self.frame.x(self.shape.cab) + self._panel_wide() + GAP
        return self._before(text, max(cable.x, front + cable.half), edge)

    def _is_panel_behind(self, cable: Label, edge: float) -> bool:
        return cable.x + cable.half + GAP + self._panel_wide() <= edge

    def _panel_wide(self) -> float:
        """How wide the panel is with its name beside it."""
        return self.panel[1] * self.scale + 4.0 + 2 * Label(self.page["head-panel"], 0.0).half

    def _panel(self, cable: Label, edge: float, base: float) -> None:
        """The breaker panel on the wall, behind the words of the cable where there is room."""
        height_m, width_m = self.panel
        wide, name = width_m * self.scale, self.page["head-panel"]
        fits = self._is_panel_behind(cable, edge)
        left = cable.x + cable.half + GAP if fits else cable.x - cable.half - GAP - wide
        self._box(left, base - 4.0 + height_m * self.scale / 2, width_m, height_m)
        if fits:
            self.canvas.text(left + wide + 4.0, base, name)
        else:
            self.canvas.text(left - 4.0, base, name, "end")

    def _rule(self) -> float:
        """Five feet, for the scale, below the ground; return the lower end."""
        y, end = self.frame.ground + 10.0, EDGE + RULE_M * self.scale
        ticks = "".join(f"M{x:.1f} {y - 3:.1f}v6" for x in (EDGE, end))
        self.canvas.path(f"M{EDGE} {y:.1f}H{end:.1f}{ticks}", THIN)
        self.canvas.text(end + 6.0, y + 4.0, show(RULE_M, "m").partition(" (")[0])
        return y + 8.0


def _panel_m(guide: Guide, design: Design) -> tuple[float, float]:
    """Height and width of the panel that is bought, else of a usual one."""
    ids = {line.product for line in design.parts}
    bought = [each for each in guide.catalogue.sub_panels if each.id in ids]
    return (bought[0].height, bought[0].width) if bought else (PANEL_HEIGHT_M, PANEL_WIDTH_M)
