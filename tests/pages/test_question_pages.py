"""What a question's page says beside its question: where one is, what can change, what is kept."""

import re

import pytest

from engine.conversation import Conversation
from engine.links import read_link
from engine.model.answers import UNSURE, Answers
from engine.model.guide import Guide, Question
from engine.respond import conversation_of, respond, respond_to
from engine.tree import questions_ahead, states
from engine.usual import usual_case
from engine.ways import EFFECTS

WHERE = re.compile(r'<p class="rig-where">Question (\d+) of about (\d+)(?:\.|<)')
CHANGE = re.compile(r'<dt>([^<]+)</dt><dd>[^<]+ <a href="([^"]*)">Change')
END = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"


@pytest.fixture(scope="module")
def conversation(guide: Guide) -> Conversation:
    """The conversation whose pages are looked at."""
    return conversation_of(guide)


@pytest.fixture(scope="module")
def asking(conversation: Conversation) -> list[tuple[str, Answers, Question]]:
    """Every page of the tree that asks, with its question."""
    found = []
    for path in states(conversation):
        answers = read_link(conversation.guide, path)
        question = conversation.next_question(answers)
        if question is not None:
            found.append((path, answers, question))
    return found


def test_each_page_counts_what_is_answered_and_what_the_usual_answers_still_ask(
    guide: Guide, conversation: Conversation, asking: list[tuple[str, Answers, Question]]
) -> None:
    for path, answers, question in asking:
        number, about = map(int, WHERE.search(respond_to(guide, path).html).groups())  # type: ignore[union-attr]
        assert number == 1 + path.count("/"), path
        steps, now = 0, answers
        while (asked := conversation.next_question(now)) is not None:
            steps += 1
            usual = usual_case(guide, now).choice(asked.id) or UNSURE
            now = conversation.walk(Answers({**now.values, asked.id: usual}))
        assert about == path.count("/") + steps, path
        assert len(questions_ahead(conversation, answers)) == steps - 1
        assert question.topic


def test_what_is_still_to_come_is_named_in_its_order(guide: Guide) -> None:
    html = respond_to(guide, "rig=coach-50/scope=whole/").html
    topics = [guide.question(name).topic for name in ("biggest", "softstart", "v240")]
    assert f"Question 3 of about 6. Then, usually: {', '.join(topics)}." in html
    last = respond_to(guide, END.rpartition("v240")[0]).html
    assert '<p class="rig-where">Question 6 of about 6</p>' in last


def test_a_question_that_is_asked_can_change_something_and_says_what(
    guide: Guide, conversation: Conversation, asking: list[tuple[str, Answers, Question]]
) -> None:
    for path, answers, question in asking:
        found = conversation.can_change(answers, question)
        assert found, path
        assert [each for each in EFFECTS if each in found] == list(found)
        said = ", ".join(guide.wording.page[f"effect-{each}"] for each in found)
        assert f"Your answer here can change {said}.</p>" in respond_to(guide, path).html


def test_the_last_question_names_exactly_what_its_two_answers_differ_in(
    guide: Guide, conversation: Conversation, asking: list[tuple[str, Answers, Question]]
) -> None:
    seen: set[str] = set()
    for path, answers, question in asking:
        ends = [Answers({**answers.values, question.id: each.id}) for each in question.choices]
        decided = all(value != UNSURE for value in answers.values.values())
        if not decided or any(conversation.next_question(end) is not None for end in ends):
            continue
        pages = [respond(guide, end, changes=False).answer.advice for end in ends]
        found = conversation.can_change(answers, question)
        if None in pages:
            assert "fits" in found, path
            continue
        designs = [each.best for each in pages if each is not None]
        layouts = {each.candidate.layout for each in designs}
        units = {(each.candidate.inverter.id, each.candidate.units) for each in designs}
        assert ("wiring" in found) == (len(layouts) > 1), path
        assert ("unit" in found) == (len(units) > 1), path
        seen.update(found)
    assert {"unit", "parts", "warnings"} <= seen


def test_change_asks_one_question_again_and_keeps_the_answers_after_it(guide: Guide) -> None:
    html = respond_to(guide, END, "cable=9ft").html.replace("&amp;", "&")
    links = [link.rpartition("../")[2] for _, link in CHANGE.findall(html)]
    assert links == [
        "#scope=whole&heavy=2&biggest=aircon-15k&softstart=yes&v240=no&cable=9ft",
        "rig=coach-50/#heavy=2&biggest=aircon-15k&softstart=yes&v240=no&cable=9ft",
        "rig=coach-50/scope=whole/#biggest=aircon-15k&softstart=yes&v240=no&cable=9ft",
        "rig=coach-50/scope=whole/heavy=2/#softstart=yes&v240=no&cable=9ft",
        "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/#v240=no&cable=9ft",
        "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/#cable=9ft",
    ]


@pytest.mark.parametrize(
    ("asked", "choice", "to"),
    [
        (
            "heavy",
            "1",
            "rig=coach-50/scope=whole/heavy=1/biggest=aircon-15k/softstart=yes/v240=no/",
        ),
        ("heavy", "0", "rig=coach-50/scope=whole/heavy=0/v240=no/"),
        ("rig", "van", "rig=van/scope=whole/heavy=2/biggest=aircon-15k/"),
    ],
)
def test_the_page_that_asks_again_leads_past_all_that_still_holds(
    guide: Guide, asked: str, choice: str, to: str
) -> None:
    conversation = conversation_of(guide)
    again = conversation.asked_again(read_link(guide, END, "cable=9ft"), guide.question(asked))
    page = respond(guide, again)
    assert page.answer.next_question == guide.question(asked)
    link = re.search(rf'href="([^"]*)" data-choice="{choice}"', page.html)
    assert link is not None
    assert link[1].rpartition("../")[2].replace("&amp;", "&").partition("#")[0].startswith(to)
    assert link[1].endswith("cable=9ft")


def test_a_plug_does_not_bring_back_the_rig_that_it_stands_for(guide: Guide) -> None:
    given = read_link(guide, "rig=unsure/plug=three-blade/scope=whole/")
    again = conversation_of(guide).asked_again(given, guide.question("rig"))
    assert set(again.values) == {"scope"}
