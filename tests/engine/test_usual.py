"""What "not sure" takes, for how many cases that holds, and where the other choices lead."""

from functools import cache
from html import unescape
from random import Random
from typing import Any

import pytest

from engine.advice.judge.recommend import key_of
from engine.answer import Answer, answer_of
from engine.answer_text import as_data, as_text
from engine.conversation import Conversation
from engine.links import read_link, read_pairs
from engine.model.answers import UNSURE, Answers
from engine.model.guide import Guide
from engine.model.result import Change, Outcome
from engine.pages.other_case import difference, taken_cases
from engine.respond import conversation_of, respond_to
from engine.tree import states
from engine.usual import usual_case
from engine.what_if import MOST_CASES_PLANNED, holds_for, leads_of, open_cases
from tests.random_answers import random_answers, unsure_somewhere

ALL_OPEN = "rig=unsure/plug=unsure/scope=unsure/heavy=unsure/biggest=unsure/softstart=unsure/"


@pytest.fixture(scope="module")
def conversation(guide: Guide) -> Conversation:
    return conversation_of(guide)


@cache
def ends(conversation: Conversation) -> tuple[Answers, ...]:
    """Every end of the tree."""
    found = (read_link(conversation.guide, path) for path in states(conversation))
    return tuple(each for each in found if conversation.next_question(each) is None)


def open_ends(conversation: Conversation) -> tuple[Answers, ...]:
    """The ends at which something is not sure."""
    return tuple(each for each in ends(conversation) if UNSURE in each.values.values())


def taken(guide: Guide, *pairs: str) -> dict[str, str]:
    answer = answer_of(conversation_of(guide), read_pairs(guide, pairs), changes=False)
    return {each.question.id: each.choice.id for each in answer.taken}


def test_every_end_recommends_or_names_what_stops_everything(conversation: Conversation) -> None:
    assert len(ends(conversation)) > 500
    for answers in ends(conversation):
        answer = answer_of(conversation, answers, changes=False)
        assert answer.outcome is not None
        if answer.status == "recommended":
            assert answer.advice is not None
        else:
            assert answer.status == "none-fits"
            assert answer.outcome.considered[0].failed


def test_it_is_brief_exactly_where_something_is_not_sure(conversation: Conversation) -> None:
    for answers in ends(conversation):
        answer = answer_of(conversation, answers, changes=False)
        assert answer.brief == (UNSURE in answers.values.values()), answers
        assert bool(answer.taken) == answer.brief


def test_it_holds_for_as_many_cases_as_planning_each_gives(conversation: Conversation) -> None:
    for answers in open_ends(conversation):
        answer = answer_of(conversation, answers, changes=False)
        assert answer.outcome is not None
        holds = holds_for(conversation, answers, answer.taken, answer.outcome)
        assert holds is not None
        planned = [conversation.outcome(case) for case in open_cases(conversation, answers)]
        now = key_of(answer.outcome.best)
        assert holds.cases == len(planned) > 1
        same = [key_of(each.best) for each in planned if but_starters(each, answer.outcome)]
        assert now in same
        assert (holds.same, holds.starters_differ) == (len(same), len(set(same)) > 1)


def test_beside_details_it_holds_for_as_many_cases_or_says_nothing(guide: Guide) -> None:
    conversation, counted = Conversation(guide), 0
    for seed in range(25):
        random = Random(seed)
        answers = conversation.ended(unsure_somewhere(guide, random_answers(guide, random), random))
        outcome = conversation.usual_outcome(answers)
        given = answer_of(conversation, answers, changes=False).taken
        holds = holds_for(conversation, answers, given, outcome)
        if holds is None:
            continue
        cases = [*open_cases(conversation, answers)]
        same = [but_starters(conversation.outcome(each), outcome) for each in cases]
        assert (holds.same, holds.cases) == (sum(same), len(same))
        counted += 1
    assert counted > 15


def but_starters(one: Outcome, other: Outcome) -> bool:
    """Whether both have the same units and batteries, or nothing fits in both."""
    if one.best is None or other.best is None:
        return one.best is other.best
    first, second = one.best.design, other.best.design
    assert first is not None and second is not None
    units = [
        (each.candidate.layout, each.candidate.inverter.id, each.candidate.units)
        for each in (first, second)
    ]
    banks = [
        (each.bank.battery.id, each.bank.series, each.bank.parallel) for each in (first, second)
    ]
    return units[0] == units[1] and banks[0] == banks[1]


