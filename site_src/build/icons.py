"""The icons of the installed guide: the mark, or a shop's own logo, on the shop's color."""

import io
import re
from dataclasses import dataclass
from pathlib import Path

from PIL import Image, ImageDraw

FINER = 4
"""How many times finer a picture is drawn than it comes out, for smooth edges."""
WHOLE, INSIDE = 1.0, 0.72
"""Which share of an icon the mark fills: all of it, or what no device cuts away."""
CORNER = 0.18
_VIEW = re.compile(r'viewBox="0 0 ([\d.]+) ')
_ELEMENT = re.compile(r"<(circle|path) ([^>]*?)/?>")
_SAID = re.compile(r'([\w-]+)="([^"]*)"')
_LINE = re.compile(r"M([\d.]+) ([\d.]+)L([\d.]+) ([\d.]+)")


@dataclass(frozen=True, slots=True)
class Icon:
    """A picture of the installed guide; a device may cut a maskable one to a shape of its own."""

    src: str
    size: int
    purpose: str


ICONS = (
    Icon("assets/pictures/icon-192.png", 192, "any"),
    Icon("assets/pictures/icon-512.png", 512, "any"),
    Icon("assets/pictures/icon-maskable.png", 512, "maskable"),
)


def drawn(icon: Icon, mark: str, ground: str, logo: Path | None = None) -> bytes:
    """An icon as PNG, the same bytes for the same mark, color and logo.

    mark: SVG of circles and straight lines; logo: a picture of pixels that stands in its place
    """
    is_cut = icon.purpose == "maskable"
    share = INSIDE if is_cut or logo else WHOLE
    inner = round(icon.size * share)
    shown = _fitted(logo, inner) if logo else _marked(mark, inner)
    page = Image.new("RGBA", (icon.size, icon.size))
    if is_cut:
        page.paste(ground, (0, 0, icon.size, icon.size))
    elif logo:
        page.alpha_composite(_plate(icon.size, ground))
    at = ((icon.size - shown.width) // 2, (icon.size - shown.height) // 2)
    page.alpha_composite(shown, at)
    file = io.BytesIO()
    page.save(file, "PNG", optimize=True)
    return file.getvalue()


def _fitted(logo: Path, size: int) -> Image.Image:
    """A logo as large as fits into a square."""
    with Image.open(logo) as read:
        shown = read.convert("RGBA")
    scale = size / max(shown.size)
    sides = (max(1, round(side * scale)) for side in shown.size)
    return shown.resize((next(sides), next(sides)), Image.Resampling.LANCZOS)


def _plate(size: int, ground: str) -> Image.Image:
    large = Image.new("RGBA", (size * FINER, size * FINER))
    box, radius = (0, 0, size * FINER - 1, size * FINER - 1), size * FINER * CORNER
    ImageDraw.Draw(large).rounded_rectangle(box, radius, fill=ground)
    return large.resize((size, size), Image.Resampling.BOX)


def _marked(mark: str, size: int) -> Image.Image:
    """The mark in a square."""
    view = _VIEW.search(mark)
    scale = size * FINER / float(view[1]) if view else 1.0
    large = Image.new("RGBA", (size * FINER, size * FINER))
    pen = ImageDraw.Draw(large)
    for name, said in _ELEMENT.findall(mark):
        has = dict(_SAID.findall(said))
        if name == "circle":
            center = (float(has["cx"]) * scale, float(has["cy"]) * scale)
            pen.circle(center, float(has["r"]) * scale, fill=has["fill"])
            continue
        width = float(has["stroke-width"]) * scale
        for line in _LINE.findall(has["d"]):
            x, y, to_x, to_y = (float(each) * scale for each in line)
            pen.line((x, y, to_x, to_y), has["stroke"], round(width))
            for end in ((x, y), (to_x, to_y)):
                pen.circle(end, width / 2, fill=has["stroke"])
    return large.resize((size, size), Image.Resampling.BOX)
