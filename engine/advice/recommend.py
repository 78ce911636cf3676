"""One set of answers in which nothing is open -> every candidate sized, checked and ranked."""

from engine.advice.ac_side import plan_ac
from engine.advice.bank import plan_bank
from engine.advice.checks import supply_checks
from engine.advice.cooling_plan import plan_cooling
from engine.advice.dc_side import plan_dc
from engine.advice.layouts import LAYOUTS, candidates
from engine.advice.parts import parts_of
from engine.advice.ranking import score_of
from engine.advice.supply import Demands, soft_starter_for, supply_of
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Candidate, Check, Considered, Design, Outcome


def outcome_of(guide: Guide, answers: Answers, needs: Needs) -> Outcome:
    """Size, check and rank every candidate: those that pass by score, then those that fail.

    A failed one stands the nearer to the front the less it misses by.
    """
    demands = Demands(guide, needs)
    found = [consider(guide, needs, candidate, demands) for candidate in candidates(guide, needs)]
    found.sort(key=_order)
    return Outcome(answers, needs, tuple(found))


def _order(considered: Considered) -> tuple[bool, float, float, int, str, int]:
    candidate = considered.candidate
    misses = considered.failed
    worst = -min((check.margin for check in misses), default=0.0)
    return (
        considered.design is None,
        considered.score,
        worst + len(misses) * 1e-6,
        LAYOUTS.index(candidate.layout),
        candidate.inverter.id,
        candidate.soft_starters,
    )


def consider(guide: Guide, needs: Needs, candidate: Candidate, demands: Demands) -> Considered:
    """Size and check one candidate, as far as its checks let it come."""
    supply = supply_of(needs, candidate, demands)
    checks = supply_checks(guide, needs, candidate, supply)
    if not all(check.passed for check in checks):
        return Considered(candidate, checks, None, 0.0)
    bank, more = plan_bank(guide, needs, candidate, supply)
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
        parts=parts,
    )
    if needs.payload_kg is not None:
        checks += (Check("payload", design.mass_kg, needs.payload_kg, "kg", True),)
    if not all(check.passed for check in checks):
        return Considered(candidate, checks, None, 0.0)
    score, contributions = score_of(guide, needs, design)
    return Considered(candidate, checks, design, score, contributions)


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
    )
