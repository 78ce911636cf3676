"""Dimensions of the battery circuit and of panels in series, by feeding pint quantities."""

from typing import Any

import pint
import pytest

from engine.sizing import dc_circuit, panels
from engine.sizing.generator import start_limit_va
from tests.sizing.quantities import UNITS

Q = UNITS.Quantity


def test_strings_and_cables_make_a_resistance() -> None:
    found: Any = dc_circuit.loop_resistance_ohm(
        Q(5.0, "mohm"), 2, Q(0.0967, "ohm/kft"), Q(5.0, "ft"), runs=1, units=1
    )
    assert found.check("[resistance]")
    # half of 5 mΩ and ten feet of 2/0 AWG at 75 °C, NEC chapter 9 table 8
    assert found.to("mohm").magnitude == pytest.approx(2.5 + 0.967)


def test_a_current_at_a_voltage_asks_for_a_number_of_strings() -> None:
    found = dc_circuit.strings_for_voltage(
        Q(250.0, "A"), Q(12.8, "V"), Q(11.0, "V"), Q(12.0, "mohm"), Q(1.6, "mohm")
    )
    assert found == dc_circuit.strings_for_voltage(250.0, 12.8, 11.0, 0.012, 0.0016) == 3


def test_strings_do_not_depend_on_the_units_that_were_written() -> None:
    found = dc_circuit.strings_for_voltage(
        Q(0.25, "kA"), Q(12800.0, "mV"), Q(0.011, "kV"), Q(0.012, "ohm"), Q(1600.0, "uohm")
    )
    assert found == 3


def test_cold_panels_make_a_voltage() -> None:
    found: Any = panels.cold_open_circuit_v(Q(37.2, "V"), 2)
    assert found.check("[electric_potential]")
    assert found.to("V").magnitude == pytest.approx(93.0)


def test_a_generators_peak_is_a_power() -> None:
    found: Any = start_limit_va(Q(1.8, "kW"))
    assert found.check("[power]")
    assert found.to("W").magnitude == pytest.approx(3600.0)


def test_a_resistance_where_a_length_belongs_is_found_out() -> None:
    with pytest.raises(pint.DimensionalityError):
        dc_circuit.loop_resistance_ohm(
            Q(5.0, "mohm"), 2, Q(0.0967, "ohm/kft"), Q(5.0, "mohm"), runs=1, units=1
        )
