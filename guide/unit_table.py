"""Makes ``engine/typed/unit_table.py``: every spelling of every unit, with pint's factor.

Run as ``python -m guide.unit_table`` after a change of UNITS.
"""

import json
from collections.abc import Iterator
from pathlib import Path
from textwrap import wrap

import pint

from engine.kept import kept

FILE = Path(__file__).parents[1] / "engine" / "typed" / "unit_table.py"
LINE = 100
EXACT = {"mA", "mV", "mW", "MW", "MWh", "MJ", "mF", "mg", "ms", "mbar", "mohm", "mohms", "mΩ"}
"""Spellings whose M tells milli from mega, or would (MF was once µF); others fold it."""

UNITS: dict[str, dict[str, str]] = {
    "m": {
        "meter": "m meter* metre*",
        "millimeter": "mm millimeter* millimetre*",
        "centimeter": "cm centimeter* centimetre*",
        "decimeter": "dm decimeter* decimetre*",
        "kilometer": "km kilometer* kilometre*",
        "inch": "in inch inches \" ″ ” '' ′′",
        "foot": "ft foot feet ' ′ ’",
        "yard": "yd yds yard*",
        "mile": "mi mile*",
    },
    "m**2": {
        "meter**2": "m^2 m2 sq-m square-meter* square-metre*",
        "centimeter**2": "cm^2 cm2 sq-cm",
        "millimeter**2": "mm^2 mm2 sq-mm",
        "inch**2": "in^2 in2 sq-in square-inch square-inches",
        "foot**2": "ft^2 ft2 sq-ft square-foot square-feet",
    },
    "m**3": {
        "meter**3": "m^3 m3 cubic-meter* cubic-metre*",
        "centimeter**3": "cm^3 cm3",
        "liter": "L liter* litre*",
        "foot**3": "ft^3 ft3 cu-ft cubic-foot cubic-feet foot^3",
        "gallon": "gal gallon*",
    },
    "kg": {
        "kilogram": "kg kgs kilogram* kilo*",
        "gram": "g gram*",
        "milligram": "mg milligram*",
        "pound": "lb lbs pound*",
        "ounce": "oz ounce*",
        "ton": "ton*",
        "metric_ton": "t tonne* metric-ton*",
    },
    "W": {
        "watt": "W watt*",
        "milliwatt": "mW milliwatt*",
        "kilowatt": "kW kilowatt*",
        "megawatt": "MW megawatt*",
        "horsepower": "hp horsepower",
        "Btu/hour": "BTUH",
    },
    "V*A": {
        "volt*ampere": "VA volt-amp* volt-ampere* V*A V-A",
        "kilovolt*ampere": "kVA kilovolt-amp* kilovolt-ampere*",
    },
    "A": {
        "ampere": "A amp* ampere*",
        "milliampere": "mA milliamp* milliampere*",
        "kiloampere": "kA kiloamp* kiloampere*",
    },
    "V": {
        "volt": "V volt*",
        "millivolt": "mV millivolt*",
        "kilovolt": "kV kilovolt*",
    },
    "s": {
        "second": "s sec* second*",
        "millisecond": "ms millisecond*",
        "minute": "min mins minute*",
        "hour": "h hr* hour*",
        "day": "d day* night*",
        "week": "wk wks week*",
        "month": "month*",
        "year": "year* yr* y",
    },
    "A*s": {
        "ampere*hour": "Ah amp-hour* ampere-hour* amphour* A*h A-h A-hr A-hrs",
        "milliampere*hour": "mAh milliamp-hour*",
    },
    "J": {
        "watt*hour": "Wh watt-hour* watthour* W*h W-h W-hr W-hrs",
        "kilowatt*hour": "kWh kilowatt-hour* kW*h kW-h kW-hr kW-hrs",
        "megawatt*hour": "MWh megawatt-hour*",
        "joule": "J joule*",
        "kilojoule": "kJ kilojoule*",
        "megajoule": "MJ megajoule*",
        "kiloBtu": "kBTU kBTUs",
        "Btu": "BTU BTUs british-thermal-unit*",
    },
    "degC": {
        "degF": "F degF °F fahrenheit deg-F degree-F degrees-F degree-fahrenheit "
        "degrees-fahrenheit",
        "degC": "C degC °C celsius deg-C degree-C degrees-C degree-celsius degrees-celsius",
        "kelvin": "K kelvin",
    },
    "ohm": {
        "ohm": "ohm* Ω",
        "microohm": "uohm µohm μohm µΩ μΩ uΩ microohm*",
        "milliohm": "mohm mohms mΩ milliohm*",
        "kiloohm": "kohm* kΩ kiloohm*",
    },
    "F": {
        "farad": "F farad*",
        "millifarad": "mF millifarad*",
        "microfarad": "uF µF μF microfarad*",
    },
    "Pa": {
        "pascal": "Pa pascal*",
        "hectopascal": "hPa hectopascal*",
        "kilopascal": "kPa kilopascal*",
        "bar": "bar bars",
        "millibar": "mbar millibar*",
        "psi": "psi",
        # of water at 1000 kg/m³ (conventional), as fans are rated
        "inch * 1000 * kilogram/meter**3 * standard_gravity": "inH2O in-H2O",
    },
    "m**3/s": {"foot**3/minute": "CFM"},
    "Hz": {"hertz": "Hz hertz"},
    "dimensionless": {"percent": "% percent pct"},
    "money": {"money": "money"},
}
"""For each measure, in its SI unit: pint's name of a unit, and its spellings, the symbol first.

A star stands for an s that may be there; words are joined by "-", which also reads as a space.
"""

