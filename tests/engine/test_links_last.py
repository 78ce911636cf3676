"""Links that last: ten thousand good ones come back whole, ten thousand broken ones in words."""

import re
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.editions import notice
from engine.links import EDITION, public_link, read_link, read_pairs
from engine.model.answers import Answers
from engine.model.edition import PastEdition
from engine.model.guide import Guide
from engine.respond import conversation_of, respond, respond_to
from guide.editions import past_of
from tests.guide.shops import demo
from tests.random_answers import random_answers, random_pairs

GUIDE = demo()
CONVERSATION = conversation_of(GUIDE)
MANY = 10_000
SOME_DRAWN = 100
NAMES = [question.id for question in GUIDE.questions]
PATH = "rig=van/scope=whole/heavy=1/biggest=cooking/"


def test_ten_thousand_answers_come_back_from_their_links() -> None:
    random = Random(20_260_115)
    lost = []
    for _ in range(MANY):
        answers = random_answers(GUIDE, random)
        path, fragment = CONVERSATION.place(answers)
        again = read_link(GUIDE, path, fragment)
        if again.faults or again.key() != answers.key():
            lost.append((path, fragment))
        assert CONVERSATION.place(again) == (path, fragment)
    assert lost == []


def garbage(random: Random, longest: int) -> str:
    """A text of letters of every kind, of up to so many."""
    kinds = ((" ", "~"), ("\x00", "\u02ff"), (" ", "\ud7ff"), ("\ue000", "\U0010ffff"))
    return "".join(
        chr(random.randint(*map(ord, random.choice(kinds))))
        for _ in range(random.randint(0, longest))
    )


def broken(random: Random) -> str:
    """A part of a link that is garbage, in its name, in its value or in both."""
    return random.choice(
        (
            garbage(random, 60),
            f"{random.choice([*NAMES, EDITION])}={garbage(random, 40)}",
            f"{garbage(random, 20)}={garbage(random, 20)}",
            f"{random.choice(NAMES)}%{garbage(random, 5)}",
        )
    )


def told(answers: Answers) -> str:
    """Everything that is said of what could not be used."""
    return "\n".join((*(fault.message for fault in answers.faults), *notice(CONVERSATION, answers)))


def test_ten_thousand_broken_links_are_answered_in_words() -> None:
    random = Random(20_260_116)
    for _ in range(MANY):
        path, fragment = ([broken(random) for _ in range(random.randint(0, 4))] for _ in "pf")
        check_told(path, fragment)


def check_told(path: list[str], fragment: list[str]) -> None:
    """What of a link cannot be used is said, and what is kept of it is a good link."""
    answers = read_link(GUIDE, "/".join(path), "&".join(fragment))
    assert all(fault.message.strip() for fault in answers.faults)
    assert all(sentence.strip() for sentence in notice(CONVERSATION, answers))
    place, rest = CONVERSATION.place(answers)
    again = read_link(GUIDE, place, rest)
    assert CONVERSATION.place(again) == (place, rest)
    assert {each.given_as for each in again.faults} <= {each.given_as for each in answers.unread}
    clean = read_link(GUIDE, *CONVERSATION.place(Answers(answers.values, note=answers.note)))
    assert not clean.faults, told(clean)


@given(st.integers(0, 10**9), st.text(min_size=1, max_size=30), st.integers(0, 2))
@settings(max_examples=1000)
def test_the_part_of_a_link_that_is_broken_is_named_and_the_rest_is_kept(
    seed: int, garbage: str, way: int
) -> None:
    pairs = random_pairs(GUIDE, Random(seed))
    name = pairs[-1].partition("=")[0]
    bad = (f"no-{name}=1", f"{name}=\x00{garbage}", f"{name} {garbage.replace('=', '')}")[way]
    answers = read_pairs(GUIDE, [*pairs[:-1], bad])
    assert len(answers.faults) == 1
    assert name in answers.faults[0].message or answers.faults[0].question == name
    assert answers.key() == read_pairs(GUIDE, pairs[:-1]).key()


