"""What must hold of a formula that a reader may open, beside that it gives its value."""

import inspect
import re
from collections.abc import Callable
from typing import Any

from engine.model.guide import Formula, Symbol
from tests.equations import EquationError, symbols_of

# Letters of quantities by unit, as ISO 80000 and the trade have them; E also for a voltage.
LETTERS = {
    "A": {"I"}, "V": {"U", "E"}, "W": {"P"}, "VA": {"S"}, "Wh": {"E"}, "Ah": {"C"},
    "Ω": {"R"}, "Ω/m": {"r"}, "°C": {"T"}, "K": {"ΔT"}, "m": {"l", "h"}, "h": {"H", "t"},
    "kg": {"m"}, "kg/m³": {"ρ"}, "m³/h": {"Q"}, "m/s": {"v"}, "m²": {"A"}, "cmil": {"CM"},
    "1/W": {"b"}, "%": {"u", "x"}, "days": {"t"},
    "": {"n", "m", "k", "a", "d", "f", "η", "PF"},
}  # fmt: skip
FIXED = {"efficiency": "η", "power_factor": "PF"}
"""Names without a unit that have a letter of their own."""
ENDINGS = {
    "a": "A", "v": "V", "w": "W", "va": "VA", "wh": "Wh", "ah": "Ah", "ohm": "Ω", "c": "°C",
    "k": "K", "m": "m", "kg": "kg", "hours": "h", "m2": "m²", "percent": "%",
    "ohm_per_m": "Ω/m", "kg_per_m3": "kg/m³", "m3_per_h": "m³/h", "m_per_s": "m/s",
    "per_w": "1/W", "mils": "cmil",
}  # fmt: skip
"""Ends of names, by which a name says its unit."""


def faults_of(function: Callable[..., Any], formula: Formula) -> list[str]:
    """Everything that is wrong with a formula's symbols, units and names."""
    try:
        used = symbols_of(formula.equation)
    except EquationError as error:
        return [str(error)]
    explained = [each.sign for each in formula.symbols]
    found = [f"{sign} is not explained" for sign in sorted(used - set(explained))]
    found += [f"{sign} is explained and not used" for sign in sorted(set(explained) - used)]
    found += [f"{sign} is explained twice" for sign in explained if explained.count(sign) > 1]
    tied = {each.place.split(".")[0] for each in formula.symbols}
    found += [
        f"{name} has no symbol"
        for name in inspect.signature(function).parameters
        if name not in tied
    ]
    found += [fault for each in formula.symbols for fault in _symbol(each)]
    if unit_of(function.__name__) != formula.unit and formula.unit != "days":
        found.append(f"{function.__name__} gives {formula.unit!r}")
    result = re.split(r"[_ ]", formula.equation)[0]
    if result not in LETTERS[formula.unit]:
        found.append(f"{result} is no letter of what is measured in {formula.unit!r}")
    return found


def unit_of(name: str) -> str:
    """The unit that a name ends in; "" where it ends in none."""
    ends = [end for end in ENDINGS if name == end or name.endswith(f"_{end}")]
    return ENDINGS[max(ends, key=len)] if ends else ""


def _symbol(symbol: Symbol) -> list[str]:
    letter, *below = symbol.sign.split("_")
    name = symbol.place.rsplit(".", maxsplit=1)[-1]
    found = []
    if letter not in LETTERS.get(symbol.unit, set()):
        found.append(f"{symbol.sign} is no letter of what is measured in {symbol.unit!r}")
    ends = unit_of(name)
    if ends != symbol.unit and not (symbol.unit == "V" and name == "volts"):
        found.append(f"{name} is not in {symbol.unit!r}")
    for word in below:
        # Digits number where the name does not, i counts the members of a list.
        free = word == "i" or (word.isdigit() and not re.search(r"\d", name))
        if not free and word not in name:
            found.append(f"{symbol.sign} does not say {name}")
    if FIXED.get(name, letter) != letter or (letter in FIXED.values() and name not in FIXED):
        found.append(f"{symbol.sign} does not say {name}")
    return found
