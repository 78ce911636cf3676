"""Cases drawn to one scale, seen from the front: units and batteries beside each other."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.model.products import InverterCharger, Product
from engine.pages.drawings.svg import LINE_HEIGHT, Canvas, wrapped

TINT = 'fill="currentColor" fill-opacity="0.08"'
FOOT = 12 * 0.0254
TERMINAL = 4.0
LEAST_GAP = 14.0


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
    """Pixels a metre at which all of them fit side by side."""
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
        _terminals(canvas, product, left, ground, width)
        return
    for share in (0.2, 0.8):  # the two posts of a battery
        canvas.box(left + width * share - 2.5, ground - height - 4.0, 5.0, 4.0)


def _terminals(
    canvas: Canvas, unit: InverterCharger, left: float, ground: float, width: float
) -> None:
    """A row of AC terminals: slotted screws, or square holes; and the two battery studs."""
    hots = 2 if unit.legs_passed == 2 or unit.output == "split-phase" else 1
    count = 2 * (hots + 2)
    gap = min(2.4 * TERMINAL, (width - 8.0) / count)
    start = left + (width - gap * (count - 1)) / 2
    y = ground - 7.0
    size = min(TERMINAL, gap * 0.8)
    for place in range(count):
        x = start + gap * place
        if unit.terminals.kind == "screw":
            half = size / 2
            canvas.path(
                f"M{x - half:.1f} {y:.1f}a{half:.1f} {half:.1f} 0 1 1 {size:.1f} 0"
                f"a{half:.1f} {half:.1f} 0 1 1 -{size:.1f} 0h{size:.1f}",
                style='stroke-width="0.8"',
            )
        else:
            canvas.box(x - size / 2, y - size / 2, size, size, 'stroke-width="0.8"')


def draw_scale(canvas: Canvas, scale: float, y: float, text: str) -> float:
    """A foot as a measure; return the lower end."""
    end = 1.0 + FOOT * scale
    canvas.line((1.0, y), (end, y), style='stroke-width="1"')
    for x in (1.0, end):
        canvas.line((x, y - 4.0), (x, y + 4.0), style='stroke-width="1"')
    canvas.text(end + 8.0, y + 4.0, text)
    return y + 8.0
