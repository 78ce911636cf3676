"""What a customer who asks for an estimate sends: every answer, and what came out of them."""

from engine.answer import answer_of
from engine.completion import read_any
from engine.conversation import Conversation
from engine.pages.answer.estimate import estimate_of
from engine.pages.contact import mail_to
from engine.pages.render import environment
from engine.pages.staff.message import message_of
from engine.pages.staff.visits import LONGEST_CONTACT
from engine.past import link_of


def request_html(conversation: Conversation, link: str) -> str:
    """The whole of the request, to be read before anything is sent; "" where there is none.

    It goes by the customer's own mail program, or by a form to the shop's own service.
    """
    guide = conversation.guide
    page = guide.wording.page
    answers = read_any(conversation, link)
    answer = answer_of(conversation, answers, changes=False)
    estimate = estimate_of(guide, answer.advice)
    if estimate is None or answer.advice is None:
        return ""
    address = link_of(conversation, answers)
    letter = message_of(guide, answer, address, address, "").letter[:-2]
    sums = [page.say("message-answer", ask=name, answer=said) for name, said in estimate.sums()]
    written = [page["request-please"], "", *letter, *sums, estimate.terms_said()]
    return (
        environment()
        .get_template("request.html")
        .render(
            page=page,
            shop=guide.shop,
            estimate=estimate,
            letter=letter,
            cautions=[note.caution.title for note in answer.advice.cautions],
            form=estimate.terms.form,
            sent=[("link", address), ("edition", guide.edition), ("text", "\n".join(written))],
            mail=mail_to(guide.shop.email, page["request"], "\r\n".join(written), address),
            longest=LONGEST_CONTACT,
        )
    )
