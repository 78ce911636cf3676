"""The edge between what people write and what the engine holds: one table reads and shows."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass

from engine.kept import kept
from engine.typed.amounts import LONGEST, Number, digits_of, number_in_front, tidy
from engine.typed.outside import one_line
from engine.typed.spellings import Unit, folded, units_of
from engine.wording.sentences import Fact, Sentences, Untold
from engine.wording.tongue import money, one_of, plain

_KINDS = {
    "W": ("W", "power", ("1500 W", "1.5 kW", "5100 BTU/h")),
    "VA": ("VA", "apparent-power", ("3000 VA", "3 kVA")),
    "A": ("A", "current", ("100 A",)),
    "V": ("V", "voltage", ("12 V",)),
    "Ah": ("A*s", "battery-capacity", ("200 Ah",)),
    "Wh": ("J", "energy", ("2.4 kWh", "2400 Wh")),
    "m": ("m", "length", ("15 ft", "180 in", "4.5 m")),
    "kg": ("kg", "weight", ("28 lb", "12.7 kg")),
    "kg/m": ("kg/m", "weight-per-length", ("0.5 kg/m", "0.33 lb/ft")),
    "degC": ("degC", "temperature", ("95 °F", "35 °C")),
    "h": ("s", "time", ("3 h", "45 min")),
    "s": ("s", "time", ("0.5 s",)),
    "day": ("s", "time-in-days", ("2 d",)),
    "ohm": ("ohm", "resistance", ("2 mohm",)),
    "F": ("F", "capacitance", ("20 mF",)),
    "Pa": ("Pa", "pressure", ("20 Pa", "0.08 inH2O")),
    "m^3/h": ("m^3/s", "airflow", ("120 m^3/h", "70 CFM")),
    "share": ("share", "share", ("90 %", "0.9")),
    "year": ("s", "time-in-years", ("4 y",)),
    "money": ("money", "price", ("1250 money",)),
    "money/m": ("money/m", "price-per-length", ("9 money/m", "3 money/ft")),
    "money/h": ("money/s", "price-per-hour", ("120 money/h",)),
}
"""For each unit that is held: its measure, what kind of thing it measures, ways to write it."""
_OTHER_KINDS = {"m^2": "area", "m^3": "volume", "Hz": "frequency"}
KINDS = (*dict.fromkeys(each[1] for each in _KINDS.values()), *_OTHER_KINDS.values())
"""Everything that a quantity may be."""
_ADDED = ("W", "VA", "Wh")
"""Units of which several are added: 2 x 200 W are 400 W, 2 x 15 ft may be one cable or two."""
_SMALLER = {"ft": "in", "h": "min"}
"""What a number alone means after another: 5 ft 6, 1 h 30."""
_DEGREES = ("°", "deg", "degree", "degrees")
_TIMES_IN_FRONT = re.compile(r"(?:[x×*]|times) ?(?=[0-9.½¼¾])", re.IGNORECASE)
_TIMES_BEHIND = re.compile(r"(.+?) ?[x×*] ?([0-9]{1,2})", re.IGNORECASE)
_THEN_ANOTHER = re.compile(
    r"([^\s0-9½¼¾.,*/^-]{1,12})(?:\.?,? ?(?:and )?(?=[0-9½¼¾.])|\.?,? (?:and )?(?=[a-z]))(.+)",
    re.IGNORECASE,
)
_UNIT_TEXT = re.compile(r"[^\W\d_][^*]{0,39}|[°%'\"′″’”].{0,39}")
_LONGEST_SHOWN = 60


class UnitError(Untold):
    """A text that is not a quantity of the wanted kind."""


@dataclass(frozen=True, slots=True)
class Read:
    """A quantity: its value in the wanted unit, and a short text that reads the same."""

    value: float
    text: str


def kind_of(unit: str) -> str:
    """What a unit measures, one of KINDS."""
    return _KINDS[unit][1]


def forms_of(unit: str) -> tuple[str, ...]:
    """Accepted ways to write a quantity of this unit."""
    return _KINDS[unit][2]


def examples_of(unit: str) -> str:
    """The same as a list in a sentence."""
    return one_of(forms_of(unit))


@dataclass(frozen=True, slots=True)
class Kind:
    """A fact: what a quantity measures, one of KINDS."""

    id: str

    def __call__(self, faults: Sentences) -> str:
        return faults.one_of("kind-", self.id, KINDS)


def _examples(unit: str) -> Fact:
    return lambda _: examples_of(unit)


def read(text: str, unit: str, bare: str = "") -> float:
    """Read a quantity that a person wrote, in the given unit.

    Parameters
    ----------
    text : such as "15 ft", "13,500 BTU/h", "95F", "5 ft 6 in", "about six feet"
    unit : unit of the result, a key of this module's table ("m", "W", "degC" …)
    bare : unit of a number written alone; without it such a number is refused

    Raises
    ------
    UnitError : if the text is no number with a unit of this kind.

    >>> round(read("15 ft", "m"), 3), round(read("95F", "degC"), 6), read("3 kVA", "VA")
    (4.572, 35.0, 3000.0)
    """
    return read_short(text, unit, bare).value


@kept("never", 4096)
def read_short(text: str, unit: str, bare: str = "") -> Read:
    """Read a quantity as `read` does, together with the short text that stands for it in links.

    >>> read_short("13,500 BTU per hour", "W").text, read_short("5' 6", "m").text
    ('13500BTU/h', '5ft6in')
    >>> read_short("2 x 200 W", "W"), read_short("1 1/2", "m", "inch").text
    (Read(value=400.0, text='400W'), '1.5in')
    """
    tidied = tidy(text)
    if len(tidied) > LONGEST:
        raise _not_understood(text, unit)
    number = _multiplied(tidied, unit) or number_in_front(tidied)
    if number is None:
        raise UnitError("no-number", text=_shown(text), examples=_examples(unit))
    if not number.rest or (unit == "degC" and bare and folded(number.rest) in _DEGREES):
        if unit == "share" and not bare:
            return Read(number.value, number.digits)
        if not bare:
            raise UnitError("no-unit", text=_shown(text), examples=_examples(unit))
        units = units_of(bare)
    else:
        units = units_of(number.rest)
    if not units:
        joined = _joined(number, unit)
        if joined:
            return joined
        if not _UNIT_TEXT.fullmatch(number.rest):
            raise _not_understood(text, unit)
        raise UnitError(
            "unknown-unit", symbol=number.rest, text=_shown(text), examples=_examples(unit)
        )
    found = _of_kind(units, unit)
    if found is None:
        raise UnitError(
            "other-kind",
            wanted=Kind(kind_of(unit)),
            got=Kind(_kind_found(units)),
            text=_shown(text),
            examples=_examples(unit),
        )
    return _held(number.value, number.digits, found, unit)


def _multiplied(text: str, unit: str) -> Number | None:
    """What "2 x 200 W" or "200 W x 2" comes to; None for any other text."""
    if unit not in _ADDED:
        return None
    if behind := _TIMES_BEHIND.fullmatch(text):
        count, each = float(behind[2]), number_in_front(behind[1])
    else:
        front = number_in_front(text)
        times = _TIMES_IN_FRONT.match(front.rest) if front else None
        if not front or not times or front.value not in range(1, 100):
            return None
        count, each = front.value, number_in_front(front.rest[times.end() :])
    if each is None or not each.rest:
        return None
    value = count * each.value
    return Number(value, digits_of(value), each.rest)


def _joined(number: Number, unit: str) -> Read | None:
    """What "5 ft 6 in" comes to: a second unit that the first is a whole number of."""
    found = _THEN_ANOTHER.fullmatch(number.rest)
    first = _of_kind(units_of(found[1]), unit) if found else None
    then = number_in_front(found[2]) if found else None
    if first is None or then is None or min(number.value, then.value) < 0:
        return None
    second = _of_kind(units_of(then.rest or _SMALLER.get(first.symbol, "")), unit)
    if second is None:
        return None
    ratio = first.factor / second.factor
    too_many = not then.rest and then.value >= ratio
    if too_many or round(ratio) < 2 or not math.isclose(ratio, round(ratio), rel_tol=1e-9):
        return None
    whole = Unit(first.measure, second.symbol, 1.0, 0.0)
    total = number.value * first.factor + then.value * second.factor
    return _held(total, f"{number.digits}{first.symbol}{then.digits}", whole, unit)


def _held(value: float, digits: str, found: Unit, unit: str) -> Read:
    held = (value * found.factor + found.offset) / _size(unit)
    # 35.00000000000006 °C would reach links and pages
    held = round(held, 9) if found.offset else float(f"{held:.12g}")
    return Read(held, f"{digits}{found.symbol}")


@kept("never", None)
def _size(unit: str) -> float:
    """How many of its measure's own unit make one of a unit that is held."""
    found = _of_kind(units_of(unit), unit)
    return found.factor if found else 1.0  # a share is written without a unit


