"""A link as a square code that a phone's camera reads, drawn without any outside service."""

import re

from markupsafe import Markup

# One fixed mask of the eight: trying all of them took six times as long, and any can be read.
MASK = 3
QUIET = 4
"""Empty border on each side [modules], as ISO/IEC 18004 asks for."""
MOST_BYTES = 2331
"""The largest code of level M holds as many (ISO/IEC 18004, version 40)."""

_DARK = re.compile(b"\x01+")


def qr_svg(text: str, title: str, too_long: str) -> Markup:
    """The code as SVG, dark on white whatever the page's colors, 15 % of it spare (level M).

    too_long: what is said instead of a text that no code can hold
    """
    if len(text.encode()) > MOST_BYTES:
        return Markup("<p>{}</p>").format(too_long)
    import segno  # noqa: PLC0415 - it brings much, and a terminal draws no code

    code = segno.make(text, error="m", micro=False, boost_error=False, mask=MASK)
    rows = [bytes(row) for row in code.matrix]
    size = len(rows) + 2 * QUIET
    return Markup(
        '<svg role="img" shape-rendering="crispEdges" class="rig-qr" viewBox="0 0 {0} {0}">'
        '<title>{1}</title><path fill="#fff" d="M0 0h{0}v{0}h-{0}z"/>'
        '<path stroke="#000" d="{2}"/></svg>'
    ).format(size, title, "".join(map(_line, range(len(rows)), rows)))


def _line(row: int, modules: bytes) -> str:
    """The dark stretches of one row as a path, each from where the last one ended."""
    path, at = "", 0
    for stretch in _DARK.finditer(modules):
        start, end = stretch.span()
        path += f"m{start - at} 0" if path else f"M{QUIET + start} {QUIET + row}.5"
        path += f"h{end - start}"
        at = end
    return path
