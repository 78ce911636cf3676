"""Show mode: the guide on a tablet that many hands use, with nothing kept of who was there."""

from engine.answer import answer_of
from engine.completion import read_any
from engine.conversation import Conversation
from engine.model.answers import Answers
from engine.pages import words
from engine.pages.print.qr import qr_svg
from engine.pages.render import borderless, environment, render
from engine.pages.staff.staff import StaffPage
from engine.pages.staff.visits import LONGEST_CONTACT
from engine.past import link_of

PATH = "show/"
GUIDE = "../guide/"
"""The guide's folder as seen from the page of show mode."""
IDLE_S = 90
"""Without a touch for so long, it asks whether anybody is there (common practice, no source)."""
WARNING_S = 20
"""So long it waits for an answer before it starts over (common practice, no source)."""


def show_page(conversation: Conversation) -> StaffPage:
    """The page with the first question."""
    guide = conversation.guide
    page = guide.wording.page
    first = render(conversation, answer_of(conversation, Answers({})), "", "", GUIDE)
    html = (
        environment()
        .get_template("show.html")
        .render(
            page=page,
            shop=guide.shop,
            first=borderless(first.bordered),
            idle=IDLE_S,
            warning=WARNING_S,
        )
    )
    return StaffPage(page["show"], page["show-about"], PATH, html, "show")


def home_html(conversation: Conversation, link: str) -> str:
    """What takes an answer home: the QR code of its public link, and the question of consent."""
    guide = conversation.guide
    answers = read_any(conversation, link)
    answer = answer_of(conversation, answers, changes=False)
    address = link_of(conversation, answers)
    page = guide.wording.page
    return (
        environment()
        .get_template("show-home.html")
        .render(
            page=page,
            standing=words.standing(guide, answer),
            address=address,
            code=qr_svg(address, page["show-code"], page["no-code"]),
            longest=LONGEST_CONTACT,
        )
    )
