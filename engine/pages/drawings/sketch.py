"""The mounting sketch: the units in their place, from the front and from the side, to one scale."""

from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.pages import words
from engine.pages.drawings.faces import draw_front
from engine.pages.drawings.sketch_mounting import Mounting, mounting_of
from engine.pages.drawings.svg import DASHED, FAINT, LETTER, WIDTH_OF_LETTER, Canvas, Picture, Table
from engine.units import show
from engine.wording.sentences import Sentences

WIDTH = 350.0
MOST_HEIGHT = 300.0
EDGE, RIGHT_EDGE, KEY = 50.0, 40.0, 20.0
BETWEEN_VIEWS = 44.0
FOOT = 12 * 0.0254
TINT = 'fill="currentColor" fill-opacity="0.12"'
SMALLEST_LABELLED, ROOM_FOR_INCHES = 14.0, 34.0
CABLE = 'stroke-width="2.5"'
CABLE_OUT, CABLE_DOWN, BELOW_CABLES = 12.0, 8.0, 6.0
DOOR = 'stroke-width="1"'
HANDLE = 'stroke-width="4"'


def sketch_of(guide: Guide, needs: Needs, design: Design) -> Picture:
    """Draw the mounting, and give its measures as a table."""
    page = guide.wording.page
    mounting = mounting_of(needs, design.candidate.inverter, design.candidate.units)
    drawing = _Sketch(page, needs, design, mounting)
    height = drawing.draw()
    title = page["sketch-title"]
    sentence = page["sketch-fan" if design.cooling.fans else "sketch-by-itself"]
    return Picture(
        id="sketch",
        title=title,
        sentence=sentence,
        svg=drawing.canvas.svg(height, title, sentence),
        table=_table(guide, needs, design),
    )


