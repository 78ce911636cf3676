"""What a link with details says of its own answer, so that a later edition can tell what it was.

The answers of the short path are kept with each edition; those with details are too many, and stand
in the links themselves.
"""

from engine.conversation import Conversation
from engine.links import public_link
from engine.model.answers import Answers
from engine.model.edition import PastSetup
from engine.model.result import Considered
from engine.usual import usual_case

NOTHING_FITS = "none"


def past_setup(best: Considered | None) -> PastSetup:
    """A recommendation in the form in which it is kept."""
    if best is None or best.design is None:
        return PastSetup(
            layout="",
            inverter="",
            units=0,
            soft_starters=0,
            battery="",
            series=0,
            parallel=0,
            price=0.0,
        )
    candidate, bank = best.candidate, best.design.bank
    return PastSetup(
        layout=candidate.layout,
        inverter=candidate.inverter.id,
        units=candidate.units,
        soft_starters=candidate.soft_starters,
        battery=bank.battery.id,
        series=bank.series,
        parallel=bank.parallel,
        price=round(best.design.parts_price, 2),
        kept=bank.kept,
    )


def as_said(setup: PastSetup) -> str:
    """A setup as a link holds it."""
    if not setup.layout:
        return NOTHING_FITS
    counts = (setup.units, setup.soft_starters, setup.series, setup.parallel, setup.kept)
    price = f"{setup.price:.0f}"
    return ":".join((setup.layout, setup.inverter, setup.battery, *map(str, counts), price))


def read_said(text: str) -> PastSetup | None:
    """A setup from what a link says; None where it says nothing that can be one.

    >>> read_said("single:u:b:1:0:1:2:0:5230").price
    5230.0
    """
    if text == NOTHING_FITS:
        return past_setup(None)
    names, counts = text.split(":")[:3], text.split(":")[3:]
    if len(counts) != 6 or not all(each.isdecimal() for each in counts):
        return None
    layout, inverter, battery = names
    units, starters, series, parallel, kept, price = map(int, counts)
    return PastSetup(
        layout=layout,
        inverter=inverter,
        units=units,
        soft_starters=starters,
        battery=battery,
        series=series,
        parallel=parallel,
        price=float(price),
        kept=kept,
    )


def link_of(conversation: Conversation, answers: Answers) -> str:
    """The whole address of these answers to hand on; with details, it says what they led to."""
    path, fragment = conversation.place(answers)
    details = answers.values.keys() - conversation.on_path(answers).values.keys()
    was = ""
    if details and conversation.next_question(answers) is None:
        best = conversation.outcome(usual_case(conversation.guide, answers)).best
        was = as_said(past_setup(best))
    return public_link(conversation.guide, path, fragment, was)
