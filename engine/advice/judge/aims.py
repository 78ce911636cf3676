"""What a setup is asked to be in place of the shop's own choice: by answers and by needs."""

from dataclasses import replace

from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Considered

ASKED = ("aim", "budget")
"""The questions that ask for something other than the shop's own choice."""


def without_aim(answers: Answers) -> Answers:
    """The same answers by which the shop's own choice is recommended."""
    kept = {name: value for name, value in answers.values.items() if name not in ASKED}
    return Answers(kept, answers.faults, answers.edition, answers.note)


def needs_of_aim(guide: Guide, needs: Needs, own: Considered | None) -> Needs:
    """Needs with an aim, for which the bank lasts as long as that asks beside the own choice.

    Where the shop's own choice is none, the days away count in its place.
    """
    times = guide.priorities.aim(needs.aim).lasts
    if not times:
        return needs
    held = own.design.bank.times_held if own is not None and own.design is not None else 1.0
    return replace(needs, reserve=times * held)