def test_a_broken_link_still_has_its_page() -> None:
    random = Random(4)
    for _ in range(SOME_DRAWN):
        pairs = random_pairs(GUIDE, random)
        page = respond(GUIDE, read_pairs(GUIDE, [*pairs, "colour=blue"]), changes=False)
        assert "This guide has no question “colour”." in page.html


def test_an_answer_that_means_nothing_here_is_named() -> None:
    page = respond_to(GUIDE, "rig=van/scope=whole/heavy=0/", "biggest=cooking")
    question = GUIDE.question("biggest")
    assert f"“{question.ask}” does not matter with the other answers" in page.html
    assert page.fragment == ""


def test_the_link_to_hand_on_names_page_details_and_edition() -> None:
    link = public_link(GUIDE, PATH, "cable=15ft")
    address, _, fragment = link.partition("#")
    assert address == f"https://{GUIDE.shop.site}/guide/{PATH}"
    answers = read_link(GUIDE, address.partition("/guide/")[2], fragment)
    assert (answers.faults, answers.edition) == ((), GUIDE.edition)
    assert notice(CONVERSATION, answers) == []


# Old editions: what the guide said before, kept, and the guide of today.

OLD = "0123456789ab"


@pytest.fixture(scope="module")
def past() -> PastEdition:
    """Today's answers, as an edition of an earlier day."""
    return replace(past_of(GUIDE), id=OLD, date="2025-06-01")


def since(past: PastEdition, guide: Guide = GUIDE) -> list[str]:
    """What a link of that edition to one answer says today."""
    today = replace(guide, editions=(past,))
    return notice(conversation_of(today), read_link(today, PATH, f"edition={OLD}"))


def recommended(past: PastEdition) -> int:
    """Place of what that edition recommended for the answer."""
    return past.answers[PATH]


def test_an_old_link_says_that_the_answer_is_the_same(past: PastEdition) -> None:
    assert since(past) == [
        "This link is from an edition with prices of 2025-06-01. The answer is still the same."
    ]


def test_an_old_link_says_what_the_same_set_up_cost(past: PastEdition) -> None:
    setups = list(past.setups)
    at = recommended(past)
    setups[at] = replace(setups[at], price=setups[at].price + 100)
    (said,) = since(replace(past, setups=tuple(setups)))
    assert "The setup is still the same. Its parts were $" in said


def test_an_old_link_names_what_is_no_longer_sold(past: PastEdition) -> None:
    setups = list(past.setups)
    at = recommended(past)
    setups[at] = replace(setups[at], inverter="bygone-2500")
    names = {**past.names, "bygone-2500": "Bygone 2500"}
    first, *reasons = since(replace(past, setups=tuple(setups), names=names))
    assert "Bygone 2500" in first
    assert "Today it is: " in first
    assert "Bygone 2500 is no longer sold." in reasons


def test_an_old_link_names_the_price_that_moved(past: PastEdition) -> None:
    setups = list(past.setups)
    at = recommended(past)
    today = setups[at]
    other = next(each for each in setups if each.inverter and each.inverter != today.inverter)
    setups[at] = other
    prices = {**past.prices, today.inverter: past.prices[today.inverter] + 200}
    said = since(replace(past, setups=tuple(setups), prices=prices))
    assert any(past.names[today.inverter] in text and "it was $" in text for text in said[1:])


def test_a_link_of_an_edition_that_asked_otherwise_says_so(past: PastEdition) -> None:
    answers = {path: at for path, at in past.answers.items() if path != PATH}
    (said,) = since(replace(past, answers=answers))
    assert "asked other questions" in said


def test_a_link_of_an_edition_that_is_not_kept_says_so() -> None:
    page = respond_to(GUIDE, PATH, "edition=ffffffffffff")
    assert "no longer kept" in page.html


def test_the_address_of_an_old_link_keeps_its_edition_and_the_link_on_paper_has_today_s() -> None:
    page = respond_to(GUIDE, PATH, "edition=ffffffffffff&cable=15ft")
    assert page.fragment == "cable=15ft&edition=ffffffffffff"
    assert re.search(rf"cable=15ft&amp;was=[\w:.-]+&amp;edition={GUIDE.edition}", page.html)
