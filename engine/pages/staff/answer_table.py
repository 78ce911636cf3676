"""All answers of the tree in one table, for those who check that each is right."""

import hashlib
from dataclasses import dataclass

from engine.advice.judge.cautions import cautions_of
from engine.conversation import Conversation
from engine.links import read_link
from engine.model.answers import Answers
from engine.pages import words
from engine.pages.other_case import holds_text
from engine.pages.render import environment
from engine.pages.staff.side_by_side import said
from engine.pages.staff.staff import StaffPage
from engine.tree import states
from engine.usual import taken_for
from engine.what_if import holds_for
from engine.wording.tongue import money

PATH = "staff/answers/"


@dataclass(frozen=True, slots=True)
class Row:
    """One answer page: what was answered, what comes out, and a mark of exactly this content.

    open: something is not sure, so that the usual case was taken
    """

    path: str
    answers: str
    outcomes: tuple[str, ...]
    price: str = ""
    cautions: tuple[str, ...] = ()
    open: bool = False

    @property
    def mark(self) -> str:
        """Eight signs that change when the row does, so that a mark made before is not taken."""
        text = "\n".join((self.answers, *self.outcomes, self.price, *self.cautions))
        return hashlib.sha256(text.encode()).hexdigest()[:8]


def answers_page(conversation: Conversation) -> StaffPage:
    """The page with the table."""
    guide = conversation.guide
    page = guide.wording.page
    rows = rows_of(conversation)
    everywhere = _everywhere(rows)
    html = (
        environment()
        .get_template("answers.html")
        .render(page=page, shop=guide.shop, rows=rows, everywhere=everywhere)
    )
    return StaffPage(page["staff-answers"], page["answers-about"], PATH, html, "marks")


def rows_of(conversation: Conversation) -> tuple[Row, ...]:
    """A row for every page of the tree that answers instead of asking."""
    found = []
    for path in states(conversation):
        answers = read_link(conversation.guide, path)
        if conversation.next_question(answers) is None:
            found.append(_row(conversation, path, answers))
    return tuple(found)


def _everywhere(rows: tuple[Row, ...]) -> tuple[str, ...]:
    """The cautions that stand on every answer; said once, they need not fill every line."""
    lists = [row.cautions for row in rows if row.cautions]
    if not lists:
        return ()
    common = set(lists[0]).intersection(*lists)
    return tuple(title for title in lists[0] if title in common)


def _row(conversation: Conversation, path: str, answers: Answers) -> Row:
    guide = conversation.guide
    given = " · ".join(
        f"{question.id}: {said(guide, answers, question)}"
        for question in conversation.path_questions
        if question.id in answers.values
    )
    outcome = conversation.usual_outcome(answers)
    taken = taken_for(guide, answers)
    held = holds_for(conversation, answers, taken, outcome)
    holds = holds_text(guide, held, fits=outcome.best is not None)
    says = tuple(filter(None, (words.setup_name(guide, outcome.best), holds)))
    best = outcome.best
    if best is None or best.design is None:
        return Row(path, given, says, open=bool(taken))
    notes = cautions_of(guide, outcome.needs, best.design)
    return Row(
        path,
        given,
        says,
        money(best.design.parts_price),
        tuple(note.caution.title for note in notes),
        open=bool(taken),
    )
