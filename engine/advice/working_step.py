"""One step of arithmetic: its formula, the numbers put in, and the same to be worked out again."""

import re

from engine.kept import kept
from engine.model.result import Working
from engine.units import significant

Number = tuple[float, str]

# How a pattern rounds to whole numbers, a hair's breadth forgiven; and so it is shown.
ROUNDED_UP = re.compile(r"-\(-\((.+?) - 1e-9\) // 1\)")
ROUNDED_DOWN = re.compile(r"\((.+?) \+ 1e-9\) // 1")

OHM = "Ohm's law"
KIRCHHOFF = "Kirchhoff's current law"
ENERGY = "conservation of energy"
PRACTICE = "common practice, no source"
FITTED = "loss curve fitted to the maker's efficiency points"


def step(
    subject: str,
    name: str,
    formula: str,
    pattern: str,
    numbers: dict[str, Number],
    result: Number,
    source: str,
) -> Working:
    """Put the numbers into the pattern: once for reading, once at full precision."""
    shown = {
        key: f"{significant(value, 4)} {unit}".strip() for key, (value, unit) in numbers.items()
    }
    exact = {key: f"({value!r})" for key, (value, _) in numbers.items()}
    return Working(
        subject=subject,
        name=name,
        formula=formula,
        numbers=_readable(pattern).format_map(shown),
        expression=pattern.format_map(exact),
        value=result[0],
        unit=result[1],
        source=source,
    )


@kept("never", 256)
def _readable(pattern: str) -> str:
    rounded = ROUNDED_DOWN.sub(r"⌊\1⌋", ROUNDED_UP.sub(r"⌈\1⌉", pattern))
    return rounded.replace("**", "^").replace("*", "·").replace("sqrt", "√")


def sum_of(values: list[float], unit: str) -> tuple[str, dict[str, Number]]:
    """A pattern that adds the values up, with their names."""
    names = {f"n{index}": (value, unit) for index, value in enumerate(values)}
    return " + ".join(f"{{{name}}}" for name in names) or "0", names
