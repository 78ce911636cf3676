"""What hangs between the battery's two lines: chargers, converter, 12 V circuits, each a rung.

A rung leaves the positive line through its fuse and comes back to the negative line. What comes
behind a converter hangs below it, with both its poles.
"""

from engine.pages.drawings.diagram_board import CONVERTER_HIGH, CONVERTER_WIDE, PLUS, POLE, Board
from engine.pages.drawings.diagram_labels_dc import BUFFER, ISOLATOR, KEPT_FUSE
from engine.pages.drawings.svg import LETTER

BOX_WIDE, BOX_HIGH = 40.0, 18.0
RUNG = 14.0
"""From the top of a row to its rung."""

LEAST = {"solar": 84.0, "alternator": 74.0, "step-down": 84.0, "house-12v": 34.0, "dc48": 34.0}
"""Height that the symbols of a rung need."""
STRAIGHT = {"house-12v": ("house", "12 V"), "dc48": ("dc48", "48 V")}
"""What hangs straight on the bank: its branch and voltage."""


class Branches(Board):
    """Rungs between the lines at `plus` and `minus`."""

    plus = 0.0
    minus = 0.0
    last_rung = 0.0

    def _source(self, name: str) -> None:
        """One rung with its label."""
        label = self.labels.source(name)
        height = self._row(label, LEAST[name])
        self.last_rung = y = self.y + RUNG
        self.canvas.dot(self.plus, y)
        self.canvas.dot(self.minus, y)
        if name in STRAIGHT:
            self._straight_rung(label.part, *STRAIGHT[name], y)
        else:
            self._converter_rung(label.part, name, y)
        self.y += height

    def _straight_rung(self, label: str, branch: str, volts: str, y: float) -> None:
        """Straight from the bank to circuits on its own voltage."""
        x = self._fused(label, branch, y)
        if self.labels.cut(branch):
            self._pole("+", (x, y), (x + 4.0, y))
            with self._speaking(label, f"{branch}-switch"):
                x = self._beside("isolator-across", x + 4.0, y)
        self._pole("+", (x, y), (x + 4.0, y))
        x += 4.0
        self._circuits(label, x, y - BOX_HIGH / 2, volts)
        self._pole("−", (x + BOX_WIDE, y), (self.minus, y))

    def _fused(self, label: str, branch: str, y: float) -> float:
        """The start of a rung, with its fuse where there is one; return where it has come to."""
        x = self.plus
        if self.labels.fused(branch):
            self._pole("+", (x, y), (x + 4.0, y))
            with self._speaking(label, f"{branch}-fuse"):
                x = self._beside("fuse-across", x + 4.0, y)
        return x

    def _circuits(self, label: str, x: float, y: float, volts: str = "12 V") -> None:
        """The circuits of the rig on 12 V, or on another voltage of a bank."""
        with self._speaking(label):
            self.canvas.box(x, y, BOX_WIDE, BOX_HIGH)
        self.canvas.text(x + BOX_WIDE / 2, y + BOX_HIGH / 2 + LETTER / 3, volts, "middle")

    def _converter_rung(self, label: str, name: str, y: float) -> None:
        """Through a converter; what comes behind it hangs below."""
        x = self._fused(label, name, y)
        self._pole("+", (x, y), (x + 4.0, y))
        x += 4.0 + CONVERTER_WIDE / 2
        with self._speaking(label, "solar-controller" if name == "solar" else ""):
            self._dc_converter(x, y)
        self._pole("−", (x + CONVERTER_WIDE / 2, y), (self.minus, y))
        y += CONVERTER_HIGH / 2
        if name == "solar":
            self._solar(label, x, y)
        elif name == "alternator":
            self._alternator(label, x, y)
        else:
            self._step_down(label, x, y)

    def _cut(self, label: str, branch: str, x: float, y: float) -> float:
        """The positive line below a converter, through the switch of the branch."""
        self._pole("+", (x, y), (x, y + 4.0))
        y += 4.0
        if self.labels.cut(branch):
            with self._speaking(label, f"{branch}-switch"):
                y = self._symbol("isolator", x, y)
        return y

    def _solar(self, label: str, x: float, y: float) -> None:
        """Panels; their negative line goes round the sign of the light."""
        below = self._cut(label, "solar", x - POLE, y)
        end = y + 44.0
        self._pole("+", (x - POLE, below), (x - POLE, end))
        with self._speaking(label):
            self._beside("solar-across", x - POLE, end)
        aside = x + 40.0
        turn = y + 6.0
        self._pole(
            "−", (x + POLE, y), (x + POLE, turn), (aside, turn), (aside, end), (x + POLE, end)
        )

    def _alternator(self, label: str, x: float, y: float) -> None:
        """The fuse at the starter battery, and what fills that."""
        end = y + 46.0
        below = y + 4.0
        self._pole("+", (x - POLE, y), (x - POLE, below))
        if self.labels.fused("starter"):
            with self._speaking(label, "starter-fuse"):
                below = self._symbol("fuse", x - POLE, below)
        self._pole("+", (x - POLE, below), (x - POLE, end))
        self._pole("−", (x + POLE, y), (x + POLE, end))
        with self._speaking(label):
            self._beside("generator-across", x - POLE, end)
        self.canvas.text(x, end + 4.0, "G", "middle")

    def _step_down(self, label: str, x: float, y: float) -> None:
        """The 12 V circuits, and the battery of theirs that stays in the rig."""
        below = self._cut(label, "house", x - POLE, y)
        top = y + 46.0
        self._pole("+", (x - POLE, below), (x - POLE, top))
        self._pole("−", (x + POLE, y), (x + POLE, top))
        self._circuits(label, x - BOX_WIDE / 2, top)
        kept, buffered = self.labels.kept, self.labels.buffered
        if kept or buffered:
            self._beside_circuits(label, x, top, kept=kept, buffered=buffered)

    def _beside_circuits(
        self, label: str, x: float, top: float, *, kept: bool, buffered: bool
    ) -> None:
        """In parallel with the circuits: a battery that stays, behind its fuse, and a buffer."""
        start, back = top - 14.0, top - 6.0
        charged = kept and ISOLATOR in self.labels.listed
        low = top + (44.0 if charged else 32.0)
        places = [x + 48.0 + 26.0 * place for place in range(kept + buffered)]
        self.canvas.across(x - POLE, places[-1], start, (x + POLE,), PLUS)
        self.canvas.dot(x - POLE, start)
        if buffered:
            with self._speaking(label, BUFFER):
                end = self._symbol("buffer", places[0], start)
            self._pole("−", (places[0], end), (places[0], low))
        if kept:
            with self._speaking(label, KEPT_FUSE):
                end = self._symbol("fuse", places[-1], start)
            below = end + (16.0 if charged else 4.0)
            self._pole("+", (places[-1], end), (places[-1], below))
            if charged:
                self._charge_line(label, places[-1], end + 7.0)
            with self._speaking(label):
                end = self._symbol("kept-battery", places[-1], below)
            self._pole("−", (places[-1], end), (places[-1], low))
        turn = x + 30.0
        self._pole("−", (places[-1], low), (turn, low), (turn, back), (x + POLE, back))
        self.canvas.dot(x + POLE, back)

    def _charge_line(self, label: str, x: float, y: float) -> None:
        """From the tow vehicle or the engine through isolator and fuse to that battery alone."""
        self.canvas.dot(x, y)
        self._pole("+", (x, y), (x + 11.0, y))
        with self._speaking(label, ISOLATOR):
            x = self._beside("fuse-across", x + 11.0, y)
        self._pole("+", (x, y), (x + 3.0, y))
        with self._speaking(label, ISOLATOR):
            x = self._beside("relay-across", x + 3.0, y)
        self._pole("+", (x, y), (x + 9.0, y))
        self._pole("+", (x + 7.0, y - 3.0), (x + 2.0, y), (x + 7.0, y + 3.0))
