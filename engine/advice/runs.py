"""What the recommended set-up can run off the battery, in the customer's own loads."""

from dataclasses import dataclass
from itertools import combinations

from engine.advice.supply import leg_demands
from engine.model.guide import Guide
from engine.model.needs import Load, Needs
from engine.model.result import Design
from engine.needs import load_of
from engine.sizing.bank import protection_holds
from engine.sizing.inverter import dc_current_a, input_w, surge_for


@dataclass(frozen=True, slots=True)
class Runs:
    """Names of heavy loads by how they may run, beside everything light.

    alone: one at a time · together: pairs at the same time · never: not even alone ·
    dead: on 240 V where the set-up has none off the battery
    """

    alone: tuple[str, ...]
    together: tuple[tuple[str, str], ...]
    never: tuple[str, ...]
    dead: tuple[str, ...]


def runs_of(guide: Guide, needs: Needs, design: Design) -> Runs:
    """Try each heavy load alone and each pair, against unit and bank."""
    heavy = _heavy_loads(guide, needs)
    legs = design.candidate.legs
    dead = tuple(load.name for load in heavy if load.volts == 240 and legs == 1)
    live = [load for load in heavy if load.name not in dead]
    alone = [load for load in live if _runs(guide, needs, design, (load,))]
    pairs = [pair for pair in combinations(alone, 2) if _runs(guide, needs, design, pair)]
    twins = [
        (load, load)
        for load in alone
        if sum(each.count for each in needs.loads if each.id == load.id) > 1
        and _runs(guide, needs, design, (load, load))
    ]
    return Runs(
        alone=tuple(load.name for load in alone),
        together=tuple((first.name, second.name) for first, second in twins + pairs),
        never=tuple(load.name for load in live if load not in alone),
        dead=dead,
    )


def _heavy_loads(guide: Guide, needs: Needs) -> list[Load]:
    """The visitor's heavy loads first, then the others that this kind of rig usually has."""
    found = {load.name: load for load in needs.loads if load.heavy or load.volts == 240}
    for ids in needs.rig.heavy.values():
        for appliance_id in ids:
            load = load_of(guide.appliance(appliance_id), 1)
            found.setdefault(load.name, load)
    if needs.service.legs == 2:
        load = load_of(guide.appliance(guide.planning.appliance_240), 1)
        found.setdefault(load.name, load)
    return list(found.values())


def _runs(guide: Guide, needs: Needs, design: Design, heavy: tuple[Load, ...]) -> bool:
    supply, candidate = design.supply, design.candidate
    softened = needs.soft_start_fitted or candidate.soft_starters > 0
    light = tuple(load for load in needs.running if not load.heavy and load.volts != 240)
    legs = leg_demands(
        light + heavy,
        candidate.legs,
        guide.planning.soft_start_reduction if softened else 0.0,
    )
    start_s = max(leg.start_s for leg in legs)
    surge_va = surge_for(candidate.inverter.surge, start_s) * candidate.units_per_leg
    if not all(
        leg.demand.real_w * guide.planning.load_margin <= supply.continuous_w
        and leg.demand.apparent_va <= supply.apparent_va
        and leg.demand.worst_va <= surge_va
        for leg in legs
    ):
        return False
    battery, low_v = design.bank.battery, design.dc.low_v
    units = candidate.units
    step_va = max(leg.demand.worst_va - leg.demand.apparent_va for leg in legs)
    total_va = sum(leg.demand.apparent_va for leg in legs)
    total_w = sum(leg.demand.real_w for leg in legs)
    running_a = dc_current_a(units * input_w(supply.curve, total_w / units), low_v)
    start_a = dc_current_a(units * input_w(supply.curve, (total_va + step_va) / units), low_v)
    return running_a <= battery.continuous_current * design.bank.parallel and protection_holds(
        start_a,
        start_s,
        continuous_each_a=battery.continuous_current,
        peak_each_a=battery.peak_current,
        peak_s=battery.peak_time,
        parallel=design.bank.parallel,
    )
