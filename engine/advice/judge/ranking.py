"""Order of preference among setups that pass every check, by the shop's own priorities."""

from dataclasses import replace

from engine.kept import kept
from engine.model.guide import Guide, Priority
from engine.model.needs import Needs
from engine.model.result import BankPlan, Candidate, Design
from engine.sizing.fit import Box, wall_area_m2

# Scores are compared to the tenth of a cent, so that rounding never decides.
_PLACES = 3


def score_of(
    guide: Guide, needs: Needs, design: Design
) -> tuple[float, tuple[tuple[Priority, float], ...]]:
    """What the design counts by what is aimed at, and what each priority adds; less is better."""
    measured = measures_of(guide, needs, design)
    contributions = tuple(
        (priority, priority.counts * measured[priority.measure])
        for priority in _counted(guide, needs.aim)
    )
    return rounded(sum(counts for _, counts in contributions)), contributions


def floor_of(guide: Guide, needs: Needs, candidate: Candidate, bank: BankPlan) -> float:
    """A score that no design of this candidate with this bank stays below."""
    measured = _least(guide, needs, candidate, bank)
    counted = _counted(guide, needs.aim)
    return rounded(sum(each.counts * measured.get(each.measure, 0.0) for each in counted))


def _least(guide: Guide, needs: Needs, candidate: Candidate, bank: BankPlan) -> dict[str, float]:
    """What units and bank alone measure; all that comes to them adds to it."""
    inverter, units = candidate.inverter, candidate.units
    return {
        "parts-price": units * inverter.price + bank.count * bank.battery.price,
        "labor": guide.priorities.labor.rate * _labor_h(guide, needs, candidate, bank),
        "mass": units * inverter.mass + bank.count * bank.battery.mass,
        **_of_units(needs, candidate),
    }


def _of_units(needs: Needs, candidate: Candidate) -> dict[str, float]:
    """What the units decide alone."""
    inverter, units = candidate.inverter, candidate.units
    push_in = inverter.terminals.kind == "push-in"
    unit = Box(inverter.height, inverter.width, inverter.depth)
    return {
        "units": units,
        "terminal-misfit": units if push_in and needs.tools != "crimper" else 0.0,
        "wall-area": units * wall_area_m2(unit, needs.mount),
        "idle": units * inverter.idle,
    }


def rounded(score: float) -> float:
    """A score as it is compared: rounding errors never decide."""
    return round(score, _PLACES)


@kept("guide", 32)
def _counted(guide: Guide, aim_id: str) -> tuple[Priority, ...]:
    """What counts for an aim, with the words of the shop's own priorities."""
    aim, own = guide.priorities.aim(aim_id), guide.priorities.list
    if not aim.list:
        return own
    by_measure = {each.measure: each for each in own}
    return tuple(replace(by_measure[each.measure], counts=each.counts) for each in aim.list)


def measures_of(guide: Guide, needs: Needs, design: Design) -> dict[str, float]:
    """What the design measures, by the names of the priorities."""
    return {
        "parts-price": design.parts_price,
        "labor": guide.priorities.labor.rate * labor_h(guide, needs, design),
        "mass": design.mass_kg,
        "waiting": sum(
            1
            for line in design.parts
            if not line.have and (not line.product or line.product in guide.absent)
        ),
        **_of_units(needs, design.candidate),
    }


def labor_h(guide: Guide, needs: Needs, design: Design) -> float:
    """Planning hours for fitting it; for ranking only, never a quotation [h]."""
    candidate = design.candidate
    ends = candidate.units * len(design.ac.ends_per_unit)
    push_in = candidate.inverter.terminals.kind == "push-in"
    for_ends_h = guide.priorities.labor.each_push_in_end * ends if push_in else 0.0
    for_house_h = guide.priorities.labor.each_battery * (
        design.house.batteries if design.house else 0
    )
    return _labor_h(guide, needs, candidate, design.bank) + for_ends_h + for_house_h


def _labor_h(guide: Guide, needs: Needs, candidate: Candidate, bank: BankPlan) -> float:
    """The hours without what the conductor ends take [h]."""
    labor = guide.priorities.labor
    return (
        labor.base
        + labor.each_unit * candidate.units
        + labor.each_battery * bank.count
        + (0.0 if needs.panel_there else labor.sub_panel)
    )
