"""The whole answer: the next question, or what is recommended and everything that explains it."""

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from engine.advice.judge.cautions import cautions_of
from engine.advice.plan.charging import plan_charging
from engine.alternatives import alternatives_of, give_up_of
from engine.conversation import Conversation
from engine.mends import mends_of
from engine.model.alternatives import Alternative, GiveUp
from engine.model.answers import Answers
from engine.model.guide import Question
from engine.model.result import CautionNote, Change, Considered, Holds, Outcome, Taken
from engine.model.sources import ChargingPlan
from engine.usual import taken_for
from engine.what_if import holds_for, leads_of, questions_of

Status = Literal["ask", "recommended", "none-fits"]


@dataclass(frozen=True, slots=True)
class Advice:
    """The recommendation for one set of answers in which nothing is open."""

    outcome: Outcome
    best: Considered
    runner_up: Considered | None
    cautions: tuple[CautionNote, ...]
    charging: ChargingPlan


class WhatIf:
    """What other answers lead to, and what else one may choose: each worked out once it is asked.

    It takes as many answers again, and a page that says the verdict only tells little of it.
    """

    def __init__(self, conversation: Conversation, answers: Answers, outcome: Outcome) -> None:
        self._given = conversation, answers, outcome
        self._leads: dict[str, tuple[Change, ...]] = {}

    @cached_property
    def holds(self) -> Holds | None:
        """How many of the open cases have this setup, see `holds_for`."""
        conversation, answers, outcome = self._given
        return holds_for(conversation, answers, taken_for(conversation.guide, answers), outcome)

    @cached_property
    def changes(self) -> tuple[Change, ...]:
        """What each other choice leads to; where nothing fits, what makes it fit goes first."""
        conversation, answers, outcome = self._given
        asked = questions_of(conversation, answers)
        found = tuple(each for question in asked for each in self._of(question))
        if outcome.best is not None:
            return found
        details = tuple(each for each in found if each.question.where != "path")
        path = [each for each in found if each.question.where == "path"]
        path.sort(key=lambda each: _size(conversation, outcome, each))
        return (*mends_of(conversation, answers), *details, *path)

    def leads(self, question: Question) -> tuple[Change, ...]:
        """Those of one question; the others are worked out only where nothing fits."""
        if self._given[2].best is not None:
            return self._of(question)
        return tuple(each for each in self.changes if each.question.id == question.id)

    def _of(self, question: Question) -> tuple[Change, ...]:
        if question.id not in self._leads:
            self._leads[question.id] = leads_of(*self._given, question)
        return self._leads[question.id]

    @cached_property
    def alternatives(self) -> tuple[Alternative, ...]:
        """The recommended setup and those to choose instead, see `alternatives_of`."""
        return alternatives_of(*self._given)

    @cached_property
    def give_up(self) -> GiveUp | None:
        """The one thing whose absence saves most, see `give_up_of`."""
        return give_up_of(*self._given)


@dataclass(frozen=True, slots=True)
class Answer:
    """What `respond` shows.

    taken: the usual cases that stand in for what is not sure
    brief: something is not sure and no detail was given: the page says the verdict only, and leads
        on to that of the usual case
    what_if: what other answers lead to; None where that is not worked out
    """

    answers: Answers
    status: Status
    next_question: Question | None = None
    advice: Advice | None = None
    outcome: Outcome | None = None
    taken: tuple[Taken, ...] = ()
    brief: bool = False
    what_if: WhatIf | None = None

    @property
    def holds(self) -> Holds | None:
        """Of how many of the open cases this is the setup; None where that was not worked out."""
        return self.what_if.holds if self.what_if else None

    @property
    def changes(self) -> tuple[Change, ...] | None:
        """What each other choice would lead to; None where it is not worked out."""
        return self.what_if.changes if self.what_if else None

    @property
    def alternatives(self) -> tuple[Alternative, ...] | None:
        """The recommended setup and those to choose instead; None as for the changes."""
        return self.what_if.alternatives if self.what_if else None

    @property
    def give_up(self) -> GiveUp | None:
        """The one thing whose absence saves most; None as for the changes, or where none does."""
        return self.what_if.give_up if self.what_if else None


def answer_of(conversation: Conversation, answers: Answers, *, changes: bool = True) -> Answer:
    """The next question, or the recommendation with its reasons; "not sure" takes the usual case.

    changes: also tell what other choices lead to, and what else one may choose
    """
    question = conversation.next_question(answers)
    if question is not None:
        return Answer(answers, "ask", next_question=question)
    outcome = conversation.usual_outcome(answers)
    taken = taken_for(conversation.guide, answers)
    detailed = bool(answers.faults) or conversation.on_path(answers).values != answers.values
    fits = outcome.best is not None
    return Answer(
        answers,
        "recommended" if fits else "none-fits",
        advice=advise(conversation, outcome) if fits else None,
        outcome=outcome,
        taken=taken,
        brief=bool(taken) and not detailed,
        what_if=WhatIf(conversation, answers, outcome) if changes else None,
    )


def _size(conversation: Conversation, now: Outcome, change: Change) -> tuple[int, int]:
    """How large a change of the short path is: a later question and a nearer choice are smaller."""
    question = change.question
    place = conversation.path_questions.index(question)
    choices = [choice.id for choice in question.choices]
    taken = now.answers.choice(question.id)
    return -place, abs(choices.index(change.choice.id) - choices.index(taken))


def advise(conversation: Conversation, outcome: Outcome) -> Advice:
    """Everything that explains an outcome in which something fits."""
    best = outcome.best
    if best is None or best.design is None:
        raise ValueError("nothing fits, so there is nothing to explain")
    guide, needs = conversation.guide, outcome.needs
    return Advice(
        outcome=outcome,
        best=best,
        runner_up=_runner_up(outcome),
        cautions=cautions_of(guide, needs, best.design),
        charging=plan_charging(guide, needs, best.design),
    )


def _runner_up(outcome: Outcome) -> Considered | None:
    """The next best that passes and is another setup, not the same with more added."""
    best = outcome.considered[0].candidate
    for considered in outcome.considered[1:]:
        other = considered.candidate
        same = (other.layout, other.inverter.id) == (best.layout, best.inverter.id)
        if considered.design and not same:
            return considered
    return None
