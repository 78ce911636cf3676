"""Type-ahead: a few letters lead to the answer that was meant; nothing is guessed in silence."""

from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.completion import complete, read_any, without
from engine.conversation import Conversation
from engine.links import read_link
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.respond import conversation_of
from tests.guide.shops import demo

COACH = "rig=coach-50/scope=whole/"
ANSWER = "rig=van/scope=whole/heavy=0/"


@pytest.fixture(scope="module")
def conversation(guide: Guide) -> Conversation:
    return conversation_of(guide)


def first_link(conversation: Conversation, link: str, text: str) -> str:
    first = complete(conversation, read_any(conversation, link), text)[0]
    assert first.answers is not None
    return conversation.link(first.answers)


def test_nothing_typed_offers_the_choices_of_the_next_question_and_not_sure(
    conversation: Conversation,
) -> None:
    found = complete(conversation, Answers({}), "")
    chosen = [each.answers.choice("rig") for each in found if each.answers]
    assert chosen == ["van", "rig-30", "coach-50", "unsure"]


def test_nothing_typed_offers_nothing_where_nothing_is_open(conversation: Conversation) -> None:
    assert complete(conversation, read_any(conversation, ANSWER), "") == ()


@pytest.mark.parametrize(
    ("link", "text", "wanted"),
    [
        ("", "coa", "rig=coach-50/"),
        ("", "50 coach", "rig=coach-50/"),
        (COACH, "2", f"{COACH}heavy=2/"),
        (f"{COACH}heavy=2/", "15,000", f"{COACH}heavy=2/biggest=aircon-15k/"),
        (COACH, "cable 15 ft", f"{COACH}#cable=15ft"),
        (ANSWER, "nights 3", f"{ANSWER}#nights=3"),
        (ANSWER, "crimper", f"{ANSWER}#tools=crimper"),
        (f"{ANSWER}#loads=microwave", "loads fan*2", f"{ANSWER}#loads=microwave,fan*2"),
        # What is typed is added to what is assumed, by the words that people use.
        (
            ANSWER,
            "loads coffee machine",
            f"{ANSWER}#loads=fridge-12v,lights,pump,fan,phones,laptop,router,coffee-maker",
        ),
        (
            ANSWER,
            "blow dr",
            f"{ANSWER}#loads=fridge-12v,lights,pump,fan,phones,laptop,router,hair-dryer",
        ),
        (ANSWER, "van=1 rig=rig-30", "rig=rig-30/scope=whole/heavy=0/#van=1"),
    ],
)
def test_letters_lead_to_the_answer(
    conversation: Conversation, link: str, text: str, wanted: str
) -> None:
    assert first_link(conversation, link, text) == wanted


@pytest.mark.parametrize(
    "address",
    [
        f"https://morrowfen.example/guide/{ANSWER}#cable=9ft&note=hello",
        f"/guide/{ANSWER}#cable=9ft",
        f"{ANSWER}#cable=9ft",
        "rig=van scope=whole heavy=0 cable=9ft",
    ],
)
def test_a_pasted_link_is_taken_whole(conversation: Conversation, address: str) -> None:
    assert first_link(conversation, "", address) == f"{ANSWER}#cable=9ft"


def test_what_cannot_be_read_says_why_and_is_no_answer(conversation: Conversation) -> None:
    (found,) = complete(conversation, read_any(conversation, ANSWER), "cable 15 kg")
    assert found.answers is None
    assert "got a weight" in found.problem


def test_a_question_named_without_a_value_says_what_it_takes(conversation: Conversation) -> None:
    found = complete(conversation, read_any(conversation, ANSWER), "cab")[0]
    assert found.answers is None
    assert found.fill == "cable "


def test_not_sure_about_other_questions_does_not_crowd_out_a_detail(
    conversation: Conversation,
) -> None:
    assert complete(conversation, read_any(conversation, ANSWER), "n")[0].fill == "nights "


def test_a_fault_in_a_pasted_link_is_said_and_the_rest_taken(conversation: Conversation) -> None:
    (found,) = complete(conversation, Answers({}), "rig=van cabel=15ft")
    assert found.answers is not None
    assert found.answers.choice("rig") == "van"
    assert "Did you mean “cable”?" in found.about


def test_an_answer_can_be_taken_back(conversation: Conversation) -> None:
    answers = read_any(conversation, f"{ANSWER}#cable=9ft")
    assert conversation.link(without(answers, "cable")) == ANSWER


@settings(max_examples=300)
@given(st.text(max_size=60), st.sampled_from(["", "rig=van/", COACH, f"{ANSWER}#cable=9ft"]))
def test_any_text_gets_suggestions_whose_links_can_be_opened(text: str, link: str) -> None:
    conversation = the_conversation()
    for each in complete(conversation, read_any(conversation, link), text):
        assert each.label or each.problem or each.about
        if each.answers is not None:
            path, fragment = conversation.place(each.answers)
            assert read_link(conversation.guide, path, fragment).faults == ()


@cache
def the_conversation() -> Conversation:
    """Loaded once; hypothesis wants no fixture that outlives an example."""
    return conversation_of(demo())
