"""Dimensions of conductor and protection kernels, proved by feeding them pint quantities."""

from typing import Any

from engine.sizing import conductors, protection
from engine.standards import copper
from tests.sizing.quantities import UNITS

Q = UNITS.Quantity


def test_current_length_and_resistance_a_length_make_a_voltage() -> None:
    drop: Any = conductors.voltage_drop_v(Q(200.0, "A"), Q(5.0, "ft"), Q(0.0967, "ohm/kft"), runs=2)
    assert drop.check("[electric_potential]")
    # Ohm's law with NEC chapter 9 table 8, half of 0.193 V
    assert abs(drop.to("V").magnitude - 0.0967) < 1e-9


def test_temperature_of_a_conductor_is_a_temperature() -> None:
    found: Any = conductors.conductor_temperature_c(
        Q(165.0, "A"), Q(330.0, "A"), Q(378.15, "K"), Q(303.15, "K")
    )
    assert found.check("[temperature]")
    assert abs(found.magnitude - (48.75 + 273.15)) < 1e-9


def test_temperature_does_not_depend_on_the_unit_of_current() -> None:
    found: Any = conductors.conductor_temperature_c(
        Q(165_000.0, "mA"), Q(0.33, "kA"), Q(378.15, "K"), Q(303.15, "K")
    )
    assert abs(found.to("K").magnitude - (48.75 + 273.15)) < 1e-9


def test_fuses_are_currents() -> None:
    least: Any = protection.fuse_minimum_a(Q(240.0, "A"))
    assert least == Q(300.0, "A")
    offered: Any = (Q(250.0, "A"), Q(0.3, "kA"), Q(400.0, "A"))
    chosen: Any = protection.choose_fuse_a(Q(240_000.0, "mA"), offered)
    assert chosen == Q(300.0, "A")
    disconnect: Any = protection.disconnect_minimum_a(Q(240.0, "A"))
    assert disconnect.check("[current]")


def test_short_circuit_is_a_current_from_voltage_and_resistance() -> None:
    one: Any = protection.short_circuit_from_resistance_a(Q(13.3, "V"), Q(2.5, "mohm"))
    bank: Any = protection.bank_short_circuit_a(one, 2)
    assert bank.check("[current]")
    assert protection.interrupt_sufficient(Q(20.0, "kA"), bank)
    assert not protection.interrupt_sufficient(Q(10.0, "kA"), bank)


def test_copper_constants_make_a_resistance_and_a_mass_a_length() -> None:
    resistivity = Q(copper.RESISTIVITY_20C_OHM_M, "ohm*m")
    area = Q(67.431, "mm^2")  # 2/0 AWG, ASTM B258-02
    assert (resistivity / area).check("[resistance]/[length]")
    # computed apart from NBS Handbook 100 (1966)
    assert abs((resistivity / area).to("ohm/km").magnitude - 0.2557) < 1e-4
    mass = (Q(copper.DENSITY_KG_PER_M3, "kg/m^3") * area).to("kg/km")
    assert abs(mass.magnitude - 599.5) < 0.1
