"""What the templates show: every text, number and link of a page, gathered in one place."""

from collections.abc import Collection
from dataclasses import dataclass
from functools import cached_property

from engine.answer import Answer
from engine.conversation import Conversation
from engine.editions import notice
from engine.model.answers import UNSURE, Answers
from engine.model.guide import Question
from engine.needs import applies, implied
from engine.pages import words
from engine.pages.contact import mail_to, telephone
from engine.pages.form import FieldGroup, form_of, typed_text
from engine.pages.other_case import (
    TakenCase,
    change_label,
    difference,
    holds_text,
    taken_cases,
)
from engine.pages.other_setups import Less, Setup, less_of, setups_of
from engine.pages.trade_words import GLOSSARY, linked
from engine.pages.unread import Told, told_of
from engine.past import link_of
from engine.tree import questions_ahead
from engine.usual import usual_case
from engine.ways import EFFECTS
from engine.wording.tongue import money


@dataclass(frozen=True, slots=True)
class Row:
    """A label with its text, and a link that goes with it where there is one."""

    label: str
    text: str
    link: str = ""


@dataclass(frozen=True, slots=True)
class Option:
    """A choice as a link."""

    id: str
    label: str
    hint: str
    picture: str
    link: str


@dataclass(frozen=True, slots=True)
class Lead:
    """A choice and what it leads to, in words."""

    ask: str
    label: str
    text: str
    link: str


def picture_link(up: str, name: str) -> str:
    """Address of a picture from where the guide's folder is seen at `up`."""
    return f"{up}../assets/pictures/{name}.svg"


