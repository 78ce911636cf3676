"""Where nothing fits: the smallest change of one detail that makes it fit, found by trial."""

import math
import re
from collections.abc import Callable, Iterator, Sequence
from itertools import takewhile

from engine.conversation import Conversation
from engine.model.answers import Answers, Bay, LoadList, Quantity, Value
from engine.model.guide import Choice, Guide, Question
from engine.model.result import Change
from engine.needs import applies
from engine.typed.answers import read_answer
from engine.units import read, show
from engine.usual import usual_case

STEPS, MOST_ROUNDS, CLOSE = 24, 4, 0.05
"""Into how many steps the way from a detail to its easiest value is divided, how often the step in
which it begins to fit is divided again, and at which share of the value that is near enough."""
WIDER_BY = {"in": tuple(range(1, 25)), "cm": tuple(range(2, 62, 2))}
SHOWN_IN = {"quantity": "", "money": "money"}
"""Kinds of question whose answers are shown with a unit, and that unit where it is always one."""
GAPS_IN = (3.0, 2.0, 1.5, 1.0, 0.5)
"""Free air that a fan can make do with, where less than what the maker asks for is left."""


def mends_of(conversation: Conversation, answers: Answers) -> tuple[Change, ...]:
    """For each detail without fixed choices the smallest change of it by which something fits."""
    trial = _Trial(conversation, answers)
    return tuple(
        change
        for question in conversation.guide.questions
        if question.where != "path" and applies(question, trial.values)
        for change in SEARCHES.get(question.kind, _nothing)(trial, question)
    )


class _Trial:
    """Answers by which nothing fits, and what comes out with one detail changed."""

    def __init__(self, conversation: Conversation, answers: Answers) -> None:
        self.conversation = conversation
        self.answers = answers
        self.values = usual_case(conversation.guide, answers).values

    @property
    def guide(self) -> Guide:
        """The guide of the conversation."""
        return self.conversation.guide

    def change(self, question: Question, text: str, without: str = "") -> Change | None:
        """What comes out with this text as the answer; None where nothing fits by it either."""
        value = read_answer(self.guide, question, text)
        values = {**self.answers.values}
        values.pop(question.id, None)
        other = Answers(values if value is None else {**values, question.id: value})
        best = self.conversation.usual_best(other)
        if best is None:
            return None
        link = other.text(question.id)
        choice = Choice(id=link, label=_shown(question, value, link))
        return Change(question, choice, other, best, without)

    def least(self, question: Question, texts: Sequence[str]) -> int | None:
        """Place of the first by which something fits, of texts each easier than the one before.

        None where nothing fits by the last of them either.
        """
        if not texts or self.change(question, texts[-1]) is None:
            return None
        fails, fits = -1, len(texts) - 1
        while fits - fails > 1:
            middle = (fails + fits) // 2
            if self.change(question, texts[middle]) is None:
                fails = middle
            else:
                fits = middle
        return fits

    def first(self, question: Question, texts: Sequence[str]) -> Iterator[Change]:
        """What the first of them leads to."""
        place = self.least(question, texts)
        change = None if place is None else self.change(question, texts[place])
        if change is not None:
            yield change


def _shown(question: Question, value: Value | None, text: str) -> str:
    """A value as a person reads it: "195 lb (88.5 kg)", "24 in x 18 in x 10 in"."""
    if isinstance(value, Quantity) and question.kind in SHOWN_IN:
        return show(value.value, question.unit or SHOWN_IN[question.kind])
    return re.sub(r"(?<=[a-z])x(?=[0-9])", " x ", re.sub(r"(?<=[0-9])(?=[a-zA-Z°])", " ", text))


def _nothing(_trial: _Trial, _question: Question) -> Iterator[Change]:
    return iter(())


def _quantity(trial: _Trial, question: Question) -> Iterator[Change]:
    """Towards what is assumed without an answer, or else towards either end of what is accepted."""
    given = trial.values.get(question.id)
    if isinstance(given, Quantity):
        start = _in_bare(question, given.value)
        for end in (question.default,) if question.default else (question.low, question.high):
            yield from _closer(trial, question, start, _bare(question, end))
    elif question.id == "gap" and "bay" in trial.values:
        yield from trial.first(question, [f"{gap:g} in" for gap in GAPS_IN])


