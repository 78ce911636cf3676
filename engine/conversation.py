"""Answers -> the next question or the answer; a question is asked only where it can matter."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from engine.advice.cautions import cautions_of
from engine.advice.recommend import key_of, outcome_of
from engine.model.answers import UNSURE, Answers, Value
from engine.model.guide import Guide, Question
from engine.model.needs import Needs
from engine.model.result import Outcome
from engine.needs import applies, implied, needs_of

Signature = tuple[tuple[str, ...], ...]


@dataclass(frozen=True, slots=True)
class Branch:
    """One way in which the open answers could be, and what is then recommended."""

    answers: Answers
    outcome: Outcome
    signature: Signature


class Conversation:
    """One guide, with the outcomes already worked out in this conversation kept at hand."""

    def __init__(self, guide: Guide) -> None:
        self.guide = guide
        self._outcomes: dict[Needs, Outcome] = {}

    @cached_property
    def path_questions(self) -> tuple[Question, ...]:
        """The questions that have static pages, in their order."""
        return tuple(each for each in self.guide.questions if each.where == "path")

    def outcome(self, answers: Answers) -> Outcome:
        """The outcome for answers in which nothing is open."""
        needs = needs_of(self.guide, answers)
        found = self._outcomes.get(needs)
        if found is None:
            found = self._outcomes[needs] = outcome_of(self.guide, answers, needs)
        return found

    def branches(self, answers: Answers) -> Iterator[Branch]:
        """Every way in which the open and unsure questions could be answered."""
        for values in self._completions(implied(self.guide, answers)):
            concrete = Answers(values)
            outcome = self.outcome(concrete)
            yield Branch(concrete, outcome, self.signature(outcome))

    def signature(self, outcome: Outcome) -> Signature:
        """What makes two outcomes the same for a visitor: layout, products, cautions."""
        best = outcome.best
        if best is None or best.design is None:
            nearest = outcome.considered[0].failed
            return ((), tuple(check.id for check in nearest))
        notes = cautions_of(self.guide, outcome.needs, best.design)
        return (
            key_of(best),
            tuple(sorted({line.product or line.name for line in best.design.parts})),
            tuple(note.caution.id for note in notes),
        )

    def next_question(self, answers: Answers) -> Question | None:
        """The first open question of the short path that can still change the outcome."""
        values = implied(self.guide, answers)
        for question in self.path_questions:
            if question.id in values or not applies(question, values):
                continue
            if self.matters(values, question):
                return question
        return None

    def matters(self, values: dict[str, Value], question: Question) -> bool:
        """Whether two choices lead to different outcomes for some way to answer the rest."""
        seen: list[tuple[dict[str, Value], Signature]] = []
        for choice in question.choices:
            chosen = implied(self.guide, Answers({**values, question.id: choice.id}))
            found = []
            for completed in self._completions(chosen):
                signature = self.signature(self.outcome(Answers(completed)))
                rest = {name: value for name, value in completed.items() if name != question.id}
                if any(
                    signature != other and _compatible(rest, other_rest)
                    for other_rest, other in seen
                ):
                    return True
                found.append((rest, signature))
            seen += found
        return False

    def _completions(self, values: dict[str, Value], start: int = 0) -> Iterator[dict[str, Value]]:
        """Every way to give the open and unsure questions of the short path a choice."""
        for index in range(start, len(self.path_questions)):
            question = self.path_questions[index]
            if not applies(question, values):
                values = {name: value for name, value in values.items() if name != question.id}
                continue
            if values.get(question.id, UNSURE) == UNSURE:
                for choice in question.choices:
                    yield from self._completions({**values, question.id: choice.id}, index + 1)
                return
        yield values


def _compatible(rest: dict[str, Value], other: dict[str, Value]) -> bool:
    """Whether the two agree in all questions that both answer."""
    return all(other.get(name, value) == value for name, value in rest.items())
