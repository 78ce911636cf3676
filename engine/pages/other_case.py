"""What another answer leads to, told by what differs from this one, and what "not sure" took."""

from dataclasses import dataclass

from engine.answer import Answer
from engine.model.answers import Answers
from engine.model.guide import Guide, Question
from engine.model.result import Change, Considered, Holds, Outcome
from engine.pages.words import (
    bank_name,
    cable_name,
    candidate_name,
    fuse_name,
    setup_name,
)
from engine.wording.tongue import money

TENS = -1


def difference(guide: Guide, here: Considered | None, there: Considered | None) -> str:
    """What comes out instead: its units and batteries where they are others, and the price."""
    if here is None or there is None:
        return _whole(guide, there)
    page = guide.wording.page
    return page.say(
        "other-case",
        units=_units(guide, here, there),
        bank=_bank(guide, here, there),
        price=_price(guide, here, there),
    )


def change_done(guide: Guide, before: Outcome | None, now: Outcome | None) -> str:
    """What a change did: the price, then each of unit, bank, cable and fuse that is another now."""
    page = guide.wording.page
    if before is None or now is None:
        return ""
    if before.best is None or now.best is None:
        fits = before.best is None, now.best is None
        return "" if all(fits) else page["did-none-fits" if fits[1] else "did-fits"]
    pairs = zip(_facts(guide, before.best), _facts(guide, now.best), strict=True)
    told = [page.say("did-from-to", old=old, new=new) for old, new in pairs if old != new]
    told.insert(0, _price(guide, before.best, now.best))
    return "; ".join(told) if len(told) > 1 or _more(before.best, now.best) else page["did-nothing"]


def _facts(guide: Guide, fits: Considered) -> tuple[str, ...]:
    if fits.design is None:
        raise ValueError("what is recommended has a design")
    unit, fuse = candidate_name(guide, fits.candidate), fuse_name(guide, fits.design.dc.fuse)
    return unit, bank_name(guide, fits.design), cable_name(guide, fits.design), fuse


def price_difference(now: Considered | None, then: Considered | None) -> float | None:
    """How much more the parts of the other one cost; None where one of them does not fit."""
    if now is None or then is None:
        return None
    return _cost(then) - _cost(now)


def holds_text(guide: Guide, holds: Holds | None, *, fits: bool) -> str:
    """For how many of the open cases the answer holds; "" where that was not counted."""
    page = guide.wording.page
    if holds is None:
        return ""
    if not fits:
        return page.say("taken-none", same=holds.same, cases=holds.cases)
    if holds.same == holds.cases:
        return page["taken-holds-but-starters" if holds.starters_differ else "taken-holds-all"]
    said = page.say("taken-holds", same=holds.same, cases=holds.cases)
    return f"{said} {page['taken-starters']}" if holds.starters_differ else said


def change_label(guide: Guide, change: Change) -> str:
    """The other answer, as a person reads it."""
    if change.without:
        return guide.wording.page.say("without-load", name=change.without)
    return change.choice.label


@dataclass(frozen=True, slots=True)
class OtherCase:
    """A choice that leads elsewhere, where, and the answers that it makes."""

    label: str
    text: str
    answers: Answers


@dataclass(frozen=True, slots=True)
class TakenCase:
    """An open question: what was taken, what to look at, and the choices that lead elsewhere.

    others: None while they are not worked out
    """

    ask: str
    took: str
    hint: str
    look: str
    others: tuple[OtherCase, ...] | None

    @property
    def indifferent(self) -> bool:
        """Whether no other choice leads elsewhere."""
        return self.others == ()


def taken_cases(guide: Guide, answer: Answer) -> list[TakenCase]:
    """What was taken for each "not sure", and what each other choice would lead to."""
    return [
        TakenCase(
            each.question.ask,
            each.choice.label,
            each.choice.hint,
            _look(guide, answer, each.question.id),
            _others(guide, answer, each.question),
        )
        for each in answer.taken
    ]


def _look(guide: Guide, answer: Answer, question_id: str) -> str:
    """What to look at; where another question was asked in its place, what that one says."""
    for question in guide.questions:
        asked_instead = answer.answers.choice(question.id) and all(
            question_id in choice.means for choice in question.choices
        )
        if question.choices and asked_instead:
            return question.unsure
    return guide.question(question_id).unsure


def _others(guide: Guide, answer: Answer, question: Question) -> tuple[OtherCase, ...] | None:
    if answer.what_if is None or answer.outcome is None:
        return None
    now = answer.outcome.best
    return tuple(
        OtherCase(change.choice.label, difference(guide, now, change.best), change.answers)
        for change in answer.what_if.leads(question)
    )


def _whole(guide: Guide, best: Considered | None) -> str:
    if best is None:
        return guide.wording.page["nothing-fits-short"]
    price = money(round(_cost(best), TENS))
    return guide.wording.page.say("other-whole", setup=setup_name(guide, best), price=price)


def _units(guide: Guide, here: Considered, there: Considered) -> str:
    """Layout, units and soft starters, or that the units stay and what of the starters changes."""
    page = guide.wording.page
    mine, other = here.candidate, there.candidate
    same = (mine.layout, mine.inverter.id, mine.units) == (
        other.layout,
        other.inverter.id,
        other.units,
    )
    if mine.soft_starters and not other.soft_starters:
        name = page["same-units"] if same else candidate_name(guide, other)
        return name + page["without-soft-starters"]
    if not same:
        return candidate_name(guide, other)
    if mine.soft_starters == other.soft_starters:
        return page["same-units"]
    return page["same-units"] + page.count("with-soft-starters", other.soft_starters)


def _bank(guide: Guide, here: Considered, there: Considered) -> str:
    if here.design is None or there.design is None:
        raise ValueError("what is recommended has a design")
    name = bank_name(guide, there.design)
    return guide.wording.page["same-bank"] if name == bank_name(guide, here.design) else name


def _price(guide: Guide, here: Considered, there: Considered) -> str:
    more = _more(here, there)
    page = guide.wording.page
    if more == 0:
        return page["same-price"]
    return page.say("dearer" if more > 0 else "cheaper", amount=money(abs(more)))


def _more(here: Considered, there: Considered) -> float:
    """How much more the parts of the other one cost, to tens."""
    return round(_cost(there) - _cost(here), TENS)


def _cost(considered: Considered) -> float:
    if considered.design is None:
        raise ValueError("what is recommended has a design")
    return considered.design.parts_price
