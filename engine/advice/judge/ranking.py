"""Order of preference among setups that pass every check, by the shop's own priorities."""

from dataclasses import replace

from engine.advice.plan.begun import Begun
from engine.advice.plan.dc_begun import DcRun, least_price
from engine.kept import kept
from engine.model.guide import Guide, Priority
from engine.model.needs import Needs
from engine.model.result import AcPlan, BankPlan, Candidate, Design, HouseSide
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


def floor_of(
    guide: Guide, needs: Needs, begun: Begun, bank: BankPlan | float, run: DcRun | None = None
) -> float:
    """A score that no design begun so stays below.

    bank: this one, or any that costs no less [money]
    run: this one, or any
    """
    measured = _least(guide, needs, begun, bank)
    if run and isinstance(bank, BankPlan):
        measured["parts-price"] += least_price(guide, needs, begun.candidate, (bank, run))
    counted = _counted(guide, needs.aim)
    return rounded(sum(each.counts * measured.get(each.measure, 0.0) for each in counted))


def _least(guide: Guide, needs: Needs, begun: Begun, bank: BankPlan | float) -> dict[str, float]:
    """What units, bank and all that no bank changes measure; what comes to them adds to it."""
    price, mass_kg = begun.known.least
    count = 1
    if isinstance(bank, BankPlan):
        count = bank.count
        new = count - bank.kept
        price += new * bank.battery.price
        mass_kg += new * bank.battery.mass
    else:
        price += bank
    hours = _hours(guide, needs, begun.candidate, (begun.ac, begun.house), count)
    return {
        "parts-price": price,
        "labor": guide.priorities.labor.rate * hours,
        "mass": mass_kg,
        **_of_units(needs, begun.candidate),
    }


def _of_units(needs: Needs, candidate: Candidate) -> dict[str, float]:
    """What the units decide alone."""
    inverter, units = candidate.inverter, candidate.units
    push_in = inverter.terminals.kind == "push-in"
    area_m2 = _area_m2(inverter.height, inverter.width, inverter.depth, needs.mount)
    return {
        "units": units,
        "terminal-misfit": units if push_in and needs.tools != "crimper" else 0.0,
        "wall-area": units * area_m2,
        "idle": units * inverter.idle,
    }


@kept("guide", 256)
def _area_m2(height_m: float, width_m: float, depth_m: float, mount: str) -> float:
    return wall_area_m2(Box(height_m, width_m, depth_m), mount)


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
        "waiting": len(
            [
                line
                for line in design.parts
                if not line.have and (not line.product or line.product in guide.absent)
            ]
        ),
        **_of_units(needs, design.candidate),
    }


def labor_h(guide: Guide, needs: Needs, design: Design) -> float:
    """Planning hours for fitting it; for ranking only, never a quotation [h]."""
    fixed = design.ac, design.house
    return _hours(guide, needs, design.candidate, fixed, design.bank.count)


def _hours(
    guide: Guide,
    needs: Needs,
    candidate: Candidate,
    fixed: tuple[AcPlan, HouseSide | None],
    batteries: int,
) -> float:
    labor, (ac, house) = guide.priorities.labor, fixed
    push_in = candidate.inverter.terminals.kind == "push-in"
    return (
        labor.base
        + labor.each_unit * candidate.units
        + labor.each_battery * (batteries + (house.batteries if house else 0))
        + (0.0 if needs.panel_there else labor.sub_panel)
        + (labor.each_push_in_end * candidate.units * len(ac.ends_per_unit) if push_in else 0.0)
    )
