"""What the shop's content must offer, whatever its figures are."""

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import fields
from typing import Any

import pytest

from engine.advice.judge.cautions import RULES
from engine.conversation import Conversation
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.products import Catalogue
from engine.model.result import Outcome
from engine.pages.answer.parts_view import GROUPS, SPARE
from engine.standards import awg
from guide.check_questions import OF_CHOICES, QUESTIONS
from guide.sentences import facts_of_rules
from tests.guide.shops import demo

FACT = re.compile(r"\{(\w+)\}")
REAL_NUMBER = re.compile(r"(?<![\d-])\d{3}[-. ]\d{4}")


@pytest.fixture(scope="module")
def guide() -> Guide:
    return demo()


@pytest.fixture(scope="module")
def outcomes(guide: Guide) -> list[Outcome]:
    """The outcome of every way through the short path."""
    return [branch.outcome for branch in Conversation(guide).branches(Answers({}))]


def test_the_questions_stand_in_the_order_of_the_design(guide: Guide) -> None:
    short_path = [each.id for each in guide.questions if each.where == "path"]
    assert short_path == ["rig", "plug", "scope", "heavy", "biggest", "softstart", "v240"]
    assert [each.id for each in guide.questions if each.where == "answer"] == ["tools", "space"]
    assert {each.id for each in guide.questions} == {*QUESTIONS, "plug", "cord"}


def test_every_question_says_why_it_is_asked_and_where_to_look(guide: Guide) -> None:
    for question in guide.questions:
        assert question.why.endswith((".", "?")), question.id
        assert question.unsure.endswith("."), question.id
        if question.where != "detail":
            assert all(choice.hint and choice.picture for choice in question.choices), question.id
        elif question.kind not in OF_CHOICES:
            assert question.accepts.endswith("."), question.id


def test_the_shelf_offers_a_choice_of_everything(guide: Guide) -> None:
    catalogue = guide.catalogue
    assert len(catalogue.inverters) >= 16
    assert len(catalogue.batteries) >= 12
    assert len(guide.appliances) >= 30
    assert {each.dc_nominal for each in catalogue.inverters} == {12.0, 24.0, 48.0}
    assert {each.terminals.kind for each in catalogue.inverters} == {"screw", "push-in"}
    assert {each.chemistry for each in catalogue.batteries} == {"lifepo4", "agm", "flooded"}
    assert {each.family for each in catalogue.fuses} == {
        each.family for each in catalogue.fuse_holders
    }


def test_cable_is_there_in_every_size_and_every_lug_for_it(guide: Guide) -> None:
    sizes = awg.SIZES[awg.rank("8") :]
    assert [each.awg for each in guide.catalogue.cables if each.use == "dc"] == list(sizes)
    lugs = {(each.awg, each.stud) for each in guide.catalogue.lugs}
    studs = {each.dc_stud for each in guide.catalogue.inverters}
    studs |= {each.stud for each in guide.catalogue.batteries}
    assert lugs >= {(size, stud) for size in sizes for stud in studs}


def test_a_bare_ferrule_of_18_mm_is_there_for_every_wire_of_a_push_in_terminal(
    guide: Guide,
) -> None:
    """Bare and 18 mm is common practice, no source."""
    bare = {
        each.awg
        for each in guide.catalogue.ferrules
        if not each.insulated and each.barrel == pytest.approx(0.018)
    }
    for unit in guide.catalogue.inverters:
        if unit.terminals.kind == "push-in":
            first, last = (
                awg.rank(unit.terminals.smallest_awg),
                awg.rank(unit.terminals.largest_awg),
            )
            assert bare >= set(awg.SIZES[first : last + 1]), unit.id


FIGURES = {"value", "limit"}
OTHER_FIGURES = {"fit": ({"value"}, {"value"}), "battery-series": (FIGURES, set[str]())}
"""What the two sentences of these name: room that is left, and no battery that could be counted."""


def test_a_check_says_its_value_and_its_limit_whether_it_passes_or_fails(guide: Guide) -> None:
    for words in guide.wording.checks:
        said = {*FACT.findall(words.passes)}, {*FACT.findall(words.fails)}
        expected = OTHER_FIGURES.get(words.id)
        assert said == expected if expected else said[0] == said[1], words.id
        assert expected or said[0] in (FIGURES, set()), words.id
        assert not words.accepted or {*FACT.findall(words.accepted)} == FIGURES, words.id


def test_what_is_always_on_board_draws_two_to_four_hundred_watts(guide: Guide) -> None:
    for rig in guide.rigs:
        watts = sum(
            count * guide.appliance(name).running
            for name, count in rig.carries.items()
            if guide.appliance(name).at_once
        )
        assert 200 <= watts <= 400, rig.id


def test_everything_says_that_it_is_invented(guide: Guide) -> None:
    assert guide.shop.invented
    assert "invented" in guide.shop.place
    assert guide.shop.email.endswith(".example")
    for products in shelves(guide):
        for product in products:
            assert product.maker.endswith("(invented)"), product.id


def shelves(guide: Guide) -> Iterator[tuple[Any, ...]]:
    for each in fields(Catalogue):
        yield getattr(guide.catalogue, each.name)


def test_telephone_numbers_are_those_kept_for_fiction(guide: Guide) -> None:
    assert re.fullmatch(r"555-01\d\d", guide.shop.phone)
    texts = [guide.shop.note, *(caution.do for caution in guide.cautions)]
    assert not any(REAL_NUMBER.search(text) for text in texts)


def test_every_rule_of_a_caution_has_a_caution(guide: Guide) -> None:
    assert {caution.rule for caution in guide.cautions} == set(RULES)
    assert set(facts_of_rules()) == set(RULES)


def test_something_fits_for_every_way_but_three_heavy_loads_behind_one_leg(
    outcomes: list[Outcome],
) -> None:
    assert len(outcomes) > 100
    without = [outcome.answers for outcome in outcomes if outcome.best is None]
    # A few outlets hang on one breaker, and a 30 A panel is made for 30 A: three are more.
    some, whole = ("van", "some", "3"), ("rig-30", "whole", "3")
    found = {(each.text("rig"), each.text("scope"), each.text("heavy")) for each in without}
    assert found <= {some, ("rig-30", *some[1:]), whole}


def test_every_part_of_every_answer_is_on_the_shelf_and_has_its_words(
    guide: Guide, outcomes: list[Outcome]
) -> None:
    lines = [
        line
        for outcome in outcomes
        if outcome.best and outcome.best.design
        for line in outcome.best.design.parts
    ]
    assert Counter(line.name for line in lines if not line.product) == Counter()
    # Spares stand in the line of what they spare.
    shown = {line.group.removeprefix(SPARE) for line in lines}
    assert shown <= set(GROUPS) <= set(guide.wording.parts)