HEAD = '''"""Spellings of units: made by ``guide.unit_table`` with pint, not to be edited.

For each measure: symbol, size in the SI unit of the measure, what is added after (temperatures),
and the spellings as the reader folds them.
"""

Row = tuple[str, float, float, str]

ROWS: dict[str, tuple[Row, ...]] = {
'''


@kept("never", None)
def registry() -> "pint.UnitRegistry[float]":
    """The one unit registry, of pint's own definitions and the dollar."""
    units: pint.UnitRegistry[float] = pint.UnitRegistry(cache_folder=None)
    units.define("money = [money]")
    return units


def spellings(text: str) -> list[str]:
    """The spellings of a row, with and without the s that a star stands for.

    >>> spellings("ft foot feet yard*")
    ['ft', 'foot', 'feet', 'yard', 'yards']
    """
    both = ((each[:-1], f"{each[:-1]}s") if each[-1] == "*" else (each,) for each in text.split())
    return [spelling for each in both for spelling in each]


def keys(spelling: str) -> list[str]:
    """How the table names a spelling: in small letters but for an M in front.

    >>> keys("kW"), keys("MW"), keys("mW"), keys("mm")
    (['kw'], ['Mw'], ['mw'], ['mm', 'Mm'])
    """
    first, rest = spelling[:1], spelling[1:].lower()
    if first not in ("m", "M"):
        return [first.lower() + rest]
    return [f"{each}{rest}" for each in ("m", "M") if each == first or spelling not in EXACT]


def size_of(unit: str, measure: str) -> tuple[float, float]:
    """Factor and offset that turn a number of this unit into the measure's own unit, by pint.

    >>> size_of("foot", "m"), size_of("percent", "dimensionless")
    ((0.3048, 0.0), (0.01, 0.0))
    """
    if measure != "degC":
        return float(f"{(1.0 * registry()(unit)).to(measure).magnitude:.15g}"), 0.0
    zero, one = (registry().Quantity(each, unit).to(measure).magnitude for each in (0.0, 9e5))
    return float(f"{(one - zero) / 9e5:.15g}"), float(f"{zero:.14g}")


def table() -> str:
    """The text of the engine's module."""
    lines = [HEAD]
    for measure, units in UNITS.items():
        rows = [row for unit, text in units.items() for row in _rows(unit, measure, text)]
        if len(rows) == 1:
            lines.append(f'    "{measure_name(measure)}": ({rows[0]},),\n')
            continue
        lines.append(f'    "{measure_name(measure)}": (\n')
        lines += [f"        {row},\n" for row in rows]
        lines.append("    ),\n")
    return "".join([*lines, "}\n"])


def _rows(unit: str, measure: str, text: str) -> Iterator[str]:
    """A unit's row, or several with as many spellings as a line takes."""
    found = dict.fromkeys(key for each in spellings(text) for key in keys(each))
    factor, offset = size_of(unit, measure)
    head = f'("{text.split(maxsplit=1)[0].rstrip("*")}", {factor!r}, {offset!r}, '
    width = LINE - len(f'        {head}""),') - text.count('"')
    for some in wrap(" ".join(found), width, break_on_hyphens=False):
        yield f"{head}{json.dumps(some, ensure_ascii=False)})"


def measure_name(measure: str) -> str:
    """A measure as the engine names it.

    >>> measure_name("m**3/s"), measure_name("dimensionless")
    ('m^3/s', 'share')
    """
    return {"dimensionless": "share", "V*A": "VA"}.get(measure, measure.replace("**", "^"))


if __name__ == "__main__":
    FILE.write_text(table(), encoding="utf-8")