def _of_kind(units: tuple[Unit, ...], unit: str) -> Unit | None:
    return next((each for each in units if each.measure == _KINDS[unit][0]), None)


def _kind_found(units: tuple[Unit, ...]) -> str:
    for kind in _KINDS.values():
        if kind[0] == units[0].measure:
            return kind[1]
    return _OTHER_KINDS[units[0].measure]


def _not_understood(text: str, unit: str) -> UnitError:
    return UnitError("unclear", text=_shown(text), examples=_examples(unit))


def _shown(text: str) -> str:
    """What was typed, as a message shows it: one line, not too long."""
    line = one_line(text[: 2 * _LONGEST_SHOWN])
    return line if len(line) <= _LONGEST_SHOWN else f"{line[:_LONGEST_SHOWN]}…"


@kept("never", None)
def factor(unit: str, shown: str) -> float:
    """How many of the shown unit make one of the held unit; ValueError where none does.

    >>> round(factor("m", "inch"), 3), factor("kWh", "Wh")
    (39.37, 1000.0)
    """
    for one in units_of(unit):
        for other in units_of(shown):
            if one.measure == other.measure:
                return one.factor / other.factor
    raise ValueError(f"{unit} cannot be shown in {shown}")


@kept("language", 4096)
def significant(value: float, digits: int = 3) -> str:
    """A number to so many significant figures, never in powers of ten.

    >>> significant(0.0003173), significant(1234.5), significant(0.5)
    ('0.000317', '1,230', '0.5')
    """
    if value == 0 or not math.isfinite(value):
        return plain(value) if value == 0 else str(value)
    exponent = int(f"{value:e}".split("e")[1])
    places = digits - 1 - exponent
    return plain(round(value, places), max(places, 0))


