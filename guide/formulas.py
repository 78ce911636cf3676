"""Docstrings of the sizing -> the formulas that a reader may open, as the browser gets them.

Below *Parameters* stands ``current_a : I, current in the run [A]``: parameter, symbol, meaning,
unit. The fields of a parameter follow it as ``curve.idle_w : P_0, draw with no load [W]``. The
equation is the one line that has its result on the left. The first sentence of the source is shown.
"""

import inspect
import re
from collections.abc import Callable
from typing import Any

from engine.advice.explain import formulas
from engine.kept import kept
from engine.model.guide import Formula, Symbol

SIGN = r"(?!Σ)[A-Za-zΑ-Ωα-ω]+(?:_[A-Za-z0-9]+)*"
EQUATION = re.compile(rf"^{SIGN} [=≥] .+$", re.MULTILINE)
ROW = re.compile(rf"^([\w.]+) : ({SIGN}), (.+?) \[(.+?)\]$")
UNIT = re.compile(r"\[(.+?)\]")
SENTENCE = re.compile(r"(?<=\.) (?=[A-Z0-9])")
SECTIONS = re.compile(r"^(Parameters|Returns|Raises)\n-+\n", re.MULTILINE)


@kept("never", None)
def formulas_of_sizing() -> dict[str, Formula]:
    """Every formula that a reader may open, by name.

    Raises
    ------
    ValueError : if a docstring lacks something, or has it more than once, with the mend.
    """
    return {name: formula_of(each) for name, each in formulas().items()}


def formula_of(function: Callable[..., Any]) -> Formula:
    """One formula, from its docstring; raises as `formulas_of_sizing` does."""
    text = inspect.getdoc(function)
    if not text:
        raise ValueError(
            f"{function.__name__} has no docstring; run Python without -OO, or write one"
        )
    head, *rest = SECTIONS.split(text)
    sections = dict(zip(rest[::2], rest[1::2], strict=True))
    equations = EQUATION.findall(head)
    if len(equations) != 1:
        raise ValueError(
            f"{function.__name__} has {len(equations)} equations; write one on a line of its own, "
            "or split the formula"
        )
    unit = UNIT.search(sections["Returns"].split("\n\n")[0])
    source = text.split("\nSource: ")[1].split("\n\n")[0]
    return Formula(
        equation=equations[0],
        symbols=tuple(_symbols(sections["Parameters"].split("\n\n")[0])),
        unit=_sign(unit[1]) if unit else "",
        source=SENTENCE.split(" ".join(source.split()))[0].removesuffix("."),
    )


def _symbols(rows: str) -> list[Symbol]:
    found = []
    for row in re.split(r"\n(?=[\w.]+ : )", rows.strip()):
        read = ROW.match(" ".join(row.split()))
        if read:
            found.append(Symbol(read[2], read[1], _sign(read[4]), read[3]))
    return found


def _sign(unit: str) -> str:
    return "" if unit == "–" else unit
