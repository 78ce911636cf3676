"""What other answers would lead to: single changes, and all cases that are still open."""

from collections.abc import Iterator

from engine.advice.judge.recommend import key_of, starters_apart
from engine.conversation import Conversation
from engine.model.answers import Answers
from engine.model.guide import Question
from engine.model.result import Change, Holds, Outcome, Taken
from engine.needs import applies
from engine.usual import taken_for, usual_case, without_matter

MOST_CASES_PLANNED = 32
"""Beside details each case is planned anew; where there are more, they are not counted."""


def questions_of(conversation: Conversation, answers: Answers) -> Iterator[Question]:
    """The questions with choices that have a meaning here; of the short path those that matter."""
    guide = conversation.guide
    case = usual_case(guide, answers)
    taken = {each.question.id for each in taken_for(guide, answers)}
    for question in guide.questions:
        open_or_given = question.id in taken or question.id in answers.values
        matters = question.where != "path" or open_or_given
        # What such a detail stands for is tried by itself.
        stands_for = question.where == "detail" and all(each.means for each in question.choices)
        if question.kind != "choice" or stands_for:
            continue
        if matters and applies(question, case.values):
            yield question


def leads_of(
    conversation: Conversation, answers: Answers, outcome: Outcome, question: Question
) -> tuple[Change, ...]:
    """Each other choice of a question, where it leads to another setup.

    What else is not sure stays as it was taken. A choice that only names what was given itself, as
    a kind of space names measures, is none.
    """
    case = usual_case(conversation.guide, answers)
    now = key_of(outcome.best)
    beside = answers if question.id in answers.values or question.where != "path" else case
    found = []
    for choice in question.choices:
        if case.choice(question.id) == choice.id or choice.means.keys() & answers.values.keys():
            continue
        other = conversation.ended(Answers({**beside.values, question.id: choice.id}))
        leads_to = conversation.usual_best(other)
        if key_of(leads_to) != now:
            found.append(Change(question, choice, other, leads_to))
    return tuple(found)


def holds_for(
    conversation: Conversation, answers: Answers, taken: tuple[Taken, ...], outcome: Outcome
) -> Holds | None:
    """How many of the open cases have this setup; None where nothing is open, or far too much."""
    if not taken:
        return None
    cases = list(open_cases(conversation, answers))
    detailed = conversation.on_path(answers).values != answers.values
    if detailed and len(cases) > MOST_CASES_PLANNED:
        return None
    now, _ = starters_apart(key_of(outcome.best))
    keys = (starters_apart(conversation.setup(case)) for case in cases)
    starters = [count for key, count in keys if key == now]
    return Holds(len(starters), len(cases), len(set(starters)) > 1)


def open_cases(conversation: Conversation, answers: Answers) -> Iterator[Answers]:
    """Every way to answer what is not sure, and what has a meaning only then."""
    return conversation.completions(without_matter(conversation.guide, answers))
