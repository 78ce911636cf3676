"""What every part of the wiring diagram draws with: sides, columns, rows, labels, symbols."""

from collections.abc import Collection
from contextlib import AbstractContextManager
from dataclasses import dataclass

from engine.pages.drawings.diagram_canvas import LinkedCanvas
from engine.pages.drawings.diagram_labels import Labels
from engine.pages.drawings.diagram_labels_dc import Label
from engine.pages.drawings.diagram_links import part_id
from engine.pages.drawings.diagram_symbols import symbol
from engine.pages.drawings.svg import BOLD, LINE_HEIGHT, SMALL, wrapped

RIPPLE = 'stroke-dasharray="2 1.5"'
PLUS = 'class="rig-plus"'
GAP = 12.0
CONVERTER_WIDE, CONVERTER_HIGH = 34.0, 26.0
POLE = 12.0
"""From the middle of a converter to either of its terminals."""


@dataclass(frozen=True, slots=True)
class Side:
    """Where a column of symbols begins, and where their labels stand."""

    x: float
    label_x: float
    label_wide: float
    anchor: str = "start"


NAME, WIDTH = "rig-svg-diagram", 800.0
AC, DC = Side(214.0, 206.0, 206.0, "end"), Side(414.0, 596.0, 204.0)
"""The two sides, beside each other: as wide as two phones."""


@dataclass(frozen=True, slots=True)
class Columns:
    """Where the lines of each unit run: its legs, its poles, its case, what grounds it."""

    legs: tuple[tuple[float, ...], ...]
    dc: tuple[tuple[float, float], ...]
    cases: tuple[tuple[float, float], ...]
    chassis: tuple[float, ...]
    bond: float
    panel: tuple[float, float]

    @property
    def all_legs(self) -> tuple[float, ...]:
        """Every AC line from left to right."""
        return tuple(sorted(x for unit in self.legs for x in unit))

    def moved(self, by: float) -> "Columns":
        """The same in a column of symbols that begins elsewhere."""

        def pair(of: tuple[float, float]) -> tuple[float, float]:
            return of[0] + by, of[1] + by

        return Columns(
            legs=tuple(tuple(x + by for x in unit) for unit in self.legs),
            dc=tuple(map(pair, self.dc)),
            cases=tuple(map(pair, self.cases)),
            chassis=tuple(x + by for x in self.chassis),
            bond=self.bond + by,
            panel=pair(self.panel),
        )


COLUMNS = {
    # units, poles of each
    (1, 1): Columns(((50.0,),), ((126.0, 150.0),), ((4.0, 168.0),), (88.0,), 88.0, (4.0, 116.0)),
    (1, 2): Columns(
        ((26.0, 68.0),), ((126.0, 150.0),), ((4.0, 168.0),), (97.0,), 94.0, (0.0, 112.0)
    ),
    (2, 1): Columns(
        ((14.0,), (98.0,)),
        ((46.0, 70.0), (130.0, 154.0)),
        ((2.0, 82.0), (86.0, 166.0)),
        (30.0, 114.0),
        29.0,
        (2.0, 120.0),
    ),
}


