"""Answers that would take the place of others: what each was and would be, and at what price."""

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from engine.answer import Answer, answer_of
from engine.completion import read_any
from engine.conversation import Conversation
from engine.links import fragment_of, read_link
from engine.load_rows import rows_of
from engine.model.answers import Answers
from engine.model.guide import Question
from engine.pages import words
from engine.pages.staff.side_by_side import said
from engine.typed.answers import load_lines, name_and_count
from engine.wording.tongue import money


@dataclass(frozen=True, slots=True)
class Ask:
    """One replacement that somebody must agree to.

    at: its place among those that wait
    lines: what was answered and would be, what that does to the price, what falls away
    link: the answers with it
    """

    at: int
    lines: tuple[str, ...]
    link: str


def pairs_asked(conversation: Conversation, before: Answers, after: Answers) -> str:
    """What would take the place of given answers, as a link's fragment; "" where nothing does."""
    if not any(_replaces(conversation, before, after)):
        return ""
    new = {
        name: value for name, value in after.values.items() if before.text(name) != after.text(name)
    }
    return fragment_of(conversation.guide, Answers(new))


def asks_of(conversation: Conversation, given: Answers, waiting: Iterable[str]) -> tuple[Ask, ...]:
    """Those of the waiting replacements that still change something."""
    found = []
    for at, pairs in enumerate(waiting):
        new = read_link(conversation.guide, "", pairs).values
        after = Answers({**given.values, **new}, given.faults)
        link = conversation.link(after)
        after = Answers(read_any(conversation, link).values, given.faults)
        lines = tuple(_replaces(conversation, given, after))
        if lines:
            rest = (
                *_beside(conversation, given, after),
                *_prices(conversation, given, after),
                *_left_out(conversation, given, after),
            )
            found.append(Ask(at, (*lines, *rest), link))
    return tuple(found)


def _replaces(conversation: Conversation, before: Answers, after: Answers) -> Iterator[str]:
    """One line for each given answer that would be another one."""
    guide = conversation.guide
    page = guide.wording.page
    for question in guide.questions:
        if question.kind == "loads":
            yield from _loads(conversation, question, before, after)
        elif question.id in before.values and question.id in after.values:
            was, now = said(guide, before, question), said(guide, after, question)
            if before.text(question.id) != after.text(question.id):
                yield page.say("staff-was-now", ask=question.ask, was=was, now=now)


def _beside(conversation: Conversation, before: Answers, after: Answers) -> Iterator[str]:
    """What was said in the same breath and takes the place of nothing."""
    guide = conversation.guide
    for question in guide.questions:
        new = question.id in after.values and question.id not in before.values
        if new and question.kind != "loads":
            now = said(guide, after, question)
            yield guide.wording.page.say("staff-new", ask=question.ask, now=now)


def _loads(
    conversation: Conversation, question: Question, before: Answers, after: Answers
) -> Iterator[str]:
    """What is on the list in another number than before, or no more; what is new replaces nothing.

    A list that was not given was assumed; it changes with other answers, and nobody gave it.
    """
    if before.text(question.id) == after.text(question.id) or question.id not in after.values:
        return
    had, has = (_counts(conversation, question, each) for each in (before, after))
    for name, count in had.items():
        if has[name] != count:
            yield conversation.guide.wording.page.say(
                "staff-was-now", ask=name, was=f"{count} ×", now=f"{has[name]} ×"
            )


def _counts(conversation: Conversation, question: Question, answers: Answers) -> Counter[str]:
    """How many of each load are on the list; while a question is open, of what was given."""
    found: Counter[str] = Counter()
    if conversation.next_question(answers) is None:
        for row in rows_of(conversation.guide, answers):
            if row.in_use:
                found[row.name] += int(row.count) if row.count.isdecimal() else 1
        return found
    for line in load_lines(answers.text(question.id)):
        name, count = name_and_count(line)
        found[name] += count
    return found


def _prices(conversation: Conversation, before: Answers, after: Answers) -> Iterator[str]:
    answers = [answer_of(conversation, each, changes=False) for each in (before, after)]
    was, now = (_price(conversation, each) for each in answers)
    if answers[0].advice or answers[1].advice:
        yield conversation.guide.wording.page.say("staff-price-was-now", was=was, now=now)


def _price(conversation: Conversation, answer: Answer) -> str:
    best = answer.advice.best.design if answer.advice else None
    return money(best.parts_price) if best else words.standing(conversation.guide, answer)


def _left_out(conversation: Conversation, before: Answers, after: Answers) -> Iterator[str]:
    """The given answers that mean nothing beside the new one."""
    questions = conversation.guide.questions
    gone = [
        each.ask for each in questions if each.id in before.values and each.id not in after.values
    ]
    if gone:
        yield conversation.guide.wording.page.say("staff-falls-away", asks=" · ".join(gone))
