"""Two whole answers beside each other: what differs first, what is the same second."""

from collections.abc import Iterator
from dataclasses import dataclass

from engine.answer import Answer, answer_of
from engine.conversation import Conversation
from engine.model.answers import Answers
from engine.model.guide import Guide, Question
from engine.pages import words
from engine.pages.answer.advice_view import AdviceView
from engine.pages.answer.run_sentence import runs_sentence

NOTHING = "–"


@dataclass(frozen=True, slots=True)
class Pair:
    """One property of both answers."""

    label: str
    texts: tuple[str, str]

    @property
    def same(self) -> bool:
        """Whether both say the same."""
        return self.texts[0] == self.texts[1]


@dataclass(frozen=True, slots=True)
class SideBySide:
    """The answers' properties, those that differ apart from those that do not."""

    links: tuple[str, str]
    differs: tuple[Pair, ...]
    same: tuple[Pair, ...]


def side_by_side(conversation: Conversation, first: Answers, other: Answers) -> SideBySide:
    """Both answers, property by property."""
    pairs = tuple(_pairs(conversation, first, other))
    return SideBySide(
        (conversation.link(first), conversation.link(other)),
        tuple(pair for pair in pairs if not pair.same),
        tuple(pair for pair in pairs if pair.same),
    )


def _pairs(conversation: Conversation, first: Answers, other: Answers) -> Iterator[Pair]:
    guide = conversation.guide
    for question in guide.questions:
        if question.id in first.values or question.id in other.values:
            texts = (said(guide, first, question), said(guide, other, question))
            yield Pair(question.ask, texts)
    facts = [_facts(guide, answer_of(conversation, each, changes=False)) for each in (first, other)]
    for label in dict.fromkeys([*facts[0], *facts[1]]):
        yield Pair(label, (facts[0].get(label, NOTHING), facts[1].get(label, NOTHING)))


def said(guide: Guide, answers: Answers, question: Question) -> str:
    """What was answered, as a person reads it."""
    text = answers.text(question.id)
    if question.choices and text:
        if text in (choice.id for choice in question.choices):
            return question.choice(text).label
        return guide.wording.page["not-sure"]
    return text.replace(",", ", ") or NOTHING


def _facts(guide: Guide, answer: Answer) -> dict[str, str]:
    page = guide.wording.page
    facts = {page["recommended"]: words.standing(guide, answer)}
    if answer.advice is None:
        return facts
    found = AdviceView(guide, answer.advice)
    facts |= {row.label: row.text for row in found.facts()}
    facts[page["weight"]] = found.parts.mass
    facts[page["can-run"]] = runs_sentence(page, found.needs, found.runs)
    cautions = [note.caution.title for note in answer.advice.cautions]
    facts[page["cautions"]] = "; ".join(cautions) or NOTHING
    return facts
