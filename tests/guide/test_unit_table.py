"""The engine's table of units against pint, which made it."""

from typing import Any

import pint
import pytest

from engine.typed import unit_table
from engine.typed.spellings import Unit, folded, units_of
from engine.units import read
from guide.unit_table import EXACT, FILE, UNITS, measure_name, registry, size_of, spellings, table

MEANT_OTHERWISE = {"kilos", "amps", "F", "C", "pct"}
"""Spellings that pint takes for another unit: kilosecond, attometer per second, farad …"""

WRITTEN = [
    (measure, unit, spelling)
    for measure, units in UNITS.items()
    for unit, text in units.items()
    for spelling in spellings(text)
]
HELD = {
    "m": "m", "kg": "kg", "s": "s", "W": "W", "V*A": "VA", "A": "A", "V": "V", "A*s": "Ah",
    "J": "Wh", "degC": "degC", "ohm": "ohm", "F": "F", "Pa": "Pa", "m**3/s": "m^3/h",
    "dimensionless": "share", "money": "money",
}  # fmt: skip
RATIOS = [("J", "s", "W"), ("kg", "m", "kg/m"), ("money", "m", "money/m"),
          ("money", "s", "money/h"), ("m**3", "s", "m^3/h")]  # fmt: skip
PINT_NAMES = {"VA": "volt_ampere", "share": "dimensionless", "m^3/h": "m**3/hour"}


def by_pint(number: float, unit: str, wanted: str) -> float:
    """A number of a unit in another, as pint converts it."""
    quantity: Any = registry().Quantity(number, registry().parse_units(unit))
    return float(quantity.to(PINT_NAMES.get(wanted, wanted)).magnitude)


def test_the_committed_table_is_what_pint_makes() -> None:
    assert FILE.read_text(encoding="utf-8") == table()


@pytest.mark.parametrize(("measure", "unit", "spelling"), WRITTEN)
def test_every_spelling_has_pint_s_factor(measure: str, unit: str, spelling: str) -> None:
    factor, offset = size_of(unit, measure)
    symbol = UNITS[measure][unit].split(maxsplit=1)[0].rstrip("*")
    assert Unit(measure_name(measure), symbol, factor, offset) in units_of(spelling)
    assert Unit(measure_name(measure), symbol, factor, offset) in units_of(
        spelling.replace("-", " ")
    )
    if measure in HELD and "1000" not in unit:  # pint parses no factor in a unit
        held = HELD[measure]
        for number in (1.0, 12.5):
            assert read(f"{number} {spelling}", held) == pytest.approx(
                by_pint(number, unit, held), rel=1e-11, abs=1e-9
            )


def test_a_spelling_that_pint_reads_by_itself_means_the_same() -> None:
    known, others = set(), set()
    for _, unit, spelling in WRITTEN:
        if not spelling.isalpha():
            continue
        try:
            own = registry().Quantity(1.0, registry().parse_units(spelling))
        except pint.UndefinedUnitError:
            continue
        known.add(spelling)
        want = registry().Quantity(1.0, registry().parse_units(unit)) if "1000" not in unit else own
        if not own.is_compatible_with(want) or own.to(want.units).magnitude != pytest.approx(1.0):
            others.add(spelling)
    assert len(known) > 200
    assert others == MEANT_OTHERWISE


@pytest.mark.parametrize(("over", "under", "held"), RATIOS)
def test_every_ratio_has_pint_s_factor(over: str, under: str, held: str) -> None:
    for top, tops in UNITS[over].items():
        for bottom, bottoms in UNITS[under].items():
            want = by_pint(1.0, f"({top})/({bottom})", held)
            for one in spellings(tops):
                for other in spellings(bottoms):
                    for text in (f"1 {one}/{other}", f"1 {one} per {other}"):
                        assert read(text, held) == pytest.approx(want, rel=1e-11), text


def test_no_spelling_stands_for_two_units_of_one_measure() -> None:
    for rows in unit_table.ROWS.values():
        found = [(spelling, row[0]) for row in rows for spelling in row[3].split()]
        assert len(found) == len({spelling for spelling, _ in found})


def test_capitals_do_not_matter_but_for_milli_and_mega() -> None:
    for measure, unit, spelling in WRITTEN:
        factor, _ = size_of(unit, measure)
        for typed in (spelling.upper(), spelling.lower(), spelling.capitalize()):
            for each in units_of(typed):
                if each.measure == measure_name(measure) and spelling not in EXACT:
                    assert each.factor == factor, typed
    assert [each.symbol for each in units_of("MW")] == ["MW"]
    assert [each.symbol for each in units_of("mW")] == ["mW"]
    assert units_of("MF") == units_of("MOHM") == units_of("MA") == ()


def test_folding_is_done_once() -> None:
    for rows in unit_table.ROWS.values():
        assert all(folded(spelling) == spelling for row in rows for spelling in row[3].split())
