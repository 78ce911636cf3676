"""Cases drawn to one scale, seen from the front: units and batteries beside each other."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from engine.model.products import InverterCharger, Product
from engine.pages.drawings.svg import LINE_HEIGHT, Canvas, at, wrapped

TINT = 'fill="currentColor" fill-opacity="0.08"'
FOOT = 12 * 0.0254
TERMINAL = 4.0
STUD = 2.5
LEAST_GAP = 14.0

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Face:
    """A case from the front, as often as there are of it, with lines below."""

    product: Product
    count: int
    lines: tuple[str, ...]

    @property
    def width_m(self) -> float:
        """Width of all of them, a third of a case's depth between two."""
        return self.product.width * (1 + 1.12 * (self.count - 1))


def scale_for(faces: Sequence[Face], width: float, most_height: float) -> float:
    """Pixels a meter at which all of them fit side by side."""
    free = width - LEAST_GAP * (len(faces) - 1)
    tallest = max(face.product.height for face in faces)
    return min(free / sum(face.width_m for face in faces), most_height / tallest)


def draw_faces(
    canvas: Canvas, faces: Sequence[Face], scale: float, top: float, columns: int = 0
) -> float:
    """Draw the cases on one ground line, equal columns for their texts; return the lower end."""
    column = canvas.width / (columns or len(faces))
    ground = top + max(face.product.height for face in faces) * scale
    lowest = ground
    needed = [face.width_m * scale for face in faces]
    even = max(needed) <= column - LEAST_GAP / 2
    x = 1.0
    for place, (face, wide) in enumerate(zip(faces, needed, strict=True)):
        left = column * place + (column - wide) / 2 if even else x
        x += wide + LEAST_GAP
        for each in range(face.count):
            _case(
                canvas, face.product, left + each * 1.12 * face.product.width * scale, ground, scale
            )
        y = ground + 4.0
        anchor, text_x = "middle", left + wide / 2
        if not even and place == 0:
            anchor, text_x = "start", left
        elif not even and place == len(faces) - 1:
            anchor, text_x = "end", left + wide
        for line in face.lines:
            for part in wrapped(line, column - 6.0):
                y += LINE_HEIGHT - 1.0
                canvas.text(text_x, y, part, anchor)
        lowest = max(lowest, y)
    return lowest


def _case(canvas: Canvas, product: Product, left: float, ground: float, scale: float) -> None:
    width, height = product.width * scale, product.height * scale
    canvas.box(left, ground - height, width, height, f'rx="2" {TINT}')
    if isinstance(product, InverterCharger):
        draw_front(canvas, product, (left, ground - height), (width, height))
        return
    for share in (0.2, 0.8):  # the two posts of a battery
        canvas.box(left + width * share - 2.5, ground - height - 4.0, 5.0, 4.0)


def draw_front(
    canvas: Canvas, unit: InverterCharger, corner: Point, size: Point, *, turned: bool = False
) -> tuple[Point, Point]:
    """What is on the front of a unit: AC terminals, battery studs, vents; return both studs.

    AC terminals are slotted screws or square holes. Vents are at the ends where the maker asks for
    more free space than at the sides. Source: common practice, no source.

    corner, size : upper left corner of the case, its width and height as drawn
    turned : the case lies on its side, its lower end to the right
    """
    wide, high = size[::-1] if turned else size

    def place(across: float, along: float) -> Point:
        return corner[0] + (along if turned else across), corner[1] + (across if turned else along)

    marks = [_terminals(unit, wide, lambda across: place(across, high - 17.0), turned=turned)]
    studs = place(wide * 0.3, high - 7.0), place(wide * 0.7, high - 7.0)
    marks += [f"M{at(x - STUD)} {at(y)}{_round(STUD)}" for x, y in studs]
    free, slot = unit.clearances, f"{'v' if turned else 'h'}{at(wide / 2)}"
    ends = (
        (free.top, 6.0),
        (free.top, 10.0),
        (free.bottom, high - 27.0),
        (free.bottom, high - 23.0),
    )
    for clearance, along in ends:
        if clearance > free.sides and along < high - 22.0:
            x, y = place(wide / 4, along)
            marks.append(f"M{at(x)} {at(y)}{slot}")
    canvas.path("".join(marks), 'stroke-width="0.8"')
    return studs


def _terminals(
    unit: InverterCharger, wide: float, place: Callable[[float], Point], *, turned: bool
) -> str:
    """A row of AC terminals across the case, each from the one before it."""
    hots = 2 if unit.legs_passed == 2 or unit.output == "split-phase" else 1
    count = 2 * (hots + 2)
    gap = round(min(2.4 * TERMINAL, (wide - 8.0) / count), 1)
    size = min(TERMINAL, gap * 0.8)
    x, y = place((wide - gap * (count - 1)) / 2)
    if unit.terminals.kind == "screw":
        one = f"{_round(size / 2)}h{at(size)}h{at(-size)}"
    else:
        one, y = f"h{at(size)}v{at(size)}h{at(-size)}z", y - size / 2
    step = f"m0 {at(gap)}" if turned else f"m{at(gap)} 0"
    return f"M{at(x - size / 2)} {at(y)}{step.join([one] * count)}"


def _round(radius: float) -> str:
    """A circle from its left end."""
    arc = f"a{at(radius)} {at(radius)} 0 1 1"
    return f"{arc} {at(2 * radius)} 0{arc} {at(-2 * radius)} 0"


def draw_scale(canvas: Canvas, scale: float, y: float, text: str) -> float:
    """A foot as a measure; return the lower end."""
    end = 1.0 + FOOT * scale
    canvas.line((1.0, y), (end, y), style='stroke-width="1"')
    for x in (1.0, end):
        canvas.line((x, y - 4.0), (x, y + 4.0), style='stroke-width="1"')
    canvas.text(end + 8.0, y + 4.0, text)
    return y + 8.0
