"""The arithmetic of a recommendation as it is read: equation, the numbers put in, what came out."""

import re
from typing import Any

from engine.advice.explain import notes_of
from engine.answer import Advice
from engine.model.guide import Formula, Guide
from engine.model.result import Input, Working
from engine.trace import Note
from engine.units import significant

SIGN = r"(?!Σ)[A-Za-zΑ-Ωα-ω]+(?:_[A-Za-z0-9]+)*"
# A sum over a list, in brackets or of one symbol; else a symbol, and whether it is raised.
TERM = re.compile(rf"Σ\((?P<sum>[^()]*)\)|Σ(?P<each>{SIGN})|(?P<sign>{SIGN})(?P<raised>[²^]?)")


def workings_of(guide: Guide, advice: Advice) -> tuple[Working, ...]:
    """Every step that leads to the recommendation's numbers, in the order in which it was taken."""
    notes = notes_of(guide, advice.outcome.needs, advice.best)
    return tuple(working_of(guide, note) for note in notes)


def working_of(guide: Guide, note: Note) -> Working:
    """One step, with its title and its formula from the guide."""
    formula = guide.formulas[note.formula]
    inputs = inputs_of(formula, note)
    return Working(
        id=note.id,
        subject=note.role.split(".", maxsplit=1)[0],
        name=guide.wording.steps.say(note.id, **note.facts),
        formula=formula.equation,
        numbers=numbers_of(formula.equation, inputs),
        inputs=inputs,
        value=float(note.result),
        unit=formula.unit,
        source=formula.source,
    )


def inputs_of(formula: Formula, note: Note) -> dict[str, Input]:
    """What was put in for each symbol, with its unit."""
    return {each.sign: (_at(note.arguments, each.place), each.unit) for each in formula.symbols}


def _at(arguments: dict[str, Any], place: str) -> Any:
    name, _, field = place.partition(".")
    return getattr(arguments[name], field) if field else arguments[name]


def numbers_of(equation: str, inputs: dict[str, Input]) -> str:
    """The right side of an equation with numbers for its symbols; sums are written out."""
    right = re.split(r" [=≥] ", equation, maxsplit=1)[1]

    def put(found: re.Match[str]) -> str:
        if found["sum"] is not None:
            return f"({_members(found['sum'], inputs)})"
        if found["each"]:
            return _members(found["each"], inputs)
        if found["sign"] not in inputs:
            return found[0]
        value, unit = inputs[found["sign"]]
        return _number(value, unit, bool(found["raised"])) + found["raised"]

    return TERM.sub(put, right)


def _members(term: str, inputs: dict[str, Input]) -> str:
    """A term once for each member of its lists, added up."""
    signs = re.findall(SIGN, term)
    lists = [inputs[sign][0] for sign in signs]
    count = len(lists[0]) if isinstance(lists[0], tuple) else 0
    each = [
        re.sub(SIGN, lambda found, at=at: _number(*_member(inputs[found[0]], at)), term)  # type: ignore[misc]
        for at in range(count)
    ]
    return " + ".join(each) or "0"


def _member(given: Input, at: int) -> tuple[Any, str]:
    value, unit = given
    return (value[at] if isinstance(value, tuple) else value), unit


def _number(value: Any, unit: str, raised: bool = False) -> str:
    text = f"{significant(value, 4)} {unit}".strip()
    return f"({text})" if value < 0 or (raised and unit) else text