class _Sketch:
    """Both views on one canvas."""

    def __init__(self, page: Sentences, needs: Needs, design: Design, mounting: Mounting) -> None:
        self.page = page
        self.needs = needs
        self.design = design
        self.mounting = mounting
        self.flat = mounting.orientation.startswith("flat")
        self.canvas = Canvas("rig-svg-sketch", WIDTH)
        right, down, out = mounting.space.spans(mounting.orientation)
        bay = needs.bay
        self.size = (
            (bay.width_m, bay.height_m, bay.depth_m)
            if bay
            else (right[1] - right[0], down[1] - down[0], out[1] - out[0])
        )
        wide = WIDTH - EDGE - RIGHT_EDGE - BETWEEN_VIEWS
        self.scale = min(wide / (self.size[0] + self.size[2]), MOST_HEIGHT / self.size[1])
        self.top = 38.0
        used = self.scale * (self.size[0] + self.size[2]) + BETWEEN_VIEWS
        self.front_x = EDGE + (WIDTH - EDGE - RIGHT_EDGE - used) / 2
        self.side_x = self.front_x + self.scale * self.size[0] + BETWEEN_VIEWS

    def draw(self) -> float:
        """Draw everything and return the height."""
        bottom = self.top + self.scale * self.size[1]
        self._view(self.front_x, depth=False)
        self._view(self.side_x, depth=True)
        self._cables()
        self._names(bottom)
        self._air(bottom)
        self._rule(bottom + 46.0)
        return bottom + 90.0

    def _names(self, bottom: float) -> None:
        for x, wide, name in (
            (self.front_x, self.size[0], self.page["sketch-front"]),
            (self.side_x, self.size[2], self.page["sketch-side"]),
        ):
            middle = x + wide * self.scale / 2
            self.canvas.text(middle, bottom + 34.0, name, "middle")

    def _offsets(self) -> tuple[float, float, float]:
        """Where the space lies in the place: in the middle, but on the surface that carries it."""
        spans = self.mounting.space.spans(self.mounting.orientation)
        lengths = [span[1] - span[0] for span in spans]
        free = [size - length for size, length in zip(self.size, lengths, strict=True)]
        down = free[1] if self.flat else free[1] / 2
        out = free[2] / 2 if self.flat else 0.0
        return free[0] / 2 - spans[0][0], down - spans[1][0], out - spans[2][0]

    def _view(self, x: float, *, depth: bool) -> None:
        """The place, what must stay free in it, and the units."""
        across = 2 if depth else 0
        offsets, scale = self._offsets(), self.scale
        width, height = self.size[across] * scale, self.size[1] * scale
        if self.needs.bay:
            self.canvas.box(x, self.top, width, height)
        elif depth and not self.flat:
            self.canvas.line((x, self.top - 8.0), (x, self.top + height + 8.0))
        elif self.flat:
            y = self.top + height
            self.canvas.line((x - 8.0, y), (x + width + 8.0, y))
        boxes = [(self.mounting.space, f"{DASHED} {FAINT}")]
        boxes += [(unit, TINT) for unit in self.mounting.units]
        seen = set()
        for solid, style in boxes:
            spans = solid.spans(self.mounting.orientation)
            left = x + (spans[across][0] + offsets[across]) * scale
            top = self.top + (spans[1][0] + offsets[1]) * scale
            wide = (spans[across][1] - spans[across][0]) * scale
            high = (spans[1][1] - spans[1][0]) * scale
            if (left, top) not in seen:  # units side by side hide each other from the side
                seen.add((left, top))
                self.canvas.box(left, top, wide, high, style)
        self._measure(x, across)
        if depth:
            self._front(x)
        else:
            self._free(x)

    def _free(self, x: float) -> None:
        """The free space above and below, where it is wide enough to be written into."""
        space = self.mounting.space.spans(self.mounting.orientation)
        offset, scale = self._offsets(), self.scale
        middle = x + ((space[0][0] + space[0][1]) / 2 + offset[0]) * scale
        first, last = self._ends()
        top = self.top + (space[1][0] + offset[1]) * scale
        bottom = self.top + (space[1][1] + offset[1]) * scale
        for start, end, lower in ((top, first, 0.0), (last, bottom, BELOW_CABLES)):
            if end - start >= SMALLEST_LABELLED + 2 * lower:
                text = _inches((end - start) / scale)
                self.canvas.text(middle, (start + end) / 2 + 4.0 + lower, text, "middle")

    def _front(self, x: float) -> None:
        """What stays free in front of the units, and the door of a compartment."""
        out = self.mounting.space.spans(self.mounting.orientation)[2]
        unit = self.mounting.units[0].spans(self.mounting.orientation)[2]
        offset, scale = self._offsets()[2], self.scale
        first, last = self._ends()
        if (out[1] - unit[1]) * scale >= ROOM_FOR_INCHES:
            middle = x + ((out[1] + unit[1]) / 2 + offset) * scale
            text = _inches(out[1] - unit[1])
            self.canvas.text(middle, (first + last) / 2 + 4.0, text, "middle")
        if self.needs.bay:
            right, bottom = x + self.size[2] * scale, self.top + self.size[1] * scale
            middle = (self.top + bottom) / 2
            self.canvas.line((right + 3.0, self.top), (right + 3.0, bottom), style=DOOR)
            self.canvas.line((right + 3.0, middle - 5.0), (right + 3.0, middle + 5.0), style=HANDLE)
            self.canvas.text(right + 9.0, middle + 4.0, self.page["sketch-door"])

    def _cables(self) -> None:
        """The battery cable of each unit, from its studs out of the place at its lower end."""
        orientation, scale = self.mounting.orientation, self.scale
        offsets = self._offsets()
        right = self.front_x + self.size[0] * scale + CABLE_OUT
        for solid in self.mounting.units:
            across, down, _ = solid.spans(orientation)
            left, top = (
                self.front_x + (across[0] + offsets[0]) * scale,
                self.top + (down[0] + offsets[1]) * scale,
            )
            wide, high = (across[1] - across[0]) * scale, (down[1] - down[0]) * scale
            if self.flat:  # its lower end is seen, the front is up
                middle = top + high / 2
                self.canvas.line((left + wide / 2, middle), (right, middle), style=CABLE)
                continue
            turned = orientation == "sideways"
            unit = self.design.candidate.inverter
            studs = draw_front(self.canvas, unit, (left, top), (wide, high), turned=turned)
            low = top + high + CABLE_DOWN
            for place, (x, y) in enumerate(studs):
                if turned:
                    self.canvas.line((x, y), (right, y), style=CABLE)
                else:
                    level = low - 4.0 * place
                    self.canvas.line((x, y), (x, level), (right, level), style=CABLE)

    def _measure(self, x: float, across: int) -> None:
        """Width (or depth) of the unit below the view, its height beside the front view."""
        spans = self.mounting.units[0].spans(self.mounting.orientation)
        offsets, scale = self._offsets(), self.scale
        left = x + (spans[across][0] + offsets[across]) * scale
        right = x + (spans[across][1] + offsets[across]) * scale
        y = self.top + self.size[1] * scale + 7.0
        self._arrowed((left, y), (right, y))
        inches = _inches(spans[across][1] - spans[across][0])
        self.canvas.text((left + right) / 2, y + 13.0, inches, "middle")
        if across == 0:
            up = self.top + (spans[1][0] + offsets[1]) * scale
            down = self.top + (spans[1][1] + offsets[1]) * scale
            self._arrowed((x - 7.0, up), (x - 7.0, down))
            text = _inches(spans[1][1] - spans[1][0])
            self.canvas.text(x - 10.0, (up + down) / 2 + 4.0, text, "end")

    def _arrowed(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """A measure: a line with a stroke at either end."""
        self.canvas.line(start, end, style='stroke-width="1"')
        flat = start[1] == end[1]
        for x, y in (start, end):
            across = ((x, y - 4.0), (x, y + 4.0)) if flat else ((x - 4.0, y), (x + 4.0, y))
            self.canvas.line(*across, style='stroke-width="1"')

    def _air(self, bottom: float) -> None:
        """Cool air in low and warm air out high; through the place where a fan drives it."""
        middle = self.side_x + self.size[2] * self.scale / 2
        if not self.flat:
            unit = self.mounting.units[0].spans(self.mounting.orientation)[2]
            middle = self.side_x + (unit[0] + unit[1]) / 2 * self.scale
        if not self.design.cooling.fans:
            first, last = self._ends()
            above = min(first - 16.0, self.top - 8.0)
            self._arrow((middle, first - 2.0), (middle, above))
            self._arrow((middle, last + 20.0), (middle, last + 3.0))
            text = self.page["sketch-warm"]
            fits = middle + 8.0 + len(text) * LETTER * WIDTH_OF_LETTER <= WIDTH
            x, anchor = (middle + 8.0, "start") if fits else (middle - 8.0, "end")
            self.canvas.text(x, above + 6.0, text, anchor)
            return
        left, right = self.front_x, self.front_x + self.size[0] * self.scale
        y = self.top - 12.0
        self._arrow((right - 8.0, y), (right + 24.0, y))
        self.canvas.path(_fan(right - 20.0, y, 9.0))
        in_y = min(bottom - 8.0, sum(self._ends()) / 2 - 16.0) if self.flat else bottom - 8.0
        self._arrow((left - 22.0, in_y), (left + 6.0, in_y))
        fans = self.design.cooling
        name = fans.fan.name if fans.fan else self.page["sketch-no-fan"]
        text = f"{fans.fans} × {name}" if fans.fan else name
        if len(text) * LETTER * WIDTH_OF_LETTER <= right - 34.0:
            self.canvas.text(right - 34.0, y + 4.0, text, "end")
        else:
            self.canvas.text(right + 30.0, y + 4.0, text)

    def _ends(self) -> tuple[float, float]:
        """Where the units begin and end, from the top."""
        offset = self._offsets()[1]
        spans = [each.spans(self.mounting.orientation)[1] for each in self.mounting.units]
        first = min(span[0] for span in spans)
        last = max(span[1] for span in spans)
        return (
            self.top + (first + offset) * self.scale,
            self.top + (last + offset) * self.scale,
        )

    def _arrow(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        self.canvas.line(start, end)
        x, y = end
        if start[0] == x:
            back = 5.0 if start[1] > y else -5.0
            self.canvas.line((x - 4.0, y + back), (x, y), (x + 4.0, y + back))
        else:
            self.canvas.line((x - 5.0, y - 4.0), (x, y), (x - 5.0, y + 4.0))

    def _rule(self, y: float) -> None:
        """A foot, for the scale."""
        length = FOOT * self.scale
        self._arrowed((KEY, y + 6.0), (KEY + length, y + 6.0))
        text = self.page["sketch-scale"]
        self.canvas.text(KEY + length + 10.0, y + 10.0, text)
        self.canvas.line((KEY, y + 26.0), (KEY + 20.0, y + 26.0), style=CABLE)
        self.canvas.text(KEY + 30.0, y + 30.0, self.page["sketch-cable"])


def _fan(x: float, y: float, radius: float) -> str:
    """A fan: a circle with two blades."""
    return (
        f"M{x - radius:.1f} {y:.1f}a{radius} {radius} 0 1 1 {2 * radius} 0"
        f"a{radius} {radius} 0 1 1 {-2 * radius} 0"
        f"M{x:.1f} {y:.1f}q-6 -4 0 -7q6 3 0 7q6 4 0 7q-6 -3 0 -7"
    )


def _inches(length_m: float) -> str:
    return show(length_m, "m").partition(" (")[0]


def _table(guide: Guide, needs: Needs, design: Design) -> Table:
    page, inverter, cooling = guide.wording.page, design.candidate.inverter, design.cooling
    rows = [
        (
            page["sketch-unit"],
            f"{show(inverter.height, 'm')} × {show(inverter.width, 'm')} × "
            f"{show(inverter.depth, 'm')}",
        ),
        (page["sketch-free"], words.clearance_text(guide, inverter.clearances)),
        (page["sketch-free-front"], show(inverter.clearances.front, "m")),
        (page["sketch-air"], show(cooling.airflow_m3_per_h, "m^3/h")),
        (page["sketch-vents"], words.vent_text(cooling.vent_area_m2)),
    ]
    if needs.bay:
        bay = needs.bay
        size = f"{show(bay.height_m, 'm')} × {show(bay.width_m, 'm')} × {show(bay.depth_m, 'm')}"
        rows.insert(0, (page["sketch-place"], size))
    return Table((page["sketch-measure"], page["sketch-figure"]), tuple(rows))
