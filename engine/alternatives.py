"""Never one answer alone: other setups for the same needs, and the one thing to give up."""

from collections.abc import Sequence
from dataclasses import replace

from engine.advice.judge.aims import without_aim
from engine.advice.judge.ranking import score_of
from engine.advice.judge.recommend import key_of
from engine.conversation import Conversation
from engine.model.alternatives import Alternative, GiveUp
from engine.model.answers import Answers, LoadList
from engine.model.buses import LEGS
from engine.model.guide import Aim
from engine.model.needs import Load
from engine.model.result import Considered, Outcome
from engine.typed.answers import read_answer
from engine.usual import usual_case

FEWER = {"v240": {"yes": "no"}, "heavy": {"2": "1", "3": "2"}}
"""Choices by which less must run at once than by others."""


def alternatives_of(
    conversation: Conversation, answers: Answers, outcome: Outcome
) -> tuple[Alternative, ...]:
    """The recommended setup, the shop's own choice and that of each aim, where they differ.

    The cheapest first. An aim is left out where what it gains on the shop's own choice is less than
    what the aim itself says is worth showing.
    """
    if outcome.best is None:
        return ()
    plain = without_aim(answers)
    own = outcome.best
    if plain.values != answers.values:
        own = conversation.usual_best(plain) or outcome.best
    found = [Alternative(outcome.needs.aim, answers, outcome.best, chosen=True)]
    if plain.values != answers.values:
        found.append(Alternative("", plain, own, chosen=False))
    for aim in conversation.guide.priorities.aims:
        other = Answers({**answers.values, "aim": aim.id}, answers.faults, note=answers.note)
        best = conversation.usual_best(other)
        if best is not None and (
            key_of(best) == key_of(own) or _gains(conversation, outcome, aim, (own, best))
        ):
            found.append(Alternative(aim.id, other, best, chosen=False))
    different: dict[tuple[str, ...], Alternative] = {}
    for each in found:
        key = key_of(each.best)
        first = different.setdefault(key, each)
        if each.aim not in (first.aim, *first.also):
            different[key] = replace(first, also=(*first.also, each.aim))
    return tuple(sorted(different.values(), key=lambda each: price_of(each.best)))


def price_of(best: Considered) -> float:
    """What the parts of a setup cost."""
    if best.design is None:
        raise ValueError("what is recommended has a design")
    return best.design.parts_price


def _gains(
    conversation: Conversation, outcome: Outcome, aim: Aim, pair: tuple[Considered, Considered]
) -> bool:
    """Whether the second is as much better than the first as the aim asks."""
    needs = replace(outcome.needs, aim=aim.id)
    first, second = (
        score_of(conversation.guide, needs, each.design)[0] for each in pair if each.design
    )
    return not aim.list or first - second >= aim.shown_from * first > 0


def give_up_of(conversation: Conversation, answers: Answers, outcome: Outcome) -> GiveUp | None:
    """The single load or choice whose absence saves most; None where none saves enough."""
    if outcome.best is None:
        return None
    return _Search(conversation, answers, price_of(outcome.best)).most(outcome.needs.loads)


class _Search:
    """One thing less after the other is tried, by answers that stand for it.

    What saves no more than what was found before is left, and so is any group of such.
    """

    def __init__(self, conversation: Conversation, answers: Answers, price: float) -> None:
        self._conversation = conversation
        self._answers = answers
        self._price = price
        self._least = conversation.guide.planning.give_up_from * price
        self._found: GiveUp | None = None

    def most(self, loads: Sequence[Load]) -> GiveUp | None:
        """What saves most; of what saves as much the first."""
        self._choices()
        self._loads(loads)
        return self._found

    def _without(self, question_id: str, name: str, other: Answers) -> GiveUp | None:
        """The same with one thing less, where it saves enough and more than what was found."""
        best = self._conversation.usual_best(other)
        if best is None:
            return None
        saves = self._price - price_of(best)
        if saves < self._least or (self._found and saves <= self._found.saves):
            return None
        return GiveUp(question_id, name, other, best, saves)

    def _choices(self) -> None:
        """Each choice by which less runs at once."""
        case = usual_case(self._conversation.guide, self._answers)
        for question_id, less in FEWER.items():
            choice = less.get(case.choice(question_id))
            if choice is not None:
                values = {**self._answers.values, question_id: choice}
                other = self._conversation.ended(Answers(values))
                self._found = self._without(question_id, "", other) or self._found

    def _loads(self, loads: Sequence[Load]) -> None:
        """Each load of the list left out, or of what such a rig usually has."""
        listed = self._answers.values.get("loads")
        if isinstance(listed, LoadList):
            names = [item.name for item in listed.items]
            self._fewer(listed.text.split(","), names, range(len(names)))
            return
        usual = [load for load in loads if load.bus is not LEGS]
        texts = [f"{load.id}*{load.count}" if load.count > 1 else load.id for load in usual]
        light = [at for at, load in enumerate(usual) if not load.heavy]
        self._fewer(texts, [load.name for load in usual], light)

    def _fewer(self, texts: Sequence[str], names: Sequence[str], group: Sequence[int]) -> None:
        """Of a group without which it is enough cheaper, each load of which that is true alone.

        To leave out more never costs more, so a group that saves too little has none such.
        """
        left = [text for at, text in enumerate(texts) if at not in group]
        if not group or (not left and len(group) == 1):
            return
        found = None
        if left:
            question = self._conversation.guide.question("loads")
            value = read_answer(self._conversation.guide, question, ",".join(left))
            other = Answers({**self._answers.values, "loads": value or ""})
            found = self._without("loads", names[group[0]], other)
        if len(group) == 1:
            self._found = found or self._found
        elif found or not left:
            middle = len(group) // 2
            self._fewer(texts, names, group[:middle])
            self._fewer(texts, names, group[middle:])
