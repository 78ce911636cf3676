"""One set of answers in which nothing is open -> every candidate sized, checked and ranked."""

from dataclasses import dataclass, replace

from engine.advice.judge.checks import supply_checks
from engine.advice.judge.keeping import Tried, keeping_of, try_all
from engine.advice.judge.ranking import floor_of, score_of
from engine.advice.plan.ac_side import plan_ac
from engine.advice.plan.bank import CHEAPEST, plan_bank
from engine.advice.plan.cooling import plan_cooling
from engine.advice.plan.dc_side import plan_dc
from engine.advice.plan.house_side import house_side_of
from engine.advice.plan.kept import needs_with, plan_kept
from engine.advice.plan.layouts import LAYOUTS, candidates
from engine.advice.plan.parts import parts_of
from engine.advice.plan.supply import Demands, soft_starter_for, supply_of
from engine.kept import kept
from engine.model.answers import Answers
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
    Outcome,
    Supply,
)


def outcome_of(guide: Guide, answers: Answers, needs: Needs) -> Outcome:
    """Size, check and rank every candidate: those that pass by score, then those that fail.

    A failed one stands the nearer to the front the less it misses by.
    """
    powered, failed = _powered(guide, needs.power)
    keeping = None
    if needs.existing is None:
        designed = [_design(guide, needs, each) for each in powered]
    else:
        tried = [_tried(guide, needs, each) for each in powered]
        designed = [each.best for each in tried]
        keeping = keeping_of(needs, tried)
    found = [*((_order(each), each) for each in designed), *failed]
    found.sort(key=lambda pair: pair[0])
    outcome = Outcome(answers, needs, tuple(considered for _, considered in found), keeping)
    return _of_their_kind(outcome)


def _of_their_kind(outcome: Outcome) -> Outcome:
    """Where theirs are the bank, their kind is what is planned on; it is not assumed then."""
    best = outcome.best
    if best is None or best.design is None or not best.design.bank.kept:
        return outcome
    needs, chemistry = outcome.needs, best.design.bank.battery.chemistry
    assumed = tuple(each for each in needs.assumed if each != "chemistry")
    return replace(outcome, needs=replace(needs, chemistry=chemistry, assumed=assumed))


def best_of(guide: Guide, needs: Needs, own: Outcome | None = None) -> Considered | None:
    """What `outcome_of` recommends, and nothing else; None where nothing fits.

    A candidate whose unit and bank alone count more than the best one found is not planned further,
    and one that gets the bank of the shop's own choice is designed already.

    own: what is recommended without the aim, all else being equal; None where that is not known
    """
    able = _powered(guide, needs.power)[0]
    if needs.existing is not None:
        fit = [each for each in (_tried(guide, needs, one).best for one in able) if each.design]
        return min(fit, key=_order, default=None)
    by, designed = guide.priorities.aim(needs.aim).bank, _designed(needs, own)
    best: tuple[Order, Considered] | None = None
    begun = []
    for place, powered in enumerate(able):
        banked, known = _banked(guide, needs, powered, by), designed.get(powered.candidate)
        if known is not None and known.design is not None and known.design.bank == banked[0]:
            score, contributions = score_of(guide, needs, known.design)
            found = replace(known, score=score, contributions=contributions)
            best = min(filter(None, (best, (_order(found), found))), key=lambda each: each[0])
            continue
        floor = 0.0
        if banked[0] is not None and not _may_be_cheaper(needs, by):
            floor = floor_of(guide, needs, powered.candidate, banked[0])
        begun.append((floor, place, powered, banked))
    for floor, _, powered, banked in sorted(begun, key=lambda each: each[:2]):
        if best is not None and floor > best[1].score:
            break
        found = _sized(guide, needs, powered, banked)
        if found.design is None and _may_be_cheaper(needs, by):
            found = _design(guide, needs, powered)
        if found.design is not None and (best is None or _order(found) < best[0]):
            best = _order(found), found
    return best[1] if best is not None else None


def _designed(needs: Needs, own: Outcome | None) -> dict[Candidate, Considered]:
    """What was designed for the same needs without an aim; a budget has a check of its own."""
    if own is None or needs.budget is not None:
        return {}
    return {each.candidate: each for each in own.considered if each.design}


Order = tuple[bool, float, float, int, str, int]


@dataclass(frozen=True, slots=True)
class Powered:
    """A candidate that can power the rig and has its place in it."""

    candidate: Candidate
    supply: Supply
    checks: tuple[Check, ...]


def _tried(guide: Guide, needs: Needs, powered: Powered) -> Tried:
    system_v = powered.candidate.inverter.dc_nominal
    return try_all(guide, needs, system_v, lambda only: _design(guide, needs, powered, only))


