"""The one-line diagram of a recommendation: symbols in a column, what they are beside them.

From the shore cord down through the unit to the panel, and on down to the batteries, so that it is
read on a narrow screen by scrolling. One line stands for all conductors of a run; a stroke with a
figure counts them.
"""

from dataclasses import dataclass

from engine.advice.layouts import TWO_LEG
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.pages.diagram_labels import Label, Labels
from engine.pages.diagram_symbols import symbol
from engine.pages.svg import DASHED, LINE_HEIGHT, SMALL, THICK, Picture, Sheet, sentence_of, wrapped

WIDTH = 360.0
LABEL_X = 178.0
BOLD = 'fill="currentColor" stroke="none" font-weight="700"'
INK = 'fill="currentColor" stroke="none"'
GAP = 12.0
UNIT_HEIGHT = 122.0
PANEL_HEIGHT = 58.0
STRING_GAP = 25.0
BATTERY_GAP = 24.0


@dataclass(frozen=True, slots=True)
class Columns:
    """Where the lines of each unit run: its legs on the AC side, its battery line, its case."""

    legs: tuple[tuple[float, ...], ...]
    dc: tuple[float, ...]
    cases: tuple[tuple[float, float], ...]
    spine: float

    @property
    def all_legs(self) -> tuple[float, ...]:
        """Every AC line from left to right."""
        return tuple(sorted(x for unit in self.legs for x in unit))


ONE_LEG = Columns(((112.0,),), (34.0,), ((6.0, 162.0),), 34.0)
TWO_LEGS = Columns(((96.0, 140.0),), (28.0,), ((6.0, 162.0),), 28.0)
PAIR = Columns(((62.0,), (106.0,)), (22.0, 146.0), ((4.0, 80.0), (88.0, 164.0)), 84.0)


def diagram_of(guide: Guide, needs: Needs, design: Design) -> Picture:
    """Draw the design, and say the same in words."""
    labels = Labels(guide, needs, design)
    drawing = _Diagram(labels)
    height = drawing.draw()
    title = labels.words["draw-title"]
    steps = tuple(label.sentence for label in labels.all())
    sentence = guide.layout_words(design.candidate.layout).plain
    return Picture(
        id="diagram",
        title=title,
        sentence=sentence,
        svg=drawing.sheet.svg(height, title, sentence_of(steps)),
        steps=steps,
    )