class View:
    """Turns one answer into what any page needs. Links are relative to the page's own path.

    up: the guide's folder as seen from the page, where that is not the page of `path`
    later: ids of the titles of chapters that are put off, see Drawn in engine.pages.render
    """

    def __init__(
        self,
        conversation: Conversation,
        answer: Answer,
        path: str,
        fragment: str,
        up: str | None = None,
        later: Collection[str] = (),
    ) -> None:
        self.conversation = conversation
        self.guide = conversation.guide
        self.answer = answer
        self.answers = answer.answers
        self.path = path
        self.fragment = fragment
        self.later = later
        self.up = "../" * path.count("/") if up is None else up
        self.stays = up is not None  # shown by another page, as in show mode, which nobody leaves
        self.page = self.guide.wording.page
        self.told: set[str] = set()
        self.shop = self.guide.shop

    def link(self, answers: Answers) -> str:
        """Address of the page of these answers, seen from this page.

        What could not be read here goes along, unless they answer it.
        """
        return self._address(Answers(answers.values, self.answers.unread))

    def _address(self, answers: Answers) -> str:
        path, fragment = self.conversation.place(answers)
        return (self.up + path or "./") + (f"#{fragment}" if fragment else "")

    def picture(self, name: str) -> str:
        """Address of a picture, seen from this page."""
        return picture_link(self.up, name)

    def explanation(self, page_id: str) -> Row:
        """An explanatory page: its title and its address, seen from this page."""
        page = self.guide.explanation(page_id)
        return Row(page_id, page.title, f"{self.up}../explained/{page.id}.html")

    def linked(self, text: str) -> str:
        """A text in which the first use of each trade word on the page leads to its meaning."""
        if self.stays:
            return text
        glossary = f"{self.up}../explained/{GLOSSARY}.html"
        return linked(self.guide.trade_words, text, self.told, glossary)

    def explanations(self, beside: str) -> list[Row]:
        """The explanatory pages that belong to one part of the answer."""
        return [
            self.explanation(page.id) for page in self.guide.explanations if beside in page.beside
        ]

    @cached_property
    def given(self) -> list[Row]:
        """The answers of the short path so far, each with the link that asks it again.

        The link keeps what was answered after it.
        """
        rows = []
        walked = self.conversation.walk(self.answers).values
        asking = self.answer.status == "ask"
        for question in self.conversation.path_questions:
            chosen = self.answers.choice(question.id)
            if not chosen or (asking and question.id not in walked):
                continue
            label = self.page["not-sure"] if chosen == UNSURE else question.choice(chosen).label
            again = self.conversation.asked_again(self.answers, question)
            rows.append(Row(question.ask, label, self.link(again)))
        return rows

    @property
    def given_key(self) -> str:
        """The first of these answers in a few words, and how many there are besides."""
        if len(self.given) == 1:
            return self.given[0].text
        asked = next(
            each for each in self.conversation.path_questions if each.id in self.answers.values
        )
        chosen = self.answers.choice(asked.id)
        first = self.page["not-sure"] if chosen == UNSURE else asked.choice(chosen).called
        return self.page.say("key-given", first=first, count=len(self.given) - 1)

    @property
    def standing(self) -> str:
        """The answer in one line, which is read out when it was worked out anew."""
        return words.standing(self.guide, self.answer)

    @property
    def units_alone(self) -> str:
        """The same in fewer words, below the card that says all of it."""
        return words.units_alone(self.guide, self.answer)

    @property
    def price(self) -> str:
        """What the parts of the recommendation cost; "" where nothing fits."""
        advice = self.answer.advice
        return money(advice.best.design.parts_price) if advice and advice.best.design else ""

    def back(self) -> str:
        """The page before this one; "" on the first."""
        return self.given[-1].link if self.given else ""

    def options(self, question: Question) -> list[Option]:
        """The choices of a question as links, "not sure" last."""
        found = [
            Option(
                choice.id,
                choice.label,
                choice.hint,
                choice.picture,
                self._answered(question, choice.id),
            )
            for choice in question.choices
        ]
        unsure = self._answered(question, UNSURE)
        found.append(Option(UNSURE, self.page["not-sure"], "", "unsure", unsure))
        return found

    def _answered(self, question: Question, choice: str) -> str:
        """Address of the page that a choice leads to, past all that was answered already."""
        return self.link(Answers({**self.answers.values, question.id: choice}))

    def can_change(self, question: Question) -> str:
        """What the answer to this question can change here."""
        found = self.conversation.can_change(self.answers, question)
        said = [self.page.one_of("effect-", each, EFFECTS) for each in found]
        return self.page.say("can-change", effects=", ".join(said))

    @property
    def where(self) -> str:
        """Which of the questions this is, and what is usually asked after it."""
        ahead = questions_ahead(self.conversation, self.answers)
        number = len(self.given) + 1
        where = self.page.say("where-you-are", number=number, about=number + len(ahead))
        topics = [question.topic for question in ahead if question.topic]
        if not topics:
            return where
        return self.page.say("still-ahead", where=where, topics=", ".join(topics))

    @property
    def own_link(self) -> str:
        """The address within the guide."""
        return f"{self.path}#{self.fragment}"

    @cached_property
    def public_link(self) -> str:
        """The whole address to hand on."""
        return link_of(self.conversation, self.answers)

    @property
    def share_text(self) -> str:
        """What is handed on with it: the recommendation in a sentence, or that nothing fits."""
        best = self.answer.advice and self.answer.advice.best
        if not best or not best.design:
            return self.page["share-none-fits"]
        return self.page.say(
            "share-recommended",
            setup=words.units_name(best.candidate),
            bank=words.bank_name(self.guide, best.design),
            price=self.price,
        )

    @property
    def fair(self) -> str:
        """That the shop sells what it recommends, and what counts most in its ranking here."""
        advice = self.answer.advice
        told = words.weights(advice.best) if advice else []
        return self.page.say("fair", priorities="; ".join(told))

    def runner_up(self) -> Row | None:
        """The next best setup, with the link that sets its unit beside the recommended one."""
        advice, asks = self.answer.advice, "beside"
        other = advice.runner_up if advice else None
        if advice is None or other is None or all(each.id != asks for each in self.guide.questions):
            return None
        unit = other.candidate.inverter.id
        if unit == advice.best.candidate.inverter.id:
            return None
        link = self.link(Answers({**self.answers.values, asks: unit}))
        return Row(self.page["runner-up"], words.considered_name(self.guide, other), link)

    @property
    def batteries_tried(self) -> str:
        """Where nothing fits: that the batteries that are there were tried, too; "" for none."""
        outcome = self.answer.outcome
        if outcome is None or outcome.needs.existing is None:
            return ""
        typed = typed_text(self.answers, self.guide.question("have"))
        return self.page.say("keep-none-fits", yours=typed)

    def contact(self) -> Row:
        """The shop's email address; its link opens a message that has this answer in it."""
        page, shop = self.page, self.shop
        link = self.public_link
        mail = mail_to(shop.email, page["contact-subject"], page["contact-text"], link)
        return Row(page["contact"], shop.email, mail)

    @property
    def asks_estimate(self) -> bool:
        """Whether its reader may ask the shop for an estimate: not where many hands use a page."""
        return bool(self.shop.estimate.days) and not self.stays

    def phone(self) -> Row:
        """The shop's telephone, as it is read and as it is dialled."""
        shop, brand = self.shop, self.shop.brand
        said = ", ".join(filter(None, (shop.phone, brand.hours, brand.area)))
        return Row(self.page["call"], said, telephone(shop.phone))

    def notice(self) -> list[str]:
        """What became of the answer since the edition that the link names."""
        return notice(self.conversation, self.answers)

    @cached_property
    def unread(self) -> Told | None:
        """What of the link could not be used, and what was taken in its place."""
        return told_of(self.guide, self.answers)

    def _of_use(self, answers: Answers) -> Answers:
        """The same without what is neither asked there nor means anything beside the others."""
        values, walked = implied(self.guide, answers), self.conversation.walk(answers).values
        asked = {question.id: question for question in self.guide.questions}
        return Answers(
            {
                name: value
                for name, value in answers.values.items()
                if name in walked or applies(asked[name], values)
            }
        )

    def without_unread(self) -> str:
        """Address of this page without what could not be read."""
        return self._address(Answers(self.answers.values))

    @property
    def verdict(self) -> str:
        """What kind of answer this is, and whether all that a link asks for was read."""
        return words.verdict(self.guide, self.answer)

    def left_out(self) -> list[str]:
        """What of the link means nothing beside its other answers."""
        values = implied(self.guide, self.answers)
        return [
            self.page.say("left-out", ask=question.ask)
            for question in self.guide.questions
            if question.id in self.answers.values and not applies(question, values)
        ]

    def form(self) -> tuple[FieldGroup, ...]:
        """The detail form."""
        return form_of(self.guide, self.answers)

    @cached_property
    def taken(self) -> list[TakenCase]:
        """What was taken for each "not sure", and where its other choices lead."""
        return taken_cases(self.guide, self.answer)

    @property
    def holds(self) -> str:
        """For how many of the open cases the answer holds."""
        return holds_text(self.guide, self.answer.holds, fits=self.answer.advice is not None)

    def usual_link(self) -> str:
        """Address of the page on which what was taken is answered."""
        return self.link(usual_case(self.guide, self.answers))

    def setups(self) -> list[Setup] | None:
        """The recommended setup among those to choose instead; None while they are unknown."""
        return setups_of(self.guide, self.answer)

    def less(self) -> Less | None:
        """What to give up to save most."""
        return less_of(self.guide, self.answer)

    def changes(self) -> list[Lead] | None:
        """Each other answer that changes the recommendation, beside what was taken; None while
        unknown."""
        now = self.answer.outcome
        if self.answer.changes is None or now is None:
            return None
        taken = [each.question.id for each in self.answer.taken]
        return [
            Lead(
                change.question.ask,
                change_label(self.guide, change),
                difference(self.guide, now.best, change.best),
                self.link(self._of_use(change.answers)),
            )
            for change in self.answer.changes
            if change.question.id not in taken
        ]
