"""One set of answers in which nothing is open -> every candidate sized, checked and ranked."""

from dataclasses import replace

from engine.advice.judge.consider import able_of, design_of, order_of, tried_of, unable_of
from engine.advice.judge.keeping import keeping_of
from engine.advice.plan.begun import Beginning
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Considered, Outcome


def outcome_of(guide: Guide, answers: Answers, needs: Needs) -> Outcome:
    """Size, check and rank every candidate: those that pass by score, then those that fail.

    A failed one stands the nearer to the front the less it misses by.
    """
    able, beginning = able_of(guide, needs.power), Beginning(guide, needs)
    keeping = None
    if needs.existing is None:
        designed = [design_of(guide, needs, each, beginning=beginning) for each in able]
    else:
        tried = [tried_of(guide, needs, each, beginning) for each in able]
        designed = [each.best for each in tried]
        keeping = keeping_of(needs, tried)
    found = [*((order_of(each), each) for each in designed), *unable_of(guide, needs.power)]
    found.sort(key=lambda pair: pair[0])
    outcome = Outcome(answers, needs, tuple(considered for _, considered in found), keeping)
    return _of_their_kind(outcome)


def _of_their_kind(outcome: Outcome) -> Outcome:
    needs = needs_of_their_kind(outcome.needs, outcome.best)
    return outcome if needs is outcome.needs else replace(outcome, needs=needs)


def needs_of_their_kind(needs: Needs, best: Considered | None) -> Needs:
    """Where theirs are the bank, their kind is what is planned on; it is not assumed then."""
    if best is None or best.design is None or not best.design.bank.kept:
        return needs
    assumed = tuple(each for each in needs.assumed if each != "chemistry")
    return replace(needs, chemistry=best.design.bank.battery.chemistry, assumed=assumed)


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
