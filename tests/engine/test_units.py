"""Reading what people write, and showing what they read."""

import inspect
import math
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine import units
from engine.model.guide import Guide
from engine.typed.amounts import LONGEST, Number, number_in_front
from engine.typed.unit_table import ROWS, Row
from engine.units import UnitError, read, read_short, show, significant
from engine.wording.tongue import plain
from tests.random_texts import random_texts

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
    # as people type them
    ("about 20 feet", "m", 6.096),
    ("~20 ft", "m", 6.096),
    ("approx. 20 ft.", "m", 6.096),
    ("ca 20 ft", "m", 6.096),
    ("six feet", "m", 1.8288),
    ("Twenty-Five Feet", "m", 7.62),
    ("six feet two inches", "m", 1.8796),
    ("5 feet and 6 inches", "m", 1.6764),
    ("5 ft 6", "m", 1.6764),
    ("1 1/2 in", "m", 0.0381),
    ("1½ in", "m", 0.0381),
    ("3/4 in", "m", 0.01905),
    ("0,500 m", "m", 0.5),
    ("2 x 200W", "W", 400.0),
    ("200 W x 2", "W", 400.0),
    ("two hundred fifty watts", "W", 250.0),
    ("fifteen hundred watts", "W", 1500.0),
    ("13,500 BTU per hour", "W", 3956.46),
    ("30-amp", "A", 30.0),
    ("30 amp", "A", 30.0),
    ("12 v", "V", 12.0),
    ("200ah", "Ah", 200.0),
    ("200 amp hours", "Ah", 200.0),
    ("1 h 30 min", "h", 1.5),
    ("1h30", "h", 1.5),
    ("two and a half hours", "h", 2.5),
    ("half an hour", "h", 0.5),
    ("2 days", "day", 2.0),
    ("a week", "day", 7.0),
    ("3 money/ft", "money/m", 9.84251968504),
    ("10 money per hour", "money/h", 10.0),
    ("0.33 lb/ft", "kg/m", 0.491097),
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
        # a wrong reading is worse than none
        ("1 m^9^9^9^9", "m", "is no unit known here"),
        ("1m^9^9^9^9", "m", "is no unit known here"),
        ("1e999 m", "m", "is no unit known here"),
        ("9" * 400 + " m", "m", "is not understood"),
        ("inf m", "m", "has no number in front"),
        ("nan", "m", "has no number in front"),
        ("\u0661\u0665 ft", "m", "has no number in front"),
        ("15\x00 ft", "m", "is not understood"),
        ("15-20 ft", "m", "is not understood"),
        ("15 to 20 ft", "m", "is no unit known here"),
        ("up to 20 ft", "m", "has no number in front"),
        ("ca.20 ft", "m", "has no number in front"),
        ("about.5 ft", "m", "has no number in front"),
        ("12/24 V", "V", "has no number in front"),
        ("1,2345 m", "m", "has no number in front"),
        ("1.234,5 m", "m", "has no number in front"),
        ("1.2.3 m", "m", "has no number in front"),
        ("2 x 15 ft", "m", "is no unit known here"),
        ("6 in 5 ft", "m", "is no unit known here"),
        ("2 m 1 ft", "m", "is no unit known here"),
        ("20 ft 15", "m", "is no unit known here"),
        ("5 MF", "F", "is no unit known here"),
        ("a", "m", "has no number in front"),
        ("5 W/m/m", "W", "is no unit known here"),
        ("12 gal", "m", "got a volume"),
        ("3 money", "money/m", "Expected a price per length, got a price"),
    ],
)
def test_what_cannot_be_read_says_what_is_accepted(
    guide: Guide, text: str, unit: str, says: str
) -> None:
    with pytest.raises(UnitError) as caught:
        read(text, unit)
    told = caught.value.told(guide.wording.faults)
    assert says.lower() in told.lower()
    assert "; write " in told


def test_a_bare_number_takes_the_unit_of_the_field() -> None:
    assert read("15", "m", "foot") == pytest.approx(4.572)


