"""Which appliance works on which source: hookup, smaller pedestal, generator, battery, driving."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from engine.advice.judge.runs import Trial, asked_at_once, heavy_loads
from engine.advice.plan.shore import busiest_a, plan_generator, plan_shore
from engine.advice.plan.supply import as_running, leg_demands, reduction_of
from engine.model.buses import LEGS
from engine.model.guide import Guide
from engine.model.needs import Load, Needs
from engine.model.result import Design
from engine.model.sources import GeneratorPlan, ShorePlan
from engine.needs import ONE_LEG_POST_A
from engine.sizing.generator import starts_motor
from engine.sizing.loads import feeder_current_a
from engine.standards.services import SERVICES

Works = Literal["yes", "one", "no"]
HOUSEHOLD_A, ADAPTER_A = SERVICES["household-15"].amps, SERVICES["30"].amps
Holds = Callable[[Sequence[Load]], bool]
"""Whether loads run at the same time on a source, beside what is light."""


@dataclass(frozen=True, slots=True)
class _Ability:
    """What a source holds for hours on end, and one large load for as long as planned."""

    together: Holds
    alone: Holds


@dataclass(frozen=True, slots=True)
class Source:
    """What feeds the rig: a pedestal with its breaker, or one without a breaker of its own.

    adapter: the cord is made for a larger one
    """

    kind: Literal["post", "generator", "battery", "driving"]
    amps: float = 0.0
    adapter: bool = False

    @property
    def id(self) -> str:
        """Its name in data: post-30, battery."""
        return f"post-{self.amps:g}" if self.kind == "post" else self.kind


@dataclass(frozen=True, slots=True)
class WorksRow:
    """One appliance, or all that is light, and how it works on each source.

    loads: one entry an appliance
    works: in the order of the sources; "yes" together with all that says so of the same source,
        "one" beside what is light while nothing else that is large runs
    listed: whether it is one of the visitor's loads
    """

    loads: tuple[Load, ...]
    works: tuple[Works, ...]
    listed: bool


@dataclass(frozen=True, slots=True)
class WorksWhen:
    """The table: sources, and rows of appliances; the last row is what is light."""

    sources: tuple[Source, ...]
    rows: tuple[WorksRow, ...]


def works_when(guide: Guide, needs: Needs, design: Design) -> WorksWhen:
    """Try every appliance on every source, against breakers, unit, generator and bank."""
    asked, large = asked_at_once(needs), _large(guide, needs)
    own = dict.fromkeys(_single(needs.loads))
    light = tuple(load for load in own if load not in large)
    columns = [
        (source, _column(guide, source, asked, large, able))
        for source, able in _sources(guide, needs, design)
    ]
    rows = [
        WorksRow((load,), tuple(works[load] for _, (works, _) in columns), load in own)
        for load in dict.fromkeys(large)
    ]
    if light:
        lit: tuple[Works, ...] = tuple("yes" if lights else "no" for _, (_, lights) in columns)
        rows.append(WorksRow(light, lit, listed=True))
    return WorksWhen(tuple(source for source, _ in columns), tuple(rows))


def _single(loads: Iterable[Load]) -> list[Load]:
    return [replace(load, count=1) for load in loads for _ in range(load.count)]


def _large(guide: Guide, needs: Needs) -> list[Load]:
    """What is tried by itself, each as often as it is there: what was asked for comes first."""
    asked = asked_at_once(needs)
    left = Counter(_single(needs.loads)) - Counter(asked)
    own = [load for load in left.elements() if is_large(guide, load)]
    names = {load.name for load in (*asked, *own)}
    kinds = {_kind(load) for load in (*asked, *own)}
    others: dict[str, Load] = {}
    for load in heavy_loads(guide, needs):
        if load.name not in names and _kind(load) not in kinds:
            others.setdefault(_kind(load), replace(load, count=1))
    return [*asked, *own, *others.values()]


def _kind(load: Load) -> str:
    """A name without the size behind its comma: of what nobody listed, one size says enough."""
    return load.name.partition(",")[0]


def is_large(guide: Guide, load: Load) -> bool:
    """Whether it has a row of its own: it is heavy, on 240 V, or does not run along with all."""
    return load.heavy or load.bus is LEGS or not load.at_once or not may_move(guide, load)


def may_move(guide: Guide, load: Load) -> bool:
    """Whether it may be used while the rig moves; what is heavy and unknown is not.

    Source: common practice, no source: nothing that cooks, heats or spins is used on the way.
    """
    return guide.appliance(load.id).moving if load.id else not load.heavy


def _column(
    guide: Guide, source: Source, asked: Sequence[Load], large: Sequence[Load], able: _Ability
) -> tuple[dict[Load, Works], bool]:
    """How each of the large loads works on a source, and whether what is light does."""
    moving = [load for load in large if source.kind != "driving" or may_move(guide, load)]
    together = [load for load in asked if load in moving]
    if not able.together(together):
        together = []
    for load in moving[len(together) :]:
        if able.together([*together, load]):
            together.append(load)
    counts = Counter(together)
    works: dict[Load, Works] = {}
    for load in dict.fromkeys(large):
        if counts[load] == large.count(load):
            works[load] = "yes"
        elif load in moving and (counts[load] or able.alone([load])):
            works[load] = "one"
        else:
            works[load] = "no"
    return works, able.together([])


def _sources(guide: Guide, needs: Needs, design: Design) -> Iterable[tuple[Source, _Ability]]:
    amps = {needs.service.amps, needs.shore_a, HOUSEHOLD_A}
    if needs.service.amps > ADAPTER_A:
        amps.add(ADAPTER_A)
    for post_a in sorted(amps, reverse=True):
        legs = 1 if post_a <= ONE_LEG_POST_A else needs.service.legs
        plan = plan_shore(replace(needs, shore_a=post_a, shore_legs=legs), design)
        yield Source("post", post_a, post_a < needs.service.amps), _post(needs, plan)
    generator = plan_generator(guide, needs, design)
    if generator is not None:
        holds = _generator(guide, needs, design, generator)
        yield Source("generator"), _Ability(holds, holds)
    trial = Trial(guide, needs, design)
    holds = _battery(trial, design.candidate.legs)
    yield Source("battery"), _Ability(holds, holds)
    yield Source("driving"), _Ability(holds, holds)


def _post(needs: Needs, plan: ShorePlan) -> _Ability:
    """Several loads within 80 % of the breaker; one of them as a branch or feeder is reckoned.

    Source: NEC 210.20(A); on one leg, which an adapter gives, there is no 240 V (arithmetic).
    """

    def dead(loads: Sequence[Load]) -> bool:
        return plan.legs == 1 and any(load.bus is LEGS for load in loads)

    def together(loads: Sequence[Load]) -> bool:
        busiest = busiest_a(needs, (*needs.light, *loads), plan.legs)
        return not dead(loads) and busiest <= plan.input_limit_a

    def alone(loads: Sequence[Load]) -> bool:
        volts = needs.service.volts
        legs = leg_demands((*needs.light, *loads), plan.legs, 0.0)
        most_a = max(feeder_current_a(leg.lasting_va, leg.short_va, volts) for leg in legs)
        return not dead(loads) and most_a <= plan.breaker_a

    return _Ability(together, alone)


def _generator(guide: Guide, needs: Needs, design: Design, plan: GeneratorPlan) -> Holds:
    """Within what it gives for long at this height and heat, and with the hardest start.

    What a leg asks above its share of the input limit the bank gives, where the unit adds it.
    A generator is taken to be one for 120 V, which has no 240 V (common practice, no source).
    """
    reduction = reduction_of(guide, needs, design.candidate)
    adds = design.candidate.inverter.generator_support

    def holds(loads: Sequence[Load]) -> bool:
        on_ac = [load for load in (*needs.light, *loads) if load.bus.legs]
        if any(load.bus is LEGS for load in on_ac):
            return False
        running = [as_running(load, reduction) for load in on_ac]
        total_va = sum(each.apparent_va for each in running)
        hardest = max(running, key=lambda each: each.start_va - each.apparent_va, default=None)
        starts = hardest is None or starts_motor(
            plan.start_limit_va,
            total_va - hardest.apparent_va,
            hardest.start_va,
            plan.support_start_va,
        )
        busiest = busiest_a(needs, tuple(on_ac), plan.legs)
        shared = adds or busiest <= plan.input_limit_a
        return starts and total_va <= plan.derated_w and shared

    return holds


def _battery(trial: Trial, legs: int) -> Holds:
    def holds(loads: Sequence[Load]) -> bool:
        through = [load for load in loads if load.bus.legs]
        if legs == 1 and any(load.bus is LEGS for load in through):
            return False
        return trial.runs(*through)

    return holds
