"""The gauge against ASTM B258 and NEC chapter 9 table 8."""

import pytest

from engine.standards import awg, copper
from tests.reader import published

GEOMETRY = published("awg_astm_b258")["sizes"]
TABLE_8 = published("resistance_nec_ch9_table8")


@pytest.mark.parametrize("size", GEOMETRY)
def test_geometry_resistance_and_mass_agree_with_the_formulae(size: str) -> None:
    diameter_mm, area_mm2, cmil, ohm_20c, ohm_75c, kg_per_km = GEOMETRY[size]
    area_m2 = awg.area_m2(size)
    solid_20c = copper.RESISTIVITY_20C_OHM_M / area_m2 * 1000
    assert awg.diameter_m(size) * 1000 == pytest.approx(diameter_mm, abs=0.0006)
    assert area_m2 * 1e6 == pytest.approx(area_mm2, abs=0.0006)
    assert awg.circular_mils(size) == pytest.approx(cmil, abs=1)
    assert solid_20c == pytest.approx(ohm_20c, rel=3e-4)
    assert solid_20c * copper.resistance_factor(20.0, 75.0) == pytest.approx(ohm_75c, rel=3e-4)
    assert area_m2 * copper.DENSITY_KG_PER_M3 * 1000 == pytest.approx(kg_per_km, abs=0.06)


@pytest.mark.parametrize(
    ("kind", "table"),
    [
        ("stranded", awg.STRANDED_OHM_PER_1000_FT_75C),
        ("solid", awg.SOLID_OHM_PER_1000_FT_75C),
        ("tinned", awg.COATED_OHM_PER_1000_FT_75C),
    ],
)
def test_every_cell_of_table_8_is_as_published(kind: str, table: dict[str, float]) -> None:
    assert table == TABLE_8[kind]


def test_the_stranded_column_holds_every_trade_size_in_order() -> None:
    assert tuple(TABLE_8["stranded"]) == awg.SIZES
    assert tuple(awg.STRANDED_OHM_PER_M_75C) == awg.SIZES


@pytest.mark.parametrize("size", awg.SIZES)
def test_stranding_costs_about_two_per_cent_over_solid_copper(size: str) -> None:
    # lay factor, NEC chapter 9 table 8 over NBS Handbook 100 (1966)
    solid = copper.RESISTIVITY_20C_OHM_M / awg.area_m2(size)
    solid_75c = solid * copper.resistance_factor(20.0, 75.0)
    ratio = awg.STRANDED_OHM_PER_M_75C[size] / solid_75c
    assert ratio == pytest.approx(TABLE_8["stranded_over_solid"], abs=0.015)


def test_three_sizes_up_double_the_copper() -> None:
    # ASTM B258: 92^(6/39) is 2.005
    assert awg.area_m2("1/0") / awg.area_m2("3") == pytest.approx(92 ** (6 / 39))


def test_tinned_copper_never_conducts_better() -> None:
    for size, coated in awg.COATED_OHM_PER_1000_FT_75C.items():
        assert coated > awg.STRANDED_OHM_PER_1000_FT_75C[size]


def test_the_order_runs_from_thin_to_thick() -> None:
    areas = [awg.area_m2(size) for size in awg.SIZES]
    assert areas == sorted(areas)
    assert [awg.rank(size) for size in awg.SIZES] == list(range(15))


@pytest.mark.parametrize("bad", ["5", "5/0", "2/0 AWG", "", "0"])
def test_an_unknown_size_names_those_that_are_known(bad: str) -> None:
    for function in (awg.rank, awg.gauge_number, awg.diameter_m, awg.area_m2, awg.circular_mils):
        with pytest.raises(ValueError, match=r"size must be one of 18, 16, .*, 4/0 AWG"):
            function(bad)
