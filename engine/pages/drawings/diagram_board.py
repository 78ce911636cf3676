"""What every part of the one-line diagram draws with: columns, rows, labels, symbols."""

from dataclasses import dataclass

from engine.pages.drawings.diagram_labels import Label, Labels
from engine.pages.drawings.diagram_symbols import symbol
from engine.pages.drawings.svg import BOLD, LINE_HEIGHT, SMALL, Canvas, wrapped

WIDTH = 360.0
LABEL_X = 178.0
RIPPLE = 'stroke-dasharray="2 1.5"'
GAP = 12.0


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


class Board:
    """Draws row under row; `y` is where the next one begins."""

    def __init__(self, labels: Labels) -> None:
        self.labels = labels
        self.design = labels.design
        self.needs = labels.needs
        self.canvas = Canvas("rig-svg-diagram", WIDTH)
        self.y = 8.0
        candidate = self.design.candidate
        if candidate.units > 1:
            self.columns = PAIR
        elif self.design.ac.poles == 2:
            self.columns = TWO_LEGS
        else:
            self.columns = ONE_LEG

    def _symbol(self, name: str, x: float, y: float) -> float:
        """Hang a symbol at a point; return where its lower end is."""
        found = symbol(name)
        self.canvas.use(name, found.drawing, x, y)
        return y + found.length

    def _label(self, label: Label, x: float = LABEL_X, *, at_y: float | None = None) -> float:
        """Write a label; return the height that it takes."""
        y = self.y if at_y is None else at_y
        width = WIDTH - x
        self.canvas.open(label.part)
        top = y
        for style, text in ((BOLD, label.title), *(("", line) for line in label.lines)):
            for line in wrapped(text, width, bold=style == BOLD):
                y += LINE_HEIGHT
                self.canvas.text(x, y - 4.0, line, style=style)
        self.canvas.close()
        return y - top

    def _row(self, label: Label, least: float) -> float:
        """Write a label in a row of its own; return the row's height, at least this."""
        return max(self._label(label), least) + GAP

    def _down(self, xs: tuple[float, ...], start: float, end: float) -> None:
        for x in xs:
            self.canvas.line((x, start), (x, end))

    def _count(self, x: float, y: float, conductors: int) -> None:
        """The stroke across a line with the number of conductors that it stands for."""
        self.canvas.line((x - 4.0, y + 4.0), (x + 4.0, y - 4.0))
        self.canvas.text(x + 6.0, y + 4.0, str(conductors), size=SMALL)

    def _in_row(self, name: str, xs: tuple[float, ...], height: float) -> None:
        """The same symbol in each of these lines, the line going on to the end of the row."""
        for x in xs:
            end = self._symbol(name, x, self.y + 2.0)
            self.canvas.line((x, self.y), (x, self.y + 2.0))
            self.canvas.line((x, end), (x, self.y + height))

    def _stub(self, x: float, y: float, length: float) -> None:
        """A circuit that leaves a panel."""
        self.canvas.line((x, y), (x, y + length))
        self.canvas.line((x - 3.0, y + length - 5.0), (x, y + length), (x + 3.0, y + length - 5.0))

    def _leg_names(self, xs: tuple[float, ...], y: float) -> None:
        for place, x in enumerate(xs, start=1):
            self.canvas.text(x + 5.0, y, f"L{place}", size=SMALL)

    def _converter(self, x: float, y: float) -> None:
        """A converter between alternating and direct current: a square, its diagonal, its signs."""
        self.canvas.box(x - 13.0, y - 13.0, 26.0, 26.0)
        self.canvas.line((x - 13.0, y + 13.0), (x + 13.0, y - 13.0))
        self.canvas.path(f"M{x - 10.0:.1f} {y - 5.0:.1f}q2.5 -5 5 0t5 0")
        self.canvas.line((x + 2.0, y + 6.0), (x + 10.0, y + 6.0))
        self.canvas.line((x + 2.0, y + 9.0), (x + 10.0, y + 9.0), style=RIPPLE)

    def _dc_converter(self, x: float, y: float) -> None:
        """A converter from one direct voltage to another."""
        self.canvas.box(x - 13.0, y - 13.0, 26.0, 26.0)
        self.canvas.line((x - 13.0, y + 13.0), (x + 13.0, y - 13.0))
        for left, line in ((x - 10.0, y - 8.0), (x + 2.0, y + 6.0)):
            self.canvas.line((left, line), (left + 8.0, line))
            self.canvas.line((left, line + 3.0), (left + 8.0, line + 3.0), style=RIPPLE)
