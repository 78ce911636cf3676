"""What the recommended setup can run on battery, in the customer's own loads."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, combinations
from math import inf
from typing import NamedTuple

from engine.advice.plan.supply import as_running, has_own_breaker, reduction_of, split
from engine.model.buses import LEGS
from engine.model.guide import Guide
from engine.model.needs import Load, Needs
from engine.model.result import Design
from engine.needs import load_of
from engine.sizing.bank import protection_holds
from engine.sizing.inverter import dc_current_a, input_w, surge_for
from engine.sizing.loads import Running


@dataclass(frozen=True, slots=True)
class Runs:
    """Names of heavy loads by how they may run, beside everything light.

    at_once: all that was asked to run at the same time, each as often as it does · alone: one at a
    time · together: pairs at the same time · never: not even alone · dead: on 240 V where the
    setup has none on battery
    """

    at_once: tuple[str, ...]
    alone: tuple[str, ...]
    together: tuple[tuple[str, str], ...]
    never: tuple[str, ...]
    dead: tuple[str, ...]


def runs_of(guide: Guide, needs: Needs, design: Design) -> Runs:
    """Try each heavy load alone and each pair, against unit, breaker and bank."""
    trial = Trial(guide, needs, design)
    heavy = heavy_loads(guide, needs)
    legs = design.candidate.legs
    dead = tuple(load.name for load in heavy if load.bus is LEGS and legs == 1)
    live = [load for load in heavy if load.name not in dead]
    alone = [load for load in live if trial.runs(load)]
    pairs = [pair for pair in combinations(alone, 2) if trial.runs(*pair)]
    twins = [
        (load, load)
        for load in alone
        if sum(each.count for each in needs.loads if each.name == load.name) > 1
        and trial.runs(load, load)
    ]
    return Runs(
        at_once=tuple(load.name for load in asked_at_once(needs) if load.name not in dead),
        alone=tuple(load.name for load in alone),
        together=tuple((first.name, second.name) for first, second in twins + pairs),
        never=tuple(load.name for load in live if load not in alone),
        dead=dead,
    )


def asked_at_once(needs: Needs) -> list[Load]:
    """Of what runs at the same time all that the inverter must be asked for, the hardest first."""
    return [load for load in needs.running if on_inverter(load)]


def heavy_loads(guide: Guide, needs: Needs) -> list[Load]:
    """The visitor's heavy loads first, then the others that this kind of rig usually has."""
    found = {load.name: load for load in needs.loads if on_inverter(load)}
    usual = [appliance_id for ids in needs.rig.heavy.values() for appliance_id in ids]
    if needs.service.legs == 2:
        usual.append(guide.planning.appliance_240)
    light = {load.name for load in needs.loads} - found.keys()
    for appliance_id in usual:
        load = load_of(guide.appliance(appliance_id), 1)
        if load.name not in light and on_inverter(load):
            found.setdefault(load.name, load)
    return list(found.values())


def on_inverter(load: Load) -> bool:
    """Whether the inverter must be asked for it: what is light runs along, 12 V runs past it."""
    return load.bus.legs > 0 and (load.heavy or load.bus is LEGS)


class _Side(NamedTuple):
    """What runs on one leg: watts, volt-amperes, the largest step of a start and its length."""

    real_w: float = 0.0
    apparent_va: float = 0.0
    step_va: float = 0.0
    start_s: float = 0.0

    def with_load(self, load: Load, running: Running, share: float = 1.0) -> "_Side":
        """The same with one load more, or a share of it."""
        step_va = (running.start_va - running.apparent_va) * share
        harder = step_va > self.step_va
        return _Side(
            self.real_w + running.real_w * share,
            self.apparent_va + running.apparent_va * share,
            step_va if harder else self.step_va,
            load.start_s if harder else self.start_s,
        )


