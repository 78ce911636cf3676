"""Plain SVG text: what diagram, sketch and charts draw with.

Lines and letters take the color of the text around them, so one drawing serves light, dark and
print; that letters are filled, and not drawn as lines, is said once, in the style sheet.
Coordinates are rounded to a tenth, so the same answer gives the same bytes everywhere.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from html import escape
from itertools import pairwise

from markupsafe import Markup

from engine.kept import kept

SMALL = 11.0
LETTER = 12.0
LINE_HEIGHT = 15.0
# Mean width of a letter as a share of its size: system sans-serif fonts, measured with a margin.
WIDTH_OF_LETTER = 0.55
WIDTH_OF_BOLD = 0.61
_BEFORE_UNIT = re.compile(r"(?<=\d) (?=(?:AWG|[kM]?[AVW]h?|in|ft|lb|Hz|×)\b)|(?<=\d) (?=×)|(?<=×) ")
BOLD = 'font-weight="700"'
FAINT = 'stroke-opacity="0.45"'
DASHED = 'stroke-dasharray="4 3"'
THICK = 'stroke-width="4" stroke-linecap="butt"'


@dataclass(frozen=True, slots=True)
class Table:
    """The figures of a picture, for those who cannot see it."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing with what it says in words: a sentence, and either steps or a table."""

    id: str
    title: str
    sentence: str
    svg: Markup
    steps: tuple[str, ...] = ()
    table: Table | None = None


@kept("answer", 8192)
def at(value: float) -> str:
    """A coordinate as it is written, to a tenth, without a minus before nothing.

    >>> at(12.04), at(3.96), at(-0.01)
    ('12', '4', '0')
    """
    text = f"{value:.1f}"
    text = text.removesuffix(".0")
    return "0" if text == "-0" else text


def wrapped(text: str, width: float, size: float = LETTER, *, bold: bool = False) -> list[str]:
    """The text in lines that are no wider than this, broken between words, never before a unit.

    >>> wrapped("Solar controller 53 A, 165 V", 150.0)
    ['Solar controller 53\xa0A,', '165\xa0V']
    """
    most = int(width / (size * (WIDTH_OF_BOLD if bold else WIDTH_OF_LETTER)))
    lines: list[str] = []
    for word in _BEFORE_UNIT.sub("\xa0", text).split(" "):
        if lines and len(lines[-1]) + 1 + len(word) <= most:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


class Canvas:
    """Collects shapes; the first point of every pair is to the right, the second downwards."""

    def __init__(self, name: str, width: float) -> None:
        self.name = name
        self.width = width
        self.parts: list[str] = []
        self.symbols: dict[str, str] = {}

    def line(self, *points: tuple[float, float], style: str = "") -> None:
        """A line through these points."""
        self.path(through(points), style)

    def box(self, x: float, y: float, width: float, height: float, style: str = "") -> None:
        """A rectangle from its upper left corner."""
        self.parts.append(
            f'<rect x="{at(x)}" y="{at(y)}" width="{at(width)}" height="{at(height)}"'
            f"{_spaced(style)}/>"
        )

    def dot(self, x: float, y: float, radius: float = 2.5) -> None:
        """A filled dot, where lines join."""
        self.parts.append(
            f'<circle cx="{at(x)}" cy="{at(y)}" r="{at(radius)}"'
            ' fill="currentColor" stroke="none"/>'
        )

    def path(self, data: str, style: str = "") -> None:
        """A path in SVG's own terms."""
        self.parts.append(f'<path d="{data}"{_spaced(style)}/>')

    def text(
        self, x: float, y: float, text: str, anchor: str = "start", size: float = 0, style: str = ""
    ) -> None:
        """One line of text; y is its base line."""
        place = "" if anchor == "start" else f' text-anchor="{anchor}"'
        letters = f' font-size="{at(size)}"' if size else ""
        self.parts.append(
            f'<text x="{at(x)}" y="{at(y)}"{place}{letters}{_spaced(style)}>{escape(text)}</text>'
        )

    def use(self, name: str, drawing: str, x: float, y: float) -> None:
        """A symbol, drawn once and placed as often as wanted."""
        self.symbols[name] = drawing
        self.parts.append(f'<use href="#{self.name}-{name}" x="{at(x)}" y="{at(y)}"/>')

    def svg(self, height: float, title: str, description: str) -> Markup:
        """The whole picture, with its title and description for screen readers."""
        # Every text in it was escaped on its way in.
        defs = "".join(
            f'<g id="{self.name}-{name}">{drawing}</g>' for name, drawing in self.symbols.items()
        )
        size = f'width="{at(self.width)}" height="{at(height)}"'
        return Markup(
            f'<svg xmlns="http://www.w3.org/2000/svg" id="{self.name}" class="rig-drawing" '
            f'role="img" aria-labelledby="{self.name}-title {self.name}-desc" {size} '
            f'viewBox="0 0 {at(self.width)} {at(height)}" fill="none" stroke="currentColor" '
            'stroke-width="1.5" stroke-linecap="round" stroke-linejoin="round" '
            f'font-size="{at(LETTER)}">'
            f'<title id="{self.name}-title">{escape(title)}</title>'
            f'<desc id="{self.name}-desc">{escape(description)}</desc>'
            f"{f'<defs>{defs}</defs>' if defs else ''}{''.join(self.parts)}</svg>"
        )


def through(points: Sequence[tuple[float, float]]) -> str:
    """A path through these points; a level or upright stretch names one coordinate only.

    >>> through(((8, 4), (8, 12), (20, 12), (24, 16)))
    'M8 4V12H20L24 16'
    """
    written = [(at(x), at(y)) for x, y in points]
    path = "M{} {}".format(*written[0])
    for (x, y), (to_x, to_y) in pairwise(written):
        path += f"V{to_y}" if to_x == x else f"H{to_x}" if to_y == y else f"L{to_x} {to_y}"
    return path


def _spaced(style: str) -> str:
    return f" {style}" if style else ""


def sentence_of(items: Iterable[str]) -> str:
    """Short sentences as one description."""
    return " ".join(item if item.endswith((".", "?", "!")) else f"{item}." for item in items)
