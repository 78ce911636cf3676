"""Answers -> the next question or the answer; a question is asked only where it can matter."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import combinations, starmap

from engine.advice.judge.aims import needs_of_aim, without_aim
from engine.advice.judge.best import best_of
from engine.advice.judge.cautions import caution_ids
from engine.advice.judge.recommend import key_of, needs_of_their_kind, outcome_of
from engine.links import fragment_of, path_of
from engine.model.answers import UNSURE, Answers, Value
from engine.model.guide import Guide, Question
from engine.model.needs import Needs
from engine.model.result import Considered, Design, Outcome
from engine.needs import applies, implied, may_apply, needs_of
from engine.usual import usual_case
from engine.ways import Comparison, Signature, Ways

# A tree of the short path has a few hundred outcomes; details make more, which need not be kept.
MOST_OUTCOMES_KEPT = 4000

Key = tuple[tuple[str, str], ...]


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
        self.keep = MOST_OUTCOMES_KEPT
        self._outcomes: dict[Needs, Outcome] = {}
        self._needed: tuple[Answers, Needs] | None = None
        self._bests: dict[Needs, tuple[Considered | None]] = {}
        self._next: dict[Key, Question | None] = {}
        self._walks: dict[Key, Answers] = {}
        self._signatures: dict[Key, Signature] = {}
        self._ways: dict[Key, Ways] = {}
        self._same_ways: dict[object, Ways] = {}
        self.compared = Comparison()

    @cached_property
    def path_questions(self) -> tuple[Question, ...]:
        """The questions that have static pages, in their order."""
        return tuple(each for each in self.guide.questions if each.where == "path")

    def outcome(self, answers: Answers) -> Outcome:
        """The outcome for answers in which nothing is open."""
        needs = self.needs(answers)
        found = self._outcomes.get(needs)
        if found is None:
            if len(self._outcomes) >= self.keep:
                self._outcomes.clear()
            found = self._outcomes[needs] = outcome_of(self.guide, answers, needs)
        if found.answers.values != answers.values:  # other answers may need the same
            return replace(found, answers=answers)
        return found

    def needs(self, answers: Answers) -> Needs:
        """What these answers ask for; of an aim also how long the bank must last for it."""
        if self._needed is not None and self._needed[0] is answers:
            return self._needed[1]
        needs = needs_of(self.guide, answers)
        if needs.aim:
            own = self.outcome(without_aim(answers)).best
            needs = needs_of_aim(self.guide, needs, own)
        self._needed = answers, needs
        return needs

    def best(self, answers: Answers) -> Considered | None:
        """What is recommended, without working out what is not; the rest as `outcome`."""
        needs = self.needs(answers)
        known = self._outcomes.get(needs)
        if known is not None:
            return known.best
        kept = self._bests.get(needs)
        if kept is None:
            own = self.outcome(without_aim(answers)) if needs.aim else None
            if len(self._bests) >= self.keep:
                self._bests.clear()
            kept = self._bests[needs] = (best_of(self.guide, needs, own),)
        return kept[0]

    def branches(self, answers: Answers) -> Iterator[Branch]:
        """Every way in which the open and unsure questions could be answered."""
        for concrete in self.completions(answers):
            outcome = self.outcome(concrete)
            yield Branch(concrete, outcome, self.signature(outcome))

    def completions(self, answers: Answers) -> Iterator[Answers]:
        """The same ways as answers only, without working out what they lead to."""
        return map(Answers, self._completions(implied(self.guide, answers)))

    def signature(self, outcome: Outcome) -> Signature:
        """What makes two outcomes the same for a visitor: layout, products, cautions."""
        best = outcome.best
        if best is None or best.design is None:
            nearest = outcome.considered[0].failed if outcome.considered else ()
            return ((), tuple(check.id for check in nearest))
        return self._signature(outcome.needs, best, best.design)

    def signature_of(self, answers: Answers) -> Signature:
        """That of what comes out, without working out what is not recommended."""
        needs = self.needs(answers)
        best = self.best(answers)
        if best is None or best.design is None:
            return self.signature(self.outcome(answers))
        return self._signature(needs_of_their_kind(needs, best), best, best.design)

    def _signature(self, needs: Needs, best: Considered, design: Design) -> Signature:
        return (
            key_of(best),
            tuple(sorted({line.product or line.name for line in design.parts})),
            caution_ids(self.guide, needs, design),
        )

    def next_question(self, answers: Answers) -> Question | None:
        """The first open question of the short path that can still change the outcome.

        Details count as not given here: the short path is the same for everybody.
        """
        on_path = self.on_path(answers)
        key = on_path.key()
        if key not in self._next:
            values = implied(self.guide, on_path)
            self._next[key] = next(
                (
                    question
                    for question in self.path_questions
                    if question.id not in values
                    and applies(question, values)
                    and self.matters(values, question)
                ),
                None,
            )
        return self._next[key]

    def on_path(self, answers: Answers) -> Answers:
        """Only the answers of the short path."""
        return Answers(
            {
                question.id: answers.values[question.id]
                for question in self.path_questions
                if question.id in answers.values
            }
        )

    def walk(self, answers: Answers) -> Answers:
        """The answers that a visitor who has these to give is asked for, in the order asked.

        A plug becomes its rig, an answer that is never asked for here is left out, and the walk
        ends at the first question without an answer: it is the static page of these answers.
        """
        on_path = self.on_path(answers)
        key = on_path.key()
        if key not in self._walks:
            given = {**on_path.values, **_chosen(implied(self.guide, on_path))}
            walked = Answers({})
            question = self.next_question(walked)
            while question is not None and question.id in given:
                walked = Answers({**walked.values, question.id: given[question.id]})
                question = self.next_question(walked)
            self._walks[key] = walked
        return self._walks[key]

    def place(self, answers: Answers) -> tuple[str, str]:
        """Path of the static page of these answers, and the fragment that holds the rest."""
        walked = self.walk(answers)
        known = implied(self.guide, answers)
        rest = {
            question.id: answers.values[question.id]
            for question in self.guide.questions
            if question.id in answers.values
            and question.id not in walked.values
            and (question.where != "path" or may_apply(question, known))
        }
        asked = {question.id for question in self.path_questions}  # the page itself asks for it
        unread = tuple(
            each for each in answers.faults if each.given_as not in {*answers.values, *asked}
        )
        return path_of(self.guide, walked), fragment_of(
            self.guide, Answers(rest, unread, note=answers.note)
        )

    def asked_again(self, answers: Answers, question: Question) -> Answers:
        """The same without the answer to a question of the short path, and what stands for it.

        What was answered after it stays, for whatever is still asked.
        """
        stands_for = {
            other.id
            for other in self.path_questions
            if any(question.id in choice.means for choice in other.choices)
        }
        gone = {question.id, *stands_for}
        return Answers({name: each for name, each in answers.values.items() if name not in gone})

    def link(self, answers: Answers) -> str:
        """Path and fragment together, relative to the guide's folder."""
        path, fragment = self.place(answers)
        return path + (f"#{fragment}" if fragment else "")

    def usual_outcome(self, answers: Answers) -> Outcome:
        """The outcome with the usual case of whatever the short path has no definite answer to."""
        return self.outcome(usual_case(self.guide, answers))

    def usual_best(self, answers: Answers) -> Considered | None:
        """What is recommended then, see `best`."""
        return self.best(usual_case(self.guide, answers))

    def setup(self, concrete: Answers) -> tuple[str, ...]:
        """What is recommended where nothing is open, see `key_of`; of the short path as known."""
        if any(question.id in concrete.values for question in self._beside_path):
            return key_of(self.best(concrete))
        return self.ways(concrete.values).signature[0]

    @cached_property
    def _beside_path(self) -> tuple[Question, ...]:
        return tuple(each for each in self.guide.questions if each.where != "path")

    def ended(self, answers: Answers) -> Answers:
        """The same with "not sure" for all that would still be asked: an end of the tree."""
        question = self.next_question(answers)
        while question is not None:
            answers = Answers({**answers.values, question.id: UNSURE})
            question = self.next_question(answers)
        return answers

    def matters(self, values: dict[str, Value], question: Question) -> bool:
        """Whether two choices lead to different outcomes for some way to answer the rest."""
        ways = self._ways_of(values, question)
        return any(starmap(self.compared.differ, combinations(ways, 2)))

    def can_change(self, answers: Answers, question: Question) -> tuple[str, ...]:
        """What the answer to the question can change beside these; see `engine.ways.EFFECTS`."""
        values = implied(self.guide, self.on_path(answers))
        return self.compared.effects(self._ways_of(values, question))

    def _ways_of(self, values: dict[str, Value], question: Question) -> list[Ways]:
        """What each choice of the question leads to beside these answers."""
        return [
            self.ways(implied(self.guide, Answers({**values, question.id: choice.id})))
            for choice in question.choices
        ]

    def ways(self, values: dict[str, Value]) -> Ways:
        """What every way to answer the open and unsure questions of the short path leads to.

        Equal results are one object, so that each is worked out and compared once.
        """
        index, values = self._first_open(values)
        key = Answers(values).key()
        found = self._ways.get(key)
        if found is None:
            if index == len(self.path_questions):
                made = Ways(index, (), self._signatures.get(key) or self._signature_of(values))
            else:
                question = self.path_questions[index]
                branches = [
                    self.ways({**values, question.id: each.id}) for each in question.choices
                ]
                made = Ways(index, tuple(branches), ())
            content = (made.index, tuple(map(id, made.branches)), made.signature)
            found = self._ways[key] = self._same_ways.setdefault(content, made)
        return found

    def _signature_of(self, values: dict[str, Value]) -> Signature:
        return self.signature_of(Answers(values))

    def remember(self, signatures: dict[Key, Signature]) -> None:
        """Take over signatures that were worked out elsewhere, by the keys of their answers."""
        self._signatures.update(signatures)

    def known(self) -> dict[Key, Signature]:
        """What every way through the short path leads to, for `remember` of another run."""
        self.next_question(Answers({}))
        end = len(self.path_questions)
        return {key: ways.signature for key, ways in self._ways.items() if ways.index == end}

    def forget_outcomes(self) -> None:
        """Let go of what can be worked out again; what the short path asks stays known."""
        self._outcomes.clear()
        self._bests.clear()

    def _first_open(self, values: dict[str, Value]) -> tuple[int, dict[str, Value]]:
        """Place of the first question to be answered, and the values that mean something."""
        kept = {name: value for name, value in values.items() if value != UNSURE}
        for index, question in enumerate(self.path_questions):
            if not applies(question, kept):
                kept.pop(question.id, None)
            elif question.id not in kept:
                return index, kept
        return len(self.path_questions), kept

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


def _chosen(values: dict[str, Value]) -> dict[str, Value]:
    """The definite answers among these."""
    return {name: value for name, value in values.items() if value != UNSURE}
