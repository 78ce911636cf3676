"""The edge between what people write and what the engine holds: pint reads, pint's factors show."""

import math
import re
from collections.abc import Callable
from pathlib import Path

import pint

from engine.kept import kept

_KINDS = {
    "W": ("a power", "1500 W, 1.5 kW or 5100 BTU/h"),
    "VA": ("an apparent power", "3000 VA or 3 kVA"),
    "A": ("a current", "100 A"),
    "V": ("a voltage", "12 V"),
    "Ah": ("a battery capacity", "200 Ah"),
    "Wh": ("an energy", "2.4 kWh or 2400 Wh"),
    "m": ("a length", "15 ft, 180 in or 4.5 m"),
    "kg": ("a weight", "28 lb or 12.7 kg"),
    "kg/m": ("a weight per length", "0.5 kg/m or 0.33 lb/ft"),
    "degC": ("a temperature", "95 °F or 35 °C"),
    "h": ("a time", "3 h or 45 min"),
    "s": ("a time", "0.5 s"),
    "ohm": ("a resistance", "2 mohm"),
    "F": ("a capacitance", "20 mF"),
    "Pa": ("a pressure", "20 Pa or 0.08 inH2O"),
    "m^3/h": ("an airflow", "120 m^3/h or 70 CFM"),
    "share": ("a share", "90 % or 0.9"),
    "year": ("a time in years", "4 years"),
    "USD": ("a price", "1250 USD"),
    "USD/m": ("a price per length", "9 USD/m or 3 USD/ft"),
    "USD/h": ("a price per hour", "120 USD/h"),
}

_SPELLINGS: tuple[tuple[re.Pattern[str], str], ...] = (
    (re.compile(r"(?<=\d)\s*(?:deg(?:rees)?\s*|°\s*)F\b", re.IGNORECASE), " degF"),
    (re.compile(r"(?<=\d)\s*(?:deg(?:rees)?\s*|°\s*)C\b", re.IGNORECASE), " degC"),
    (re.compile(r"(?<=\d)\s*(?:BTU/hr?|BTUH|BTU per hour)\b", re.IGNORECASE), " BTU/hour"),
    (re.compile(r"(?<=\d)\s*cfm\b", re.IGNORECASE), " foot**3/minute"),
    (re.compile(r"(?<=\d)\s*(?:″|''|\"|inches\b|inch\b|in\b)", re.IGNORECASE), " inch"),
    (re.compile(r"(?<=\d)\s*(?:′|'|feet\b|foot\b|ft\b)", re.IGNORECASE), " foot"),
    (re.compile(r"(?<=\d)\s*(?:lbs|pounds)\b", re.IGNORECASE), " pound"),
    (re.compile(r"(?<=\d)\s*hrs?\b", re.IGNORECASE), " hour"),
    (re.compile(r"(?<=\d)\s*mins?\b", re.IGNORECASE), " minute"),
    (re.compile(r"(?<=\d)\s*kwh\b", re.IGNORECASE), " kWh"),
    (re.compile(r"(?<=\d)\s*wh\b", re.IGNORECASE), " Wh"),
    (re.compile(r"(?<=\d)\s*ah\b", re.IGNORECASE), " Ah"),
    (re.compile(r"(?<=\d)\s*kva\b", re.IGNORECASE), " kVA"),
    (re.compile(r"(?<=\d)\s*va\b", re.IGNORECASE), " VA"),
    (re.compile(r"(?<=\d)\s*kw\b", re.IGNORECASE), " kW"),
    (re.compile(r"(?<=\d)\s*(?:w|watts?)\b", re.IGNORECASE), " W"),
    (re.compile(r"(?<=\d)\s*(?:a|amps?)\b", re.IGNORECASE), " A"),
    (re.compile(r"(?<=\d)\s*(?:v|volts?)\b", re.IGNORECASE), " V"),
    (re.compile(r"(?<=\d)\s*%"), " percent"),
)
_BARE_TEMPERATURE = (
    (re.compile(r"(?<=\d)\s*F\b", re.IGNORECASE), " degF"),
    (re.compile(r"(?<=\d)\s*C\b", re.IGNORECASE), " degC"),
)
_THOUSANDS = re.compile(r"(?<=\d),(?=\d{3}(?:\D|$))")
_DECIMAL_COMMA = re.compile(r"(?<=\d),(?=\d{1,2}(?:\D|$))")
_NUMBER = re.compile(r"\s*([-+−]?\d+(?:\.\d+)?|[-+−]?\.\d+)\s*(.*)", re.DOTALL)
_UNIT_TEXT = re.compile(r"[A-Za-zµΩ%*/^³²0-9 .]*")
_FEET_AND_INCHES = re.compile(
    r"\s*(\d+(?:\.\d+)?)\s*(?:ft|feet|foot|'|′)\s*(\d+(?:\.\d+)?)\s*(?:in|inch|inches|\"|''|″)?\s*$",
    re.IGNORECASE,
)


class UnitError(ValueError):
    """A text that is not a quantity of the wanted kind; the message says what is accepted."""


@kept("never", None)
def registry() -> "pint.UnitRegistry[float]":
    """The one unit registry, of the units in ``units.txt``."""
    return pint.UnitRegistry(
        str(Path(__file__).with_name("units.txt")),
        cache_folder=None,
        autoconvert_offset_to_baseunit=False,
    )


def kind_of(unit: str) -> str:
    """What a unit measures, in words: "a length"."""
    return _KINDS[unit][0]


def examples_of(unit: str) -> str:
    """Accepted ways to write a quantity of this unit."""
    return _KINDS[unit][1]


