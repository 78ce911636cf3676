"""The battery side of the wiring diagram, a line for each pole.

Fuse and switch are in the positive line, the shunt and the bond to the frame in the negative one.
From the units down to the batteries: what is drawn lower is nearer to them.
"""

from engine.pages.drawings.diagram_board import AC, DC, PLUS
from engine.pages.drawings.diagram_branches import Branches
from engine.pages.drawings.diagram_labels_dc import SMALL_FUSES
from engine.pages.drawings.svg import THICK

STRING_GAP = 25.0
BATTERY_GAP = 24.0
MOST_BETWEEN = 5
"""Strings that find room between the two lines; more of them stand below all labels."""

POSITIVE_X, RETURN_X, GUTTER_X = 16.0, 156.0, 172.0
"""In a column of symbols: its two lines, and where it ends."""

WIDEST = 330.0
LANE = 6.0
PRECHARGE_X = 34.0
ARRIVING = {1: ((16.0, 40.0),), 2: ((10.0, 34.0), (134.0, 158.0))}
"""In the battery side's column: where the poles of each unit arrive, by the number of units."""
PLUS_BAR = f"{PLUS} {THICK}"


class DcSide(Branches):
    """From the units' terminals down to the batteries."""

    def _battery_side(self, below_units: float) -> None:
        """All of it."""
        self.low, self.below_units = self.y, below_units
        self._from_units(below_units)
        if len(self.arriving) > 1:
            self._fuses()
            self._pole("+", (self.arriving[0][0], self.y), (self.arriving[-1][0], self.y))
            self.canvas.dot(self.plus, self.y)
            self._switch()
        else:
            self._switch()
            self._fuses()
        self._bars()
        self._shunt()
        self._bank()

    def _from_units(self, below_units: float) -> None:
        """The battery cable's row, at whose end the units' negative lines have met."""
        arriving = ARRIVING[self.design.candidate.units]
        self.arriving = tuple((plus + DC.x, minus + DC.x) for plus, minus in arriving)
        starts = self._rise(self.columns.dc, below_units)
        self.side = DC
        self.plus = self.arriving[0][0]
        self.minus = max(self.side.x + RETURN_X, self.arriving[-1][1])
        height = self._row(self.labels.cable(), 40.0)
        end = self.y + height
        runs = self.design.dc.cable.runs
        for start, pair in zip(starts, self.arriving, strict=True):
            for sign, x, top in zip("+−", pair, start, strict=True):
                self._pole(sign, (x, top), (x, end if sign == "+" else end - LANE))
                self._sign(sign, x + (-6.0 if sign == "+" else 7.0), self.y + 14.0)
                if runs > 1:
                    self._count(x, self.y + 28.0, runs)
        plusses = [plus for plus, _ in self.arriving]
        for _, minus in self.arriving:
            if minus != self.minus:
                self.canvas.across(minus, self.minus, end - LANE, plusses)
        self.minus_from = end - LANE
        self.y = end

    def _rise(
        self, leaving: tuple[tuple[float, float], ...], below: float
    ) -> list[tuple[float, float]]:
        """From below the units over to the top of the column beside them, without a crossing.

        The line that leaves farthest to the right turns first, and so arrives on top.
        """
        gutter = AC.x + GUTTER_X
        legs = self.columns.all_legs
        lane = 0
        starts: list[tuple[float, float]] = []
        for pair, goals in zip(reversed(leaving), reversed(self.arriving), strict=True):
            tops = []
            for sign, x, goal in zip("−+", reversed(pair), reversed(goals), strict=True):
                lane += 1
                turn, side, top = below + LANE * lane, gutter + LANE * lane, 2.0 + LANE * lane
                self._pole(sign, (x, below), (x, turn))
                self.canvas.across(x, side, turn, legs, PLUS if sign == "+" else "")
                self._pole(sign, (side, turn), (side, top), (goal, top))
                tops.append(top)
            starts.append((tops[1], tops[0]))
        self.y = 8.0 + LANE * lane
        return starts[::-1]

    def _fuses(self) -> None:
        height = self._row(self.labels.fuse(), 34.0)
        self._in_row("fuse", tuple(plus for plus, _ in self.arriving), height, "fuse", PLUS)
        self.y += height

    def _switch(self) -> None:
        top, x = self.y, self.plus
        height = self._row(self.labels.switch(), 24.0)
        if self.design.dc.precharge:
            self.y += height
            height += self._row(self.labels.precharge(), 24.0)
            self.y = top
            height = max(height, 96.0)
        middle = top + height / 2
        self._pole("+", (x, top), (x, middle - 12.0))
        with self._speaking("disconnect"):
            end = self._symbol("switch", x, middle - 12.0)
        self._pole("+", (x, end), (x, top + height))
        if self.design.dc.precharge:
            self._precharge(top + 6.0, top + height - 6.0)
        self.y += height

    def _precharge(self, top: float, bottom: float) -> None:
        """Beside the switch: resistor and button; at the battery's end the fuse of its wire."""
        x, side = self.plus, self.plus + PRECHARGE_X
        start = (top + bottom) / 2 - 38.0
        self._pole("+", (x, top), (side, top), (side, start))
        with self._speaking("precharge"):
            end = self._symbol("resistor", side, start)
        self._pole("+", (side, end), (side, end + 2.0))
        with self._speaking("precharge"):
            end = self._symbol("momentary", side, end + 2.0)
        self._pole("+", (side, end), (side, end + 2.0))
        with self._speaking("precharge", SMALL_FUSES):
            end = self._symbol("fuse", side, end + 2.0)
        self._pole("+", (side, end), (side, bottom), (x, bottom))
        self.canvas.dot(x, top)
        self.canvas.dot(x, bottom)

    def _bars(self) -> None:
        """The busbars, and between them everything else that hangs on the bank."""
        if self.labels.sources():
            self._bars_aside()
            return
        start = self.y
        self._rungs()
        self._pole("+", (self.plus, start), (self.plus, self.y))
        self._thick(start, self.y)

    def _rungs(self) -> None:
        if self.design.dc.shared:
            self.y += self._row(self.labels.busbars(), 24.0)
        for name in self.labels.sources():
            self._source(name)

    def _thick(self, start: float, end: float) -> None:
        """Busbars on lines that are drawn."""
        if not self.design.dc.shared:
            return
        with self._speaking("busbar"):
            self.canvas.line((self.plus, start + 2.0), (self.plus, end - 2.0), style=PLUS_BAR)
            if self.design.dc.load_bar:
                self.canvas.line((self.minus, start + 2.0), (self.minus, end - 2.0), style=THICK)

    def _bars_aside(self) -> None:
        """The same below the AC side, on two lines that lead there."""
        plus, minus, start = self.plus, self.minus, self.y
        tap = max(start + 4.0, self.below_units + 5 * LANE)
        turn = max(self.low, tap) + 2 * LANE
        gutter = AC.x + GUTTER_X + LANE
        self.plus, self.minus = AC.x + POSITIVE_X, AC.x + RETURN_X
        self._pole("+", (plus, start), (plus, tap + 2 * LANE))
        self._pole("+", (plus, tap), (gutter, tap), (gutter, turn), (self.plus, turn))
        gutter += LANE
        self.canvas.across(minus, gutter, tap + LANE, (plus,))
        self._pole("−", (gutter, tap + LANE), (gutter, turn + LANE), (self.minus, turn + LANE))
        self.canvas.dot(plus, tap)
        self.canvas.dot(minus, tap + LANE)
        self.side, self.y = AC, turn + 2 * LANE
        self._rungs()
        self._pole("+", (self.plus, turn), (self.plus, self.last_rung))
        self._pole("−", (self.minus, turn + LANE), (self.minus, self.last_rung))
        self._thick(turn + LANE, self.last_rung + 4.0)
        self.low = self.y
        self.side, self.plus, self.minus, self.y = DC, plus, minus, tap + 2 * LANE

    def _shunt(self) -> None:
        """Between the batteries' negatives and all others, so that it counts every current.

        On its load side the negative is bonded to the frame.
        """
        top, x = self.y, self.minus
        height = self._row(self.labels.frame(), 24.0)
        self.y += height
        height += self._row(self.labels.monitor(), 40.0)
        self.y = top
        self.canvas.dot(x, top + 4.0)
        with self._speaking("frame-cable"):
            self.canvas.line((x, top + 4.0), (x + 12.0, top + 4.0))
            self._symbol("chassis", x + 12.0, top + 4.0)
        start = top + height - 48.0
        self._pole("−", (x, self.minus_from), (x, start))
        with self._speaking("soc-monitor"):
            end = self._symbol("shunt", x, start)
            for y in (start, end):  # the two measuring taps of a shunt
                self.canvas.line((x, y), (x - 16.0, y))
            self.canvas.box(x - 44.0, start - 4.0, 28.0, 32.0)
        self.canvas.text(x - 30.0, start + 16.0, "%", "middle")
        self._monitor_feed(start + 12.0, x - 44.0)
        self._pole("−", (x, end), (x, top + height))
        self._pole("+", (self.plus, top), (self.plus, top + height))
        self.y += height

    def _monitor_feed(self, y: float, end: float) -> None:
        """The thin positive wire of the monitor, with its fuse."""
        self.canvas.dot(self.plus, y)
        self._pole("+", (self.plus, y), (self.plus + 8.0, y))
        with self._speaking("soc-monitor", SMALL_FUSES):
            x = self._beside("fuse-across", self.plus + 8.0, y)
        self._pole("+", (x, y), (end, y))

    def _strings(self) -> tuple[float, ...]:
        """Where each string stands: between the two lines, or below all labels."""
        count = self.design.bank.parallel
        if count <= MOST_BETWEEN:
            first = (self.plus + self.minus - STRING_GAP * (count - 1)) / 2
            return tuple(first + STRING_GAP * place for place in range(count))
        gap = min(STRING_GAP, (WIDEST - POSITIVE_X) / (count - 1))
        return tuple(self.side.x + POSITIVE_X + gap * place for place in range(count))

    def _bank(self) -> None:
        """Strings in parallel, the batteries of each string in series below each other."""
        bank, dc = self.design.bank, self.design.dc
        xs = self._strings()
        wide = bank.parallel > MOST_BETWEEN
        top = self.y + 8.0
        self._pole("+", (self.plus, self.y), (self.plus, top), (xs[-1], top))
        self._sign("+", self.plus + 8.0, top - 3.0)
        minus, from_y = self.minus, self.y
        if wide:
            minus = max(self.minus, xs[-1] + 16.0)
            self._pole("−", (self.minus, self.y), (minus, self.y))
        self.y += 14.0
        if dc.battery_fuse:
            label = self.labels.battery_fuse()
            height = 34.0 if wide else max(self._label(label) + 4.0, 30.0)
            for x in xs:
                self._pole("+", (x, top), (x, self.y))
                with self._speaking("battery-fuse"):
                    end = self._symbol("fuse", x, self.y)
                self._pole("+", (x, end), (x, self.y + height))
            self.y += height
            top = self.y
        end = self._batteries(xs, top)
        self._pole("−", (minus, from_y), (minus, end))
        self._pole("−", (xs[0], end), (minus, end))
        self._sign("−", minus - 8.0, end - 4.0)
        if self._bank_bar():
            with self._speaking("busbar"):
                self.canvas.line((xs[0] + 2.0, end), (xs[-1] + 8.0, end), style=THICK)
        if wide:
            self.y = end + 8.0
            if dc.battery_fuse:
                self.y += self._label(self.labels.battery_fuse()) + 4.0
            self.y += self._label(self.labels.bank()) + 6.0
        else:
            self.y = max(self.y + self._label(self.labels.bank()), end) + 8.0

    def _bank_bar(self) -> bool:
        """Whether the batteries' negatives meet on a busbar."""
        bank, dc = self.design.bank, self.design.dc
        return dc.shared and (bank.parallel > 1 or not dc.load_bar)

    def _batteries(self, xs: tuple[float, ...], top: float) -> float:
        """Every battery; return where their negatives meet."""
        series = self.design.bank.series
        end = self.y + series * BATTERY_GAP + 10.0
        for x in xs:
            y = top
            for place in range(series):
                start = self.y + place * BATTERY_GAP
                self._pole("+" if place == 0 else "−", (x, y), (x, start))
                with self._speaking("battery"):
                    y = self._symbol("battery", x, start)
            self._pole("−", (x, y), (x, end))
        return end
