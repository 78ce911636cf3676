"""Typed answers: what people write is read as they mean it, or refused in words."""

from random import Random

import pytest

from engine.links import fragment_of, read_link, read_pairs
from engine.model.answers import Answers, Bay, ExistingBank, Quantity
from engine.model.guide import Guide
from engine.typed.answers import LONGEST_TEXT, read_answer
from engine.wording.sentences import Untold
from tests.random_texts import random_texts

READ = [
    ("cable", "about 20 feet", 6.096, "20ft"),
    ("cable", "~20 ft", 6.096, "20ft"),
    ("cable", "six feet", 1.8288, "6ft"),
    ("cable", "5'6\"", 1.6764, "5ft6in"),
    ("gap", "1½ in", 0.0381, "1.5in"),
    ("nights", "2 days", 2.0, "2"),
    ("nights", "two nights", 2.0, "2"),
    ("nights", "2", 2.0, "2"),
    ("nights", "a week", 7.0, "7"),
    ("nights", "36 h", 1.5, "1.5"),
    ("month", "July", 7.0, "7"),
    ("month", "sept.", 9.0, "9"),
    ("month", "may", 5.0, "5"),
    ("month", "12", 12.0, "12"),
    ("lat", "40 N", 40.0, "40"),
    ("lat", "40.5° north", 40.5, "40.5"),
    ("lat", "N 40", 40.0, "40"),
    ("lat", "33.9 S", -33.9, "-33.9"),
    ("lat", "-33.9", -33.9, "-33.9"),
    ("lat", "0 N", 0.0, "0"),
    ("solar", "2 x 200W", 400.0, "400W"),
    ("solar", "3×100 watts", 300.0, "300W"),
    ("gen", "2,200", 2200.0, "2200W"),
    ("shore", "30 amp", 30.0, "30A"),
    ("shore", "30-amp", 30.0, "30A"),
    ("ambient", "95 degrees", 35.0, "95F"),
    ("drive", "1 h 30 min", 1.5, "1h30min"),
]


@pytest.mark.parametrize(("name", "typed", "value", "text"), READ)
def test_what_people_type_is_read(
    guide: Guide, name: str, typed: str, value: float, text: str
) -> None:
    found = read_answer(guide, guide.question(name), typed)
    assert isinstance(found, Quantity)
    assert found.value == pytest.approx(value)
    assert found.text == text


@pytest.mark.parametrize(
    ("name", "typed", "choice"),
    [("bank", "12 v", "12V"), ("bank", "24 volts", "24V"), ("cord", "15 amp", "15A")],
)
def test_a_choice_that_is_a_figure_is_read_as_one(
    guide: Guide, name: str, typed: str, choice: str
) -> None:
    assert read_answer(guide, guide.question(name), typed) == choice


LITHIUM = (2, 100.0, 12.0, "lifepo4")


@pytest.mark.parametrize(
    ("typed", "bank", "age", "text", "assumed"),
    [
        ("2 100ah lithium", LITHIUM, 0, "2x100Ah-lifepo4", ("voltage",)),
        ("2x100Ah AGM", (2, 100, 12, "agm"), 0, "2x100Ah-agm", ("voltage",)),
        ("two 100 Ah lithium batteries", LITHIUM, 0, "2x100Ah-lifepo4", ("voltage",)),
        ("100ah 12v lfp x 2", LITHIUM, 0, "2x100Ah-12V-lifepo4-0y", ()),
        ("200ah", (1, 200, 12, "agm"), 0, "1x200Ah", ("voltage", "chemistry")),
        ("200 amp hours 2y", (1, 200, 12, "agm"), 2, "1x200Ah-2y", ("voltage", "chemistry")),
        ("2 6v 220ah", (2, 220, 6, "agm"), 0, "2x220Ah-6V", ("chemistry",)),
        ("2x 100Ah 12V lifepo4 3y", LITHIUM, 3, "2x100Ah-12V-lifepo4-3y", ()),
        ("4x6V 220Ah flooded 3 years old", (4, 220, 6, "flooded"), 3, "4x220Ah-6V-flooded-3y", ()),
    ],
)
def test_batteries_are_read_and_what_was_not_said_is_named(
    guide: Guide,
    typed: str,
    bank: tuple[int, float, float, str],
    age: float,
    text: str,
    assumed: tuple[str, ...],
) -> None:
    found = read_answer(guide, guide.question("have"), typed)
    assert found == ExistingBank(*bank, age, text, assumed)
    assert read_answer(guide, guide.question("have"), text) == found


def test_sides_without_a_unit_take_that_of_the_others(guide: Guide) -> None:
    read = [
        read_answer(guide, guide.question("bay"), text)
        for text in ("50 x 45 x 25 cm", "50cm by 45cm by 25cm", "50cmx45cmx25cm")
    ]
    assert read == [Bay(0.5, 0.45, 0.25, "50cmx45cmx25cm")] * 3
    words = read_answer(guide, guide.question("bay"), "six x ten x four")
    assert isinstance(words, Bay)
    assert words.text == "6inx10inx4in"


@pytest.mark.parametrize(
    ("pair", "says"),
    [
        ("cable=1 m^9^9^9^9", "is no unit known here"),
        ("cable=1m^9^9^9^9", "is no unit known here"),
        ("cable=15-20 ft", "is not understood"),
        ("cable=2 x 15 ft", "is no unit known here"),
        ("lat=40 W", "is not a number"),
        ("lat=-40 S", "is not a number"),
        ("month=ju", "is not a number"),
        ("month=1/2", "is less than 1"),
        ("nights=overnight", "is not a number"),
        ("nights=2 kg", "is not a number"),
        ("have=12 100ah", "“12” is not understood"),
        ("have=100Ah 20h agm", "“20h” is not understood"),
        ("have=lead acid 100ah", "“lead” is not understood"),
        ("have=100Ah agm lithium", "is not complete"),
        ("have=100Ah 200Ah agm", "“200ah” is not understood"),
        ("bank=12 ft", "is not one of the choices"),
    ],
)
def test_a_wrong_reading_is_worse_than_none(guide: Guide, pair: str, says: str) -> None:
    (fault,) = read_pairs(guide, [pair]).faults
    assert says in fault.message


def test_a_hundred_thousand_texts_are_answers_or_refused(guide: Guide) -> None:
    """What is read stands in a link as a text that reads the same."""
    random, good = Random(11), 0
    for text in random_texts(11, 100_000):
        question = random.choice(guide.questions)
        try:
            value = read_answer(guide, question, text)
        except Untold as fault:
            told = fault.told(guide.wording.faults)
            assert told.strip()
            assert len(told) < 2 * LONGEST_TEXT
            continue
        if value is None:
            assert not text.strip()
            continue
        good += 1
        fragment = fragment_of(guide, Answers({question.id: value}))
        again = read_link(guide, "", fragment)
        assert not again.faults, (question.id, text, fragment)
        assert again.values == {question.id: value}, (question.id, text, fragment)
        assert fragment_of(guide, again) == fragment
    assert good > 800
