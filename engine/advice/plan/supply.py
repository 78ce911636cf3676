"""The AC side of a candidate off the battery: what each leg must carry, and what it can."""

from dataclasses import dataclass

from engine.advice.plan.shelf import preference
from engine.kept import kept
from engine.model.buses import LEG, LEGS
from engine.model.guide import Guide
from engine.model.needs import Load, PowerNeeds
from engine.model.products import InverterCharger, SoftStarter
from engine.model.result import Candidate, LegDemand, Supply
from engine.sizing import fit
from engine.sizing import inverter as sizing
from engine.sizing.inverter import (
    LossCurve,
    behind_breaker_w,
    continuous_at,
    continuous_needed_w,
    fit_losses,
    heat_w,
    leg_output_w,
    leg_surge_va,
    surge_for,
)
from engine.sizing.legs import assign_legs
from engine.sizing.loads import (
    Demand,
    Running,
    apparent_power_va,
    demand,
    feeder_current_a,
    locked_rotor_va,
    running_current_a,
    start_va,
)
from engine.sizing.protection import branch_breaker_a
from engine.standards.overcurrent import CONTINUOUS_FROM_H, STANDARD_RATINGS_A
from engine.trace import step, told

low_battery_v = kept("never", 64)(sizing.low_battery_v)
nameplate_w = kept("never", 256)(sizing.nameplate_w)


@kept("never", 4096)
def loss_curve(points: tuple[tuple[float, float], ...], idle_w: float) -> LossCurve:
    """The loss curve through a product's efficiency points; fitted once a product."""
    return fit_losses(points, idle_w)


def curve_of(inverter: InverterCharger) -> LossCurve:
    """The loss curve of this inverter-charger."""
    return loss_curve(inverter.efficiency, inverter.idle)


@dataclass(frozen=True, slots=True)
class Asked:
    """What is asked of every candidate with as many legs, soft or not, as `Supply` has it."""

    legs: tuple[LegDemand, ...]
    planned_w: float
    heaviest_va: float
    worst_va: float
    longest_start_s: float
    feeder_a: float
    total_w: float
    total_worst_va: float


class Demands:
    """What candidates share: demand by number of legs, soft or not, and output of a warm unit."""

    def __init__(self, guide: Guide, needs: PowerNeeds) -> None:
        self._guide = guide
        self._needs = needs
        self._asked: dict[tuple[int, bool], Asked] = {}
        self._warm: dict[str, float] = {}

    def of(self, candidate: Candidate) -> Asked:
        """What this candidate is asked for."""
        key = (candidate.legs, candidate.soft_starters > 0)
        if key not in self._asked:
            self._asked[key] = self._worked_out(candidate)
        return self._asked[key]

    def _worked_out(self, candidate: Candidate) -> Asked:
        needs = self._needs
        reduction = reduction_of(self._guide, needs, candidate)
        role = "power.only" if candidate.legs == 1 else "power.legs"
        legs = step(role, leg_demands, needs.running, candidate.legs, reduction)
        heaviest_w = max(leg.demand.real_w for leg in legs)
        return Asked(
            legs=legs,
            planned_w=self._planned_w(heaviest_w, candidate.legs),
            heaviest_va=max(leg.demand.apparent_va for leg in legs),
            worst_va=max(leg.demand.worst_va for leg in legs),
            longest_start_s=max(leg.start_s for leg in legs),
            feeder_a=feeder_breaker_a(needs, legs),
            total_w=sum(leg.demand.real_w for leg in legs),
            total_worst_va=_worst_of_all(legs),
        )

    def _planned_w(self, heaviest_w: float, legs: int) -> float:
        """What is looked for on the busiest leg, the margin only as far as a panel passes it."""
        margin = self._guide.planning.load_margin
        planned_w = step("power.planned", continuous_needed_w, heaviest_w, margin)
        service = self._needs.service
        if not has_own_breaker(self._needs, legs):
            return planned_w
        return step("power.planned", behind_breaker_w, planned_w, service.amps, service.volts)

    def warm_w(self, inverter: InverterCharger) -> float:
        """What one unit delivers at the temperature around it; 0 where it may not run [W]."""
        if inverter.id not in self._warm:
            ambient_c = self._needs.ambient_c
            found_w = step("power.warm", continuous_at, inverter.continuous, ambient_c)
            self._warm[inverter.id] = found_w or 0.0
        return self._warm[inverter.id]


