"""Which figures of a recommendation rest on a default that stands for what could not be read.

Found by trial: the same setup is planned again with other values in the place of that default, and
whatever is said otherwise then rests on it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from engine.advice.judge.consider import consider, only_of
from engine.advice.judge.supplied import Supplies
from engine.answer import Advice, advise
from engine.conversation import Conversation
from engine.model.answers import Answers, Bay, LoadItem, LoadList, Quantity, Value
from engine.model.guide import Guide, Question
from engine.model.result import Outcome
from engine.needs import default_of
from engine.pages.answer.advice_view import AdviceView
from engine.pages.answer.pictures import Shown
from engine.pages.print.sheets import lines_of
from engine.typed.answers import read_answer
from engine.units import read

OF_THE_WAY = 0.25
"""How far towards each limit of a question another value is tried: what a visitor may well have."""
OTHER_BAY = Bay(1.0, 1.0, 0.5, "")
OTHER_LOAD = LoadItem("", "", 1, Quantity(1000.0, ""), Quantity(2.0, ""))
"""What is tried where a compartment or a list of loads could not be read."""


@dataclass(frozen=True, slots=True)
class Marks:
    """Tells which texts rest on a default.

    says: the mark's words
    otherwise: every text of the setup with another value, one set a value
    """

    says: str
    otherwise: tuple[frozenset[str], ...] = ()

    def on(self, text: str) -> bool:
        """Whether this text would be another."""
        return any(text not in said for said in self.otherwise)


def marks_of(conversation: Conversation, advice: Advice, answers: Answers) -> Marks:
    """The marks of a recommendation: none where all that was given could be read."""
    guide = conversation.guide
    says = guide.wording.page["rests"]
    unread = dict.fromkeys(fault.question for fault in answers.unread if fault.question)
    otherwise = [
        frozenset(said)
        for name in unread
        if name not in answers.values and guide.question(name).where != "path"
        for said in _otherwise(conversation, advice, guide.question(name))
    ]
    return Marks(says, tuple(otherwise))


def _otherwise(conversation: Conversation, advice: Advice, question: Question) -> list[set[str]]:
    """What the setup would say with other values; where it bears none of them, nothing is sure."""
    tried = tuple(_others(conversation.guide, question, advice.outcome.needs.rig.id))
    found = [said for value in tried if (said := _said(conversation, advice, question, value))]
    return found or [set() for _ in tried[:1]]


def _said(
    conversation: Conversation, advice: Advice, question: Question, value: Value
) -> set[str] | None:
    """Every text of the same setup with this value; None where it does not bear it."""
    guide, best = conversation.guide, advice.best
    if best.design is None:
        raise ValueError("a recommendation has a design")
    answers = Answers({**advice.outcome.answers.values, question.id: value})
    needs = conversation.needs(answers)
    only = only_of(best.design.bank)
    planned = consider(guide, needs, best.candidate, Supplies(guide, needs), only)
    if planned.design is None:
        return None
    return set(
        _texts(
            guide,
            advise(conversation, Outcome(answers, needs, (planned,), advice.outcome.keeping)),
            answers,
        )
    )


def _texts(guide: Guide, advice: Advice, answers: Answers) -> Iterator[str]:
    """The texts that a page marks, each as the templates ask for it."""
    view = AdviceView(guide, advice)
    shown = Shown(view, answers)
    yield from (row.label + row.text for row in view.facts())
    yield view.cable_line
    for section in view.sections:
        yield from (number.label + number.text for number in section.numbers)
    yield from (part.quantity + part.name + part.price for part in view.parts.rows())
    yield from (view.parts.total, view.parts.range, shown.runs)
    yield from (check.text for check in view.checks())
    yield from (label + text for label, text in lines_of(guide, advice))
    yield shown.diagram.svg
    for pictures in shown.sections.values():
        yield from (picture.svg for picture in pictures)


def _others(guide: Guide, question: Question, rig_id: str) -> Iterator[Value]:
    """Values to try in the place of a default."""
    text = default_of(guide, question, rig_id)
    default = read_answer(guide, question, text)
    if question.kind == "choice":
        yield from (each.id for each in question.choices if each.id != text)
    elif question.kind == "loads":
        yield LoadList((OTHER_LOAD,), "")
    elif question.kind == "bay":
        yield OTHER_BAY
    elif question.low and question.high:
        low, high = (_limit(question, bound) for bound in (question.low, question.high))
        now = default.value if isinstance(default, Quantity) else low
        for bound in (low, high):
            value = now + OF_THE_WAY * (bound - now)
            if question.kind == "month":
                value = float(round(value))
            if value != now:
                yield Quantity(value, "")


def _limit(question: Question, bound: str) -> float:
    return read(bound, question.unit, question.bare) if question.unit else float(bound)
