"""A one-line diagram read back as nets: what is joined to what, through which symbol.

Nothing here knows how the drawing is made: lines that touch are one net, a symbol joins the nets at
its two ends, a box of 26 units is a converter.
"""

import re
import xml.etree.ElementTree as ET
from collections import defaultdict
from dataclasses import dataclass
from itertools import pairwise

SVG = "{http://www.w3.org/2000/svg}"
LINE = re.compile(r"^M-?[\d.]+ -?[\d.]+(?:L-?[\d.]+ -?[\d.]+)+$")
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
ACROSS = ("tie", "fuse-across", "isolator-across", "solar-across", "generator-across")
ONE_ENDED = ("ground", "chassis", "source", "inlet")
LENGTHS = {"battery": 13.5}
CONVERTER = 26.0
NEAR = 0.3

Point = tuple[float, float]
Segment = tuple[Point, Point]


@dataclass(frozen=True)
class Placed:
    """A symbol with the nets at its ends; the second is that of the first where it has one."""

    name: str
    first: int
    second: int


@dataclass(frozen=True)
class Nets:
    """Symbols and converters of a drawing by the nets that they touch."""

    symbols: tuple[Placed, ...]
    converters: tuple[frozenset[int], ...]
    unit_converters: tuple[frozenset[int], ...]

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
    def bank(self) -> set[int]:
        """Nets at the batteries themselves."""
        return {net for each in self.named("battery") for net in (each.first, each.second)}

    @property
    def unit_feeds(self) -> set[int]:
        """Nets at the inverter stage of each unit that the batteries feed: the lowest of each."""
        return {net for each in self.unit_converters for net in each}

    @property
    def hung(self) -> set[int]:
        """Nets of what hangs on the bank beside the units."""
        found = {net for each in self.converters for net in each}
        for each in self.named("isolator", "isolator-across", "solar-across", "generator-across"):
            found |= {each.first, each.second}
        return found


def nets_of(svg: str) -> Nets:
    """Read a drawing back."""
    root = ET.fromstring(svg)
    segments: list[Segment] = []
    uses: list[tuple[str, float, float]] = []
    boxes: list[tuple[float, float, bool]] = []
    _collect(root, False, segments, uses, boxes)
    net_of = _joined(segments)

    def at(x: float, y: float) -> int:
        for place, segment in enumerate(segments):
            if _on((x, y), segment):
                return net_of[place]
        return -1

    placed = []
    for name, x, y in uses:
        length = 0.0 if name in ONE_ENDED else LENGTHS.get(name, 24.0)
        end = (x + length, y) if name in ACROSS else (x, y + length)
        first, second = at(x, y), at(*end)
        if name in ONE_ENDED or second < 0:  # a source at the end of its line
            second = first
        placed.append(Placed(name, first, second))
    found: dict[bool, list[frozenset[int]]] = {True: [], False: []}
    for x, y, in_unit in boxes:
        middles = (
            (x, y + CONVERTER / 2),
            (x + CONVERTER, y + CONVERTER / 2),
            (x + CONVERTER / 2, y + CONVERTER),
        )
        touched = middles[2:] if in_unit else middles
        found[in_unit].append(frozenset(net for net in (at(*each) for each in touched) if net >= 0))
    return Nets(tuple(placed), tuple(found[False]), tuple(found[True]))


def _collect(
    element: ET.Element,
    in_unit: bool,
    segments: list[Segment],
    uses: list[tuple[str, float, float]],
    boxes: list[tuple[float, float, bool]],
) -> None:
    for child in element:
        if child.tag == f"{SVG}defs":
            continue
        inside = in_unit or child.get("data-part") == "unit"
        if child.tag == f"{SVG}path" and LINE.match(child.get("d", "")):
            if "dasharray" not in str(child.attrib):
                numbers = [float(each) for each in NUMBER.findall(child.get("d", ""))]
                points = list(zip(numbers[::2], numbers[1::2], strict=True))
                segments.extend(pairwise(points))
        elif child.tag == f"{SVG}use":
            name = child.get("href", "").partition("rig-svg-diagram-")[2]
            uses.append((name, float(child.get("x", 0)), float(child.get("y", 0))))
        elif child.tag == f"{SVG}rect":
            sides = {float(child.get("width", 0)), float(child.get("height", 0))}
            if sides == {CONVERTER}:
                boxes.append((float(child.get("x", 0)), float(child.get("y", 0)), inside))
        _collect(child, inside, segments, uses, boxes)


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


def _joined(segments: list[Segment]) -> list[int]:
    """The net of each segment: those that touch by an end have the same."""
    net = list(range(len(segments)))

    def root(place: int) -> int:
        while net[place] != place:
            place = net[place]
        return place

    for one, first in enumerate(segments):
        for other, second in enumerate(segments[:one]):
            if any(_on(end, second) for end in first) or any(_on(end, first) for end in second):
                net[root(one)] = root(other)
    return [root(place) for place in range(len(segments))]
