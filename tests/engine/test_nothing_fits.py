"""Where nothing fits: first the one constraint that binds, then the smallest changes, as links."""

import re
from dataclasses import replace
from html import unescape
from random import Random

import pytest

from engine.advice.judge.binding import BINDING, binding_of
from engine.advice.judge.checks import CHECKS
from engine.answer import Answer, answer_of
from engine.answer_text import as_data, as_text
from engine.conversation import Conversation
from engine.links import read_link, read_pairs
from engine.model.guide import Guide, Question
from engine.model.result import Change
from engine.pages.answer.advice_view import why_not
from engine.pages.other_case import change_label, difference
from engine.respond import conversation_of, respond_to
from tests.advice.conftest import with_shelf
from tests.random_answers import random_answers

VAN = "rig=van/scope=whole/heavy=1/biggest=cooking/"
CHOSEN = ("choice", "unit", "aim")
"""Kinds of questions that are answered by choosing."""
EXAMPLES = re.compile(r"(?:such as|as) (.*?)(?:, or its .*)?\.?$")


THREE = "rig=rig-30/scope=whole/heavy=3/biggest=cooking/"
KILN = "loads=lights,kiln:3620W"
"""More than a panel of 30 A passes, and not more than one unit delivers."""


@pytest.fixture(scope="module")
def conversation(guide: Guide) -> Conversation:
    return conversation_of(guide)


@pytest.fixture(scope="module")
def short(guide: Guide) -> Conversation:
    """A shop with one unit for one leg, which carries one heavy load at a time."""
    (unit,) = (each for each in guide.catalogue.inverters if each.id == "tall-12v-3200va")
    return Conversation(with_shelf(guide, inverters=(replace(unit, pairs=()),)))


def answered(conversation: Conversation, fragment: str, path: str = VAN) -> Answer:
    answers = read_link(conversation.guide, path, fragment)
    assert not answers.faults
    return answer_of(conversation, answers)


def mends(answer: Answer, question: str) -> list[Change]:
    assert answer.status == "none-fits"
    return [each for each in answer.changes or () if each.question.id == question]


def test_every_check_belongs_to_one_constraint() -> None:
    assert sorted(check for checks in BINDING.values() for check in checks) == sorted(CHECKS)


@pytest.mark.parametrize(
    ("path", "fragment", "constraint"),
    [
        (VAN, "payload=60lb", "weight"),
        (VAN, "bay=20in x 18in x 10in", "space"),
        (VAN, "ambient=170F", "heat"),
        (VAN, "bank=48V&chemistry=agm&nights=9", "bank"),
        ("rig=coach-50/scope=whole/heavy=3/biggest=cooking/v240=yes/", "bank=12V", "voltage"),
        (VAN, "loads=kettle:9000W,lights", "power"),
        ("rig=rig-30/scope=whole/heavy=1/biggest=cooking/", KILN, "breaker"),
    ],
)
def test_the_constraint_that_binds_is_named(
    conversation: Conversation, path: str, fragment: str, constraint: str
) -> None:
    answer = answered(conversation, fragment, path)
    assert answer.status == "none-fits"
    assert answer.outcome is not None
    name, nearest, check = binding_of(answer.outcome.considered)
    assert name == constraint
    assert check in nearest.failed


def test_the_reason_and_the_changes_come_first_in_the_same_words_everywhere(guide: Guide) -> None:
    page = respond_to(guide, VAN, "payload=60lb")
    words = guide.wording.page
    html, text = unescape(page.html), as_text(guide, page.answer)
    data = as_data(guide, page.answer)
    assert page.answer.outcome is not None
    farthest = why_not(guide, page.answer.outcome.considered, None)[-1]
    in_order = (words["binding-weight"], words["mends"], farthest.reasons)
    for shown in (html, text):
        first, then, last = (shown.index(each) for each in in_order)
        assert first < then < last
    assert data["stopped_by"]["constraint"] == "weight"
    assert data["stopped_by"]["check"]["id"] == "payload"
    [mend] = mends(page.answer, "payload")
    told = difference(guide, None, mend.best)
    assert told in html
    assert told in text
    assert change_label(guide, mend) in html


def test_the_least_weight_is_found_to_a_twentieth(conversation: Conversation) -> None:
    [mend] = mends(answered(conversation, "payload=60lb"), "payload")
    least_lb = float(mend.choice.id.removesuffix("lb"))
    assert answered(conversation, f"payload={least_lb:g}lb").status == "recommended"
    assert answered(conversation, f"payload={least_lb * 0.95:g}lb").status == "none-fits"


def test_each_side_of_the_space_is_lengthened_by_as_little_as_will_do(
    conversation: Conversation,
) -> None:
    found = mends(answered(conversation, "bay=20in x 18in x 10in"), "bay")
    assert len(found) == 2  # higher or wider; deeper alone does not help
    before = [20.0, 18.0, 10.0]
    for mend in found:
        sides = [float(side) for side in re.findall(r"[0-9.]+", mend.choice.id)]
        [at] = [at for at, side in enumerate(sides) if side != before[at]]
        sides[at] -= 1
        shorter = "x".join(f"{side:g}in" for side in sides)
        assert answered(conversation, f"bay={shorter}").status == "none-fits"


