"""Turns the project's docstrings into Markdown for the reference, as a griffe extension.

They say ``current_a : current in the run [A]`` below *Parameters*. The styles that the tool knows
take such words for a type, so the sections are written out here.
"""

import re
from typing import Any

from griffe import Extension, Object
from mkdocstrings_handlers.python._internal import rendering

OPENING, CLOSING = "([{", ")]}"
UNDERLINED = re.compile(r"^(Parameters|Returns|Raises|Sources)\n-{3,}\n", re.MULTILINE)
ITEM = re.compile(r"^(\w[\w ,.]*?) : (.*)$")
DOCTEST = re.compile(r"^>>> .*(?:\n(?!\n).*)*", re.MULTILINE)


class Docstrings(Extension):
    """Rewrites every docstring once it is loaded."""

    def on_instance(self, *, obj: Object, **_: Any) -> None:
        """Rewrite one; aliases have none of their own."""
        if not obj.is_alias and obj.docstring is not None:
            obj.docstring.value = as_markdown(obj.docstring.value)


def laid_out(code: str, line_length: int) -> str:
    """A function's head that is too long for a line, with a line for each parameter.

    >>> print(laid_out("def f(a: int, b: dict[str, int] = {}) -> int: pass", 30))
    def f(
        a: int,
        b: dict[str, int] = {},
    ) -> int: pass
    """
    start, parameters, end = _parted(code)
    if len(code) <= line_length or not parameters or not code.startswith("def "):
        return code
    lines = "".join(f"    {each.strip()},\n" for each in parameters)
    return f"{start}\n{lines}{end}"


def _parted(code: str) -> tuple[str, list[str], str]:
    """What stands before the parameters, each of them, and what comes behind."""
    depth, parts, quote = 0, [""], ""
    for at, sign in enumerate(code):
        if quote:
            quote = "" if sign == quote else quote
        elif sign in "\"'":
            quote = sign
        elif sign in OPENING:
            depth += 1
            if depth == 1:
                parts = [code[: at + 1], ""]
                continue
        elif sign in CLOSING:
            depth -= 1
            if depth == 0:
                return parts[0], [each for each in parts[1:] if each.strip()], code[at:]
        elif sign == "," and depth == 1:
            parts.append("")
            continue
        parts[-1] += sign
    return code, [], ""


# The tool would start a formatter for each of hundreds of functions, where one is installed.
rendering._get_formatter = lambda: laid_out  # type: ignore[assignment]  # it keeps nothing


def as_markdown(text: str) -> str:
    r"""A docstring with its sections as lists, and its examples as code.

    >>> as_markdown("One.\n\nParameters\n----------\na_m : length [m]\n    one way")
    'One.\n\n**Parameters**\n\n- `a_m`: length [m] one way'
    """
    head, *sections = UNDERLINED.split(text)
    parts = [_plain(head)]
    for title, body in zip(sections[::2], sections[1::2], strict=True):
        own, _, rest = body.strip("\n").partition("\n\n")
        parts += [f"**{title}**", _listed(own), _plain(rest)]
    return "\n\n".join(part for part in parts if part)


def _listed(body: str) -> str:
    rows: list[str] = []
    for line in body.splitlines():
        item = ITEM.match(line)
        if item:
            rows.append(f"- `{item[1]}`: {item[2]}")
        elif rows and rows[-1].startswith("- "):
            rows[-1] += f" {line.strip()}"
        else:
            rows.append(line)
    return "\n".join(rows)


def _plain(text: str) -> str:
    paragraphs = []
    for block in DOCTEST.sub(lambda found: f"```python\n{found[0]}\n```", text).split("\n\n"):
        items = [ITEM.match(line) for line in block.splitlines()]
        paragraphs.append(_listed(block) if items and items[0] else block)
    return "\n\n".join(paragraphs).strip("\n")