class _Diagram:
    """Draws row under row; `y` is where the next one begins."""

    def __init__(self, labels: Labels) -> None:
        self.labels = labels
        self.design = labels.design
        self.needs = labels.needs
        self.sheet = Sheet("rig-diagram", WIDTH)
        self.y = 8.0
        candidate = self.design.candidate
        if candidate.units > 1:
            self.columns = PAIR
        elif self.design.ac.poles == 2:
            self.columns = TWO_LEGS
        else:
            self.columns = ONE_LEG

    def draw(self) -> float:
        """Draw everything and return the height."""
        self._shore()
        self._breaker("in")
        below_units = self._units()
        self._breaker("out")
        self._panel()
        self._battery_lines(below_units)
        self._main_fuses_and_switch()
        self._bars()
        self._bank()
        return self.y

    # Pieces

    def _symbol(self, name: str, x: float, y: float) -> float:
        """Hang a symbol at a point; return where its lower end is."""
        found = symbol(name)
        self.sheet.use(name, found.drawing, x, y)
        return y + found.length

    def _label(self, label: Label, x: float = LABEL_X, *, at_y: float | None = None) -> float:
        """Write a label; return the height that it takes."""
        y = self.y if at_y is None else at_y
        width = WIDTH - x
        self.sheet.open(label.part)
        top = y
        for style, text in ((BOLD, label.title), *((INK, line) for line in label.lines)):
            for line in wrapped(text, width, bold=style == BOLD):
                y += LINE_HEIGHT
                self.sheet.text(x, y - 4.0, line, style=style)
        self.sheet.close()
        return y - top

    def _row(self, label: Label, least: float) -> float:
        """Write a label in a row of its own; return the row's height, at least this."""
        return max(self._label(label), least) + GAP

    def _down(self, xs: tuple[float, ...], start: float, end: float) -> None:
        for x in xs:
            self.sheet.line((x, start), (x, end))

    def _count(self, x: float, y: float, conductors: int) -> None:
        """The stroke across a line with the number of conductors that it stands for."""
        self.sheet.line((x - 4.0, y + 4.0), (x + 4.0, y - 4.0))
        self.sheet.text(x + 6.0, y + 4.0, str(conductors), size=SMALL, style=INK)

    def _in_row(self, name: str, xs: tuple[float, ...], height: float) -> None:
        """The same symbol in each of these lines, the line going on to the end of the row."""
        for x in xs:
            end = self._symbol(name, x, self.y + 2.0)
            self.sheet.line((x, self.y), (x, self.y + 2.0))
            self.sheet.line((x, end), (x, self.y + height))

    # AC

    def _shore(self) -> None:
        xs = self.columns.all_legs
        middle = (xs[0] + xs[-1]) / 2
        height = self._row(self.labels.shore(), 74.0)
        end = self._symbol("source", middle, self.y)
        self._symbol("ground", middle - 34.0, self.y + 12.0)
        self.sheet.line((middle - 12.0, self.y + 12.0), (middle - 34.0, self.y + 12.0))
        self.sheet.line((middle, end), (middle, end + 6.0))
        end = self._symbol("inlet", middle, end + 6.0) - 4.3
        self._symbol("inlet", middle, end - 20.0)
        legs = self.needs.service.legs
        self.sheet.line((middle, end), (middle, self.y + height - 8.0))
        self._count(middle, end + 8.0, legs + 2)
        self.y += height - 8.0
        if not self.needs.whole:
            self._main_panel(middle)
        self._spread(xs, middle)

    def _spread(self, xs: tuple[float, ...], middle: float) -> None:
        """From one line to the legs of the units."""
        if len(xs) == 1:
            self._down(xs, self.y, self.y + 8.0)
        else:
            self.sheet.line((middle, self.y), (middle, self.y + 8.0))
            self.sheet.line((xs[0], self.y + 8.0), (xs[-1], self.y + 8.0))
            self._down(xs, self.y + 8.0, self.y + 28.0)
            self.y += 20.0
            if self.needs.service.legs == 2 and self.design.candidate.layout != "parallel-pair":
                self._leg_names(xs, self.y + 2.0)
        self.y += 8.0

    def _leg_names(self, xs: tuple[float, ...], y: float) -> None:
        for place, x in enumerate(xs, start=1):
            self.sheet.text(x + 5.0, y, f"L{place}", size=SMALL, style=INK)

    def _main_panel(self, x: float) -> None:
        """The rig's own panel stays ahead of the unit, with its other circuits."""
        height = self._row(self.labels.main_panel(), 44.0)
        self.sheet.box(x - 60.0, self.y, 108.0, 40.0)
        self.sheet.line((x, self.y), (x, self.y + height))
        self.sheet.line((x - 50.0, self.y + 14.0), (x + 38.0, self.y + 14.0), style=THICK)
        for stub in (x - 42.0, x - 24.0):
            self._stub(stub, self.y + 14.0, 34.0)
        self.y += height

    def _stub(self, x: float, y: float, length: float) -> None:
        """A circuit that leaves a panel."""
        self.sheet.line((x, y), (x, y + length))
        self.sheet.line((x - 3.0, y + length - 5.0), (x, y + length), (x + 3.0, y + length - 5.0))

    def _breaker(self, side: str) -> None:
        label = self.labels.breaker(side)
        height = self._row(label, 44.0)
        for unit in self.columns.legs:
            if len(unit) > 1:  # one handle for both poles
                middle = self.y + 2.0 + symbol("breaker").length / 2
                self.sheet.line((unit[0] + 8.0, middle), (unit[1] + 8.0, middle), style=DASHED)
            self._in_row("breaker", unit, height)
            self._count(unit[-1], self.y + 36.0, self.design.ac.poles + 2)
        self.y += height

    def _units(self) -> float:
        """The boxes of the units; return where their battery lines come out."""
        label_height = self._label(self.labels.unit())
        bond_y = self.y + max(label_height + 6.0, 54.0)
        label_height = bond_y - self.y + self._label(self.labels.bond(), at_y=bond_y)
        for place, (left, right) in enumerate(self.columns.cases):
            self.sheet.open("unit")
            self.sheet.box(left, self.y, right - left, UNIT_HEIGHT, style='rx="4"')
            self._inside(place)
            self.sheet.close()
        below = self.y + UNIT_HEIGHT
        self.y += max(UNIT_HEIGHT + 22.0, label_height + GAP)
        for unit in self.columns.legs:
            self._down(unit, below, self.y)
        for (left, right), dc in zip(self.columns.cases, self.columns.dc, strict=True):
            x = left + 52.0 if dc < (left + right) / 2 else right - 52.0
            self._symbol("chassis", (left + right) / 2 if len(self.columns.dc) > 1 else x, below)
        return below

    def _inside(self, place: int) -> None:
        """Transfer contacts, converter and neutral-ground bond of one unit."""
        top = self.y
        legs, dc = self.columns.legs[place], self.columns.dc[place]
        side = 1.0 if legs[0] > dc else -1.0
        near = min(legs, key=lambda x: abs(x - dc))
        node = top + 46.0
        for x in legs:
            self.sheet.line((x, top), (x, top + 10.0))
            end = self._symbol("contact", x, top + 10.0)
            self.sheet.line((x, end), (x, top + UNIT_HEIGHT))
        self._converter(dc, node)
        self.sheet.line((dc + side * 13.0, node), (near, node))
        self.sheet.dot(near, node)
        if len(legs) > 1:
            self._second_leg(legs, dc, node)
        self.sheet.line((dc, node + 13.0), (dc, top + UNIT_HEIGHT))
        if self.design.candidate.inverter.bond_relay and place == 0:
            x = dc + side * 20.0 if len(self.columns.dc) > 1 else dc + side * 34.0
            self.sheet.text(x, top + 72.0, "N", "middle", SMALL, INK)
            end = self._symbol("contact", x, top + 76.0)
            self._symbol("ground", x, end)

    def _second_leg(self, legs: tuple[float, ...], dc: float, node: float) -> None:
        """Off the battery: both legs joined on one output, or the second half of the output."""
        far = max(legs, key=lambda x: abs(x - dc))
        near = min(legs, key=lambda x: abs(x - dc))
        if self.design.candidate.layout == TWO_LEG:
            tie = symbol("tie")
            middle = (near + far) / 2
            self.sheet.use("tie", tie.drawing, middle - 12.0, node)
            self.sheet.line((near, node), (middle - 12.0, node))
            self.sheet.line((middle + 12.0, node), (far, node))
        else:
            self.sheet.line((dc + 13.0, node + 9.0), (far, node + 9.0))
            node += 9.0
        self.sheet.dot(far, node)

    def _converter(self, x: float, y: float) -> None:
        """A converter between alternating and direct current: a square, its diagonal, its signs."""
        self.sheet.box(x - 13.0, y - 13.0, 26.0, 26.0)
        self.sheet.line((x - 13.0, y + 13.0), (x + 13.0, y - 13.0))
        self.sheet.path(f"M{x - 10.0:.1f} {y - 5.0:.1f}q2.5 -5 5 0t5 0")
        self.sheet.line((x + 2.0, y + 6.0), (x + 10.0, y + 6.0))
        self.sheet.line((x + 2.0, y + 9.0), (x + 10.0, y + 9.0), style='stroke-dasharray="2 1.5"')

    def _dc_converter(self, x: float, y: float) -> None:
        """A converter from one direct voltage to another."""
        self.sheet.box(x - 13.0, y - 13.0, 26.0, 26.0)
        self.sheet.line((x - 13.0, y + 13.0), (x + 13.0, y - 13.0))
        for left, line in ((x - 10.0, y - 8.0), (x + 2.0, y + 6.0)):
            self.sheet.line((left, line), (left + 8.0, line))
            self.sheet.line(
                (left, line + 3.0), (left + 8.0, line + 3.0), style='stroke-dasharray="2 1.5"'
            )

    def _panel(self) -> None:
        label = self.labels.panel()
        xs = self.columns.all_legs
        starter = "soft-starter" in self.labels.parts
        height = self._label(label)
        starter_y = self.y + max(height + 6.0, PANEL_HEIGHT - 8.0)
        if starter:
            height = starter_y - self.y + self._label(self.labels.soft_starter(), at_y=starter_y)
        left, right = self._panel_edges(xs)
        self.sheet.open("panel-box")
        self.sheet.box(left, self.y, right - left, PANEL_HEIGHT - 18.0)
        bars = self._panel_bars(xs, left, right)
        for start, end in bars:
            self.sheet.line((start, self.y + 16.0), (end, self.y + 16.0), style=THICK)
        if self.needs.service.legs == 2 and len(bars) == 2:
            self._leg_names((bars[0][0] - 3.0, bars[1][0] - 3.0), self.y + 34.0)
        self._down(xs, self.y, self.y + 16.0)
        for start, end in bars:
            for x in (end - 6.0, *((start + 6.0, start + 22.0) if len(bars) == 1 else ())):
                self._stub(x, self.y + 16.0, 42.0)
        self.sheet.close()
        if starter:
            self._softened(bars[0][1] - 6.0, self.y + 58.0)
            height = max(height, 112.0)
        self.y += max(height, PANEL_HEIGHT + 4.0) + GAP

    def _panel_edges(self, xs: tuple[float, ...]) -> tuple[float, float]:
        """The panel stands between the battery lines, which pass it."""
        if len(self.columns.dc) > 1:
            return 38.0, 130.0
        return self.columns.dc[0] + 26.0, 162.0

    def _panel_bars(
        self, xs: tuple[float, ...], left: float, right: float
    ) -> tuple[tuple[float, float], ...]:
        """One bar for each leg of the panel."""
        if len(xs) == 1 or self.design.candidate.layout == "parallel-pair":
            return ((left + 8.0, right - 8.0),)
        middle = (xs[0] + xs[1]) / 2
        return ((left + 6.0, middle - 3.0), (middle + 3.0, right - 6.0))

    def _softened(self, x: float, y: float) -> None:
        """An air conditioner with its soft starter."""
        self.sheet.box(x - 9.0, y, 18.0, 16.0)
        self.sheet.line(
            (x - 6.0, y + 13.0), (x - 2.0, y + 13.0), (x + 2.0, y + 3.0), (x + 6.0, y + 3.0)
        )
        self.sheet.line((x, y + 16.0), (x, y + 22.0))
        self.sheet.path(f"M{x - 12:.1f} {y + 34:.1f}a12 12 0 1 1 24 0a12 12 0 1 1 -24 0")
        self.sheet.text(x, y + 38.0, "M", "middle", style=INK)

    # DC

    def _battery_lines(self, below_units: float) -> None:
        """From the units past the panel, with the battery cable's size."""
        height = self._row(self.labels.cable(), 34.0)
        self._down(self.columns.dc, below_units, self.y + height)
        for x in self.columns.dc:
            self._count(x, self.y + 10.0, 2 * self.design.dc.cable.runs)
        self.y += height

    def _main_fuses_and_switch(self) -> None:
        """Two units: a fuse each, then one switch. One unit: the switch, then the fuse."""
        if len(self.columns.dc) > 1:
            self._fuses()
            spine, dc = self.columns.spine, self.columns.dc
            self.sheet.line((dc[0], self.y), (dc[-1], self.y))
            self.sheet.dot(spine, self.y)
            self._switch()
        else:
            self._switch()
            self._fuses()
        height = self._row(self.labels.monitor(), 40.0)
        spine = self.columns.spine
        end = self._symbol("resistor", spine, self.y + 6.0)
        self.sheet.line((spine, self.y), (spine, self.y + 6.0))
        self.sheet.line((spine, end), (spine, self.y + height))
        for y in (self.y + 6.0, end):  # the two measuring taps of a shunt
            self.sheet.line((spine, y), (spine + 14.0, y))
        self.y += height

    def _fuses(self) -> None:
        height = self._row(self.labels.fuse(), 34.0)
        self._in_row("fuse", self.columns.dc, height)
        self.y += height

    def _switch(self) -> None:
        spine = self.columns.spine
        top = self.y
        height = self._row(self.labels.switch(), 24.0)
        if self.design.dc.precharge:
            self.y += height
            height += self._row(self.labels.precharge(), 24.0)
            self.y = top
        middle = top + height / 2
        self.sheet.line((spine, top), (spine, middle - 12.0))
        end = self._symbol("switch", spine, middle - 12.0)
        self.sheet.line((spine, end), (spine, top + height))
        if self.design.dc.precharge:
            side = spine + 34.0
            self.sheet.line((spine, top + 6.0), (side, top + 6.0), (side, middle - 12.0))
            end = self._symbol("resistor", side, middle - 12.0)
            self.sheet.line((side, end), (side, top + height - 6.0), (spine, top + height - 6.0))
            self.sheet.dot(spine, top + 6.0)
            self.sheet.dot(spine, top + height - 6.0)
        self.y += height

    def _bars(self) -> None:
        """The busbars with everything else that hangs on the bank."""
        spine = self.columns.spine
        start = self.y
        if self.design.dc.shared:
            self.y += self._row(self.labels.busbars(), 24.0)
        for name in self.labels.sources():
            height = self._row(self.labels.source(name), 34.0)
            self._source(name, spine, self.y + 14.0)
            self.y += height
        self.sheet.line((spine, start), (spine, self.y))
        if self.design.dc.shared:
            self.sheet.line((spine, start + 2.0), (spine, self.y - 2.0), style=THICK)

    def _source(self, name: str, spine: float, y: float) -> None:
        """A branch from the bank: through its converter to what it feeds or is fed by."""
        self.sheet.dot(spine, y)
        if name == "house-12v":
            self.sheet.line((spine, y), (spine + 44.0, y))
            self.sheet.line((spine + 39.0, y - 3.0), (spine + 44.0, y), (spine + 39.0, y + 3.0))
            return
        self.sheet.line((spine, y), (spine + 17.0, y))
        self._dc_converter(spine + 30.0, y)
        self.sheet.line((spine + 43.0, y), (spine + 52.0, y))
        if name == "step-down":
            self.sheet.line((spine + 47.0, y - 3.0), (spine + 52.0, y), (spine + 47.0, y + 3.0))
            return
        found = symbol("solar-across" if name == "solar" else "generator-across")
        self.sheet.use(found.name, found.drawing, spine + 52.0, y)
        if name == "alternator":
            self.sheet.text(spine + 64.0, y + 4.0, "G", "middle", style=INK)

    def _bank(self) -> None:
        """Strings side by side, the batteries of each string in series below each other."""
        bank = self.design.bank
        spine = self.columns.spine
        most = int((LABEL_X - 24.0) / STRING_GAP)
        wide = bank.parallel > most
        gap = min(STRING_GAP, (WIDTH - 24.0) / bank.parallel)
        first = 14.0 if wide else max(14.0, spine - gap * (bank.parallel - 1) / 2)
        xs = tuple(first + gap * place for place in range(bank.parallel))
        self.sheet.line((spine, self.y), (spine, self.y + 8.0))
        self.sheet.line((min(xs[0], spine), self.y + 8.0), (max(xs[-1], spine), self.y + 8.0))
        top = self.y + 8.0
        self.sheet.text(WIDTH if wide else xs[-1] + 10.0, top + 4.0, "", size=SMALL)
        self.y += 14.0
        if self.design.dc.battery_fuse:
            label_height = self._row(self.labels.battery_fuse(), 30.0) if not wide else 34.0
            for x in xs:
                self.sheet.line((x, top), (x, self.y))
                end = self._symbol("fuse", x, self.y)
                self.sheet.line((x, end), (x, self.y + label_height))
            self.y += label_height
            top = self.y
        body = bank.series * BATTERY_GAP + 10.0
        for x in xs:
            y = top
            for place in range(bank.series):
                start = self.y + place * BATTERY_GAP
                self.sheet.line((x, y), (x, start))
                y = self._symbol("battery", x, start)
            self.sheet.line((x, y), (x, self.y + body))
        self.sheet.line((xs[0], self.y + body), (xs[-1], self.y + body))
        if wide:
            self.y += body + 8.0
            if self.design.dc.battery_fuse:
                self.y += self._label(self.labels.battery_fuse(), 10.0) + 4.0
            self.y += self._label(self.labels.bank(), 10.0) + 6.0
        else:
            self.y += max(self._label(self.labels.bank()), body) + 8.0
