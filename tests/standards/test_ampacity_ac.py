"""NEC Tables 310.16, 310.15(B)(1) and 310.15(C)(1), cell by cell."""

from math import sqrt
from typing import Any

import pytest

from engine.standards import ampacity_ac, awg
from tests.reader import published

CODE = published("ac_ampacity_nec_310")


def test_every_cell_of_table_310_16_is_as_published() -> None:
    assert list(ampacity_ac.INSULATIONS_C) == CODE["insulation_c"]
    assert ampacity_ac.SIZES == tuple(CODE["ampacity_a"]) == awg.SIZES[2:]
    cells = {
        size: [ampacity_ac.AMPACITY_A[insulation][size] for insulation in CODE["insulation_c"]]
        for size in ampacity_ac.SIZES
    }
    assert cells == CODE["ampacity_a"]


def test_the_present_edition_is_taken_for_14_and_12_awg() -> None:
    # editions up to about 2008 printed 20 and 25 A at 60 °C; the present one prints 15 and 20 A
    assert ampacity_ac.AMPACITY_A[60]["14"] == 15.0
    assert ampacity_ac.AMPACITY_A[60]["12"] == 20.0


@pytest.mark.parametrize("row", CODE["ambient_factor"], ids=lambda row: f"to {row[1]} °C")
@pytest.mark.parametrize("place", [0, 1, 2])
def test_ambient_factor_is_as_published_at_both_ends_of_its_band(row: Any, place: int) -> None:
    low_c, high_c, *factors = row
    insulation_c = CODE["insulation_c"][place]
    expected = factors[place] or 0.0
    assert ampacity_ac.ambient_factor(insulation_c, low_c) == expected
    assert ampacity_ac.ambient_factor(insulation_c, high_c) == expected
    if factors[place]:
        # NEC temperature equation at the upper edge of the band
        equation = sqrt((insulation_c - high_c) / (insulation_c - 30))
        assert expected == pytest.approx(equation, abs=0.006)


def test_a_temperature_between_two_bands_takes_the_hotter_one() -> None:
    assert ampacity_ac.ambient_factor(90, 40.1) == ampacity_ac.ambient_factor(90, 45.0)


def test_frost_takes_the_coldest_band_and_great_heat_allows_nothing() -> None:
    assert ampacity_ac.ambient_factor(75, -30.0) == 1.20
    assert ampacity_ac.ambient_factor(90, 86.0) == 0.0


@pytest.mark.parametrize("row", CODE["adjustment"])
def test_adjustment_for_many_conductors_is_as_published(row: Any) -> None:
    low, high, factor = row
    assert ampacity_ac.adjustment_factor(low) == ampacity_ac.adjustment_factor(high) == factor


def test_arguments_outside_the_tables_are_refused() -> None:
    with pytest.raises(ValueError, match="one of 60, 75, 90 °C, got 105"):
        ampacity_ac.ambient_factor(105, 30.0)
    with pytest.raises(ValueError, match="ambient_c must be finite, got nan"):
        ampacity_ac.ambient_factor(90, float("nan"))
    with pytest.raises(ValueError, match="current_carrying must be 1 or more, got 0"):
        ampacity_ac.adjustment_factor(0)