@pytest.mark.parametrize(
    ("text", "unit", "bare", "short"),
    [
        ("about 20 feet", "m", "", "20ft"),
        ("5' 6\"", "m", "", "5ft6in"),
        ("13,500 BTU per hour", "W", "", "13500BTU/h"),
        ("95 °F", "degC", "", "95F"),
        ("95 degrees", "degC", "degF", "95F"),
        ("2 x 200 W", "W", "", "400W"),
        ("1 1/2", "m", "inch", "1.5in"),
        ("1,200 lbs", "kg", "", "1200lb"),
        ("1 h 30", "h", "", "1h30min"),
    ],
)
def test_a_link_holds_the_short_form(text: str, unit: str, bare: str, short: str) -> None:
    assert read_short(text, unit, bare).text == short


HELD = ("m", "kg", "W", "VA", "A", "V", "degC", "ohm", "F", "Pa", "share", "money", "s")
NUMBERS = {
    "15": 15.0, "13,500": 13500.0, "4,5": 4.5, ".5": 0.5, "-4": -4.0, "−4": -4.0, "1½": 1.5,
    "1 1/4": 1.25, "1-1/4": 1.25, "3/8": 0.375, "seven": 7.0, "ninety nine": 99.0,
    "a hundred": 100.0, "two thousand": 2000.0, "twelve": 12.0, "half a": 0.5, "1,234.5": 1234.5,
}  # fmt: skip


@given(
    st.sampled_from(["", "about ", "~ ", "roughly ", "some ", "  "]),
    st.sampled_from(sorted(NUMBERS)),
    st.sampled_from([" ", "  "]),
    st.sampled_from([(row, unit) for unit in HELD for row in ROWS[unit]]),
    st.integers(0, 20),
    st.sampled_from(["", " ", "."]),
)
def test_number_and_unit_mean_what_they_say(
    about: str, number: str, gap: str, row: tuple[Row, str], which: int, end: str
) -> None:
    (_, factor, offset, spellings), unit = row
    spelling = spellings.split()[which % len(spellings.split())]
    found = read_short(f"{about}{number}{gap}{spelling}{end}", unit)
    assert found.value == pytest.approx(NUMBERS[number] * factor + offset, rel=1e-9, abs=1e-9)
    assert read_short(found.text, unit) == found


def test_a_hundred_thousand_texts_are_read_or_refused_at_once(
    guide: Guide, monkeypatch: pytest.MonkeyPatch
) -> None:
    """However long a text is, numbers are sought in short ones only, and a few times at most."""
    sought: list[int] = []

    def counted(text: str) -> Number | None:
        sought.append(len(text))
        return number_in_front(text)

    monkeypatch.setattr(units, "number_in_front", counted)
    read_afresh = inspect.unwrap(read_short)
    random, good = Random(7), 0
    for text in random_texts(7, 100_000):
        unit, bare = random.choice(WANTED)
        sought.clear()
        try:
            found = read_afresh(text, unit, bare)
        except UnitError as fault:
            told = fault.told(guide.wording.faults)
            assert "; write " in told
            assert len(told) < 300
            assert told.isprintable()
        else:
            good += 1
            assert math.isfinite(found.value)
            assert read_afresh(found.text, unit) == found
        assert len(sought) <= 4
        assert max(sought, default=0) <= LONGEST
    assert good > 2_000


WANTED = (
    ("m", "foot"), ("m", ""), ("W", ""), ("VA", ""), ("degC", "degF"), ("A", "A"), ("V", ""),
    ("Ah", ""), ("kg", "pound"), ("h", "h"), ("day", "day"), ("share", ""), ("money/m", ""),
    ("m^3/h", ""),
)  # fmt: skip


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
    ],
)
def test_quantities_are_shown_for_this_market(value: float, unit: str, text: str) -> None:
    assert show(value, unit) == text


def test_numbers_have_neither_powers_of_ten_nor_idle_zeros() -> None:
    assert significant(0.0000012345, 3) == "0.00000123"
    assert significant(1234567.0, 3) == "1,230,000"
    assert plain(-0.0001, 2) == "0"
