"""The AC side of the one-line diagram: shore, breakers, units, panel."""

from engine.advice.plan.layouts import PARALLEL_PAIR, TWO_LEG
from engine.pages.drawings.diagram_board import GAP, Board
from engine.pages.drawings.diagram_symbols import symbol
from engine.pages.drawings.svg import DASHED, SMALL, THICK

UNIT_HEIGHT = 122.0
PANEL_HEIGHT = 58.0


class AcSide(Board):
    """From the shore cord down to the panel."""

    def _shore(self) -> None:
        xs = self.columns.all_legs
        middle = (xs[0] + xs[-1]) / 2
        height = self._row(self.labels.shore(), 74.0)
        end = self._symbol("source", middle, self.y)
        self._symbol("ground", middle - 34.0, self.y + 12.0)
        self.canvas.line((middle - 12.0, self.y + 12.0), (middle - 34.0, self.y + 12.0))
        self.canvas.line((middle, end), (middle, end + 6.0))
        end = self._symbol("inlet", middle, end + 6.0) - 4.3
        self._symbol("inlet", middle, end - 20.0)
        legs = self.needs.service.legs
        self.canvas.line((middle, end), (middle, self.y + height - 8.0))
        self._count(middle, end + 8.0, legs + 2)
        self.y += height - 8.0
        if not self.needs.whole:
            self._main_panel(middle)
        if self.design.ac.main_a:
            height = self._row(self.labels.main_breaker(), 44.0)
            self._in_row("breaker", (middle,), height)
            self.y += height
        self._spread(xs, middle)

    def _spread(self, xs: tuple[float, ...], middle: float) -> None:
        """From one line to the legs of the units."""
        if len(xs) == 1:
            self._down(xs, self.y, self.y + 8.0)
        else:
            self.canvas.line((middle, self.y), (middle, self.y + 8.0))
            self.canvas.line((xs[0], self.y + 8.0), (xs[-1], self.y + 8.0))
            self._down(xs, self.y + 8.0, self.y + 28.0)
            self.y += 20.0
            if self.needs.service.legs == 2 and self.design.candidate.layout != PARALLEL_PAIR:
                self._leg_names(xs, self.y + 2.0)
        self.y += 8.0

    def _main_panel(self, x: float) -> None:
        """The rig's own panel stays ahead of the unit, with its other circuits."""
        height = self._row(self.labels.main_panel(), 44.0)
        self.canvas.box(x - 60.0, self.y, 108.0, 40.0)
        self.canvas.line((x, self.y), (x, self.y + height))
        self.canvas.line((x - 50.0, self.y + 14.0), (x + 38.0, self.y + 14.0), style=THICK)
        for stub in (x - 42.0, x - 24.0):
            self._stub(stub, self.y + 14.0, 34.0)
        self.y += height

    def _breaker(self, side: str) -> None:
        label = self.labels.breaker(side)
        height = self._row(label, 44.0)
        if self.design.ac.breaker_poles > 1:  # one handle for both poles
            xs = self.columns.all_legs
            middle = self.y + 2.0 + symbol("breaker").length / 2
            self.canvas.line((xs[0] + 8.0, middle), (xs[1] + 8.0, middle), style=DASHED)
        for unit in self.columns.legs:
            self._in_row("breaker", unit, height)
            self._count(unit[-1], self.y + 36.0, self.design.ac.poles + 2)
        self.y += height

    def _joint(self) -> None:
        """Both units meet on one breaker."""
        height = self._row(self.labels.joint(), 44.0)
        xs = self.columns.all_legs
        self.canvas.line((xs[0], self.y), (xs[-1], self.y))
        self._in_row("breaker", self._into_panel(), height)
        self.y += height

    def _into_panel(self) -> tuple[float, ...]:
        """The AC lines that reach the panel: one where the units have met."""
        xs = self.columns.all_legs
        return ((xs[0] + xs[-1]) / 2,) if self.design.ac.joint_a else xs

    def _units(self) -> float:
        """The boxes of the units; return where their battery lines come out."""
        label_height = self._label(self.labels.unit())
        bond_y = self.y + max(label_height + 6.0, 54.0)
        label_height = bond_y - self.y + self._label(self.labels.bond(), at_y=bond_y)
        for place, (left, right) in enumerate(self.columns.cases):
            self.canvas.open("unit")
            self.canvas.box(left, self.y, right - left, UNIT_HEIGHT, style='rx="4"')
            self._inside(place)
            self.canvas.close()
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
            self.canvas.line((x, top), (x, top + 10.0))
            end = self._symbol("contact", x, top + 10.0)
            self.canvas.line((x, end), (x, top + UNIT_HEIGHT))
        self._converter(dc, node)
        self.canvas.line((dc + side * 13.0, node), (near, node))
        self.canvas.dot(near, node)
        if len(legs) > 1:
            self._second_leg(legs, dc, node)
        self.canvas.line((dc, node + 13.0), (dc, top + UNIT_HEIGHT))
        if self.design.candidate.inverter.bond_relay and place == 0:
            x = dc + side * 20.0 if len(self.columns.dc) > 1 else dc + side * 34.0
            self.canvas.text(x, top + 72.0, "N", "middle", SMALL)
            end = self._symbol("contact", x, top + 76.0)
            self._symbol("ground", x, end)

    def _second_leg(self, legs: tuple[float, ...], dc: float, node: float) -> None:
        """Off the battery: both legs joined on one output, or the second half of the output."""
        far = max(legs, key=lambda x: abs(x - dc))
        near = min(legs, key=lambda x: abs(x - dc))
        if self.design.candidate.layout == TWO_LEG:
            tie = symbol("tie")
            middle = (near + far) / 2
            self.canvas.use("tie", tie.drawing, middle - 12.0, node)
            self.canvas.line((near, node), (middle - 12.0, node))
            self.canvas.line((middle + 12.0, node), (far, node))
        else:
            self.canvas.line((dc + 13.0, node + 9.0), (far, node + 9.0))
            node += 9.0
        self.canvas.dot(far, node)

    def _panel(self) -> None:
        label = self.labels.panel()
        xs = self._into_panel()
        starter = "soft-starter" in self.labels.listed
        height = self._label(label)
        starter_y = self.y + max(height + 6.0, PANEL_HEIGHT - 8.0)
        if starter:
            height = starter_y - self.y + self._label(self.labels.soft_starter(), at_y=starter_y)
        left, right = self._panel_edges()
        self.canvas.open("panel-box")
        self.canvas.box(left, self.y, right - left, PANEL_HEIGHT - 18.0)
        bars = self._panel_bars(xs, left, right)
        for start, end in bars:
            self.canvas.line((start, self.y + 16.0), (end, self.y + 16.0), style=THICK)
        if self.needs.service.legs == 2 and len(bars) == 2:
            self._leg_names((bars[0][0] - 3.0, bars[1][0] - 3.0), self.y + 34.0)
        self._down(xs, self.y, self.y + 16.0)
        for start, end in bars:
            for x in (end - 6.0, *((start + 6.0, start + 22.0) if len(bars) == 1 else ())):
                self._stub(x, self.y + 16.0, 42.0)
        self.canvas.close()
        if starter:
            self._softened(bars[0][1] - 6.0, self.y + 58.0)
            height = max(height, 112.0)
        self.y += max(height, PANEL_HEIGHT + 4.0) + GAP

    def _panel_edges(self) -> tuple[float, float]:
        """The panel stands between the battery lines, which pass it."""
        if len(self.columns.dc) > 1:
            return 38.0, 130.0
        return self.columns.dc[0] + 26.0, 162.0

    def _panel_bars(
        self, xs: tuple[float, ...], left: float, right: float
    ) -> tuple[tuple[float, float], ...]:
        """One bar for each leg of the panel."""
        if len(xs) == 1:
            return ((left + 8.0, right - 8.0),)
        middle = (xs[0] + xs[1]) / 2
        return ((left + 6.0, middle - 3.0), (middle + 3.0, right - 6.0))

    def _softened(self, x: float, y: float) -> None:
        """An air conditioner with its soft starter."""
        self.canvas.box(x - 9.0, y, 18.0, 16.0)
        self.canvas.line(
            (x - 6.0, y + 13.0), (x - 2.0, y + 13.0), (x + 2.0, y + 3.0), (x + 6.0, y + 3.0)
        )
        self.canvas.line((x, y + 16.0), (x, y + 22.0))
        self.canvas.path(f"M{x - 12:.1f} {y + 34:.1f}a12 12 0 1 1 24 0a12 12 0 1 1 -24 0")
        self.canvas.text(x, y + 38.0, "M", "middle")
