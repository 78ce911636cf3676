"""Answers <-> text."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.links import read_link, read_pairs
from engine.model.answers import LoadList, Quantity
from engine.model.guide import Guide
from engine.respond import conversation_of, respond
from tests.guide.shops import demo

GUIDE = demo()
PATH = "rig=coach-50/scope=whole/heavy=1/biggest=cooking/v240=no/"

TYPED = {
    "tools": ["screwdriver", "crimper", "unsure"],
    "space": ["open", "short-wall", "shallow", "closed"],
    "loads": ["kettle:0.2h", "aircon-15k*2:4h,Pump:90W:2h", "Fan: 30 W"],
    "nights": ["2", "0.5"],
    "cable": ["15 ft", "4.5 m", "180in", "5 ft 6 in", "7"],
    "bank": ["12V", "24V", "48V"],
    "chemistry": ["lifepo4", "agm"],
    "have": ["2 x 100 Ah 12 V agm 3 y", "200Ah-24V-lifepo4"],
    "ambient": ["95 °F", "35C", "40"],
    "bay": ["24in x 20in x 12in", "60x50x30 cm"],
    "solar": ["400 W"],
    "alt": ["180 A"],
    "gen": ["2.8 kW"],
    "altitude": ["5000 ft"],
}


@given(
    st.fixed_dictionaries(
        {}, optional={name: st.sampled_from(texts) for name, texts in TYPED.items()}
    )
)
@settings(max_examples=150)
def test_a_link_holds_every_answer(typed: dict[str, str]) -> None:
    pairs = PATH.strip("/").split("/") + [f"{name}={text}" for name, text in typed.items()]
    answers = read_pairs(GUIDE, pairs)
    assert not answers.faults
    path, fragment = conversation_of(GUIDE).place(answers)
    again = read_link(GUIDE, path, fragment)
    assert not again.faults
    assert again.key() == answers.key()
    assert {name: again.values[name] for name in typed} == {
        name: answers.values[name] for name in typed
    }


@given(st.text(max_size=80), st.text(max_size=120))
@settings(max_examples=300)
def test_any_link_is_read_with_faults_in_words(path: str, fragment: str) -> None:
    answers = read_link(GUIDE, path, fragment)
    assert all(fault.message for fault in answers.faults)


@pytest.mark.parametrize(
    ("pair", "says"),
    [
        ("rigg=van", "no question “rigg”. Did you mean “rig”?"),
        ("rig=vann", "not one of the choices: van, rig-30, coach-50, unsure. Did you mean “van”?"),
        ("cable=15kg", "Expected a length, got a weight"),
        ("cable=900ft", "is more than"),
        ("ambient=hot", "has no number in front"),
        ("loads=Toaster oven thing", "needs its watts"),
        ("loads=kettle*99", "is not understood"),
        ("bay=12 in", "not height × width × depth"),
        ("have=12 V lithium", "is not complete"),
        ("nights=many", "is not a number"),
        ("x", "not of the form question=value"),
    ],
)
def test_what_cannot_be_used_is_said_and_the_rest_is_kept(pair: str, says: str) -> None:
    answers = read_pairs(GUIDE, ["scope=whole", pair, "tools=crimper"])
    assert any(says in fault.message for fault in answers.faults), answers.faults
    assert answers.choice("scope") == "whole"
    assert answers.choice("tools") == "crimper"


def test_bare_numbers_take_the_unit_that_the_link_then_names(guide: Guide) -> None:
    value = read_pairs(guide, ["cable=15"]).values["cable"]
    assert isinstance(value, Quantity)
    assert value.text == "15ft"
    assert value.value == pytest.approx(4.572)


@pytest.mark.parametrize(
    ("rig", "typed", "wanted"),
    [
        ("van", "coffee maker,TV,laptop,fridge", "coffee-maker,tv,laptop,fridge-12v"),
        ("coach-50", "mini split; washer; Refrigerator", "mini-split,washer,fridge-residential"),
        ("rig-30", "A/C, washing machine, blow dryers*2", "aircon-13k5,washer,hair-dryer*2"),
        ("van", "Dryer:1h:together", "dryer-120:1h:together"),
        # As old links have it: what has its watts is a load of one's own.
        ("van", "Dryer:900W:1h", "Dryer:900W:1h"),
    ],
)
def test_loads_are_found_by_the_words_that_people_use(
    guide: Guide, rig: str, typed: str, wanted: str
) -> None:
    found = read_pairs(guide, [f"rig={rig}", f"loads={typed}"])
    assert (found.text("loads"), found.faults) == (wanted, ())


def test_every_other_word_for_a_load_leads_to_a_load_that_has_it(guide: Guide) -> None:
    for appliance in guide.appliances:
        for word in (appliance.id, appliance.name, *appliance.also):
            listed = read_pairs(guide, ["rig=van", f"loads={word}".replace(",", "")])
            found = listed.values["loads"]
            assert isinstance(found, LoadList), word
            (item,) = found.items
            meant = guide.appliance(item.appliance)
            assert meant is appliance or word in meant.also


def test_loads_are_read_by_id_by_name_and_with_watts(guide: Guide) -> None:
    value = read_pairs(guide, ["loads=aircon-15k*2:4h\nMy pump: 90 W: 3"]).values["loads"]
    assert isinstance(value, LoadList)
    cool, pump = value.items
    assert (cool.appliance, cool.count, cool.hours and cool.hours.value) == ("aircon-15k", 2, 4.0)
    assert (pump.name, pump.watts and pump.watts.value) == ("My pump", 90.0)


def test_a_plug_leads_to_the_page_of_its_rig(guide: Guide) -> None:
    answers = read_pairs(guide, ["rig=unsure", "plug=household"])
    assert conversation_of(guide).place(answers) == ("rig=van/", "")


def test_an_answer_that_is_not_asked_for_yet_waits_in_the_fragment(guide: Guide) -> None:
    answers = read_pairs(guide, ["rig=van", "heavy=1"])
    assert conversation_of(guide).place(answers) == ("rig=van/", "heavy=1")


def test_text_from_a_link_is_escaped_on_the_page(guide: Guide) -> None:
    hostile = "<script>alert(1)</script>"
    page = respond(
        guide,
        read_pairs(
            guide, [*PATH.strip("/").split("/"), f"{hostile}={hostile}", f"cable={hostile}"]
        ),
        changes=False,
    )
    assert "<script" not in page.html
    assert "&lt;script&gt;" in page.html


@pytest.mark.parametrize(
    ("given", "place"),
    [
        ("rig=van heavy=1 v240=yes", ("rig=van/", "heavy=1")),  # a van has no 240 V
        ("rig=coach-50 v240=yes", ("rig=coach-50/", "v240=yes")),
        ("scope=whole heavy=2", ("", "scope=whole&heavy=2")),
    ],
)
def test_the_fragment_holds_what_is_asked_later_and_not_what_means_nothing(
    given: str, place: tuple[str, str]
) -> None:
    assert conversation_of(GUIDE).place(read_pairs(GUIDE, given.split())) == place


@pytest.mark.parametrize("text", ["W" * 3000, "kettle," * 100, "😀" * 700, "9" * 500, "open" * 200])
@pytest.mark.parametrize("name", ["loads", "cable", "space", "nights", "have"])
def test_what_is_too_long_to_be_read_is_told_again_when_the_link_is_opened_again(
    name: str, text: str
) -> None:
    first = read_link(GUIDE, "rig=van/scope=some/heavy=0/", f"{name}={text}&month=7")
    path, fragment = conversation_of(GUIDE).place(first)
    again = read_link(GUIDE, path, fragment)
    assert [fault.question for fault in first.faults] == [name]
    assert [fault.question for fault in again.faults] == [name]
    assert again.values == first.values
    assert len(fragment) < 400