def test_where_no_side_alone_is_enough_all_are_lengthened_alike(conversation: Conversation) -> None:
    [mend] = mends(answered(conversation, "bay=8in x 8in x 4in"), "bay")
    height, width, depth = (float(side) for side in re.findall(r"[0-9.]+", mend.choice.id))
    more = height - 8
    assert (width - 8, depth - 4) == (more, more)
    fewer = "x".join(f"{side + more - 1:g}in" for side in (8, 8, 4))
    assert answered(conversation, f"bay={fewer}").status == "none-fits"


def test_less_free_air_makes_it_fit_with_a_fan(conversation: Conversation) -> None:
    [mend] = mends(answered(conversation, "bay=20in x 18in x 10in"), "gap")
    assert mend.best is not None
    assert mend.best.design is not None
    assert mend.best.design.cooling.fan is not None


def test_another_chemistry_and_fewer_days_are_among_the_changes(conversation: Conversation) -> None:
    answer = answered(conversation, "bank=48V&chemistry=agm&nights=9")
    assert [each.choice.id for each in mends(answer, "chemistry")] == ["lifepo4"]
    [fewer] = mends(answer, "nights")
    assert 1 < float(fewer.choice.id) < 9


def test_the_load_that_is_too_much_is_named(conversation: Conversation) -> None:
    answer = answered(conversation, "loads=kettle:9000W,microwave,lights")
    [mend] = mends(answer, "loads")
    assert mend.without == "Kettle"
    assert change_label(conversation.guide, mend) == "without Kettle"


def test_what_is_given_is_not_named_again_by_a_kind_of_space(conversation: Conversation) -> None:
    answer = answered(conversation, "bay=20in x 18in x 10in")
    assert not mends(answer, "space")


def test_where_no_single_change_helps_the_page_says_so(guide: Guide) -> None:
    page = respond_to(guide, VAN, "bay=20in x 18in x 10in&payload=60lb")
    assert page.answer.changes == ()
    assert guide.wording.page["mends-none"] in page.html


def test_each_change_leads_by_its_link_to_an_answer(conversation: Conversation) -> None:
    guide, tried = conversation.guide, 0
    for seed in range(60):
        answers = random_answers(guide, Random(seed))
        if conversation.usual_outcome(answers).best is not None or tried == 8:
            continue
        tried += 1
        for change in answer_of(conversation, answers).changes or ():
            path, fragment = conversation.place(change.answers)
            there = conversation.usual_outcome(read_link(guide, path, fragment))
            assert there.best is not None, (seed, change.question.id, change.choice.id)
    assert tried == 8


def test_the_examples_of_the_form_lead_to_an_answer(conversation: Conversation) -> None:
    guide = conversation.guide
    examples = [(each, text) for each in guide.questions for text in examples_of(each)]
    fields = {each.id for each in guide.questions if each.kind not in CHOSEN}
    assert {each.id for each, _ in examples} == fields
    for rig in guide.rigs:
        for question, text in examples:
            given = read_pairs(guide, [f"rig={rig.id}", f"{question.id}={text}"])
            assert not given.faults, (question.id, text)
            outcome = conversation.usual_outcome(conversation.ended(given))
            if (
                outcome.best is None
            ):  # the sum is too small for such a rig, and that is what is said
                assert binding_of(outcome.considered)[0] == question.id == "budget", (rig.id, text)


def examples_of(question: Question) -> list[str]:
    """The examples in what a typed field says that it accepts; a field by its product has none."""
    if question.kind in CHOSEN:
        return []
    if question.kind == "loads":
        told = re.findall(r"such as ([^,.]+)", question.accepts)
        return [text for each in told for text in each.split(" or ")]
    found = EXAMPLES.search(question.accepts)
    assert found, question.id
    return re.split(r", or |, | or ", found[1])


def test_answers_without_a_detail_are_not_searched(short: Conversation) -> None:
    answer = answered(short, "", THREE)
    assert answer.status == "none-fits"
    assert answer.changes
    details = {each.question.id for each in answer.changes if each.question.where == "detail"}
    assert not details & {"payload", "cable", "ambient", "bay", "gap", "loads"}


def test_the_nearest_change_of_the_last_question_comes_first(short: Conversation) -> None:
    changes = answered(short, "", THREE).changes or ()
    found = [each.choice.id for each in changes if each.question.id == "heavy"]
    assert found == ["1", "0"]


def test_what_is_not_sure_says_in_how_many_cases_nothing_fits(guide: Guide) -> None:
    page = respond_to(guide, "rig=rig-30/scope=unsure/heavy=1/biggest=cooking/", KILN)
    said = "No setup we sell fits in 1 of the 2 cases that are still open."
    assert said in page.html
    assert said in as_text(guide, page.answer)
    assert "No single change does" not in page.html
