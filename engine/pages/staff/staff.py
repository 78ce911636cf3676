"""The staff page: answers entered by keyboard, the message to send, two answers side by side."""

from collections.abc import Iterable
from dataclasses import dataclass

from engine.answer import answer_of
from engine.completion import complete, read_any, without
from engine.conversation import Conversation
from engine.links import LONGEST_NOTE, public_link
from engine.model.answers import Answers
from engine.pages import words
from engine.pages.answer.estimate import estimate_of
from engine.pages.answer.parts_view import PartsView
from engine.pages.print.exports import ESTIMATE_FILES
from engine.pages.render import environment
from engine.pages.staff.asks import asks_of, pairs_asked
from engine.pages.staff.message import message_of
from engine.pages.staff.side_by_side import said, side_by_side
from engine.pages.unread import told_of
from engine.past import link_of
from engine.suggestions import Suggestion
from engine.typed.outside import one_line

PATH = "staff/"
GUIDE = "../guide/"
"""The guide's folder as seen from the staff page."""


@dataclass(frozen=True, slots=True)
class StaffPage:
    """A page beside the guide; `kind` names the script that it needs."""

    title: str
    description: str
    path: str
    html: str
    kind: str


@dataclass(frozen=True, slots=True)
class Given:
    """One answer that was given, and the link of the rest without it."""

    ask: str
    text: str
    rest: str


@dataclass(frozen=True, slots=True)
class Line:
    """One line of what the typed text may mean.

    link: the answers with it; asks: what of it would replace an answer, "" where nothing does
    """

    each: Suggestion
    link: str
    asks: str


def staff_page(conversation: Conversation) -> StaffPage:
    """The page as it stands before anything is typed."""
    page = conversation.guide.wording.page
    html = _fill(
        "staff",
        conversation,
        options=options_html(conversation, "", ""),
        message=message_html(conversation, "", ""),
    )
    return StaffPage(page["staff"], page["staff-about"], PATH, html, "staff")


def options_html(conversation: Conversation, link: str, text: str) -> str:
    """The lines below the field: what the typed text may mean beside the answers of a link."""
    given = read_any(conversation, link)
    rows = [
        Line(
            each,
            conversation.link(each.answers) if each.answers is not None else "",
            pairs_asked(conversation, given, each.answers) if each.answers is not None else "",
        )
        for each in complete(conversation, given, text)
    ]
    return _fill("staff-options", conversation, rows=rows, typed=text.strip())


def asks_html(conversation: Conversation, link: str, waiting: Iterable[str]) -> str:
    """The replacements that wait for a word, each with what it would do."""
    asks = asks_of(conversation, read_any(conversation, link), waiting)
    return _fill("staff-asks", conversation, asks=asks)


def message_html(conversation: Conversation, link: str, note: str | None) -> str:
    """What was answered, what comes out, and the message to paste.

    note: to the customer; None for that of the link
    """
    guide = conversation.guide
    read = read_any(conversation, link)
    answer = answer_of(conversation, read, changes=False)
    written = read.note if note is None else one_line(note)[:LONGEST_NOTE]
    noted = Answers(read.values, read.faults, note=written)
    path, fragment = conversation.place(noted)
    given = [
        Given(
            question.ask,
            said(guide, read, question),
            conversation.link(without(read, question.id)),
        )
        for question in guide.questions
        if question.id in read.values
    ]
    own_link = f"{path}#{fragment}"
    advice = answer.advice
    best = advice.best.design if advice else None
    return _fill(
        "staff-message",
        conversation,
        listed=PartsView(guide, best) if best else None,
        estimate=estimate_of(guide, advice),
        estimate_files=tuple(ESTIMATE_FILES),
        given=given,
        standing=words.standing(guide, answer),
        status=answer.status,
        message=message_of(
            guide,
            answer,
            (
                link_of(conversation, noted),
                public_link(guide, path, fragment),
                public_link(guide, *conversation.place(Answers(read.values, read.faults))),
            ),
            written,
        ),
        goes_on=bool(fragment) and answer.status == "ask",
        note=written,
        told=told_of(guide, read),
        clean=conversation.link(Answers(read.values)),
        own_link=own_link,
        open_link=GUIDE + own_link.removesuffix("#"),
    )


def compare_html(conversation: Conversation, links: tuple[str, str]) -> str:
    """Two answers beside each other."""
    first, other = (read_any(conversation, link) for link in links)
    found = side_by_side(conversation, first, other)
    return _fill("staff-compare", conversation, found=found, up=GUIDE)


def _fill(name: str, conversation: Conversation, **values: object) -> str:
    guide = conversation.guide
    template = environment().get_template(f"{name}.html")
    return template.render(
        page=guide.wording.page, shop=guide.shop, longest=LONGEST_NOTE, guide=GUIDE, **values
    )
