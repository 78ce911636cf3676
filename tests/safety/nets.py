"""A wiring diagram read back as nets: what is joined to what, through which symbol, at which pole.

Nothing here knows how the drawing is made: lines that touch are one net, a line that hops over
another does not touch it, a symbol joins the nets at its two ends, a box of 34 by 26 units is a
converter, one of 40 by 18 the 12 V circuits, one of 28 by 32 the monitor. A pole is what is reached
from that end of the batteries.
"""

import re
import xml.etree.ElementTree as ET
from collections import defaultdict
from dataclasses import dataclass

from markupsafe import Markup

SVG = "{http://www.w3.org/2000/svg}"
NUMBER = r"-?\d+(?:\.\d+)?"
LINE = re.compile(
    rf"[Mm]{NUMBER} {NUMBER}(?:[Ll]{NUMBER} {NUMBER}|[HhVv]{NUMBER}|a4 4 0 0 [01] {NUMBER} 0)+"
)
"""A stretch of a path that is a line with bows; whatever else is drawn has other letters."""
STRETCH = re.compile(r"[Mm][^Mm]*")
STEP = re.compile(rf"([A-Za-z])((?:{NUMBER} ?)+)")
ACROSS = ("tie", "fuse-across", "isolator-across", "solar-across", "generator-across")
ONE_ENDED = ("ground", "chassis", "source", "inlet")
SOURCES = ("battery", "kept-battery", "buffer", "solar-across", "generator-across")
FUSES = ("fuse", "fuse-across")
SWITCHES = ("switch", "momentary", "isolator", "isolator-across")
LENGTHS = {"battery": 13.5, "kept-battery": 13.5}
CONVERTER, CIRCUITS, METER = (34.0, 26.0), (40.0, 18.0), (28.0, 32.0)
KINDS = ("unit", "converter", "circuits", "meter")
NEAR = 0.3

Point = tuple[float, float]
Segment = tuple[Point, Point]
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Placed:
    """A symbol with the nets at its ends; the second is that of the first where it has one."""

    name: str
    first: int
    second: int

    @property
    def ends(self) -> set[int]:
        """Both nets."""
        return {self.first, self.second}


@dataclass(frozen=True)
class Nets:
    """Symbols and boxes of a drawing by the nets that they touch.

    converters, unit_converters : nets at each DC-DC converter, and at each inverter stage
    circuits, meters : nets at the 12 V circuits, and at the monitor
    drawn_plus, drawn_other : nets with a line that is drawn as positive, or as anything else
    """

    symbols: tuple[Placed, ...]
    converters: tuple[frozenset[int], ...]
    unit_converters: tuple[frozenset[int], ...]
    circuits: tuple[frozenset[int], ...]
    meters: tuple[frozenset[int], ...]
    drawn_plus: frozenset[int]
    drawn_other: frozenset[int]

    def reached(self, starts: set[int], *opened: str) -> set[int]:
        """Nets that can be reached from these, symbols of some names being open."""
        joined: dict[int, set[int]] = defaultdict(set)
        for each in self.symbols:
            if each.name not in opened:
                joined[each.first].add(each.second)
                joined[each.second].add(each.first)
        found, left = set(starts), list(starts)
        while left:
            for other in joined[left.pop()] - found:
                found.add(other)
                left.append(other)
        return found

    def named(self, *names: str) -> list[Placed]:
        """Symbols of these names."""
        return [each for each in self.symbols if each.name in names]

    @property
    def tops(self) -> set[int]:
        """Nets at the positive posts of the bank: the long plate, not of one lower in a string."""
        batteries = self.named("battery")
        return {each.first for each in batteries} - {each.second for each in batteries}

    @property
    def bottoms(self) -> set[int]:
        """Nets at the negative posts of the bank."""
        batteries = self.named("battery")
        return {each.second for each in batteries} - {each.first for each in batteries}

    def positive(self, *opened: str) -> set[int]:
        """Nets of the positive pole while these symbols are open."""
        return self.reached(self.tops, *SOURCES, *opened)

    def negative(self, *opened: str) -> set[int]:
        """Nets of the negative pole while these symbols are open."""
        return self.reached(self.bottoms, *SOURCES, *opened)

    @property
    def unit_feeds(self) -> set[int]:
        """Nets at the units' inverter stages."""
        return {net for each in self.unit_converters for net in each}

    @property
    def hung(self) -> set[int]:
        """Nets of what hangs on the bank beside the units."""
        return {net for each in (*self.converters, *self.circuits) for net in each}