def has_own_breaker(needs: PowerNeeds, legs: int) -> bool:
    """Whether each leg of the output ends at a breaker of the panel that is there.

    One leg that feeds both of a panel goes through two of them.
    """
    return needs.panel_there and legs == needs.service.legs


def soft_starter_for(guide: Guide, needs: PowerNeeds) -> SoftStarter | None:
    """The cheapest soft starter that bears the running current of every motor it would go to."""
    running_a = max(
        (
            running_current_a(apparent_power_va(load.running_w, load.power_factor), load.volts)
            for load in needs.running
            if load.soft_startable
        ),
        default=0.0,
    )
    able = [each for each in guide.catalogue.soft_starters if each.largest_running >= running_a]
    return min(able, key=preference, default=None)


def reduction_of(guide: Guide, needs: PowerNeeds, candidate: Candidate) -> float:
    """Share that soft starters take off the locked-rotor current, fan included; 0 without any.

    For one from the shelf its maker's figure counts too, and the more careful of the two is taken.
    """
    planned = guide.planning.soft_start_reduction
    if needs.soft_start_fitted:
        return planned
    if not candidate.soft_starters:
        return 0.0
    chosen = soft_starter_for(guide, needs)
    return min(planned, chosen.reduction) if chosen else planned


def supply_of(needs: PowerNeeds, candidate: Candidate, demands: Demands) -> Supply:
    """Demand and ability of a candidate, each leg for itself."""
    inverter = candidate.inverter
    asked = demands.of(candidate)
    rated_w = demands.warm_w(inverter)
    warm = rated_w / inverter.continuous[0][1]  # its curve never rises, a rule of the content
    curve = curve_of(inverter)
    share = candidate.units_per_leg
    held_va = surge_for(inverter.surge, asked.longest_start_s)
    return Supply(
        legs=asked.legs,
        planned_w=asked.planned_w,
        heaviest_va=asked.heaviest_va,
        worst_va=asked.worst_va,
        feeder_a=asked.feeder_a,
        continuous_w=step("power.unit", leg_output_w, rated_w, share),
        apparent_va=inverter.apparent * warm * share,
        surge_va=step("power.unit", leg_surge_va, held_va, share),
        curve=curve,
        total_w=asked.total_w,
        total_worst_va=asked.total_worst_va,
        heat_w=step(
            "cooling.unit", heat_w, curve, asked.total_w / candidate.units, candidate.units
        ),
        fit=place(needs, inverter, candidate.units),
    )


def _worst_of_all(legs: tuple[LegDemand, ...]) -> float:
    """Everything runs and the one hardest start on any leg happens."""
    step = max(leg.demand.worst_va - leg.demand.apparent_va for leg in legs)
    return sum(leg.demand.apparent_va for leg in legs) + step


def feeder_breaker_a(needs: PowerNeeds, legs: tuple[LegDemand, ...]) -> float:
    """Breaker of the feed: that of the panel that is there, else by what runs at once [A].

    No more than the panel's rating may stand ahead of it, NEC 408.36 (from memory). In a whole rig
    that gets a new one, what the cord brings passes too.
    """
    if needs.panel_there:
        return needs.service.amps
    volts = needs.service.volts
    leg = max(legs, key=lambda leg: feeder_current_a(leg.lasting_va, leg.short_va, volts))
    load_a = step("service.feeder", feeder_current_a, leg.lasting_va, leg.short_va, volts)
    if needs.whole:
        load_a = max(load_a, needs.service.amps)
    if load_a > STANDARD_RATINGS_A[-1]:  # far beyond any unit; the checks say so
        return load_a
    return branch_breaker_a(load_a, continuous=False)


def leg_demands(running: tuple[Load, ...], legs: int, reduction: float) -> tuple[LegDemand, ...]:
    """What runs at once on each leg; loads on 240 V lie half on either, or are dead on one leg."""
    return tuple(_leg(at, on) for at, on in enumerate(split(running, legs, reduction), 1))


