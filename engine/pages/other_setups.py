"""The setups between which one may choose: price, hours, weight, and what one gives up."""

from collections.abc import Iterator
from dataclasses import dataclass

from engine.advice.judge.ranking import labor_h
from engine.answer import Answer
from engine.model.alternatives import Alternative
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Considered, Design
from engine.pages.words import lasting, lower_first
from engine.sizing.loads import HOURS_A_DAY
from engine.units import factor, show
from engine.wording.tongue import all_of, money, plain

TENS = -1
MOST_LOST = 3
LEAST_MONEY, LEAST_H, LEAST_KG, LEAST_LABOR_H = 10.0, 1.0, 0.5, 1.0
"""Less than that is no difference that somebody would feel.

Source: common practice, no source.
"""


@dataclass(frozen=True, slots=True)
class Setup:
    """One of the setups: its figures, and what one gives up for it beside the recommended one.

    gives_up: "" for the recommended one
    besides: the first of it that price, hours and weight do not tell; "" for nothing
    """

    name: str
    price: str
    lasts: str
    weight: str
    gives_up: str
    besides: str
    answers: Answers
    chosen: bool


@dataclass(frozen=True, slots=True)
class Less:
    """The one thing whose absence saves most, in a sentence."""

    text: str
    answers: Answers


def setups_of(guide: Guide, answer: Answer) -> list[Setup] | None:
    """The recommended setup among the others; [] where there is no other, None while unknown."""
    outcome = answer.outcome
    if answer.alternatives is None or outcome is None or outcome.best is None:
        return None
    now = design_of(outcome.best)
    return [
        _setup(guide, outcome.needs, now, each)
        for each in answer.alternatives
        if len(answer.alternatives) > 1
    ]


def _setup(guide: Guide, needs: Needs, now: Design, each: Alternative) -> Setup:
    page, design = guide.wording.page, design_of(each.best)
    told = list(_less_of_figures(guide, needs, now, design))
    untold = list(_less_besides(guide, needs, now, design))
    lost = [*told, *untold][:MOST_LOST]
    gives_up = page.say("setup-costs", what=all_of(lost)) if lost else page["setup-costs-nothing"]
    besides = page.say("setup-costs", what=untold[0]) if untold else ""
    if not lost:
        besides = gives_up
    return Setup(
        name=_names(guide, each),
        price=money(round(design.parts_price, TENS)),
        lasts=_lasts(guide, needs, now, design),
        weight=_pounds(design.mass_kg),
        gives_up="" if each.chosen else gives_up,
        besides="" if each.chosen else besides,
        answers=each.answers,
        chosen=each.chosen,
    )


def _names(guide: Guide, each: Alternative) -> str:
    """What a setup is called; what else it is the best for stands behind it."""
    name = name_of(guide, each.aim)
    if not each.also:
        return name
    page = guide.wording.page
    aims = [page.say("setup-aim", name=lower_first(name_of(guide, aim))) for aim in each.also]
    return page.say("setup-own-also", name=name, aims=all_of(aims))


def _lasts(guide: Guide, needs: Needs, now: Design, design: Design) -> str:
    """How long its bank lasts, and with which batteries where they are others than now."""
    page, bank = guide.wording.page, design.bank
    time = lasting(guide.wording.numbers, bank.lasting_days(needs.nights))
    count, capacity_ah = bank.series * bank.parallel, bank.battery.capacity
    if (now.bank.series * now.bank.parallel, now.bank.battery.capacity) == (count, capacity_ah):
        return page.say("setup-lasts", time=time)
    batteries = page.say("setup-bank", count=count, capacity=f"{plain(capacity_ah)} Ah")
    return page.say("setup-lasts-with", bank=batteries, time=time)


def name_of(guide: Guide, aim_id: str) -> str:
    """What an aim is called, as the form asks for it."""
    if not aim_id:
        return guide.wording.page["setup-own"]
    return guide.question("aim").choice(aim_id).label


def hours_of(needs: Needs, design: Design) -> float:
    """How long a full bank lasts with nothing to charge it [h]."""
    return design.bank.lasting_days(needs.nights) * HOURS_A_DAY


def design_of(best: Considered) -> Design:
    """The design of what is recommended somewhere."""
    if best.design is None:
        raise ValueError("what is recommended has a design")
    return best.design


def _less_of_figures(guide: Guide, needs: Needs, now: Design, other: Design) -> Iterator[str]:
    """What of price, hours and weight of the other one is worse than now."""
    page = guide.wording.page
    dearer = other.parts_price - now.parts_price
    if dearer >= LEAST_MONEY:
        yield page.say("worse-price", amount=money(round(dearer, TENS)))
    shorter_h = hours_of(needs, now) - hours_of(needs, other)
    if shorter_h >= LEAST_H:
        yield page.say("worse-hours", hours=guide.wording.numbers.count("count-hours", shorter_h))
    heavier_kg = other.mass_kg - now.mass_kg
    if heavier_kg >= LEAST_KG:
        yield page.say("worse-weight", mass=_pounds(heavier_kg))


def _less_besides(guide: Guide, needs: Needs, now: Design, other: Design) -> Iterator[str]:
    """Each thing else of the other one that is worse than now, what people feel first."""
    page = guide.wording.page
    longer_h = labor_h(guide, needs, other) - labor_h(guide, needs, now)
    if longer_h >= LEAST_LABOR_H:
        yield page.say("worse-labor", hours=guide.wording.numbers.count("count-hours", longer_h, 1))
    ours, theirs = now.candidate, other.candidate
    if theirs.units > ours.units:
        yield page["worse-units"]
    if theirs.units * theirs.inverter.idle > ours.units * ours.inverter.idle:
        watts = theirs.units * theirs.inverter.idle - ours.units * ours.inverter.idle
        yield page.say("worse-idle", watts=show(watts, "W"))
    if _to_wait_for(guide, other) > _to_wait_for(guide, now):
        yield page["worse-stock"]


def _pounds(mass_kg: float) -> str:
    """A weight in so few signs as a tile has room for."""
    return f"{plain(mass_kg * factor('kg', 'pound'))}\N{NO-BREAK SPACE}lb"


def _to_wait_for(guide: Guide, design: Design) -> int:
    """How many of the articles are not in stock."""
    return len({order.product for order in design.orders} & guide.absent)


def less_of(guide: Guide, answer: Answer) -> Less | None:
    """What to give up to save most; None where nothing saves enough, or while unknown."""
    found, page = answer.give_up, guide.wording.page
    if found is None:
        return None
    amount = money(round(found.saves, TENS))
    if found.name:
        return Less(page.say("less-load", name=found.name, amount=amount), found.answers)
    question = guide.question(found.question)
    choice = question.choice(found.answers.choice(found.question)).label
    text = page.say(
        "less-choice", what=question.topic or question.ask, choice=choice, amount=amount
    )
    return Less(text, found.answers)
