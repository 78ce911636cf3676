"""What "not sure" stands for: the usual case of each question of the short path."""

from collections.abc import Iterator

from engine.model.answers import UNSURE, Answers, Value
from engine.model.guide import Guide, Question
from engine.model.result import Taken
from engine.needs import applies, implied


def usual_case(guide: Guide, answers: Answers) -> Answers:
    """The same answers with the usual case wherever the short path has no definite one."""
    values = implied(guide, answers)
    for question in _path(guide):
        if not applies(question, values):
            values.pop(question.id, None)
        elif values.get(question.id, UNSURE) == UNSURE:
            values[question.id] = _usual(guide, question, values)
    return Answers(values)


def without_matter(guide: Guide, answers: Answers) -> Answers:
    """The same at an end of the tree, with the usual case of what was not asked there.

    It was left out since no choice of it leads to anything else; "not sure" stays.
    """
    values = implied(guide, answers)
    for question in _path(guide):
        if question.id not in values and applies(question, values):
            values[question.id] = _usual(guide, question, values)
    return Answers(values)


def taken_for(guide: Guide, answers: Answers) -> tuple[Taken, ...]:
    """At an end of the tree, what is taken for "not sure", and for what only that leads to."""
    given, case = without_matter(guide, answers), usual_case(guide, answers)
    return tuple(
        Taken(question, question.choice(case.choice(question.id)))
        for question in _path(guide)
        if question.id in case.values and given.values.get(question.id, UNSURE) == UNSURE
    )


def _path(guide: Guide) -> Iterator[Question]:
    return (question for question in guide.questions if question.where == "path")


def _usual(guide: Guide, question: Question, values: dict[str, Value]) -> str:
    """The usual choice, or the first one that leaves a meaning to what was answered after it."""
    rig = str(values.get("rig", UNSURE))
    usual = question.usual_in(guide.question("rig").usual if rig == UNSURE else rig)
    fitting = [each.id for each in question.choices if _keeps(guide, question, each.id, values)]
    return usual if usual in fitting or not fitting else fitting[0]


def _keeps(guide: Guide, question: Question, choice_id: str, values: dict[str, Value]) -> bool:
    """Whether every definite answer that hangs on this question has a meaning with the choice."""
    return all(
        choice_id in other.only_with[question.id]
        for other in guide.conditional
        if question.id in other.only_with and values.get(other.id, UNSURE) != UNSURE
    )