@kept("answer", 32)  # most details of an answer leave this as it is
def _powered(
    guide: Guide, needs: PowerNeeds
) -> tuple[tuple[Powered, ...], tuple[tuple[Order, Considered], ...]]:
    """The candidates that can power the rig, and those that cannot, with their order."""
    demands = Demands(guide, needs)
    able: list[Powered] = []
    failed: list[tuple[Order, Considered]] = []
    for candidate in candidates(guide, needs):
        found = _power(needs, candidate, demands)
        if isinstance(found, Considered):
            failed.append((_order(found), found))
        else:
            able.append(found)
    return tuple(able), tuple(failed)


def _order(considered: Considered) -> Order:
    candidate = considered.candidate
    misses = considered.failed
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
    demands: Demands,
    only: Only | None = None,
) -> Considered:
    """Size and check one candidate, as far as its checks let it come; perhaps with one battery."""
    found = _power(needs, candidate, demands)
    return found if isinstance(found, Considered) else _design(guide, needs, found, only)


def only_of(bank: BankPlan) -> Only:
    """What plans this bank again."""
    return Only(bank.battery, bank.kept, bank.yours, "more" if bank.count > bank.kept else "all")


def _power(needs: PowerNeeds, candidate: Candidate, demands: Demands) -> Powered | Considered:
    supply = supply_of(needs, candidate, demands)
    checks = supply_checks(needs, candidate, supply)
    if all(check.passed for check in checks):
        return Powered(candidate, supply, checks)
    return Considered(candidate, checks, None, 0.0)


def _design(guide: Guide, needs: Needs, powered: Powered, only: Only | None = None) -> Considered:
    """Size and check it with the bank that is aimed at; where that is too dear, the cheapest."""
    if only and only.kept:
        needs = needs_with(needs, only)
        theirs = plan_kept(guide, needs, powered.candidate, powered.supply, only)
        return _sized(guide, needs, powered, theirs)
    battery = only.battery if only else None
    by = guide.priorities.aim(needs.aim).bank
    found = _sized(guide, needs, powered, _banked(guide, needs, powered, by, battery))
    if found.design is None and _may_be_cheaper(needs, by):
        return _sized(guide, needs, powered, _banked(guide, needs, powered, CHEAPEST, battery))
    return found


def _may_be_cheaper(needs: Needs, by: BankBy) -> bool:
    return by != CHEAPEST and needs.budget is not None


Banked = tuple[BankPlan | None, tuple[Check, ...]]


def _banked(
    guide: Guide, needs: Needs, powered: Powered, by: BankBy, battery: Battery | None = None
) -> Banked:
    return plan_bank(guide, needs, powered.candidate, powered.supply, battery, by)


def _sized(guide: Guide, needs: Needs, powered: Powered, banked: Banked) -> Considered:
    candidate, supply, checks = powered.candidate, powered.supply, powered.checks
    bank, more = banked
    checks += more
    if bank is None:
        return Considered(candidate, checks, None, 0.0)
    dc, more = plan_dc(guide, needs, candidate, supply, bank)
    checks += more
    if dc is None:
        return Considered(candidate, checks, None, 0.0)
    ac, more = plan_ac(guide, needs, candidate, supply)
    checks += more
    if ac is None:
        return Considered(candidate, checks, None, 0.0)
    cooling = plan_cooling(guide, needs, candidate, supply)
    parts = parts_of(guide, needs, candidate, (bank, dc, ac, cooling))
    design = Design(
        candidate=candidate,
        supply=supply,
        bank=bank,
        dc=dc,
        ac=ac,
        cooling=cooling,
        soft_starter=soft_starter_for(guide, needs) if candidate.soft_starters else None,
        house=house_side_of(guide, needs, candidate.inverter.dc_nominal),
        parts=parts,
    )
    checks += _limits(needs, design)
    if not all(check.passed for check in checks):
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


def starters_apart(key: tuple[str, ...]) -> tuple[tuple[str, ...], str]:
    """A key of `key_of` as unit and bank, and how many soft starters come with them."""
    return (*key[:3], *key[4:]), "".join(key[3:4])


def key_of(considered: Considered | None) -> tuple[str, ...]:
    """What a visitor would call the same recommendation; () where nothing fits."""
    if considered is None or considered.design is None:
        return ()
    candidate, bank = considered.candidate, considered.design.bank
    return (
        candidate.layout,
        candidate.inverter.id,
        str(candidate.units),
        str(candidate.soft_starters),
        bank.battery.id,
        str(bank.series),
        str(bank.parallel),
        *((str(bank.kept),) if bank.kept else ()),
    )
