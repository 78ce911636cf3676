"""Words of callers, as they say them: each leads to what is meant, or to a choice that is asked."""

import html
import json
from typing import Any

import pytest

from engine.browser import reply
from engine.completion import complete, read_any
from engine.conversation import Conversation
from engine.model.guide import Guide
from engine.respond import conversation_of, respond_to
from engine.suggestions import Suggestion

VAN = "rig=van/scope=whole/heavy=0/"
COACH = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
HEAVY = "rig=coach-50/scope=whole/"
BIGGEST = f"{HEAVY}heavy=2/"
STARTER = f"{BIGGEST}biggest=aircon-15k/"
LISTED = "fridge-residential,lights,pump,tv,router,phones,alarms,aircon-15k*2"


@pytest.fixture(scope="module")
def conversation(guide: Guide) -> Conversation:
    return conversation_of(guide)


def offered(conversation: Conversation, link: str, said: str) -> tuple[Suggestion, ...]:
    return complete(conversation, read_any(conversation, link), said)


def links(conversation: Conversation, found: tuple[Suggestion, ...]) -> list[str]:
    return [conversation.link(each.answers) if each.answers else "" for each in found]


@pytest.mark.parametrize(
    ("link", "said", "wanted"),
    [
        ("", "30 amp trailer", "rig=rig-30/"),
        ("", "we have a 30 amp travel trailer", "rig=rig-30/"),
        ("", "thirty amp", "rig=rig-30/"),
        ("", "50 amp trailer", "rig=coach-50/"),
        ("", "class A motorhome", "rig=coach-50/"),
        ("", "class C motorhome, 30 amp", "rig=rig-30/"),
        ("", "5th wheel", "rig=coach-50/"),
        ("", "camper van, no inlet", "rig=van/"),
        ("", "I don't know", "rig=unsure/"),
        ("", "30 amp fifth wheel", "rig=rig-30/"),
        ("", "50 amp service", "rig=coach-50/"),
        ("", "regular 15 amp outlet", "rig=van/"),
        ("", "hundred amp hours of lithium", "#have=1x100Ah-lifepo4"),
        (HEAVY, "two ACs", f"{HEAVY}heavy=2/"),
        (HEAVY, "AC and microwave", f"{HEAVY}heavy=2/"),
        (HEAVY, "no air conditioner", f"{HEAVY}heavy=0/"),
        (HEAVY, "just one at a time", f"{HEAVY}heavy=1/"),
        (HEAVY, "three ACs", f"{HEAVY}heavy=3/"),
        (HEAVY, "microwave and the coffee maker at the same time", f"{HEAVY}heavy=2/"),
        (HEAVY, "both air conditioners and the microwave", f"{HEAVY}heavy=3/"),
        (HEAVY, "only the AC", f"{HEAVY}heavy=1/"),
        (HEAVY, "three nights", f"{HEAVY}#nights=3"),
        (HEAVY, "we boondock for a long weekend", f"{HEAVY}#nights=3"),
        (HEAVY, "coffee", f"{HEAVY}#loads=usual,coffee-maker"),
        (HEAVY, "tv", f"{HEAVY}#loads=usual,tv"),
        (BIGGEST, "fifteen thousand BTU", f"{BIGGEST}biggest=aircon-15k/"),
        (BIGGEST, "13.5", f"{BIGGEST}biggest=aircon-13k5/"),
        (BIGGEST, "the microwave", f"{BIGGEST}biggest=cooking/"),
        (STARTER, "no soft start", f"{STARTER}softstart=no/"),
        (STARTER, "yep", f"{STARTER}softstart=yes/"),
        (STARTER, "I don't think so", f"{STARTER}softstart=no/"),
        (COACH, "3 nights", f"{COACH}#nights=3"),
        (COACH, "15 ft of cable", f"{COACH}#cable=15ft"),
        (COACH, "400 watts of solar", f"{COACH}#solar=400W"),
        (COACH, "two 100 amp hour AGM batteries", f"{COACH}#have=2x100Ah-agm"),
        (COACH, "2,000 watt generator", f"{COACH}#gen=2000W"),
        (COACH, "200 amp alternator", f"{COACH}#alt=200A"),
        (COACH, "48 volts", f"{COACH}#bank=48V"),
        (COACH, "4000 dollars", f"{COACH}#budget=4000"),
        (COACH, "$5k", f"{COACH}#budget=5000"),
        (COACH, "five grand", f"{COACH}#budget=5000"),
        (COACH, "a week off grid", f"{COACH}#nights=7"),
        (COACH, "two 200 watt panels", f"{COACH}#solar=400W"),
        (COACH, "we drive 3 hours a day", f"{COACH}#drive=3h"),
        (COACH, "10 feet from the batteries", f"{COACH}#cable=10ft"),
        (COACH, "it gets down to 20 degrees", f"{COACH}#coldest=20F"),
        (COACH, "95 degrees in summer", f"{COACH}#ambient=95F"),
        (COACH, "cabinet 20 by 20 by 12", f"{COACH}#bay=20inx20inx12in"),
        (COACH, "July", f"{COACH}#month=7"),
        (COACH, "cheapest", f"{COACH}#aim=least"),
        (COACH, "coffee", f"{COACH}#loads={LISTED},coffee-maker"),
        ("rig=coach-50/", "the works", "rig=coach-50/scope=whole/"),
        (HEAVY, "three at a time", f"{HEAVY}heavy=3/"),
        ("rig=rig-30/", "whole rig, one at a time", "rig=rig-30/scope=whole/heavy=1/"),
        (COACH, "300 Ah lithium and 400 W solar", f"{COACH}#have=1x300Ah-lifepo4&solar=400W"),
        (COACH, "have 4 six volt golf cart batteries 225 Ah", f"{COACH}#have=4x225Ah-6V"),
        (COACH, "2 AGM batteries 100 Ah", f"{COACH}#have=2x100Ah-agm"),
        (f"{HEAVY}heavy=1/", "no wait, two air conditioners", BIGGEST),
        (f"{COACH}#nights=2", "no make that 3 nights", f"{COACH}#nights=3"),
        (COACH, "space heater and kettle", f"{COACH}#loads={LISTED},space-heater,kettle"),
    ],
)
def test_what_a_caller_says_is_the_first_line_and_sure(
    conversation: Conversation, link: str, said: str, wanted: str
) -> None:
    found = offered(conversation, link, said)
    assert links(conversation, found)[0] == wanted
    assert found[0].sure


