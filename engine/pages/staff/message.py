"""The sentence and link that staff send."""

from dataclasses import dataclass

from engine.answer import Answer
from engine.links import public_link
from engine.model.guide import Guide
from engine.pages.answer.advice_view import AdviceView
from engine.pages.contact import mail_to
from engine.wording.tongue import money


@dataclass(frozen=True, slots=True)
class Message:
    """What staff paste into a text message or an email."""

    subject: str
    sentence: str
    link: str

    @property
    def text(self) -> str:
        """Sentence and link, as they are pasted."""
        return f"{self.sentence}\n{self.link}"

    @property
    def mail(self) -> str:
        """The message as an address that opens the mail program (RFC 6068)."""
        return mail_to("", self.subject, self.sentence, self.link)


def message_of(guide: Guide, answer: Answer, path: str, fragment: str) -> Message:
    """The sentence for an answer, by what it is, with its public link."""
    page = guide.wording.page
    subject = page.say("message-subject", shop=guide.shop.name)
    return Message(subject, _sentence(guide, answer), public_link(guide, path, fragment))


def _sentence(guide: Guide, answer: Answer) -> str:
    said, page = _suggested(guide, answer), guide.wording.page
    return page.say("message-read", said=said) if answer.answers.unread else said


def _suggested(guide: Guide, answer: Answer) -> str:
    page = guide.wording.page
    if answer.advice is not None:
        found = AdviceView(guide, answer.advice)
        said = page.say(
            "message-recommended",
            setup=found.headline,
            layout=found.layout.name.lower(),
            bank=found.bank,
            price=money(round(found.design.parts_price, -1)),
        )
        return f"{_taken(guide, answer)} {said}".strip()
    return page["message-ask" if answer.status == "ask" else "message-none-fits"]


def _taken(guide: Guide, answer: Answer) -> str:
    """What was taken where the customer was not sure; "" where nothing was."""
    if not answer.taken:
        return ""
    taken = ", ".join(each.choice.label for each in answer.taken)
    return guide.wording.page.say("message-taken", taken=taken)
