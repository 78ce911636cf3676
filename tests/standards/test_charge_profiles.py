"""Charge voltages inside their published ranges, and the fitted fall of the current by the test."""

from typing import Any

import pytest

from engine.sizing.charge_settings import charge_voltages, compensation_v_per_k, highest_charge_v
from engine.sizing.charging import absorption_state, hours_to_charge
from engine.standards.battery_chemistry import CHEMISTRIES as RECORDS
from tests.reader import published

CHARGING = published("charging")
TESTED = CHARGING["tested"]
CHEMISTRIES = ("lifepo4", "agm", "flooded")
LEAD_MV = (("lifepo4", 0.0, 0.0), ("agm", 3.0, 5.0), ("flooded", 3.0, 5.0))


def test_every_chemistry_is_transcribed() -> None:
    assert set(RECORDS) == set(CHEMISTRIES) == set(CHARGING) - {"tested"}


@pytest.mark.parametrize("chemistry", CHEMISTRIES)
def test_voltages_lie_in_the_published_ranges_for_every_bank(chemistry: str) -> None:
    ranges: Any = CHARGING[chemistry]
    for cells, (low, high) in ranges["absorption_v"].items():
        assert low <= charge_voltages(cells, chemistry).absorption_v <= high
    for cells, (low, high) in ranges["float_v"].items():
        assert low <= charge_voltages(cells, chemistry).float_v <= high


@pytest.mark.parametrize("chemistry", CHEMISTRIES)
def test_cell_voltages_and_rates_are_as_published(chemistry: str) -> None:
    profile, printed = RECORDS[chemistry].profile, CHARGING[chemistry]
    assert profile.nominal_cell_v == printed["cell_v"]
    assert profile.usual_rate_per_h == printed["usual_rate_per_h"]
    assert profile.nominal_cell_v < profile.float_cell_v < profile.absorption_cell_v
    assert profile.absorption_cell_v <= printed["most_cell_v"]
    most_v = printed.get("equalize_cell_v", printed["most_cell_v"])
    assert profile.absorption_cell_v <= RECORDS[chemistry].highest_cell_v <= most_v


def test_absorption_begins_where_the_instrumented_test_saw_it() -> None:
    for rate, state in TESTED["agm_absorption_state"].items():
        assert absorption_state(rate, "agm") == pytest.approx(state, abs=0.001)


@pytest.mark.parametrize("chemistry", ["agm", "flooded"])
def test_hours_from_half_to_full_are_those_of_the_instrumented_test(chemistry: str) -> None:
    tested = TESTED[f"{chemistry}_hours"]
    hours = hours_to_charge(0.5, 1.0, 100.0, 100.0 * tested["rate_per_h"], 0.0, chemistry)
    assert hours == pytest.approx(tested["hours"], rel=0.03)


@pytest.mark.parametrize(
    ("chemistry", "cells", "battery_c", "absorption_v", "float_v"),
    [
        ("lifepo4", 4, 25.0, 14.4, 13.5),
        ("lifepo4", 16, -20.0, 57.6, 54.0),
        ("agm", 6, 25.0, 14.52, 13.62),
        ("agm", 6, 5.0, 15.0, 14.1),
        ("agm", 12, 45.0, 28.08, 26.28),
        ("flooded", 6, 25.0, 14.7, 13.32),
        ("flooded", 6, 0.0, 15.45, 14.07),
        ("flooded", 24, 35.0, 57.6, 52.08),
    ],
)
def test_both_voltages_by_hand_warm_and_cold(
    chemistry: str, cells: int, battery_c: float, absorption_v: float, float_v: float
) -> None:
    """Cells times 3.60 and 3.375 V, 2.42 and 2.27 V less 4 mV a kelvin, 2.45 and 2.22 V less 5 mV:
    inside the ranges above; the correction is from memory."""
    found = charge_voltages(cells, chemistry, battery_c)
    assert found.absorption_v == pytest.approx(absorption_v)
    assert found.float_v == pytest.approx(float_v)


@pytest.mark.parametrize(("chemistry", "least_mv", "most_mv"), LEAD_MV)
@pytest.mark.parametrize("cells", [6, 12, 24])
def test_lead_acid_is_held_higher_in_the_cold_too_and_lithium_the_same(
    chemistry: str, least_mv: float, most_mv: float, cells: int
) -> None:
    """3 to 5 mV a cell and kelvin, on float as on absorption, from memory: without it a battery
    sulfates in the cold and dries out in the heat."""
    cold, usual, hot = (charge_voltages(cells, chemistry, at) for at in (5.0, 25.0, 45.0))
    for name in ("absorption_v", "float_v"):
        at_cold, at_usual, at_hot = (getattr(each, name) for each in (cold, usual, hot))
        for raised_v in (at_cold - at_usual, at_usual - at_hot):
            each_mv = 1000.0 * raised_v / (cells * 20.0)
            assert least_mv - 1e-9 <= each_mv <= most_mv + 1e-9
    assert compensation_v_per_k(cells, chemistry) == pytest.approx(
        (usual.float_v - cold.float_v) / 20.0
    )
    assert highest_charge_v(cells, chemistry, 5.0) >= cold.absorption_v