class Board:
    """Draws row under row; `y` is where the next one begins."""

    def __init__(self, labels: Labels, targets: Collection[str]) -> None:
        self.labels = labels
        self.design = labels.design
        self.needs = labels.needs
        self.side = AC
        self.canvas = LinkedCanvas(NAME, WIDTH, targets)
        self.y = 8.0
        units, poles = self.design.candidate.units, self.design.ac.poles
        self.columns = COLUMNS[units, poles].moved(AC.x)

    def _speaking(self, label: str, part: str = "") -> AbstractContextManager[None]:
        """What is drawn meanwhile shows this part of a label; its own where left out."""
        return self.canvas.speaking((label, part_id(part or label)))

    def _symbol(self, name: str, x: float, y: float) -> float:
        """Hang a symbol at a point; return where its lower end is."""
        found = symbol(name)
        self.canvas.use(name, found.drawing, x, y)
        return y + found.length

    def _beside(self, name: str, x: float, y: float) -> float:
        """Lay a symbol from a point to the right; return where its other end is."""
        found = symbol(name)
        self.canvas.use(name, found.drawing, x, y)
        return x + found.length

    def _label(self, label: Label, *, at_y: float | None = None) -> float:
        """Write a label; return the height that it takes."""
        top = y = self.y if at_y is None else at_y
        side = self.side
        for text, part in ((label.title, label.part), *label.parted):
            bold = part == label.part
            with self.canvas.speaking((label.part, part_id(part))):
                for line in wrapped(text, side.label_wide, bold=bold):
                    y += LINE_HEIGHT
                    style = BOLD if bold else ""
                    self.canvas.text(side.label_x, y - 4.0, line, side.anchor, style=style)
        leads = self.labels.leads(label, self.canvas.targets)
        if leads:
            y += LINE_HEIGHT
            with self.canvas.speaking((label.part, "")):
                self.canvas.links(side.label_x, y - 4.0, side.anchor, leads)
        return y - top

    def _row(self, label: Label, least: float) -> float:
        """Write a label in a row of its own; return the row's height, at least this."""
        return max(self._label(label), least) + GAP

    def _below(self, label: Label, height: float) -> float:
        """Write a label below the one of a row; return the height that the row has then."""
        start = self.y + height + 2.0 - GAP
        return start - self.y + self._label(label, at_y=start + 4.0) + 4.0 + GAP

    def _down(self, xs: tuple[float, ...], start: float, end: float) -> None:
        for x in xs:
            self.canvas.line((x, start), (x, end))

    def _count(self, x: float, y: float, conductors: int) -> None:
        """The stroke across a line with the number of conductors that it stands for."""
        self.canvas.line((x - 4.0, y + 4.0), (x + 4.0, y - 4.0))
        self.canvas.text(x + 6.0, y + 4.0, str(conductors), size=SMALL)

    def _in_row(
        self, name: str, xs: tuple[float, ...], height: float, label: str, style: str = ""
    ) -> None:
        """The same symbol in each of these lines, the line going on to the end of the row."""
        for x in xs:
            with self._speaking(label):
                end = self._symbol(name, x, self.y + 2.0)
            self.canvas.line((x, self.y), (x, self.y + 2.0), style=style)
            self.canvas.line((x, end), (x, self.y + height), style=style)

    def _stub(self, x: float, y: float, length: float) -> None:
        """A circuit that leaves a panel."""
        self.canvas.line((x, y), (x, y + length))
        self.canvas.line((x - 3.0, y + length - 5.0), (x, y + length), (x + 3.0, y + length - 5.0))

    def _leg_names(self, xs: tuple[float, ...], y: float) -> None:
        for place, x in enumerate(xs, start=1):
            self.canvas.text(x + 5.0, y, f"L{place}", size=SMALL)

    def _pole(self, sign: str, *points: tuple[float, float]) -> None:
        """A line of the battery's side, by its pole."""
        self.canvas.line(*points, style=PLUS if sign == "+" else "")

    def _sign(self, text: str, x: float, y: float) -> None:
        """Which pole a line is: plus or minus, beside it."""
        self.canvas.text(x, y, text, "middle", style=BOLD)

    def _converter_box(self, x: float, y: float) -> None:
        left, top = x - CONVERTER_WIDE / 2, y - CONVERTER_HIGH / 2
        self.canvas.box(left, top, CONVERTER_WIDE, CONVERTER_HIGH)
        self.canvas.line((left, y + 13.0), (left + CONVERTER_WIDE, y - 13.0))

    def _direct(self, x: float, y: float) -> None:
        """The sign of direct current."""
        self.canvas.line((x, y), (x + 8.0, y))
        self.canvas.line((x, y + 3.0), (x + 8.0, y + 3.0), style=RIPPLE)

    def _converter(self, x: float, y: float) -> None:
        """A converter between alternating and direct current: a box, its diagonal, its signs."""
        self._converter_box(x, y)
        self.canvas.path(f"M{x - 12.0:.1f} {y - 5.0:.1f}q2.5 -5 5 0t5 0")
        self._direct(x + 4.0, y + 6.0)

    def _dc_converter(self, x: float, y: float) -> None:
        """A converter from one direct voltage to another."""
        self._converter_box(x, y)
        self._direct(x - 12.0, y - 8.0)
        self._direct(x + 4.0, y + 6.0)
