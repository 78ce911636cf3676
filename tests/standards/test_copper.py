"""Copper against NBS Handbook 100 and the correction factors of IEC 60228."""

import pytest

from engine.standards import copper
from tests.reader import published


def test_constants_are_those_of_handbook_100() -> None:
    # NBS Handbook 100 (1966): 58 MS/m, 0.15328 Ω·g/m², 0.00393 /K
    assert pytest.approx(58e6, rel=1e-4) == 1 / copper.RESISTIVITY_20C_OHM_M
    mass_resistivity = copper.RESISTIVITY_20C_OHM_M * copper.DENSITY_KG_PER_M3 * 1000
    assert mass_resistivity == pytest.approx(0.15328, abs=1e-5)
    assert copper.TEMPERATURE_COEFFICIENT_20C_PER_K == 0.00393


@pytest.mark.parametrize(
    ("measured_c", "factor"), published("metric_iec_60228")["to_20c_factor"].items()
)
def test_correction_to_20_c_agrees_with_iec_60228(measured_c: int, factor: float) -> None:
    assert copper.resistance_factor(measured_c, 20.0) == pytest.approx(factor, abs=0.003)


def test_there_and_back_is_no_change() -> None:
    there = copper.resistance_factor(20.0, 75.0)
    assert there * copper.resistance_factor(75.0, 20.0) == pytest.approx(1.0)


@pytest.mark.parametrize("bad", [-101.0, 251.0, float("nan"), float("inf")])
def test_a_temperature_that_no_cable_has_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="to_c must be between -100 and 250 °C"):
        copper.resistance_factor(20.0, bad)
    with pytest.raises(ValueError, match="from_c must be between -100 and 250 °C"):
        copper.resistance_factor(bad, 20.0)
