"""The whole answer: what is recommended, or what is open, and everything that explains it."""

from dataclasses import dataclass
from typing import Literal

from engine.advice.judge.cautions import cautions_of
from engine.advice.judge.recommend import key_of
from engine.advice.plan.charging import plan_charging
from engine.advice.plan.existing import reuse_of
from engine.conversation import Branch, Conversation
from engine.model.answers import UNSURE, Answers
from engine.model.guide import Choice, Question
from engine.model.result import (
    CautionNote,
    Change,
    Considered,
    Outcome,
)
from engine.model.sources import ChargingPlan, Reuse
from engine.needs import applies, implied

Status = Literal["ask", "recommended", "none-fits", "undecided"]


@dataclass(frozen=True, slots=True)
class Advice:
    """The recommendation for one set of answers in which nothing is open."""

    outcome: Outcome
    best: Considered
    runner_up: Considered | None
    cautions: tuple[CautionNote, ...]
    charging: ChargingPlan
    reuse: Reuse | None


@dataclass(frozen=True, slots=True)
class Possibility:
    """One choice of a question that is open, and the distinct outcomes it can still have."""

    choice: Choice
    answers: Answers
    outcomes: tuple[Outcome, ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """What `respond` shows.

    settled: questions answered "not sure" whose choice makes no difference
    hinges_on: where undecided, the question that decides, with what each choice leads to
    changes: what each other choice would lead to; None where it was not worked out, and none
        where undecided: there the possibilities say it
    """

    answers: Answers
    status: Status
    next_question: Question | None = None
    advice: Advice | None = None
    outcome: Outcome | None = None
    settled: tuple[Question, ...] = ()
    hinges_on: Question | None = None
    possibilities: tuple[Possibility, ...] = ()
    changes: tuple[Change, ...] | None = None


def answer_of(conversation: Conversation, answers: Answers, *, changes: bool = True) -> Answer:
    """The next question, or the recommendation with its reasons.

    changes: also work out what each other choice would lead to, which costs as many answers
    """
    question = conversation.next_question(answers)
    if question is not None:
        return Answer(answers, "ask", next_question=question)
    branches = tuple(conversation.branches(answers))
    unsure = conversation.opens(answers)
    outcome = branches[0].outcome
    if len({branch.signature for branch in branches}) > 1:
        hinge, possibilities = _hinge(conversation, answers, unsure)
        return Answer(
            answers, "undecided", hinges_on=hinge, possibilities=possibilities, changes=()
        )
    alternatives = changes_of(conversation, answers) if changes else None
    if outcome.best is None:
        return Answer(
            answers,
            "none-fits",
            outcome=outcome,
            settled=_unsure(answers, unsure),
            changes=alternatives,
        )
    advice = advise(conversation, outcome)
    return Answer(
        answers,
        "recommended",
        advice=advice,
        outcome=outcome,
        settled=_unsure(answers, unsure),
        changes=alternatives,
    )


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
        reuse=reuse_of(guide, needs, best.design),
    )


def _runner_up(outcome: Outcome) -> Considered | None:
    """The next best that passes and is another set-up, not the same with more added."""
    best = outcome.considered[0].candidate
    for considered in outcome.considered[1:]:
        other = considered.candidate
        same = (other.layout, other.inverter.id) == (best.layout, best.inverter.id)
        if considered.design and not same:
            return considered
    return None


def _unsure(answers: Answers, opens: tuple[Question, ...]) -> tuple[Question, ...]:
    return tuple(question for question in opens if answers.choice(question.id) == UNSURE)


def _hinge(
    conversation: Conversation, answers: Answers, unsure: tuple[Question, ...]
) -> tuple[Question, tuple[Possibility, ...]]:
    """The unsure question that leaves the fewest outcomes open once it is answered."""
    best: tuple[int, Question, tuple[Possibility, ...]] | None = None
    for question in unsure:
        possibilities = _possibilities(conversation, answers, question)
        if len({_keys(each) for each in possibilities}) < 2:
            continue
        widest = max(len(possibility.outcomes) for possibility in possibilities)
        if best is None or widest < best[0]:
            best = (widest, question, possibilities)
    if best is None:  # they differ only together: the first one is as good as any
        return unsure[0], _possibilities(conversation, answers, unsure[0])
    return best[1], best[2]


def _keys(possibility: Possibility) -> tuple[tuple[str, ...], ...]:
    return tuple(key_of(outcome.best) for outcome in possibility.outcomes)


def _possibilities(
    conversation: Conversation, answers: Answers, question: Question
) -> tuple[Possibility, ...]:
    return tuple(
        Possibility(choice, chosen, _distinct(tuple(conversation.branches(chosen))))
        for choice in question.choices
        for chosen in (Answers({**answers.values, question.id: choice.id}),)
    )


def _distinct(branches: tuple[Branch, ...]) -> tuple[Outcome, ...]:
    found: dict[tuple[str, ...], Outcome] = {}
    for branch in branches:
        found.setdefault(key_of(branch.outcome.best), branch.outcome)
    return tuple(found.values())


def changes_of(conversation: Conversation, answers: Answers) -> tuple[Change, ...]:
    """Each other choice of each question with choices, where it leads to something else."""
    now = {branch.signature[0] for branch in conversation.branches(answers)}
    values = implied(conversation.guide, answers)
    found = []
    for question in conversation.guide.questions:
        if question.kind != "choice" or not applies(question, values):
            continue
        if question.where == "path" and question.id not in answers.values:
            continue
        for choice in question.choices:
            if answers.choice(question.id) == choice.id:
                continue
            other = Answers({**answers.values, question.id: choice.id})
            outcomes = _distinct(tuple(conversation.branches(other)))
            if {key_of(outcome.best) for outcome in outcomes} != now:
                found.append(Change(question, choice, other, outcomes))
    return tuple(found)
