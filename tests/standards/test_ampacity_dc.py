"""33 CFR 183.425 Table 5, cell by cell."""

from itertools import pairwise
from math import sqrt

import pytest

from engine.standards import ampacity_dc, awg
from tests.reader import published

LAW = published("dc_ampacity_33cfr183_425")


def test_every_cell_is_as_published() -> None:
    assert list(ampacity_dc.INSULATIONS_C) == LAW["insulation_c"]
    assert tuple(LAW["ampacity_a"]) == awg.SIZES
    cells = {
        size: [ampacity_dc.AMPACITY_A[insulation][size] for insulation in LAW["insulation_c"]]
        for size in awg.SIZES
    }
    assert cells == LAW["ampacity_a"]
    assert sum(map(len, cells.values())) == 105


def test_note_1_is_as_published() -> None:
    assert list(ampacity_dc.ENGINE_SPACE_FACTOR.values()) == LAW["engine_space_factor"]


@pytest.mark.parametrize("insulation_c", [60, 75, 80, 90, 105, 125])
def test_note_1_is_the_temperature_equation_at_50_c(insulation_c: int) -> None:
    equation = sqrt((insulation_c - ampacity_dc.ENGINE_SPACE_C) / (insulation_c - 30))
    assert ampacity_dc.ENGINE_SPACE_FACTOR[insulation_c] == pytest.approx(equation, abs=0.01)


def test_note_1_is_laxer_than_the_equation_for_200_c_insulation() -> None:
    # computed apart: 0.939; the law prints 1.00
    assert sqrt((200 - 50) / (200 - 30)) == pytest.approx(0.939, abs=0.0005)
    assert ampacity_dc.ENGINE_SPACE_FACTOR[200] == 1.0


@pytest.mark.parametrize(("conductors", "factor"), LAW["bundle_factor"].items())
def test_note_2_is_as_published(conductors: int, factor: float) -> None:
    assert ampacity_dc.bundle_factor(conductors) == factor


def test_a_bundle_of_no_conductors_is_refused() -> None:
    with pytest.raises(ValueError, match="conductors must be 1 or more, got 0"):
        ampacity_dc.bundle_factor(0)


def test_an_insulation_outside_the_table_names_its_columns() -> None:
    with pytest.raises(ValueError, match=r"one of 60, 75, 80, 90, 105, 125, 200 °C, got 70"):
        ampacity_dc.column(70)


@pytest.mark.parametrize("insulation_c", LAW["insulation_c"])
def test_a_thicker_conductor_carries_more(insulation_c: int) -> None:
    column = [ampacity_dc.AMPACITY_A[insulation_c][size] for size in awg.SIZES]
    assert all(thin < thick for thin, thick in pairwise(column))