def test_too_many_cases_beside_details_are_not_planned(guide: Guide) -> None:
    conversation = Conversation(guide)
    answers = read_link(guide, ALL_OPEN, "cable=15ft")
    answer = answer_of(conversation, answers, changes=False)
    assert answer.outcome is not None
    assert len([*open_cases(conversation, answers)]) > MOST_CASES_PLANNED
    assert holds_for(conversation, answers, answer.taken, answer.outcome) is None


def test_the_open_cases_are_what_the_questions_multiply_to(conversation: Conversation) -> None:
    def cases(*pairs: str) -> int:
        return len([*open_cases(conversation, read_pairs(conversation.guide, pairs))])

    assert cases("rig=van", "scope=unsure", "heavy=0") == 2
    assert cases("rig=van", "scope=whole", "heavy=unsure", "biggest=cooking") == 4
    # Two air conditioners with or without a soft starter, cooking, heating.
    assert cases("rig=van", "scope=whole", "heavy=1", "biggest=unsure", "softstart=unsure") == 6


def test_the_usual_case_is_that_of_the_rig(guide: Guide) -> None:
    before = ("scope=whole", "heavy=1", "biggest=unsure", "softstart=unsure")
    assert taken(guide, "rig=van", *before) == {"biggest": "cooking"}
    assert taken(guide, "rig=rig-30", *before) == {"biggest": "aircon-13k5", "softstart": "no"}
    coach = taken(guide, "rig=coach-50", *before, "v240=unsure")
    assert coach == {"biggest": "aircon-15k", "softstart": "no", "v240": "no"}


def test_whoever_knows_of_a_soft_starter_has_an_air_conditioner(guide: Guide) -> None:
    pairs = ("rig=van", "scope=whole", "heavy=1", "biggest=unsure", "softstart=yes")
    assert taken(guide, *pairs) == {"biggest": "aircon-13k5"}


def test_a_plug_that_is_not_known_takes_the_usual_rig_and_says_where_to_look(
    conversation: Conversation,
) -> None:
    guide = conversation.guide
    answer = answer_of(conversation, read_link(guide, ALL_OPEN), changes=False)
    assert "plug" not in {each.question.id for each in answer.taken}
    assert taken_cases(guide, answer)[0].look == guide.question("plug").unsure


def test_the_page_of_the_usual_case_says_the_same_and_all_of_it(
    conversation: Conversation,
) -> None:
    guide = conversation.guide
    for answers in open_ends(conversation)[::29]:
        answer = answer_of(conversation, answers, changes=False)
        path, fragment = conversation.place(usual_case(guide, answers))
        whole = answer_of(conversation, read_link(guide, path, fragment), changes=False)
        assert not whole.brief
        assert same_set_up(whole, answer)
        assert whole.status == answer.status


def same_set_up(one: Answer, other: Answer) -> bool:
    assert one.outcome is not None
    assert other.outcome is not None
    mine, its = one.outcome.best, other.outcome.best
    if mine is None or its is None:
        return mine is its
    assert mine.design is not None
    assert its.design is not None
    return mine.design.parts == its.design.parts


def test_a_choice_is_listed_exactly_where_it_leads_elsewhere(conversation: Conversation) -> None:
    for answers in open_ends(conversation)[::37]:
        answer = answer_of(conversation, answers)
        assert answer.outcome is not None
        assert answer.changes is not None
        now = key_of(answer.outcome.best)
        listed = {(each.question.id, each.choice.id) for each in answer.changes}
        for each in answer.taken:
            if each.question.id not in answers.values:
                continue
            for choice in each.question.choices:
                other = Answers({**answers.values, each.question.id: choice.id})
                leads_to = conversation.usual_outcome(other)
                elsewhere = key_of(leads_to.best) != now
                assert ((each.question.id, choice.id) in listed) == elsewhere, (answers, choice)


def test_a_choice_leads_to_an_end_that_says_what_was_promised(conversation: Conversation) -> None:
    guide = conversation.guide
    for answers in open_ends(conversation)[::41]:
        for change in answer_of(conversation, answers).changes or ():
            path, fragment = conversation.place(change.answers)
            there = answer_of(conversation, read_link(guide, path, fragment), changes=False)
            assert there.outcome is not None, path
            assert key_of(there.outcome.best) == key_of(change.best)


