"""Charge voltages inside their published ranges, and the fitted fall of the current by the test."""

from typing import Any

import pytest

from engine.sizing.charge_settings import charge_voltages
from engine.sizing.charging import absorption_state, hours_to_charge
from engine.standards.battery_chemistry import CHEMISTRIES as RECORDS
from tests.reader import published

CHARGING = published("charging")
TESTED = CHARGING["tested"]
CHEMISTRIES = ("lifepo4", "agm", "flooded")


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
