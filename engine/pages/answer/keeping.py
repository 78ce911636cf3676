"""The batteries that are there: what becomes of them, why, and what that takes."""

from collections.abc import Iterator

from engine.answer import Advice
from engine.model.guide import Guide
from engine.model.result import BankPlan, Keeping
from engine.pages import words
from engine.pages.answer.number_rows import Number, Rows, amps, volts
from engine.pages.view import Row
from engine.sizing.bank import ReuseFault
from engine.standards.battery_chemistry import CHEMISTRIES
from engine.units import show
from engine.wording.tongue import money, plain

WAYS = ("alone", "joined", "house", "replaced")
FAULTS = (
    *("chemistry", "mixed", "age", "voltage", "whole", "strings", "current", "start", "cold"),
    *("series", "share", "energy", "join-age", "join-none"),
)
"""Codes of why a bank cannot be used again; any other is the id of a check."""
UNITS = {"cold": "degC", "share": "share", "energy": "Wh"}
WHOLE = ("whole", "strings", "series")
MOST_SAID = 1
"""Reasons in the first look; what one has and all reasons stand with the numbers."""


def keeping_row(guide: Guide, advice: Advice) -> Row | None:
    """What becomes of them in the first look, with the reason that binds and what it saves."""
    keeping = advice.outcome.keeping
    if keeping is None:
        return None
    rows = Rows(guide, advice)
    bank = rows.design.bank
    title = rows.one_of("keep-", keeping.way, WAYS, added=rows.count("count-new", _new(bank), 0))
    return Row(title, " ".join(filter(None, _told(rows, keeping))))


def _new(bank: BankPlan) -> int:
    return bank.count - bank.kept


def _told(rows: Rows, keeping: Keeping) -> Iterator[str]:
    faults = keeping.faults if keeping.way != "alone" else ()
    if keeping.way in ("house", "replaced"):
        faults = (*faults, *keeping.joining)
    yield from (fault_text(rows, each) for each in faults[:MOST_SAID])
    yield _left(rows, keeping)
    yield difference(rows, keeping)
    if rows.design.bank.kept:
        yield rows.say("keep-rules")
    if keeping.way == "joined" and not keeping.bank.age_years:
        years = rows.count("count-years", rows.guide.planning.kept_join_years, 1)
        yield rows.say("keep-young", years=years)


def _left(rows: Rows, keeping: Keeping) -> str:
    left = keeping.bank.count - rows.design.bank.kept
    return rows.say("keep-left", count=plain(left)) if rows.design.bank.kept and left else ""


def difference(rows: Rows, keeping: Keeping) -> str:
    """What it saves beside new ones only, or what a setup with theirs would cost and lose by."""
    other = keeping.other
    if other is None or other.design is None:
        return ""
    theirs_price, now_price = other.design.parts_price, rows.design.parts_price
    if rows.design.bank.kept:
        saved = theirs_price - now_price
        return rows.say("keep-saves", price=money(saved)) if saved > 0 else ""
    setup, price = words.considered_name(rows.guide, other), money(theirs_price)
    say, new = words.main_reason(rows.advice.best, other), _new(other.design.bank)
    if not new:
        return rows.say("keep-possible", setup=setup, price=price, say=say)
    added = rows.count("count-new", new, 0)
    return rows.say("keep-possible-joined", added=added, setup=setup, price=price, say=say)


def yours(rows: Rows, keeping: Keeping) -> str:
    """What was said of them, in a line."""
    have = keeping.bank
    known = have.age_years > 0
    return rows.say(
        "have-line",
        count=plain(have.count),
        capacity=f"{plain(have.capacity_ah)} Ah",
        volts=volts(have.nominal_v),
        chemistry=_chemistry(rows, have.chemistry),
        age=rows.count("count-years", have.age_years, 1) if known else rows.say("have-ageless"),
    )


def existing(rows: Rows) -> Iterator[Number]:
    """The same with every reason, and the figures that they are planned with."""
    keeping = rows.advice.outcome.keeping
    if keeping is None:
        return
    have, bank = keeping.bank, rows.design.bank
    yield rows.row("have", yours(rows, keeping))
    if have.assumed:
        said = {"voltage": volts(have.nominal_v), "chemistry": _chemistry(rows, have.chemistry)}
        yield rows.row("have-assumed", ", ".join(said[each] for each in have.assumed))
    added = rows.count("count-new", _new(bank), 0)
    yield rows.row("verdict", rows.one_of("keep-", keeping.way, WAYS, added=added))
    for fault in keeping.faults:
        yield rows.row("why-not", fault_text(rows, fault))
    for fault in keeping.joining:
        yield rows.row("why-not-joined", fault_text(rows, fault))
    told = difference(rows, keeping)
    if told:
        yield rows.row("keep-price", told)
    if bank.kept:
        joined = rows.say("joined-line", series=plain(bank.series), parallel=plain(bank.parallel))
        yield rows.row("joined", joined)
        yield rows.row("joined-rules", rows.say("keep-rules"))
    yield rows.row("unknown", rows.say("unknown-line"))


def fault_text(rows: Rows, fault: ReuseFault) -> str:
    """Why a bank cannot be used again, in words."""
    if fault.code not in FAULTS:
        name = rows.guide.check_words(fault.code).name
        return rows.say("fault-check", name=name)
    return rows.one_of(
        "fault-",
        fault.code,
        FAULTS,
        has=_quantity(rows, fault.code, fault.has),
        needs=_quantity(rows, fault.code, fault.needs),
    )


def _quantity(rows: Rows, code: str, value: float | str) -> str:
    if isinstance(value, str):
        return _chemistry(rows, value) if code == "chemistry" else value
    if code in ("age", "join-age"):
        return rows.count("count-years", value, 1)
    if code in UNITS:
        return show(value, UNITS[code])
    if code == "voltage":
        return volts(value)
    return plain(value) if code in WHOLE else amps(value, 0)


def _chemistry(rows: Rows, chemistry: str) -> str:
    return rows.one_of("kind-", chemistry, CHEMISTRIES)
