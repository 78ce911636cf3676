"""The one-line diagram of a recommendation: symbols in a column, what they are beside them.

From the shore cord down through the unit to the panel, and on down to the batteries, so that it is
read on a narrow screen by scrolling. One line stands for all conductors of a run; a stroke with a
figure counts them.
"""

from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.pages.drawings.diagram_ac import AcSide
from engine.pages.drawings.diagram_board import LABEL_X, WIDTH
from engine.pages.drawings.diagram_labels import Labels
from engine.pages.drawings.diagram_symbols import symbol
from engine.pages.drawings.svg import THICK, Picture, sentence_of

STRING_GAP = 25.0
BATTERY_GAP = 24.0


def diagram_of(guide: Guide, needs: Needs, design: Design) -> Picture:
    """Draw the design, and say the same in words."""
    labels = Labels(guide, needs, design)
    drawing = _Diagram(labels)
    height = drawing.draw()
    title = labels.page["draw-title"]
    steps = tuple(label.sentence for label in labels.all())
    sentence = guide.layout_words(design.candidate.layout).plain
    return Picture(
        id="diagram",
        title=title,
        sentence=sentence,
        svg=drawing.canvas.svg(height, title, sentence_of(steps)),
        steps=steps,
    )


class _Diagram(AcSide):
    """The whole of it: the AC side, and below it the battery side."""

    def draw(self) -> float:
        """Draw everything and return the height."""
        self._shore()
        self._breaker("in")
        below_units = self._units()
        self._breaker("out")
        if self.design.ac.joint_a:
            self._joint()
        self._panel()
        self._battery_lines(below_units)
        self._main_fuses_and_switch()
        self._bars()
        self._shunt()
        self._bank()
        return self.y

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
            self.canvas.line((dc[0], self.y), (dc[-1], self.y))
            self.canvas.dot(spine, self.y)
            self._switch()
        else:
            self._switch()
            self._fuses()

    def _shunt(self) -> None:
        """Between the batteries and all else, so that it counts every current of theirs."""
        height = self._row(self.labels.monitor(), 40.0)
        spine = self.columns.spine
        end = self._symbol("shunt", spine, self.y + 6.0)
        self.canvas.line((spine, self.y), (spine, self.y + 6.0))
        self.canvas.line((spine, end), (spine, self.y + height))
        for y in (self.y + 6.0, end):  # the two measuring taps of a shunt
            self.canvas.line((spine, y), (spine + 14.0, y))
        self.canvas.dot(spine, self.y + 3.0)  # on its load side, the joint to the frame
        self.canvas.line((spine, self.y + 3.0), (spine - 16.0, self.y + 3.0))
        self._symbol("chassis", spine - 16.0, self.y + 3.0)
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
        self.canvas.line((spine, top), (spine, middle - 12.0))
        end = self._symbol("switch", spine, middle - 12.0)
        self.canvas.line((spine, end), (spine, top + height))
        if self.design.dc.precharge:
            side = spine + 34.0
            self.canvas.line((spine, top + 6.0), (side, top + 6.0), (side, middle - 26.0))
            end = self._symbol("resistor", side, middle - 26.0)
            self.canvas.line((side, end), (side, end + 2.0))
            end = self._symbol("momentary", side, end + 2.0)
            self.canvas.line((side, end), (side, top + height - 6.0), (spine, top + height - 6.0))
            self.canvas.dot(spine, top + 6.0)
            self.canvas.dot(spine, top + height - 6.0)
        self.y += height

    def _bars(self) -> None:
        """The busbars with everything else that hangs on the bank."""
        spine = self.columns.spine
        start = self.y
        if self.design.dc.shared:
            self.y += self._row(self.labels.busbars(), 24.0)
        for name in self.labels.sources():
            least = 34.0 if name == "house-12v" else 62.0
            height = self._row(self.labels.source(name), least)
            self._source(name, spine, self.y + 14.0)
            self.y += height
        self.canvas.line((spine, start), (spine, self.y))
        if self.design.dc.shared:
            self.canvas.line((spine, start + 2.0), (spine, self.y - 2.0), style=THICK)

    def _source(self, name: str, spine: float, y: float) -> None:
        """A branch from the bank: through its fuse and converter to what it feeds or is fed by.

        What comes behind a converter hangs below it, its switch first.
        """
        self.canvas.dot(spine, y)
        x = spine
        first = self.labels.branches.get("house" if name == "house-12v" else name)
        if first and first.fuse:
            fuse = symbol("fuse-across")
            self.canvas.line((spine, y), (spine + 4.0, y))
            self.canvas.use(fuse.name, fuse.drawing, spine + 4.0, y)
            x += 4.0 + fuse.length
        if name == "house-12v":
            if first and first.switch:
                cut = symbol("isolator-across")
                self.canvas.line((x, y), (x + 4.0, y))
                self.canvas.use(cut.name, cut.drawing, x + 4.0, y)
                x += 4.0 + cut.length
            self._arrow(x, x + 20.0, y)
            return
        self.canvas.line((x, y), (x + 4.0, y))
        x += 17.0
        self._dc_converter(x, y)
        y += 13.0
        if name == "alternator":
            self._alternator(x, y)
            return
        behind = self.labels.branches.get("house" if name == "step-down" else name)
        if behind and behind.switch:
            self.canvas.line((x, y), (x, y + 2.0))
            y = self._symbol("isolator", x, y + 2.0)
        if name == "solar":
            panels = symbol("solar-across")
            self.canvas.line((x, y), (x, y + 4.0), (x + 6.0, y + 4.0))
            self.canvas.use(panels.name, panels.drawing, x + 6.0, y + 4.0)
        else:
            self.canvas.line((x, y), (x, y + 4.0))
            self._arrow(x, x + 20.0, y + 4.0)

    def _arrow(self, start: float, end: float, y: float) -> None:
        self.canvas.line((start, y), (end, y))
        self.canvas.line((end - 5.0, y - 3.0), (end, y), (end - 5.0, y + 3.0))

    def _alternator(self, x: float, y: float) -> None:
        """Below the charger: the fuse at the starter battery, and what fills that."""
        starter = self.labels.branches.get("starter")
        self.canvas.line((x, y), (x, y + 4.0))
        y += 4.0
        if starter and starter.fuse:
            y = self._symbol("fuse", x, y)
        generator = symbol("generator-across")
        self.canvas.line((x, y), (x, y + 6.0), (x + 6.0, y + 6.0))
        self.canvas.use(generator.name, generator.drawing, x + 6.0, y + 6.0)
        self.canvas.text(x + 18.0, y + 10.0, "G", "middle")

    def _bank(self) -> None:
        """Strings side by side, the batteries of each string in series below each other."""
        bank = self.design.bank
        spine = self.columns.spine
        most = int((LABEL_X - 24.0) / STRING_GAP)
        wide = bank.parallel > most
        gap = min(STRING_GAP, (WIDTH - 24.0) / bank.parallel)
        first = 14.0 if wide else max(14.0, spine - gap * (bank.parallel - 1) / 2)
        xs = tuple(first + gap * place for place in range(bank.parallel))
        self.canvas.line((spine, self.y), (spine, self.y + 8.0))
        self.canvas.line((min(xs[0], spine), self.y + 8.0), (max(xs[-1], spine), self.y + 8.0))
        top = self.y + 8.0
        self.y += 14.0
        if self.design.dc.battery_fuse:
            label_height = self._row(self.labels.battery_fuse(), 30.0) if not wide else 34.0
            for x in xs:
                self.canvas.line((x, top), (x, self.y))
                end = self._symbol("fuse", x, self.y)
                self.canvas.line((x, end), (x, self.y + label_height))
            self.y += label_height
            top = self.y
        body = bank.series * BATTERY_GAP + 10.0
        for x in xs:
            y = top
            for place in range(bank.series):
                start = self.y + place * BATTERY_GAP
                self.canvas.line((x, y), (x, start))
                y = self._symbol("battery", x, start)
            self.canvas.line((x, y), (x, self.y + body))
        self.canvas.line((xs[0], self.y + body), (xs[-1], self.y + body))
        if wide:
            self.y += body + 8.0
            if self.design.dc.battery_fuse:
                self.y += self._label(self.labels.battery_fuse(), 10.0) + 4.0
            self.y += self._label(self.labels.bank(), 10.0) + 6.0
        else:
            self.y += max(self._label(self.labels.bank()), body) + 8.0
