"""Order of preference among set-ups that pass every check, by the shop's own priorities."""

from engine.model.guide import Guide, Priority
from engine.model.needs import Needs
from engine.model.result import Design
from engine.sizing.fit import Box, wall_area_m2

# Scores are compared to the tenth of a cent, so that rounding never decides.
_PLACES = 3


def score_of(
    guide: Guide, needs: Needs, design: Design
) -> tuple[float, tuple[tuple[Priority, float], ...]]:
    """What the design counts, in money, and what each priority adds to it; less is better."""
    measured = _measures(guide, needs, design)
    contributions = tuple(
        (priority, priority.counts * measured[priority.measure])
        for priority in guide.priorities.list
    )
    return round(sum(counts for _, counts in contributions), _PLACES), contributions


def _measures(guide: Guide, needs: Needs, design: Design) -> dict[str, float]:
    inverter, units = design.candidate.inverter, design.candidate.units
    push_in = inverter.terminals.kind == "push-in"
    unit = Box(inverter.height, inverter.width, inverter.depth)
    return {
        "parts-price": design.parts_price,
        "labour": guide.priorities.labour.rate * labour_h(guide, needs, design),
        "units": units,
        "terminal-misfit": units if push_in and needs.tools != "crimper" else 0.0,
        "wall-area": units * wall_area_m2(unit, needs.mount),
        "mass": design.mass_kg,
        "idle": units * inverter.idle,
        "waiting": sum(
            1
            for line in design.parts
            if not line.have and (not line.product or line.product in guide.absent)
        ),
    }


def labour_h(guide: Guide, needs: Needs, design: Design) -> float:
    """Planning hours for fitting it; for ranking only, never a quotation [h]."""
    labour = guide.priorities.labour
    units = design.candidate.units
    ends = units * len(design.ac.ends_per_unit)
    push_in = design.candidate.inverter.terminals.kind == "push-in"
    return (
        labour.base
        + labour.each_unit * units
        + labour.each_battery
        * (design.bank.count + (design.house.batteries if design.house else 0))
        + (labour.each_push_in_end * ends if push_in else 0.0)
        + (0.0 if needs.panel_there else labour.sub_panel)
    )
