"""One thing that a typed text may mean, how well it says it, and what may be asked at all."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import IntEnum

from engine.conversation import Conversation
from engine.model.answers import UNSURE, Answers, Value
from engine.model.guide import Choice, Question
from engine.needs import applies, implied
from engine.tree import options

MOST_OFFERED = 9


@dataclass(frozen=True, slots=True)
class Suggestion:
    """One thing that the text may mean.

    answers: those given so far and this one; None where it only says what could be typed
    fill: what to put into the field where more must be typed
    problem: why the text cannot be used, and what could be
    sure: whether all that was typed says it and nothing else as well; else somebody must choose it
    """

    label: str
    about: str
    answers: Answers | None = None
    fill: str = ""
    problem: str = ""
    sure: bool = True


class How(IntEnum):
    """How a text says an answer; what comes first is meant rather than what comes after."""

    ANSWERS = 1
    """All its words name a choice of the question that is open."""
    LOOSELY = 2
    """The same, by several of the names of the choice, or beside those of the question."""
    VALUE = 3
    """A value, by the name of its question or by its unit."""
    APPLIANCE = 4
    """An appliance goes by this name."""
    OTHER = 5
    """All its words name a choice of another question."""
    BY_HINT = 6
    """Its words stand in what is said about a choice of the question that is open."""
    TO_FILL = 7
    """It begins the name of a question that takes a value."""
    UNREADABLE = 8
    """It names a question, and its value cannot be read."""
    BEGINS_OTHER = 9
    """Its words begin those of a choice of another question."""
    BEGINS_APPLIANCE = 10
    """Its words begin those of an appliance."""


Rank = tuple[int, ...]
Ranked = Iterator[tuple[Rank, Suggestion]]


def choices_of(
    conversation: Conversation, given: Answers, question: Question
) -> Iterator[Suggestion]:
    """The choices of a question, "not sure" among them where it may be answered so."""
    for _, suggestion in offered_by(conversation, given, question):
        yield suggestion


def offered_by(
    conversation: Conversation, given: Answers, question: Question
) -> Iterator[tuple[Choice, Suggestion]]:
    unsure = Choice(id=UNSURE, label=conversation.guide.wording.page["not-sure"])
    known = {choice.id: choice for choice in question.choices}
    for choice_id in options(question) if question.where != "detail" else known:
        choice = known.get(choice_id, unsure)
        yield (
            choice,
            Suggestion(choice.label, question.ask, with_answer(given, question, choice_id)),
        )


def asked(conversation: Conversation, given: Answers) -> Iterator[Question]:
    """The questions that have a meaning beside these answers, the next one first."""
    values = implied(conversation.guide, given)
    first = conversation.next_question(given)
    if first is not None:
        yield first
    for question in conversation.guide.questions:
        if question is not first and applies(question, values):
            yield question


def with_answer(given: Answers, question: Question, value: Value) -> Answers:
    return Answers({**given.values, question.id: value}, given.faults)