def test_another_set_up_is_told_in_words_that_differ(conversation: Conversation) -> None:
    guide = conversation.guide
    page = guide.wording.page
    alike = f"{page['same-units']}; {page['same-bank']}; "
    for answers in open_ends(conversation)[::31]:
        answer = answer_of(conversation, answers)
        assert answer.outcome is not None
        for change in answer.changes or ():
            text = difference(guide, answer.outcome.best, change.best)
            assert not text.startswith(alike), (answers, change.choice.id)


def test_a_choice_says_how_much_more_or_less_its_parts_cost(guide: Guide) -> None:
    path = "rig=rig-30/scope=whole/heavy=1/biggest=aircon-15k/softstart=unsure/"
    answer = respond_to(guide, path).answer
    assert answer.outcome is not None
    [other] = [each for each in answer.changes or () if each.question.id == "softstart"]
    assert other.choice.id == "yes"
    now, then = answer.outcome.best, other.best
    assert now is not None
    assert now.design is not None
    assert then is not None
    assert then.design is not None
    less = round(now.design.parts_price - then.design.parts_price, -1)
    assert less > 0
    assert f"${less:,.0f} less" in difference(guide, now, then)


def test_the_same_words_stand_on_page_and_command_line_and_the_same_facts_in_data(
    guide: Guide,
) -> None:
    page = respond_to(guide, "rig=rig-30/scope=whole/heavy=unsure/biggest=cooking/")
    shown, text, data = (
        unescape(page.html),
        as_text(guide, page.answer),
        as_data(guide, page.answer),
    )
    [case] = taken_cases(guide, page.answer)
    assert case.others
    for said in (case.ask, case.took, case.look, *(each.text for each in case.others)):
        assert said in shown
        assert said in text
    assert [each["choice"] for each in data["taken"]] == ["1"]
    assert data["taken"][0]["look"] == case.look
    assert page.answer.holds is not None
    assert data["holds_for"] == {"same": page.answer.holds.same, "cases": 4}
    there = [each["choice"] for each in data["what_changes_it"] if each["question"] == "heavy"]
    assert len(there) == len(case.others)
    assert data["status"] == "recommended"


def test_a_verdict_works_out_what_its_open_questions_lead_to_and_the_rest_once_asked(
    guide: Guide, monkeypatch: pytest.MonkeyPatch
) -> None:
    tried = []

    def leads(*given: Any) -> tuple[Change, ...]:
        tried.append(given[-1].id)
        return leads_of(*given)

    monkeypatch.setattr("engine.answer.leads_of", leads)
    answer = respond_to(guide, "rig=rig-30/scope=whole/heavy=unsure/biggest=cooking/").answer
    assert answer.brief
    assert tried == ["heavy"]
    assert {each.question.id for each in answer.changes or ()} > {"heavy"}
    assert len(tried) == len(set(tried))


def test_where_every_choice_leads_to_the_same_the_page_says_so(conversation: Conversation) -> None:
    guide = conversation.guide
    for answers in open_ends(conversation):
        answer = answer_of(conversation, answers)
        cases = taken_cases(guide, answer)
        if answer.holds is not None and answer.holds.same == answer.holds.cases:
            assert all(case.indifferent for case in cases)
            html = respond_to(guide, conversation.place(answers)[0]).html
            assert guide.wording.page["taken-holds-all"] in html
            return
    raise AssertionError("no end at which nothing that is open matters")


def test_a_brief_page_leads_to_its_chapters_and_details_bring_them_at_once(guide: Guide) -> None:
    path = "rig=van/scope=unsure/heavy=0/"
    brief, whole = respond_to(guide, path), respond_to(guide, path, "cable=15ft")
    assert 'href="../../../rig=van/scope=whole/heavy=0/"' in brief.html
    assert "rig-diagram" not in brief.html
    assert "rig-diagram" in whole.html
    assert not whole.answer.brief
    assert whole.answer.taken
    assert "rig-cable-fault" in respond_to(guide, path, "cable=15kg").html
    for page in (brief, whole):
        assert guide.wording.page["taken"] in page.html