@kept("never", 4096)
def read(text: str, unit: str, bare: str = "") -> float:
    """Read a quantity that a person wrote, in the given unit.

    Parameters
    ----------
    text : such as "15 ft", "13,500 BTU/h", "95F", "5 ft 6 in"
    unit : unit of the result, a key of this module's table ("m", "W", "degC" …)
    bare : unit of a number written alone; without it such a number is refused

    Raises
    ------
    UnitError : if the text is no number with a unit of this kind.

    >>> round(read("15 ft", "m"), 3), round(read("95F", "degC"), 6), read("3 kVA", "VA")
    (4.572, 35.0, 3000.0)
    """
    match = _FEET_AND_INCHES.match(text) if unit == "m" else None
    if match:
        inches = float(match[1]) * 12.0 + float(match[2])
        return _convert(text, inches, "inch", "m")
    cleaned = _DECIMAL_COMMA.sub(".", _THOUSANDS.sub("", text.strip()))
    number = _NUMBER.fullmatch(cleaned)
    if not number:
        raise UnitError(f"“{text}” has no number in front; write {examples_of(unit)}")
    magnitude = float(number[1].replace("−", "-"))
    symbol = _unit_text(cleaned, unit)
    if not symbol:
        if unit == "share" and not bare:
            return magnitude
        if not bare:
            raise UnitError(f"“{text}” has no unit; write {examples_of(unit)}")
        symbol = bare
    return _convert(text, magnitude, symbol, unit)


def _unit_text(cleaned: str, unit: str) -> str:
    for pattern, spelling in _SPELLINGS:
        cleaned = pattern.sub(spelling, cleaned)
    if unit == "degC":
        for pattern, spelling in _BARE_TEMPERATURE:
            cleaned = pattern.sub(spelling, cleaned)
    number = _NUMBER.fullmatch(cleaned)
    return number[2].strip() if number else ""


def _convert(text: str, magnitude: float, symbol: str, unit: str) -> float:
    units = registry()
    wanted = _pint_name(unit)
    try:
        if (
            len(symbol) > 40
            or not _UNIT_TEXT.fullmatch(symbol)
            or "**" in symbol.replace("foot**3", "")
        ):
            raise UnitError(f"“{text}” is not understood; write {examples_of(unit)}")
        found = units.Unit(symbol)
    except UnitError:
        raise
    except Exception as fault:  # pint raises many kinds for text that is no unit
        raise UnitError(
            f"“{symbol}” in “{text}” is no unit known here; write {examples_of(unit)}"
        ) from fault
    if found.dimensionality != units.Unit(wanted).dimensionality:
        raise UnitError(
            f"expected {kind_of(unit)}, got {_kind_found(found)} (“{text}”); "
            f"write {examples_of(unit)}"
        )
    if (unit == "VA") != ("volt_ampere" in str(found)) and unit in ("VA", "W"):
        other = "W" if unit == "VA" else "VA"
        raise UnitError(
            f"expected {kind_of(unit)}, got {kind_of(other)} (“{text}”); write {examples_of(unit)}"
        )
    converted = units.Quantity(magnitude, found).to(wanted).magnitude
    return float(f"{converted:.12g}")  # 35.00000000000006 °C would reach links and pages


def _pint_name(unit: str) -> str:
    return {"VA": "volt_ampere", "share": "dimensionless"}.get(unit, unit)


def _kind_found(found: pint.Unit) -> str:
    for unit, (kind, _) in _KINDS.items():
        if found.dimensionality == registry().Unit(_pint_name(unit)).dimensionality:
            return kind
    return f"“{found}”"


@kept("never", None)
def factor(unit: str, shown: str) -> float:
    """How many of the shown unit make one of the held unit (not for temperatures)."""
    return float(registry().Quantity(1.0, _pint_name(unit)).to(shown).magnitude)


@kept("never", 4096)
def plain(value: float, digits: int = 0) -> str:
    """A number with thousands marked and no trailing zeros: 12000 -> "12,000".

    >>> plain(12000), plain(0.1932, 3), plain(2.50, 2)
    ('12,000', '0.193', '2.5')
    """
    text = f"{value:,.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


@kept("never", 4096)
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


@kept("never", 4096)  # a page shows hundreds, most of them as the page before
def show(value: float, unit: str) -> str:
    """A quantity as this market reads it: ft and in, °F, lb, with the metric value where it helps.

    >>> show(4.572, "m"), show(0.4064, "m"), show(35.0, "degC"), show(2400.0, "W")
    ('15 ft (4.57 m)', '16 in (406 mm)', '95 °F (35 °C)', '2,400 W')
    """
    special = _SHOWN.get(unit)
    if special:
        return special(value)
    return f"{significant(value, 4)} {_SIGNS.get(unit, unit)}"


_SIGNS = {"ohm": "Ω", "h": "hours"}


def _show_length(value_m: float) -> str:
    inches = value_m * factor("m", "inch")
    if inches < 36:
        return f"{plain(inches, 1)} in ({plain(value_m * 1000)} mm)"
    return f"{plain(inches / 12, 1)} ft ({plain(value_m, 2)} m)"


def _show_airflow(value: float) -> str:
    cfm = value * factor("m**3/hour", "foot**3/minute")
    return f"{plain(cfm)} CFM ({plain(value)} m³/h)"


def _show_area(value: float) -> str:
    return f"{plain(value * factor('m**2', 'foot**2'), 1)} sq ft ({plain(value, 2)} m²)"


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
    "USD": lambda value: f"${plain(value)}",
    "Wh": _show_energy,
    "count": plain,
}
