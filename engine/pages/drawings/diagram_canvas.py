"""A sheet whose symbols and words are links: to the part, to its number, to its caution."""

import re
from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager
from html import escape

from markupsafe import Markup

from engine.pages.drawings.svg import LETTER, WIDTH_OF_LETTER, Canvas, at

Spoken = tuple[str, str]
"""A label, and the part that a symbol or line of it shows; "" for what shows none."""

Lead = tuple[str, str, str]
"""A link: its target, what it says, and what it is called aloud."""

PATH = '<path d="'
STEP = re.compile(r"([A-Za-z])([-\d. ]*)")
"""A letter of a path and its numbers; those of arcs and curves end with where they lead."""

HOP = 4.0
"""Half the width of the bow where a line passes over another."""


class LinkedCanvas(Canvas):
    """Collects shapes in groups, one for each label, and in them a link for each part.

    targets : ids that stand on the page of the drawing; what is not among them is no link
    """

    def __init__(self, name: str, width: float, targets: Collection[str] = ()) -> None:
        super().__init__(name, width)
        self.targets = targets
        self._bare = self.parts
        self._groups: dict[str, dict[str, list[str]]] = {}

    @contextmanager
    def speaking(self, spoken: Spoken) -> Iterator[None]:
        """All that is drawn meanwhile belongs to this label and links to this part."""
        label, part = spoken
        outer = self.parts
        self.parts = self._groups.setdefault(label, {}).setdefault(part, [])
        yield
        self.parts = outer

    def across(
        self, start: float, end: float, y: float, over: Collection[float] = (), style: str = ""
    ) -> None:
        """A level line that hops over the upright lines at these places between its ends."""
        way = 1.0 if end > start else -1.0
        low, high = min(start, end), max(start, end)
        path = f"M{at(start)} {at(y)}"
        for x in sorted((x for x in over if low < x < high), reverse=way < 0):
            bow = f"a{at(HOP)} {at(HOP)} 0 0 {1 if way > 0 else 0} {at(2 * HOP * way)} 0"
            path += f"H{at(x - way * HOP)}{bow}"
        self.path(f"{path}H{at(end)}", style)

    def links(self, x: float, y: float, anchor: str, leads: Sequence[Lead]) -> None:
        """Links in one line, from the side where the label begins."""
        is_end = anchor == "end"
        place = ' text-anchor="end"' if is_end else ""
        for target, says, name in leads[::-1] if is_end else leads:
            self.parts.append(
                f'<a class="rig-to" href="#{target}" aria-label="{escape(name)}">'
                f'<text x="{at(x)}" y="{at(y)}"{place}>{escape(says)}</text></a>'
            )
            step = len(says) * LETTER * WIDTH_OF_LETTER + LETTER
            x += -step if is_end else step

    def svg(self, height: float, title: str, description: str = "") -> Markup:
        """The whole picture; its words are read as they stand, so that it needs no description."""
        del description
        shapes = _in_one_stroke(self._bare) + "".join(
            f'<g data-part="{escape(label)}">{self._linked(parts)}</g>'
            for label, parts in self._groups.items()
        )
        defs = "".join(
            f'<g id="{self.name}-{name}">{drawing}</g>' for name, drawing in self.symbols.items()
        )
        size = f'width="{at(self.width)}" height="{at(height)}"'
        # Every text in it was escaped on its way in.
        return Markup(
            f'<svg xmlns="http://www.w3.org/2000/svg" id="{self.name}" class="rig-drawing" '
            f'role="group" aria-labelledby="{self.name}-title" {size} '
            f'viewBox="0 0 {at(self.width)} {at(height)}" fill="none" stroke="currentColor" '
            'stroke-width="1.5" stroke-linecap="round" stroke-linejoin="round" '
            f'font-size="{at(LETTER)}"><title id="{self.name}-title">{escape(title)}</title>'
            f"<defs>{defs}</defs>{shapes}</svg>"
        )

    def _linked(self, parts: dict[str, list[str]]) -> str:
        return "".join(
            f'<a href="#{part}">{_in_one_stroke(shapes)}</a>'
            if part in self.targets
            else _in_one_stroke(shapes)
            for part, shapes in parts.items()
        )


def _in_one_stroke(shapes: list[str]) -> str:
    """The shapes, with all lines of one style as a single path: a third of the bytes and shapes.

    Nothing here covers what lies under it, so that the order does not matter.
    """
    paths: dict[str, str] = {}
    rest: list[str] = []
    for shape in shapes:
        if shape.startswith(PATH):
            data, style = shape.removeprefix(PATH).split('"', 1)
            paths[style] = paths.get(style, "") + data
        else:
            rest.append(shape)
    return "".join(rest) + "".join(
        f'{PATH}{relative(data)}"{style}' for style, data in paths.items()
    )


def relative(data: str) -> str:
    """A path each of whose places is told from the one before, which compresses far better.

    Bows are told so already.

    >>> relative("M8 4V12H20L24 16M30 16a4 4 0 0 1 8 0H40")
    'M8 4v8h12l4 4m6 0a4 4 0 0 1 8 0h2'
    """
    x = y = 0.0
    found: list[str] = []
    for letter, text in STEP.findall(data):
        given = [float(each) for each in text.split()]
        if letter.islower():
            x, y = x + given[-2], y + given[-1]
            found.append(letter + text)
            continue
        to_x = x if letter == "V" else given[0]
        to_y = y if letter == "H" else given[-1]
        ways = {"H": (to_x - x,), "V": (to_y - y,)}.get(letter, (to_x - x, to_y - y))
        found.append((letter.lower() if found else letter) + " ".join(map(at, ways)))
        x, y = to_x, to_y
    return "".join(found)
