"""What hangs on the bank beside the units: chargers, converter and 12 V circuits.

Each has a cable of its own, and a fuse where that cable meets a battery. A converter limits its own
current, so the cable that leaves it needs none (33 CFR 183.460(b) asks one only of what does not).
A 12 V battery that stays in the rig feeds the far end of such a cable, and gets a fuse there.
The battery switch cuts the units alone, so panels and 12 V circuits have a switch of their own.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from engine.advice.plan.dc_shelf import Run, choose_dc_cable, dc_sizes, fuse_of
from engine.advice.plan.house import (
    HOUSE_V,
    converter_check,
    dc_loads_of,
    motor_a,
    on_dc,
    step_down,
)
from engine.advice.plan.house_side import house_side_check
from engine.advice.plan.kept import for_house
from engine.advice.plan.shelf import preference
from engine.advice.plan.solar import solar_plan
from engine.kept import kept
from engine.model.buses import DC48
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import AlternatorCharger, Disconnect, StepDown
from engine.model.result import Branch, Check, DcConductor
from engine.sizing.alternator import continuous_a, converter_input_a
from engine.sizing.inverter import dc_current_a
from engine.sizing.protection import disconnect_minimum_a, fuse_minimum_a
from engine.sizing.short_circuit import (
    bank_short_circuit_a,
    cranking_interrupt_a,
    planned_short_circuit_a,
    required_interrupt_a,
)
from engine.standards import awg
from engine.trace import step

STARTER_HIGHEST_V = 14.7
"""A starter battery of six lead-acid cells in absorption, 2.45 V each (from memory)."""

BRANCHES = ("solar", "alternator", "starter", "step-down", "house", "dc48")
SWITCHED_LOADS = ("house", "dc48")


@dataclass(frozen=True, slots=True)
class Feed:
    """The bank as a branch finds it: nominal, lowest and highest voltage, and short circuit."""

    bank_v: float
    low_v: float
    highest_v: float
    interrupt_a: float


@dataclass(frozen=True, slots=True)
class _Asked:
    """A branch before fuse and cable: its current, voltage and length, and the battery behind it.

    interrupt_a : what its fuse must stop; 0 where what feeds it limits itself
    cut_a, cut_v : what a switch that cuts it for work must carry and bear; 0 without one
    kept_a : what a fuse at the battery behind it must stop; 0 without such a battery
    """

    id: str
    current_a: float
    volts: float
    length_m: float
    highest_v: float
    interrupt_a: float
    cut_a: float = 0.0
    cut_v: float = 0.0
    kept_a: float = 0.0


class Branches:
    """The branches of banks for the same needs, those of one feed sized once."""

    def __init__(self, guide: Guide, needs: Needs) -> None:
        self.guide = guide
        self.needs = needs
        self._of: dict[Feed, tuple[Branch, ...]] = {}
        self._house: dict[float, tuple[Check, ...]] = {}

    def of(self, feed: Feed) -> tuple[Branch, ...]:
        """Every branch of a bank with its fuse and cable; where the shelf lacks one, without."""
        found = self._of.get(feed)
        if found is None:
            guide, needs = self.guide, self.needs
            asked = _asked(guide, needs, feed)
            found = self._of[feed] = tuple(_sized(guide, needs, each) for each in asked)
        return found

    def house_checks(self, bank_v: float) -> tuple[Check, ...]:
        """Whether a bank of this voltage feeds what hangs on 12 V, and what stays suffices."""
        found = self._house.get(bank_v)
        if found is None:
            guide, needs = self.guide, self.needs
            found = self._house[bank_v] = (
                *converter_check(guide, needs, bank_v),
                *house_side_check(guide, needs, bank_v),
            )
        return found


def _asked(guide: Guide, needs: Needs, feed: Feed) -> Iterator[_Asked]:
    planning = guide.planning
    near_m = planning.branch_run_m

    def fed(name: str, current_a: float, cut_a: float = 0.0, cut_v: float = 0.0) -> _Asked:
        stops_a, highest_v = feed.interrupt_a, feed.highest_v
        return _Asked(name, current_a, feed.bank_v, near_m, highest_v, stops_a, cut_a, cut_v)

    solar = solar_plan(guide, needs, feed.bank_v)
    if solar:
        yield fed("solar", solar.controller.current, *solar.cut)
    charger = alternator_charger(guide, needs, feed.bank_v)
    if charger:
        yield fed("alternator", charger.current)
        stops_a = cranking_interrupt_a(planning.starter_cranking)
        starter_m = planning.starter_run_m
        input_a = _input_a("fuse.starter", charger, charger.input)
        yield _Asked("starter", input_a, charger.input, starter_m, STARTER_HIGHEST_V, stops_a)
    direct_w = dc_loads_of(needs, DC48)
    if direct_w and feed.bank_v == DC48.volts:
        direct_a = dc_current_a(direct_w, feed.low_v)
        yield fed("dc48", direct_a, disconnect_minimum_a(direct_a), feed.highest_v)
    if not on_dc(needs):
        return
    if feed.bank_v == HOUSE_V:
        running_a = dc_current_a(dc_loads_of(needs), feed.low_v)
        moving_a = motor_a(needs) if needs.house_v else 0.0
        house_a = max(planning.house_feed, running_a + moving_a)
        yield fed("house", house_a, disconnect_minimum_a(house_a), feed.highest_v)
        return
    converter = step_down(guide, needs, feed.bank_v)
    if converter:
        yield fed("step-down", _input_a("fuse.step-down", converter, feed.low_v))
        house_a = converter.current
        cut_a = disconnect_minimum_a(house_a)
        stays = needs.keeps_house(feed.bank_v)
        kept_a = house_interrupt_a(guide, needs, feed.bank_v) if stays else 0.0
        highest_v = STARTER_HIGHEST_V if kept_a else HOUSE_V
        yield _Asked("house", house_a, HOUSE_V, near_m, highest_v, 0.0, cut_a, HOUSE_V, kept_a)


def house_interrupt_a(guide: Guide, needs: Needs, bank_v: float) -> float:
    """What a fuse at the 12 V battery that stays must stop: theirs, or a usual one [A]."""
    theirs = for_house(guide, needs, bank_v)
    if needs.existing is None or theirs is None:
        return cranking_interrupt_a(guide.planning.starter_cranking)
    each_a = planned_short_circuit_a(needs.existing.capacity_ah, needs.existing.chemistry)
    return required_interrupt_a(bank_short_circuit_a(each_a, theirs.strings))


def _input_a(role: str, device: AlternatorCharger | StepDown, input_v: float) -> float:
    """What a converter draws at its input while it gives all that it can [A]."""
    return step(role, converter_input_a, device.current, device.output, input_v, device.efficiency)


def alternator_charger(guide: Guide, needs: Needs, bank_v: float) -> AlternatorCharger | None:
    """The DC-DC charger to this bank that the alternator bears; None where there is none."""
    return _charger(guide, needs.alternator_a, bank_v) if needs.alternator_a else None


@kept("guide", 64)
def _charger(guide: Guide, alternator_a: float, bank_v: float) -> AlternatorCharger | None:
    able = (
        each
        for each in guide.catalogue.alternator_chargers
        if each.output == bank_v and each.input_a <= continuous_a(alternator_a)
    )
    return min(able, key=preference, default=None)


def feed_check(guide: Guide, feed: Feed, branches: tuple[Branch, ...]) -> tuple[Check, ...]:
    """Whether fuse and cable bear what runs past the inverter draws straight from the bank."""
    found: list[Check] = []
    for branch in branches:
        if branch.id in SWITCHED_LOADS and branch.fused:
            run = Run(
                branch.current_a, feed.highest_v, feed.interrupt_a, guide.planning.fuse_factor
            )
            _, fuse = fuse_of(guide, run)
            limit_a = fuse.limit if branch.cable else 0.0
            found.append(Check("house-feed", fuse.value, limit_a, "A", True))
    return tuple(found)


def _sized(guide: Guide, needs: Needs, asked: _Asked) -> Branch:
    planning = guide.planning
    role = f"fuse.{asked.id}" if asked.interrupt_a else ""
    least_a = step(role, fuse_minimum_a, asked.current_a, planning.fuse_factor)
    fused = None
    if asked.interrupt_a:
        run = Run(asked.current_a, asked.highest_v, asked.interrupt_a, planning.fuse_factor)
        fused, _ = fuse_of(guide, run)
    kept = None
    if asked.kept_a:
        run = Run(asked.current_a, asked.highest_v, asked.kept_a, planning.fuse_factor)
        kept, _ = fuse_of(guide, run)
    guard = fused or kept
    cable = step(
        f"cable.{asked.id}",
        choose_dc_cable,
        asked.current_a,
        asked.length_m,
        asked.volts,
        planning.starter_drop if asked.id == "starter" else planning.drop_limit,
        planning.cable_insulation_c,
        needs.ambient_c,
        dc_sizes(guide, planning.cable_insulation_c, awg.SIZES[-1]),
        planning.most_cable_runs,
        guard[0].rating if guard else least_a,
    )
    return Branch(
        id=asked.id,
        current_a=asked.current_a,
        volts=asked.volts,
        length_m=asked.length_m,
        least_a=least_a,
        fused=asked.interrupt_a > 0,
        fuse=fused[0] if fused else None,
        holder=fused[1] if fused else None,
        cable=cable,
        cut_a=asked.cut_a,
        cut_v=asked.cut_v,
        switch=_switch(guide, asked) if asked.cut_a else None,
        kept=asked.kept_a > 0,
        kept_fuse=kept[0] if kept else None,
        kept_holder=kept[1] if kept else None,
    )


def _switch(guide: Guide, asked: _Asked) -> Disconnect | None:
    """The cheapest switch that carries the branch and bears its voltage."""
    able = (
        each
        for each in guide.catalogue.disconnects
        if each.rating >= asked.cut_a and each.volts >= asked.cut_v
    )
    return min(able, key=preference, default=None)


def on_bank(branch: Branch) -> bool:
    """Whether it starts at the bank, not at the starter battery or behind the converter."""
    return branch.fused and branch.id != "starter"


def branch_conductors(
    branches: tuple[Branch, ...], source_stud: str, return_stud: str, link_m: float
) -> Iterator[DcConductor]:
    """Cables of every branch, from the bank's positive and back to the load's side of the shunt.

    A stud "" is an end that takes no lug of this list: a clamp, or what is there already.
    """
    for branch in branches:
        if branch.cable is None:
            continue
        group, runs, size = f"{branch.id}-cable", branch.cable.runs, branch.cable.size
        studs = (source_stud, return_stud) if on_bank(branch) else ("", "")
        holder_stud = branch.holder.stud if branch.holder else ""
        if branch.fused:
            ends = (studs[0], holder_stud)
            yield DcConductor(group, "to-its-fuse", runs, size, link_m, ends, sheathed=True)
        if branch.id in SWITCHED_LOADS and branch.switch:
            half_m, stud = branch.length_m / 2, branch.switch.stud
            yield DcConductor(group, "to-its-switch", runs, size, half_m, (holder_stud, stud))
            yield DcConductor(group, "from-its-switch", runs, size, half_m, (stud, ""))
        else:
            yield DcConductor(group, "there", runs, size, branch.length_m, (holder_stud, ""))
        yield DcConductor(group, "back", runs, size, branch.length_m, ("", studs[1]))
