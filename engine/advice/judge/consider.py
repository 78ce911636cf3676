"""One candidate: powered, given a bank, sized, checked and scored."""

from dataclasses import dataclass

from engine.advice.judge.checks import (
    UnitChecks,
    UnitNeeds,
    as_read,
    unit_checks,
    unit_needs_of,
)
from engine.advice.judge.keeping import Tried, try_all
from engine.advice.judge.ranking import score_of
from engine.advice.judge.supplied import Supplies
from engine.advice.plan.bank import CHEAPEST, plan_bank
from engine.advice.plan.begun import Beginning, Begun
from engine.advice.plan.dc_begun import DcRun
from engine.advice.plan.dc_side import finish_dc, plan_dc
from engine.advice.plan.kept import needs_with, plan_kept
from engine.advice.plan.layouts import LAYOUTS, candidates, motors_to_soften
from engine.advice.plan.parts import parts_of
from engine.advice.plan.supply import soft_starter_for
from engine.kept import kept
from engine.model.guide import BankBy, Guide
from engine.model.needs import Needs, PowerNeeds
from engine.model.products import Battery
from engine.model.result import (
    BankPlan,
    Candidate,
    Check,
    Considered,
    Design,
    Only,
    Supply,
    all_passed,
)

Order = tuple[bool, float, float, int, str, int]
Banked = tuple[BankPlan | None, tuple[Check, ...]]


@dataclass(frozen=True, slots=True)
class Powered:
    """A candidate that can power the rig and has its place in it."""

    candidate: Candidate
    supply: Supply
    checks: tuple[Check, ...]


@kept("answer", 32)  # most details of an answer leave this as it is
def able_of(guide: Guide, needs: PowerNeeds) -> tuple[Powered, ...]:
    """The candidates that can power the rig and have their place in it."""
    return tuple([each for each in _tried(guide, needs)[1] if isinstance(each, Powered)])


@kept("answer", 32)
def unable_of(guide: Guide, needs: PowerNeeds) -> tuple[tuple[Order, Considered], ...]:
    """Those that cannot, with their order."""
    supplies, tried = _tried(guide, needs)
    found = (
        each or _power(candidate, unit, supplies)
        for (candidate, unit), each in zip(_with_checks(guide, needs), tried, strict=True)
    )
    return tuple([(order_of(each), each) for each in found if isinstance(each, Considered)])


@kept("answer", 32)
def _tried(
    guide: Guide, needs: PowerNeeds
) -> tuple[Supplies, tuple[Powered | Considered | None, ...]]:
    """What becomes of each candidate whose unit suits the rig; None for one that does not."""
    supplies = Supplies(guide, needs)
    return supplies, tuple(
        [
            _power(candidate, unit, supplies) if unit.passed else None
            for candidate, unit in _with_checks(guide, needs)
        ]
    )


def _with_checks(guide: Guide, needs: PowerNeeds) -> tuple[tuple[Candidate, UnitChecks], ...]:
    return _checked(guide, motors_to_soften(needs), unit_needs_of(needs))


@kept("guide", 64)
def _checked(
    guide: Guide, to_soften: int, needs: UnitNeeds
) -> tuple[tuple[Candidate, UnitChecks], ...]:
    """Each candidate with the checks of its unit."""
    plain = {
        (each.layout, each.inverter.id): unit_checks(needs, each) for each in candidates(guide, 0)
    }
    return tuple(
        [(each, plain[each.layout, each.inverter.id]) for each in candidates(guide, to_soften)]
    )


def _power(candidate: Candidate, unit: UnitChecks, supplies: Supplies) -> Powered | Considered:
    supply, beside = supplies.of(candidate)
    checks = as_read(unit, beside)
    if all_passed(checks):
        return Powered(candidate, supply, checks)
    return Considered(candidate, checks, None, 0.0)


def order_of(considered: Considered) -> Order:
    """Sorting key: what passes by its score, then what fails by how much it misses."""
    candidate = considered.candidate
    misses = () if considered.design else considered.failed
    worst = -min([check.margin for check in misses], default=0.0)
    return (
        considered.design is None,
        considered.score,
        worst + len(misses) * 1e-6,
        LAYOUTS.index(candidate.layout),
        candidate.inverter.id,
        candidate.soft_starters,
    )


