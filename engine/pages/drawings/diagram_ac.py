"""The AC side of the wiring diagram, one line for all conductors: shore, breakers, units, panel."""

from engine.advice.plan.layouts import PARALLEL_PAIR, TWO_LEG
from engine.pages.drawings.diagram_board import CONVERTER_HIGH, CONVERTER_WIDE, GAP, Board
from engine.pages.drawings.diagram_symbols import symbol
from engine.pages.drawings.svg import DASHED, SMALL, THICK

UNIT_HEIGHT = 122.0
PANEL_HEIGHT = 58.0
BELOW_UNITS = 32.0
"""Room below a unit, for its case's wire to the frame and for its poles where they turn."""


class AcSide(Board):
    """From the shore cord down to the panel."""

    def _shore(self) -> None:
        xs = self.columns.all_legs
        middle = (xs[0] + xs[-1]) / 2
        height = self._row(self.labels.shore(), 74.0)
        with self._speaking("shore"):
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
        self._cord_guard(middle)
        if not self.needs.whole:
            self._main_panel(middle)
        if self.design.ac.main_a:
            height = self._row(self.labels.main_breaker(), 44.0)
            self._in_row("breaker", (middle,), height, "breaker-main")
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

    def _cord_guard(self, x: float) -> None:
        """A box in the line, with the sign of lightning."""
        height = self._row(self.labels.cord_guard(), 34.0)
        top = self.y + 4.0
        self.canvas.line((x, self.y), (x, top))
        with self._speaking("cord-guard"):
            self.canvas.box(x - 12.0, top, 24.0, 24.0)
            self.canvas.line(
                (x + 3.0, top + 4.0),
                (x - 3.0, top + 13.0),
                (x + 3.0, top + 11.0),
                (x - 3.0, top + 20.0),
            )
        self.canvas.line((x, top + 24.0), (x, self.y + height))
        self.y += height

    def _main_panel(self, x: float) -> None:
        """The rig's own panel stays between inlet and unit, with its other circuits."""
        height = self._row(self.labels.main_panel(), 44.0)
        with self._speaking("main-panel"):
            self.canvas.box(x - 46.0, self.y, 92.0, 40.0)
            self.canvas.line((x - 38.0, self.y + 14.0), (x + 38.0, self.y + 14.0), style=THICK)
            for stub in (x - 30.0, x - 14.0):
                self._stub(stub, self.y + 14.0, 34.0)
        self.canvas.line((x, self.y), (x, self.y + height))
        self.y += height

    def _breaker(self, side: str) -> None:
        height = self._row(self.labels.breaker(side), 44.0)
        if self.design.ac.breaker_poles > 1:  # common trip of both poles
            xs = self.columns.all_legs
            middle = self.y + 2.0 + symbol("breaker").length / 2
            self.canvas.line((xs[0] + 8.0, middle), (xs[1] + 8.0, middle), style=DASHED)
        for unit in self.columns.legs:
            self._in_row("breaker", unit, height, f"breaker-{side}")
            self._count(unit[-1], self.y + 36.0, self.design.ac.poles + 2)
        self.y += height

    def _joint(self) -> None:
        """Both units meet on one breaker."""
        height = self._row(self.labels.joint(), 44.0)
        xs = self.columns.all_legs
        self.canvas.line((xs[0], self.y), (xs[-1], self.y))
        self._in_row("breaker", self._into_panel(), height, "breaker-joint")
        self.y += height

    def _into_panel(self) -> tuple[float, ...]:
        """The AC lines that reach the panel: one where the units have met."""
        xs = self.columns.all_legs
        return ((xs[0] + xs[-1]) / 2,) if self.design.ac.joint_a else xs

    def _units(self) -> float:
        """The boxes of the units; return where their battery lines come out."""
        label_height = self._label(self.labels.unit())
        for label, least in ((self.labels.bond(), 54.0), (self.labels.case(), 0.0)):
            label_y = self.y + max(label_height + 6.0, least)
            label_height = label_y - self.y + self._label(label, at_y=label_y)
        for place, (left, right) in enumerate(self.columns.cases):
            self.canvas.box(left, self.y, right - left, UNIT_HEIGHT, style='rx="4"')
            self._inside(place)
        below = self.y + UNIT_HEIGHT
        self.y += max(UNIT_HEIGHT + BELOW_UNITS, label_height + GAP)
        for unit in self.columns.legs:
            self._down(unit, below, self.y)
        with self._speaking("bond-cable"):
            for x in self.columns.chassis:
                self._symbol("chassis", x, below)
        return below

    def _inside(self, place: int) -> None:
        """Transfer contacts, converter and neutral-to-ground bond of one unit."""
        top = self.y
        legs, (plus, minus) = self.columns.legs[place], self.columns.dc[place]
        middle = (plus + minus) / 2
        node, near = top + 46.0, min(legs, key=lambda x: abs(x - middle))
        edge = middle + (CONVERTER_WIDE / 2 if near > middle else -CONVERTER_WIDE / 2)
        for x in legs:
            self.canvas.line((x, top), (x, top + 10.0))
            with self._speaking("inverter"):
                end = self._symbol("contact", x, top + 10.0)
            self.canvas.line((x, end), (x, top + UNIT_HEIGHT))
        with self._speaking("inverter"):
            self._converter(middle, node)
        self.canvas.line((edge, node), (near, node))
        self.canvas.dot(near, node)
        if len(legs) > 1:
            self._second_leg(legs, edge, node)
        self._poles(plus, minus, node + CONVERTER_HIGH / 2, top + UNIT_HEIGHT)
        if self.design.candidate.inverter.bond_relay and place == 0:
            self._bond_relay(self.columns.bond, top + 76.0)

    def _poles(self, plus: float, minus: float, start: float, end: float) -> None:
        """The battery's two lines below a converter."""
        for sign, x, way in (("+", plus, -1.0), ("−", minus, 1.0)):
            self._pole(sign, (x, start), (x, end))
            self._sign(sign, x + way * 6.0, start + 12.0)

    def _bond_relay(self, x: float, y: float) -> None:
        self.canvas.text(x, y - 4.0, "N", "middle", SMALL)
        with self._speaking("bond"):
            end = self._symbol("contact", x, y)
            self._symbol("ground", x, end)

    def _second_leg(self, legs: tuple[float, ...], edge: float, node: float) -> None:
        """While inverting: both legs tied to one output, or the second half of the output."""
        far = max(legs, key=lambda x: abs(x - edge))
        near = min(legs, key=lambda x: abs(x - edge))
        if self.design.candidate.layout == TWO_LEG:
            middle = (near + far) / 2
            with self._speaking("inverter"):
                self._beside("tie", middle - 12.0, node)
            way = 12.0 if far > near else -12.0
            self.canvas.line((near, node), (middle - way, node))
            self.canvas.line((middle + way, node), (far, node))
        else:
            node += 9.0
            self.canvas.across(edge, far, node, (near,))
        self.canvas.dot(far, node)

    def _panel(self) -> None:
        label = self.labels.panel()
        xs = self._into_panel()
        starter = "soft-starter" in self.labels.listed
        height = self._label(label)
        starter_y = self.y + max(height + 6.0, PANEL_HEIGHT - 8.0)
        if starter:
            height = starter_y - self.y + self._label(self.labels.soft_starter(), at_y=starter_y)
        left, right = self.columns.panel
        bars = self._panel_bars(xs, left, right)
        with self._speaking(label.part):
            self.canvas.box(left, self.y, right - left, PANEL_HEIGHT - 18.0)
            for start, end in bars:
                self.canvas.line((start, self.y + 16.0), (end, self.y + 16.0), style=THICK)
                for x in (end - 6.0, *((start + 6.0, start + 22.0) if len(bars) == 1 else ())):
                    self._stub(x, self.y + 16.0, 42.0)
        if self.needs.service.legs == 2 and len(bars) == 2:
            self._leg_names((bars[0][0] - 3.0, bars[1][0] - 3.0), self.y + 34.0)
        self._down(xs, self.y, self.y + 16.0)
        if starter:
            with self._speaking("soft-starter"):
                self._softened(bars[0][1] - 6.0, self.y + 58.0)
            self.canvas.text(bars[0][1] - 6.0, self.y + 96.0, "M", "middle")
            height = max(height, 112.0)
        self.y += max(height, PANEL_HEIGHT + 4.0) + GAP

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