@pytest.mark.parametrize(
    ("link", "said", "among"),
    [
        ("", "trailer", "rig=coach-50/"),
        ("", "blue van with stripes", "rig=van/"),
        (BIGGEST, "AC", f"{BIGGEST}biggest=aircon-13k5/"),
        (HEAVY, "kettle microwave", f"{HEAVY}heavy=1/"),
        (HEAVY, "just the microwave", f"{HEAVY}heavy=1/"),
        (HEAVY, "microwave, kettle and hair dryer", f"{HEAVY}heavy=3/"),
        (COACH, "15 ft", f"{COACH}#cable=15ft"),
        (COACH, "it gets up to 38 C", f"{COACH}#ambient=38C"),
        (COACH, "about 100 degrees outside", f"{COACH}#ambient=100F"),
        ("", "van with a shore power inlet 30 amp", "rig=van/"),
        (STARTER, "no, nothing", f"{STARTER}softstart=no/"),
        (COACH, "30 amp", f"{COACH}#shore=30A"),
    ],
)
def test_what_may_mean_several_things_is_offered_and_never_taken_by_itself(
    conversation: Conversation, link: str, said: str, among: str
) -> None:
    found = offered(conversation, link, said)
    assert among in links(conversation, found)
    assert not found[0].sure


@pytest.mark.parametrize("said", ["2", "no", "yes", "lights fridge chargers"])
def test_on_a_whole_answer_a_bare_figure_yes_no_or_a_hint_changes_nothing(
    conversation: Conversation, said: str
) -> None:
    assert [each for each in offered(conversation, COACH, said) if each.answers] == []


@pytest.mark.parametrize(
    ("said", "fill"),
    [
        ("4 six volt golf cart batteries", "have 4 six volt golf cart batteries "),
        ("two lead acid batteries", "have two batteries "),
        ("two lead acid batteries 100 Ah", "have two batteries 100 Ah "),
    ],
)
def test_batteries_without_amp_hours_are_asked_for_them_and_nothing_else_is_offered(
    conversation: Conversation, guide: Guide, said: str, fill: str
) -> None:
    (found,) = offered(conversation, COACH, said)
    assert found.fill == fill
    assert found.about == guide.wording.page["staff-amp-hours"]


