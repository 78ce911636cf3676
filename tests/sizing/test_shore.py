"""Shore services: what they pass, what a charger takes, and what the neutral carries."""

import cmath
import math
from typing import TypedDict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import shore
from engine.standards.services import SERVICES
from tests.reader import published

NAN = math.nan
AMPS = st.floats(0, 100)


class Charger(TypedDict):
    battery_v: float
    efficiency: float
    power_factor: float
    volts: float


CHARGER = Charger(battery_v=14.2, efficiency=0.85, power_factor=0.95, volts=120.0)


def test_services_pass_their_published_volt_amperes() -> None:
    table = published("services")["services"]
    for name, service in SERVICES.items():
        passed_va = shore.pass_through_va(service.amps, service.volts, service.legs)
        assert passed_va == table[name]["va"]
        planned_va = shore.planning_current_a(service.amps) * service.volts * service.legs
        assert planned_va == pytest.approx(table[name]["continuous_va"])


def test_input_limits_equal_the_usual_settings() -> None:
    table = published("services")["input_limits_a"]
    assert {breaker: shore.input_limit_a(breaker) for breaker in table} == table


@settings(max_examples=100)
@given(st.floats(1, 200))
def test_input_limit_is_whole_and_within_the_planning_current(breaker_a: float) -> None:
    limit_a = shore.input_limit_a(breaker_a)
    assert limit_a == int(limit_a)
    assert 0 <= shore.planning_current_a(breaker_a) - limit_a + 1e-9 < 1 + 1e-6


@pytest.mark.parametrize("breaker_a", range(5, 205, 5))
def test_every_fifth_ampere_keeps_its_whole_four(breaker_a: int) -> None:
    assert shore.input_limit_a(float(breaker_a)) == breaker_a // 5 * 4


@settings(max_examples=100)
@given(AMPS, AMPS, st.floats(0, 300))
def test_largest_charge_keeps_to_the_limit_and_uses_it(
    limit_a: float, loads_a: float, maximum_a: float
) -> None:
    charge_a = shore.largest_charge_a(limit_a, loads_a, **CHARGER, maximum_a=maximum_a)
    drawn_a = shore.charger_ac_current_a(
        CHARGER["battery_v"],
        charge_a,
        CHARGER["efficiency"],
        CHARGER["power_factor"],
        CHARGER["volts"],
    )
    assert 0 <= charge_a <= maximum_a
    assert drawn_a <= max(0.0, limit_a - loads_a) + 1e-9
    if charge_a < maximum_a:
        assert drawn_a == pytest.approx(max(0.0, limit_a - loads_a))


@settings(max_examples=80)
@given(AMPS, AMPS, AMPS)
def test_more_load_never_leaves_more_charge(limit_a: float, one_a: float, other_a: float) -> None:
    light_a, heavy_a = sorted((one_a, other_a))
    assert shore.largest_charge_a(
        limit_a, heavy_a, **CHARGER, maximum_a=100.0
    ) <= shore.largest_charge_a(limit_a, light_a, **CHARGER, maximum_a=100.0)


@settings(max_examples=80)
@given(AMPS, AMPS)
def test_neutral_agrees_with_phasors(leg1_a: float, leg2_a: float) -> None:
    in_phase = abs(cmath.rect(leg1_a, 0) + cmath.rect(leg2_a, 0))
    apart = abs(cmath.rect(leg1_a, 0) + cmath.rect(leg2_a, math.pi))
    assert shore.neutral_current_in_phase_a(leg1_a, leg2_a) == pytest.approx(in_phase)
    assert shore.neutral_current_split_a(leg1_a, leg2_a) == pytest.approx(apart, abs=1e-9)


@settings(max_examples=60)
@given(AMPS, AMPS)
def test_split_phase_never_loads_the_neutral_beyond_the_heavier_leg(
    leg1_a: float, leg2_a: float
) -> None:
    assert shore.neutral_current_split_a(leg1_a, leg2_a) <= max(leg1_a, leg2_a)
    assert shore.neutral_current_in_phase_a(leg1_a, leg2_a) >= max(leg1_a, leg2_a)


@pytest.mark.parametrize(
    ("call", "fault"),
    [
        (lambda: shore.pass_through_va(30.0, 120.0, 3), "legs must be 1 or 2, got 3"),
        (lambda: shore.pass_through_va(0.0, 120.0, 1), "amps must be more than zero"),
        (lambda: shore.pass_through_va(30.0, NAN, 1), "volts must be more than zero"),
        (lambda: shore.planning_current_a(-15.0), "amps must be more than zero"),
        (lambda: shore.input_limit_a(0.0), "amps must be more than zero"),
        (lambda: shore.charger_ac_current_a(14.2, -1.0, 0.85, 1.0, 120.0), "charge_a must be"),
        (lambda: shore.charger_ac_current_a(0.0, 1.0, 0.85, 1.0, 120.0), "battery_v must be"),
        (lambda: shore.charger_ac_current_a(14.2, 1.0, 0.0, 1.0, 120.0), "efficiency must be more"),
        (lambda: shore.charger_ac_current_a(14.2, 1.0, 1.2, 1.0, 120.0), "efficiency must be betw"),
        (lambda: shore.charger_ac_current_a(14.2, 1.0, 0.9, 1.1, 120.0), "power_factor must be"),
        (lambda: shore.charger_ac_current_a(14.2, 1.0, 0.9, 1.0, 0.0), "volts must be more"),
        (lambda: shore.left_for_loads_a(-1.0, 0.0), "limit_a must be zero or more"),
        (lambda: shore.left_for_loads_a(1.0, math.inf), "charger_a must be zero or more"),
        (lambda: shore.largest_charge_a(1.0, 1.0, **CHARGER, maximum_a=-1.0), "maximum_a must be"),
        (lambda: shore.largest_charge_a(1.0, -1.0, **CHARGER, maximum_a=1.0), "loads_a must be"),
        (lambda: shore.neutral_current_in_phase_a(-1.0, 1.0), "leg1_a must be zero or more"),
        (lambda: shore.neutral_current_split_a(1.0, NAN), "leg2_a must be zero or more"),
    ],
)
def test_numbers_no_service_can_have_are_refused(call: object, fault: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=fault):
        call()
