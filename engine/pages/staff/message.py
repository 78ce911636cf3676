"""What staff send: a text message that fits, and an email with every answer."""

from collections.abc import Iterator
from dataclasses import dataclass

from engine.answer import Answer
from engine.model.answers import UNSURE
from engine.model.guide import Guide, Question
from engine.pages.answer.advice_view import AdviceView
from engine.pages.contact import mail_to
from engine.pages.staff.side_by_side import said
from engine.wording.tongue import money

LONGEST_TEXT = 480
"""Signs of a text message: three of 160 (3GPP TS 23.040), beyond which some phones split it."""


@dataclass(frozen=True, slots=True)
class Message:
    """What staff paste into a text message or an email.

    text: of at most LONGEST_TEXT signs, where the link leaves room for that
    letter: the lines of an email, link last
    """

    subject: str
    text: str
    letter: tuple[str, ...]
    link: str

    @property
    def mail(self) -> str:
        """The email as an address that opens the mail program (RFC 6068)."""
        return mail_to("", self.subject, "\r\n".join(self.letter[:-1]), self.link)

    @property
    def is_long(self) -> bool:
        """Whether the link alone makes the text longer than a text message may be."""
        return len(self.text) > LONGEST_TEXT


def message_of(guide: Guide, answer: Answer, link: str, bare: str, note: str) -> Message:
    """The message for an answer, by what it is.

    link, bare: its public link with the note to the customer, and without it
    """
    subject = guide.wording.page.say("message-subject", shop=guide.shop.name)
    text = _text(guide, answer, (), link)
    if note and len(text) > LONGEST_TEXT:  # in a link it takes up to three times as much
        text = _text(guide, answer, (note,), bare)
    return Message(subject, text, tuple(_letter(guide, answer, link)), link)


def _text(guide: Guide, answer: Answer, note: tuple[str, ...], link: str) -> str:
    """As many of the answers as there is room for, the first ones first."""
    page = guide.wording.page
    brief, says = _brief(guide, answer), tuple(_says(guide, answer))
    for count in range(len(brief), -1, -1):
        given = ", ".join((*brief[:count], *("…",) * (count < len(brief))))
        about = page.say("message-for", given=given) if count else ""
        text = "\n".join((f"{_from(guide)} {about}".strip(), *says, *note, link))
        if len(text) <= LONGEST_TEXT:
            break
    return text


def _letter(guide: Guide, answer: Answer, link: str) -> Iterator[str]:
    page = guide.wording.page
    if answer.answers.values:
        yield page["message-given"]
        for question in guide.questions:
            if question.id in answer.answers.values:
                answered = said(guide, answer.answers, question)
                yield page.say("message-answer", ask=question.ask, answer=answered)
        yield ""
    yield from _says(guide, answer)
    if answer.advice is not None:
        yield page["message-fit"]
    yield _from(guide)
    yield link


def _from(guide: Guide) -> str:
    return guide.wording.page.say("message-from", shop=guide.shop.name, phone=guide.shop.phone)


def _says(guide: Guide, answer: Answer) -> Iterator[str]:
    """What comes out, and that its price is for planning only."""
    page = guide.wording.page
    if answer.advice is not None:
        found = AdviceView(guide, answer.advice)
        yield page.say("message-recommended", layout=found.layout.name, setup=found.setup)
        least, most = (money(round(each, -1)) for each in found.parts.between)
        yield page.say("message-price", least=least, most=most)
    else:
        yield page["message-ask" if answer.status == "ask" else "message-none-fits"]
    if answer.taken:
        yield page.say(
            "message-taken", taken=", ".join(each.choice.called for each in answer.taken)
        )
    if answer.answers.unread:
        yield page["message-read"]


def _brief(guide: Guide, answer: Answer) -> list[str]:
    """Each answer of the short path in a few words, then how many details there are besides."""
    answers, page = answer.answers, guide.wording.page
    given = [each for each in guide.questions if each.id in answers.values]
    path = [each for each in given if each.where == "path"]
    brief = [_called(each, answers.choice(each.id)) for each in path]
    more = len(given) - len(path)
    return [*filter(None, brief), *([page.count("message-more", more)] if more else [])]


def _called(question: Question, choice_id: str) -> str:
    if choice_id == UNSURE:
        return ""  # what was taken for it is said anyway
    return question.choice(choice_id).called