def consider(
    guide: Guide,
    needs: Needs,
    candidate: Candidate,
    supplies: Supplies,
    only: Only | None = None,
) -> Considered:
    """Size and check one candidate, as far as its checks let it come; perhaps with one battery."""
    found = _power(candidate, unit_checks(unit_needs_of(needs), candidate), supplies)
    return found if isinstance(found, Considered) else design_of(guide, needs, found, only)


def only_of(bank: BankPlan) -> Only:
    """What plans this bank again."""
    return Only(bank.battery, bank.kept, bank.yours, "more" if bank.count > bank.kept else "all")


def tried_of(
    guide: Guide, needs: Needs, powered: Powered, beginning: Beginning | None = None
) -> Tried:
    """A candidate with new batteries, and with those that are in the rig already."""

    def design(only: Only | None) -> Considered:
        return design_of(guide, needs, powered, only, beginning)

    return try_all(guide, needs, powered.candidate.inverter.dc_nominal, design)


def design_of(
    guide: Guide,
    needs: Needs,
    powered: Powered,
    only: Only | None = None,
    beginning: Beginning | None = None,
) -> Considered:
    """Size and check it with the bank that is aimed at; where that is too dear, the cheapest.

    beginning: of these needs, where several are designed for them
    """
    if only and only.kept:
        needs = needs_with(needs, only)
        begins = Beginning(guide, needs)
        on = begins.on_bank(powered.candidate.inverter.dc_nominal)
        theirs = plan_kept(on, powered.candidate, powered.supply, only)
        return sized_of(begins, powered, theirs)
    battery = only.battery if only else None
    by = guide.priorities.aim(needs.aim).bank
    begins = beginning or Beginning(guide, needs)
    found = sized_of(begins, powered, banked_of(begins, powered, by, battery))
    if found.design is None and may_be_cheaper(needs, by):
        return sized_of(begins, powered, banked_of(begins, powered, CHEAPEST, battery))
    return found


def may_be_cheaper(needs: Needs, by: BankBy) -> bool:
    """Whether a cheaper bank than the one aimed at may keep a budget."""
    return by != CHEAPEST and needs.budget is not None


def banked_of(
    beginning: Beginning, powered: Powered, by: BankBy, battery: Battery | None = None
) -> Banked:
    """Its bank with its checks, see `plan_bank`."""
    on = beginning.on_bank(powered.candidate.inverter.dc_nominal)
    return plan_bank(on, powered.candidate, powered.supply, battery, by)


def sized_of(
    beginning: Beginning,
    powered: Powered,
    banked: Banked,
    begun: Begun | None = None,
    run: DcRun | None = None,
) -> Considered:
    """Size, check and score it with this bank.

    begun, run: of this candidate and of its DC side, where they were planned already
    """
    guide, needs = beginning.guide, beginning.needs
    candidate, supply, checks = powered.candidate, powered.supply, powered.checks
    bank, more = banked
    checks += more
    if bank is None:
        return Considered(candidate, checks, None, 0.0)
    if run is None:
        dc, more = plan_dc(candidate, supply, bank, beginning.branches)
    else:
        dc, more = finish_dc(guide, needs, candidate, bank, run)
    checks += more
    if dc is None:
        return Considered(candidate, checks, None, 0.0)
    if begun is None:
        begun, more = beginning.of(candidate, supply)
        checks += more
        if begun is None:
            return Considered(candidate, checks, None, 0.0)
    else:
        checks += begun.checks
    design = Design(
        candidate=candidate,
        supply=supply,
        bank=bank,
        dc=dc,
        ac=begun.ac,
        cooling=begun.cooling,
        soft_starter=soft_starter_for(guide, needs) if candidate.soft_starters else None,
        house=begun.house,
        parts=parts_of(guide, needs, candidate, (begun.known, bank, dc)),
    )
    checks += _limits(needs, design)
    if not all_passed(checks):
        return Considered(candidate, checks, None, 0.0)
    score, contributions = score_of(guide, needs, design)
    return Considered(candidate, checks, design, score, contributions)


def _limits(needs: Needs, design: Design) -> tuple[Check, ...]:
    """What the whole may weigh and cost, where that was said."""
    found = []
    if needs.payload_kg is not None:
        found.append(Check("payload", design.mass_kg, needs.payload_kg, "kg", True))
    if needs.budget is not None:
        found.append(Check("budget", design.parts_price, needs.budget, "money", True))
    return tuple(found)