def _closer(trial: _Trial, question: Question, start: float, end: float) -> Iterator[Change]:
    """The round number nearest to the start by which something fits: found coarsely, then finer."""
    numbers: list[float] = []
    for _ in range(1 if question.kind == "count" else MOST_ROUNDS):
        numbers = _towards(start, end)
        place = trial.least(question, [_typed(question, each) for each in numbers])
        if place is None:
            return
        start, end = numbers[place - 1] if place else start, numbers[place]
        if abs(end - start) <= CLOSE * abs(end):
            break
    yield from trial.first(question, [_typed(question, end)])


def _typed(question: Question, number: float) -> str:
    return f"{number:.6g} {question.bare}"


def _bare(question: Question, text: str) -> float:
    """A text of the content as a number of the question's own unit."""
    return _in_bare(question, read(text, question.unit, question.bare))


def _in_bare(question: Question, value: float) -> float:
    """A value in the engine's unit as a number of the unit that people mean without one."""
    nought, one = (read(f"{each} {question.bare}", question.unit) for each in (0, 1))
    return (value - nought) / (one - nought)


def _towards(start: float, end: float) -> list[float]:
    """Round numbers from one to the other, the end included and the start not."""
    if math.isclose(start, end):
        return []
    step = _round_step(abs(end - start) / STEPS)
    sign = -1 if end < start else 1
    first = math.floor(start / step) if end < start else math.ceil(start / step)
    numbers = (round((first + sign * at) * step, 9) for at in range(STEPS + 2))
    between = takewhile(lambda number: (end - number) * sign > 0, numbers)
    return [*(number for number in between if (number - start) * sign > 0), end]


def _round_step(size: float) -> float:
    """The next of 1, 2 and 5 times a power of ten that is not smaller."""
    power = 10.0 ** math.floor(math.log10(size))
    return next(each * power for each in (1, 2, 5, 10) if each * power >= size * (1 - 1e-9))


def _bay(trial: _Trial, question: Question) -> Iterator[Change]:
    """Each side of the space a little longer, the others as they are; else all of them alike."""
    bay = trial.values.get(question.id)
    if not isinstance(bay, Bay):
        return
    one_by_one = [change for at in range(3) for change in trial.first(question, _wider(bay, at))]
    yield from one_by_one or trial.first(question, _wider(bay, 0, 1, 2))


def _wider(bay: Bay, *grown: int) -> list[str]:
    """The space with these of its sides longer and longer, in whole units of what was given."""
    typed = bay.text.split("x")
    unit = "cm" if re.search("[cm]m", bay.text) else "in"
    whole = [
        math.floor(side_m / read(f"1 {unit}", "m") + 1e-9)
        for side_m in (bay.height_m, bay.width_m, bay.depth_m)
    ]
    return [
        " x ".join(
            f"{whole[at] + more} {unit}" if at in grown else side for at, side in enumerate(typed)
        )
        for more in WIDER_BY[unit]
    ]


def _loads(trial: _Trial, question: Question) -> Iterator[Change]:
    """The list without one of its loads."""
    listed = trial.values.get(question.id)
    if not isinstance(listed, LoadList) or len(listed.items) < 2:
        return
    texts = listed.text.split(",")
    for at, item in enumerate(listed.items):
        change = trial.change(question, ",".join([*texts[:at], *texts[at + 1 :]]), item.name)
        if change is not None:
            yield change


def _money(trial: _Trial, question: Question) -> Iterator[Change]:
    """The least sum for which there is a setup, rounded up to a whole one."""
    outcome = trial.conversation.usual_outcome(trial.answers)
    only = (each.failed[0] for each in outcome.considered if len(each.failed) == 1)
    prices = [check.value for check in only if check.id == question.id]
    if prices:
        yield from trial.first(question, [str(math.ceil(min(prices)))])


SEARCHES: dict[str, Callable[[_Trial, Question], Iterator[Change]]] = {
    "quantity": _quantity,
    "count": _quantity,
    "bay": _bay,
    "loads": _loads,
    "money": _money,
}
