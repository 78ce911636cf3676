"""Any text from outside, of a link, a form, a command line or a list, before it is read or shown.

What was typed is not changed in silence: only spaces and signs without width or meaning go. Every
other sign that cannot be shown, an escape sequence, a turned direction, half of a sign, becomes
`BROKEN`, which nothing reads as part of an answer, and which everybody sees.
"""

import re

BROKEN = "\ufffd"
"""Stands where something was that cannot be shown (Unicode's replacement character)."""
_NO_WIDTH = dict.fromkeys((0xAD, *range(0x200B, 0x2010), 0x2060, 0xFEFF))
"""Soft hyphen, joiners, marks of direction, byte order mark: what pasting brings along."""
_MARK = (
    "[\u0300-\u036f\u0483-\u0489\u0591-\u05bd\u064b-\u065f\u0e34-\u0e3a\u0e47-\u0e4e\u0f71-\u0f84"
    "\u1ab0-\u1aff\u1dc0-\u1dff\u20d0-\u20ff\ufe20-\ufe2f]"
)
_MANY_MARKS = re.compile(f"({_MARK}{{2}}){_MARK}+")
"""More accents on one letter than any language sets: they would cover the lines around them."""


def one_line(text: str) -> str:
    """A text as one line of signs that can be shown, with single spaces.

    >>> one_line("  15\\u00a0ft \\u200b\\n"), one_line("a\\x1b[31mb\\u202ec")
    ('15 ft', 'a�[31mb�c')
    """
    return " ".join(_shown(text).split())


def lines(text: str) -> str:
    """The same of a text that may have several lines.

    >>> lines(" fan\\r\\n\\r\\n kettle\\t2 h ")
    'fan\\nkettle 2 h'
    """
    return "\n".join(filter(None, map(one_line, text.splitlines())))


def _shown(text: str) -> str:
    if not text.isprintable():
        text = "".join(
            sign if sign.isprintable() else " " if sign.isspace() else BROKEN
            for sign in text.translate(_NO_WIDTH)
        )
    return text if text.isascii() else _MANY_MARKS.sub(r"\1", text)