def nets_of(svg: Markup | str) -> Nets:
    """Read a drawing back."""
    shapes = _Shapes()
    shapes.collect(ET.fromstring(svg))
    net_of = _joined(shapes.segments, shapes.bows)

    def at(x: float, y: float) -> int:
        for place, segment in enumerate(shapes.segments):
            if _on((x, y), segment):
                return net_of[place]
        return -1

    placed = []
    for name, x, y in shapes.uses:
        length = 0.0 if name in ONE_ENDED else LENGTHS.get(name, 24.0)
        end = (x + length, y) if name in ACROSS else (x, y + length)
        first, second = at(x, y), at(*end)
        if name in ONE_ENDED or second < 0:  # a source at the end of its line
            second = first
        placed.append(Placed(name, first, second))
    boxes: dict[str, list[frozenset[int]]] = {kind: [] for kind in KINDS}
    for box in shapes.boxes:
        kind = _kind(box, shapes.boxes)
        if kind:
            ends = enumerate(shapes.segments)
            touching = (place for place, pair in ends if any(_touches(end, box) for end in pair))
            boxes[kind].append(frozenset(net_of[place] for place in touching))
    drawn: dict[bool, set[int]] = {True: set(), False: set()}
    for place, is_plus in enumerate(shapes.plus):
        drawn[is_plus].add(net_of[place])
    return Nets(
        tuple(placed),
        tuple(boxes["converter"]),
        tuple(boxes["unit"]),
        tuple(boxes["circuits"]),
        tuple(boxes["meter"]),
        frozenset(drawn[True]),
        frozenset(drawn[False]),
    )


class _Shapes:
    """Lines, symbols and boxes of a drawing."""

    def __init__(self) -> None:
        self.segments: list[Segment] = []
        self.plus: list[bool] = []
        self.bows: list[tuple[int, int]] = []
        self.uses: list[tuple[str, float, float]] = []
        self.boxes: list[Box] = []

    def collect(self, element: ET.Element) -> None:
        """Everything that is placed below this element."""
        for child in element:
            if child.tag == f"{SVG}defs":
                continue
            if child.tag == f"{SVG}path" and "dasharray" not in str(child.attrib):
                here: Point = (0.0, 0.0)
                for stretch in STRETCH.findall(child.get("d", "")):
                    here = self._stretch(stretch, here, child.get("class") == "rig-plus")
            elif child.tag == f"{SVG}use":
                name = child.get("href", "").partition("rig-svg-diagram-")[2]
                self.uses.append((name, float(child.get("x", 0)), float(child.get("y", 0))))
            elif child.tag == f"{SVG}rect":
                sides = (float(child.get(name, 0)) for name in ("x", "y", "width", "height"))
                x, y, width, height = sides
                self.boxes.append((x, y, width, height))
            self.collect(child)

    def _stretch(self, data: str, here: Point, is_plus: bool) -> Point:
        """A stretch drawn from here, and where it ends.

        Of a line, what lies on either side of a bow is one, and the bow touches none.
        """
        is_line = LINE.fullmatch(data) is not None
        behind = -1
        for letter, text in STEP.findall(data):
            numbers = [float(each) for each in re.findall(NUMBER, text)]
            from_x, from_y = here if letter.islower() else (0.0, 0.0)
            x = (
                here[0]
                if letter in "Vv"
                else from_x + (numbers[0] if letter in "Hh" else numbers[-2])
            )
            y = here[1] if letter in "Hh" else from_y + numbers[-1]
            point = (round(x, 1), round(y, 1))
            if letter == "a":
                behind = len(self.segments) - 1
            elif is_line and letter not in "Mm":
                self.segments.append((here, point))
                self.plus.append(is_plus)
                if behind >= 0:
                    self.bows.append((behind, len(self.segments) - 1))
                    behind = -1
            here = point
        return here


def _kind(box: Box, boxes: list[Box]) -> str:
    if box[2:] in (CIRCUITS, METER):
        return "circuits" if box[2:] == CIRCUITS else "meter"
    if box[2:] != CONVERTER:
        return ""
    x, y, width, height = box
    inside = any(
        other != box
        and other[0] <= x
        and other[1] <= y
        and other[0] + other[2] >= x + width
        and other[1] + other[3] >= y + height
        for other in boxes
    )
    return "unit" if inside else "converter"


def _touches(point: Point, box: Box) -> bool:
    """Whether a line that ends here ends on a side of the box; its corners are its diagonal's."""
    x, y, width, height = box
    right, down = point[0] - x, point[1] - y
    on_upright = min(abs(right), abs(right - width)) <= NEAR and 1.0 < down < height - 1.0
    on_level = min(abs(down), abs(down - height)) <= NEAR and 1.0 < right < width - 1.0
    return on_upright or on_level


def _on(point: Point, segment: Segment) -> bool:
    (x0, y0), (x1, y1) = segment
    x, y = point
    if min(x0, x1) - NEAR > x or x > max(x0, x1) + NEAR:
        return False
    if min(y0, y1) - NEAR > y or y > max(y0, y1) + NEAR:
        return False
    long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
    if not long:
        return True
    away = abs((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / long
    return bool(away <= NEAR)


def _joined(segments: list[Segment], bows: list[tuple[int, int]]) -> list[int]:
    """The net of each segment: those that touch by an end, or go on beyond a bow, have the same."""
    net = list(range(len(segments)))

    def root(place: int) -> int:
        while net[place] != place:
            place = net[place]
        return place

    for one, other in bows:
        net[root(one)] = root(other)
    for one, first in enumerate(segments):
        for other, second in enumerate(segments[:one]):
            if any(_on(end, second) for end in first) or any(_on(end, first) for end in second):
                net[root(one)] = root(other)
    return [root(place) for place in range(len(segments))]