class Trial:
    """The light loads on their legs, to which heavy ones are added every way there is."""

    def __init__(self, guide: Guide, needs: Needs, design: Design) -> None:
        self.design = design
        self.margin = guide.planning.load_margin
        # A breaker passes no more than its rating, whatever the margin asks for.
        behind = has_own_breaker(needs, design.candidate.legs)
        self.most_w = design.ac.output_a * needs.service.volts if behind else inf
        self.reduction = reduction_of(guide, needs, design.candidate)
        self.volts = needs.service.volts
        self.dc_w = design.bank.house_w
        self.needs_light = needs.light
        self.light = tuple(
            _joined(leg) for leg in split(needs.light, design.candidate.legs, self.reduction)
        )
        self.running: dict[Load, Running] = {}
        self.surges_va: dict[float, float] = {}

    def runs(self, *heavy: Load) -> bool:
        """Whether these run together beside what is light, on some way to share the legs."""
        ways = chain(self._placed(heavy, self.light), self._shared(heavy))
        return any(self._holds(sides) for sides in ways)

    def _shared(self, heavy: Sequence[Load]) -> Iterator[tuple[_Side, ...]]:
        """All of them shared between the legs as the design does, the light ones with the rest."""
        legs = self.design.candidate.legs
        yield tuple(
            _joined(leg) for leg in split((*self.needs_light, *heavy), legs, self.reduction)
        )

    def _placed(
        self, heavy: Sequence[Load], sides: tuple[_Side, ...]
    ) -> Iterator[tuple[_Side, ...]]:
        """Every way to put these on the legs."""
        if not heavy:
            yield sides
            return
        load, *rest = heavy
        running = self._running(load)
        if load.bus is LEGS:
            half = tuple(side.with_load(load, running, 0.5) for side in sides)
            yield from self._placed(rest, half)
            return
        for place, side in enumerate(sides):
            fuller = (*sides[:place], side.with_load(load, running), *sides[place + 1 :])
            yield from self._placed(rest, fuller)

    def _running(self, load: Load) -> Running:
        found = self.running.get(load)
        if found is None:
            found = self.running[load] = as_running(load, self.reduction)
        return found

    def _surge_va(self, start_s: float) -> float:
        found = self.surges_va.get(start_s)
        if found is None:
            candidate = self.design.candidate
            found = surge_for(candidate.inverter.surge, start_s) * candidate.units_per_leg
            self.surges_va[start_s] = found
        return found

    def _holds(self, sides: tuple[_Side, ...]) -> bool:
        supply, candidate, bank = self.design.supply, self.design.candidate, self.design.bank
        start_s = max([side.start_s for side in sides])
        surge_va = self._surge_va(start_s)
        breaker_va = self.design.ac.output_a * self.volts
        for side in sides:
            if (
                side.apparent_va > breaker_va
                or min(side.real_w * self.margin, self.most_w) > supply.continuous_w
                or side.apparent_va > supply.apparent_va
                or side.apparent_va + side.step_va > surge_va
            ):
                return False
        battery, units = bank.battery, candidate.units
        total_w = sum(side.real_w for side in sides) * self.margin
        worst_va = sum(side.apparent_va for side in sides) + max(side.step_va for side in sides)
        return self._bank_a(total_w, units) <= (
            battery.continuous_current * bank.parallel
        ) and protection_holds(
            self._bank_a(worst_va, units),
            start_s,
            continuous_each_a=battery.continuous_current,
            peak_each_a=max(battery.peak_current, battery.continuous_current),
            peak_s=battery.peak_time,
            parallel=bank.parallel,
        )

    def _bank_a(self, ac_w: float, units: int) -> float:
        dc_w = units * input_w(self.design.supply.curve, ac_w / units) + self.dc_w
        return dc_current_a(dc_w, self.design.dc.low_v)


def _joined(leg: list[tuple[Load, Running]]) -> _Side:
    side = _Side()
    for load, running in leg:
        side = side.with_load(load, running)
    return side