def unsoftened_va(running: tuple[Load, ...], legs: int) -> float:
    """The hardest start with all that runs along, without soft starters, on the busier leg [VA]."""
    return max(leg.demand.worst_va for leg in leg_demands(running, legs, 0.0))


def split(
    running: tuple[Load, ...], legs: int, reduction: float
) -> tuple[list[tuple[Load, Running]], ...]:
    """The loads shared between the legs, so that the heavier leg is as light as it can be."""
    on_one = [(load, as_running(load, reduction)) for load in running if load.bus is LEG]
    if legs == 1:
        return (on_one,)
    on_both = [(load, _half(as_running(load, reduction))) for load in running if load.bus is LEGS]
    placed = assign_legs(tuple(each.apparent_va for _, each in on_one))
    return tuple(
        [pair for pair, on in zip(on_one, placed.legs, strict=True) if on == leg] + on_both
        for leg in (1, 2)
    )


def as_running(load: Load, reduction: float) -> Running:
    """A load as the sizing sees it, with its start, softened where it can be."""
    apparent_va = apparent_power_va(load.running_w, load.power_factor)
    starting_va = apparent_va
    if load.locked_rotor_a:
        role = told("", name=load.name)
        full_va = step(role, locked_rotor_va, load.locked_rotor_a, load.volts)
        softened = reduction if load.soft_startable else 0.0
        starting_va = max(apparent_va, step(role, start_va, full_va, softened))
    return Running(load.name, load.running_w, apparent_va, starting_va)


def _half(whole: Running) -> Running:
    return Running(whole.name, whole.real_w / 2, whole.apparent_va / 2, whole.start_va / 2)


def _leg(at: int, on_leg: list[tuple[Load, Running]]) -> LegDemand:
    running = tuple(each for _, each in on_leg)
    found = Demand(0.0, 0.0, 0.0, "")
    if running:
        found = step(told("", name=at), demand, running)
    start_s = 0.0
    if found.worst_va > found.apparent_va:
        start_s = max(load.start_s for load, each in on_leg if each.name == found.starter)
    lasts = [(each.apparent_va, load.hours >= CONTINUOUS_FROM_H) for load, each in on_leg]
    lasting_va = sum(va for va, lasting in lasts if lasting)
    short_va = sum(va for va, lasting in lasts if not lasting)
    return LegDemand(running, found, start_s, lasting_va, short_va)


def place(needs: PowerNeeds, inverter: InverterCharger, units: int) -> fit.FitResult | None:
    """How the units sit in the compartment; None where no compartment was given."""
    if needs.bay is None:
        return None
    asked = inverter.clearances
    gap = needs.gap_m
    clearances = fit.Clearances(
        *(
            side if gap is None else min(side, gap)
            for side in (asked.top, asked.bottom, asked.sides, asked.front)
        )
    )
    return _place(
        fit.Box(inverter.height, inverter.width, inverter.depth),
        units,
        fit.Box(needs.bay.height_m, needs.bay.width_m, needs.bay.depth_m),
        clearances,
        needs.mount,
    )


@kept("answer", 4096)
def _place(
    unit: fit.Box, units: int, bay: fit.Box, clearances: fit.Clearances, mount: str
) -> fit.FitResult:
    return max(
        (fit.fits(box, bay, clearances, mount) for _, box in arrangements(unit, units, clearances)),
        key=lambda result: result.margin_m,
    )


def arrangements(
    unit: fit.Box, units: int, clearances: fit.Clearances
) -> tuple[tuple[str, fit.Box], ...]:
    """The ways to hang the units together, as the space that they take with what lies between."""
    if units == 1:
        return (("single", unit),)
    beside = fit.Box(
        unit.height_m, units * unit.width_m + (units - 1) * clearances.side_m, unit.depth_m
    )
    gap_between = max(clearances.top_m, clearances.bottom_m)
    above = fit.Box(units * unit.height_m + (units - 1) * gap_between, unit.width_m, unit.depth_m)
    return (("beside", beside), ("above", above))


def clearance_free(needs: PowerNeeds, inverter: InverterCharger) -> bool:
    """Whether the free space around the unit is what its maker asks for."""
    asked = inverter.clearances
    return needs.gap_m is None or fit.gap_ok(
        needs.gap_m, fit.Clearances(asked.top, asked.bottom, asked.sides, asked.front)
    )
