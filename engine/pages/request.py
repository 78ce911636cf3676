"""What a customer who asks for an estimate sends: every answer, and what came out of them."""

from engine.answer import answer_of
from engine.completion import read_any
from engine.conversation import Conversation
from engine.pages.answer.estimate import estimate_of
from engine.pages.contact import mail_to, telephone
from engine.pages.render import environment
from engine.pages.staff.message import message_of
from engine.pages.staff.visits import LONGEST_CONTACT
from engine.past import link_of


def request_html(conversation: Conversation, link: str) -> str:
    """The whole of the request, to be read before anything is sent.

    It goes by the customer's own mail program, or by a form to the shop's own service. Where no
    setup fits or the questions are not all answered, there is nothing to price: it says so, and how
    to reach the shop. A shop that wants no estimates has none of this: "".
    """
    guide = conversation.guide
    if not guide.shop.estimate.days:
        return ""
    page = guide.wording.page
    answers = read_any(conversation, link)
    answer = answer_of(conversation, answers, changes=False)
    estimate = estimate_of(guide, answer.advice)
    address = link_of(conversation, answers)
    if estimate is None or answer.advice is None:
        mail = mail_to(guide.shop.email, page["contact-subject"], page["contact-text"], address)
        return (
            environment()
            .get_template("request-none.html")
            .render(page=page, shop=guide.shop, mail=mail, dials=telephone(guide.shop.phone))
        )
    letter = message_of(guide, answer, (address,) * 3, "").letter[:-2]
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