@kept("language", 4096)  # a page shows hundreds, most of them as the page before
def show(value: float, unit: str, digits: int = 3) -> str:
    """A quantity as this market reads it: ft and in, °F, lb, with the metric value where it helps.

    Three significant figures, as many as a plate or a list of loads has, unless it is told more.

    >>> show(4.572, "m"), show(0.4064, "m"), show(35.0, "degC"), show(2404.0, "W")
    ('15 ft (4.57 m)', '16 in (406 mm)', '95 °F (35 °C)', '2,400 W')
    """
    special = _SHOWN.get(unit)
    if special:
        return special(value)
    return f"{significant(value, digits)} {_SIGNS.get(unit, unit)}"


_SIGNS = {"ohm": "Ω", "h": "hours"}


def _show_length(value_m: float) -> str:
    inches = value_m * factor("m", "inch")
    if inches < 36:
        return f"{plain(inches, 1)} in ({plain(value_m * 1000)} mm)"
    return f"{plain(inches / 12, 1)} ft ({plain(value_m, 2 if value_m < 100 else 0)} m)"


def _show_airflow(value: float) -> str:
    cfm = value * factor("m^3/h", "CFM")
    return f"{plain(cfm)} CFM ({plain(value)} m³/h)"


def _show_area(value: float) -> str:
    return f"{plain(value * factor('m^2', 'ft^2'), 1)} sq ft ({plain(value, 2)} m²)"


def _show_energy(value: float) -> str:
    return f"{plain(value / 1000, 1)} kWh" if value >= 1000 else f"{plain(value)} Wh"


def _show_mass(value: float) -> str:
    return f"{plain(value * factor('kg', 'pound'))} lb ({plain(value, 1)} kg)"


_SHOWN: dict[str, Callable[[float], str]] = {
    "m": _show_length,
    "degC": lambda value: f"{plain(value * 9 / 5 + 32)} °F ({plain(value)} °C)",
    "kg": _show_mass,
    "m^2": _show_area,
    "m^3/h": _show_airflow,
    "share": lambda value: f"{plain(value * 100, 1)} %",
    "Wh": _show_energy,
    "count": plain,
    "money": money,
}