def test_several_facts_are_all_told_before_one_of_them_replaces_an_answer(guide: Guide) -> None:
    first = ask(guide, "complete", link=f"{COACH}#nights=2", text="3 nights and 400 W solar")
    assert 'data-asks="nights=3&solar=400W"' in first.partition("</li>")[0]
    asked = ask(guide, "asks", link=f"{COACH}#nights=2", asks=["nights=3&solar=400W"])
    solar = guide.question("solar").ask
    assert guide.wording.page.say("staff-new", ask=solar, now="400W") in asked


def test_loads_beside_the_usual_ones_do_not_fall_away_while_a_question_is_open(
    guide: Guide,
) -> None:
    link = f"{HEAVY}#loads=usual,tv&nights=2"
    asked = ask(guide, "asks", link=link, asks=["nights=3"])
    assert asked.count("data-at=") == 1 and "usual " not in asked
    assert "0 ×" not in asked


def test_what_was_not_understood_is_said(conversation: Conversation, guide: Guide) -> None:
    (found,) = offered(conversation, "", "blue van with stripes")
    assert found.problem == guide.wording.page.say("staff-not-heard", words="blue, stripes")


def test_every_load_of_the_guide_is_found_by_each_of_its_names(
    conversation: Conversation, guide: Guide
) -> None:
    for appliance in guide.appliances:
        for name in (appliance.name, *appliance.also):
            found = [each.answers for each in offered(conversation, VAN, name) if each.answers]
            texts = [each.text("loads") for each in found]
            assert any(appliance.id in text for text in texts), (appliance.id, name)


def test_loads_beside_the_usual_ones_are_the_whole_list_once_the_rig_is_known(
    conversation: Conversation,
) -> None:
    read = read_any(conversation, f"{COACH}#loads=usual,coffee-maker,tv")
    assert read.text("loads") == f"{LISTED},coffee-maker"  # such a rig has a television anyway
    assert read_any(conversation, f"{COACH}#loads=usual,tv").text("loads") == LISTED
    assert read_any(conversation, f"{HEAVY}#loads=usual,tv").text("loads") == "usual,tv"


def ask(guide: Guide, kind: str, **fields: object) -> str:
    found: dict[str, Any] = json.loads(reply(json.dumps({"id": 1, "kind": kind, **fields}), guide))
    return html.unescape(str(found["html"]))


def price_of(guide: Guide, link: str) -> str:
    advice = respond_to(guide, link).answer.advice
    assert advice is not None and advice.best.design is not None
    return f"${advice.best.design.parts_price:,.0f}"


@pytest.mark.parametrize(
    ("link", "said"),
    [
        (COACH, "one at a time"),
        (COACH, "tv"),
        (f"{COACH}#nights=2", "3 nights"),
        (f"{COACH}#nights=2", "nights=3"),
        (HEAVY, "30 amp trailer"),
        (VAN, f"/guide/{COACH}"),
    ],
)
def test_what_would_replace_an_answer_is_asked_and_cannot_be_taken_at_once(
    guide: Guide, link: str, said: str
) -> None:
    first = ask(guide, "complete", link=link, text=said).partition("</li>")[0]
    assert "data-asks=" in first and "data-link=" not in first


def test_the_question_says_what_was_what_would_be_at_what_price_and_what_falls_away(
    guide: Guide,
) -> None:
    asked = ask(guide, "asks", link=COACH, asks=["heavy=0"])
    page, question = guide.wording.page, guide.question("heavy")
    was, now = (question.choice(each).label for each in ("2", "0"))
    assert page.say("staff-was-now", ask=question.ask, was=was, now=now) in asked
    prices = [price_of(guide, each) for each in (COACH, COACH.replace("heavy=2", "heavy=0"))]
    assert page.say("staff-price-was-now", was=prices[0], now=prices[1]) in asked
    assert page.say("staff-falls-away", asks="").strip() in asked
    assert 'data-replace="rig=coach-50/scope=whole/heavy=0/' in asked


def test_a_question_that_changes_nothing_any_more_is_not_asked(guide: Guide) -> None:
    assert 'data-at="1"' in ask(guide, "asks", link=COACH, asks=["heavy=2", "heavy=1"])
    assert "data-at" not in ask(guide, "asks", link=COACH, asks=["heavy=2"])
