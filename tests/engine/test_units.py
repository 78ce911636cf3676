"""Reading what people write, and showing what they read."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.units import UnitError, plain, read, show, significant

# Factors: NIST SP 811 (foot 0.3048 m, inch 0.0254 m, pound 0.45359237 kg, BTU_IT 1055.05585 J).
READINGS = [
    ("15 ft", "m", 4.572),
    ("15'", "m", 4.572),
    ("180in", "m", 4.572),
    ("5 ft 6 in", "m", 1.6764),
    ("5'6\"", "m", 1.6764),
    ("4.5 m", "m", 4.5),
    ("4,5 m", "m", 4.5),
    ("95 °F", "degC", 35.0),
    ("95F", "degC", 35.0),
    ("35 degC", "degC", 35.0),
    ("-4 °F", "degC", -20.0),
    ("13,500 BTU/h", "W", 3956.46),
    ("1.5 kW", "W", 1500.0),
    ("3 kVA", "VA", 3000.0),
    ("3000 va", "VA", 3000.0),
    ("100ah", "Ah", 100.0),
    ("1.2 kWh", "Wh", 1200.0),
    ("28 lb", "kg", 12.70058636),
    ("30 amps", "A", 30.0),
    ("12 volts", "V", 12.0),
    ("45 min", "h", 0.75),
    ("70 CFM", "m^3/h", 118.930756),
    ("90 %", "share", 0.9),
    ("0.9", "share", 0.9),
]


@pytest.mark.parametrize(("text", "unit", "value"), READINGS)
def test_ways_that_people_write_a_quantity_are_read(text: str, unit: str, value: float) -> None:
    assert read(text, unit) == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(
    ("text", "unit", "says"),
    [
        ("15 kg", "m", "expected a length, got a weight"),
        ("2400 W", "VA", "expected an apparent power, got a power"),
        ("3000 VA", "W", "expected a power, got an apparent power"),
        ("5 W", "A", "expected a current, got a power"),
        ("15", "m", "has no unit; write 15 ft, 180 in or 4.5 m"),
        ("abc", "m", "has no number in front"),
        ("12 furlongz", "m", "is no unit known here"),
        ("9**9**9 m", "m", "is not understood"),
        ("1" + "0" * 30 + " m" + "m" * 60, "m", "is not understood"),
    ],
)
def test_what_cannot_be_read_says_what_is_accepted(text: str, unit: str, says: str) -> None:
    with pytest.raises(UnitError, match=says.replace("*", r"\*")) as caught:
        read(text, unit)
    assert "write " in str(caught.value)


def test_a_bare_number_takes_the_unit_of_the_field() -> None:
    assert read("15", "m", "foot") == pytest.approx(4.572)


@given(st.text(max_size=60), st.sampled_from(["m", "W", "VA", "degC", "A", "kg", "h"]))
def test_any_text_is_read_or_refused_in_words(text: str, unit: str) -> None:
    try:
        value = read(text, unit)
    except UnitError as fault:
        assert "write " in str(fault)
    else:
        assert isinstance(value, float)


@given(st.floats(0.01, 99.0))
def test_a_length_that_is_shown_can_be_read_again(metres: float) -> None:
    shown = show(metres, "m").split(" (")[0]
    assert read(shown, "m") == pytest.approx(metres, rel=0.02, abs=0.002)


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (4.572, "m", "15 ft (4.57 m)"),
        (0.4064, "m", "16 in (406 mm)"),
        (35.0, "degC", "95 °F (35 °C)"),
        (12.7, "kg", "28 lb (12.7 kg)"),
        (2400.0, "W", "2,400 W"),
        (118.93, "m^3/h", "70 CFM (119 m³/h)"),
        (2560.0, "Wh", "2.6 kWh"),
        (0.03, "share", "3 %"),
        (1234.0, "USD", "$1,234"),
    ],
)
def test_quantities_are_shown_for_this_market(value: float, unit: str, text: str) -> None:
    assert show(value, unit) == text


def test_numbers_have_neither_powers_of_ten_nor_idle_zeros() -> None:
    assert significant(0.0000012345, 3) == "0.00000123"
    assert significant(1234567.0, 3) == "1,230,000"
    assert plain(-0.0001, 2) == "0"
