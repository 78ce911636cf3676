"""The small things without which a plan cannot be fitted: what holds, seals, marks and connects."""

import math
from collections.abc import Iterator
from typing import NamedTuple, get_args

from engine.advice.plan.house import HOUSE_V
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Hardware, HardwareUse, Product
from engine.model.result import AcPlan, DcPlan
from engine.standards import awg
from engine.standards.battery_chemistry import LITHIUM, chemistry_of
from engine.standards.cable_support import CLAMP_EVERY_M
from engine.wording.tongue import plain

CABLES_OF_A_UNIT, ENDS = 2, 2
"""Into each unit and out of it, and a strain relief where each end enters a box."""

USES = get_args(HardwareUse)


class Fitting(NamedTuple):
    """What is wanted, how many, what of the shelf will do, and its words where nothing does."""

    group: str
    quantity: int
    able: tuple[Product, ...]
    wanted: str


def fittings_beside(
    guide: Guide, needs: Needs, units: int, bank_v: float, ac: AcPlan
) -> Iterator[Fitting]:
    """Everything small on shore power and at the units, in the order in which it is read."""
    yield from _on_shore_power(guide, needs, units, ac)
    yield from _for_the_units(guide, needs, units, bank_v)


def fittings_on_cables(guide: Guide, dc: DcPlan) -> Iterator[Fitting]:
    """Clamps, grommets, a sheath for what no fuse guards, small fuses, heat-shrink on each lug."""
    long = [each for each in dc.conductors if each.length_m > CLAMP_EVERY_M]
    clamps = sum(each.quantity * math.ceil(each.length_m / CLAMP_EVERY_M) for each in long)
    yield _hardware(guide, "clamps", "clamp", clamps)
    yield _hardware(guide, "grommets", "grommet", sum(each.quantity for each in long))
    sheathed = sum(each.quantity for each in dc.conductors if each.sheathed)
    yield _hardware(guide, "sheaths", "sheath", sheathed)
    # Monitor and pre-charge each begin with a thin wire at what a large fuse guards, or none.
    yield _hardware(guide, "small-fuses", "small-fuse", 2 if dc.precharge else 1)
    sleeves: dict[tuple[Hardware, ...], int] = {}
    for each in sorted(dc.conductors, key=lambda each: awg.rank(each.size)):
        able = hardware_for(guide, "heat-shrink", each.size)
        lugs = each.quantity * sum(1 for stud in each.studs if stud)
        sleeves[able] = sleeves.get(able, 0) + lugs
    for able, count in sleeves.items():
        wanted = guide.wording.parts["lacks-heat-shrink"]
        yield Fitting("heat-shrink", count, able, wanted)


def _on_shore_power(guide: Guide, needs: Needs, units: int, ac: AcPlan) -> Iterator[Fitting]:
    """A guard sized to the cord, strain reliefs, GFCIs, and a lock on the factory charger.

    Outlets that move to a new panel leave the GFCI behind that guarded them.
    """
    guards = tuple(each for each in guide.catalogue.cord_guards if each.service == needs.service_id)
    amps = plain(needs.service.amps)
    wanted = "" if guards else guide.wording.parts.say("lacks-cord-guard", amps=amps)
    yield Fitting("cord-guard", 1, guards, wanted)
    reliefs = CABLES_OF_A_UNIT * ENDS * units
    yield _hardware(guide, "strain-reliefs", "strain-relief", reliefs, ac.input_awg)
    if needs.panel_there:
        yield _hardware(guide, "breaker-lock", "breaker-lock", 1)
    else:
        yield _hardware(guide, "gfci", "gfci", guide.planning.water_circuits)


def _for_the_units(guide: Guide, needs: Needs, units: int, bank_v: float) -> Iterator[Fitting]:
    if units > 1:
        yield _hardware(guide, "comm-cable", "comm-cable", units - 1)
    yield _hardware(guide, "remote-panel", "remote-panel", 1)
    if ends_tow_line(needs, bank_v):
        yield _hardware(guide, "tow-end", "tow-end", 1)
    yield _hardware(guide, "labels", "labels", 1)


def ends_tow_line(needs: Needs, bank_v: float) -> bool:
    """Whether a tow vehicle's charge line ends before the bank, as only 12 V lead-acid bears it.

    With an alternator to charge from, the DC-DC charger of the list is on that line; with a 12 V
    battery that stays, the line goes on to that one, through an isolator.
    Source: common practice, no source.
    """
    bears = bank_v == HOUSE_V
    lithium = chemistry_of(needs.chemistry).family is LITHIUM
    stays = needs.keeps_house(bank_v)
    return not needs.bare and not needs.alternator_a and not stays and (lithium or not bears)


def _hardware(guide: Guide, group: str, use: HardwareUse, count: int, size: str = "") -> Fitting:
    able = hardware_for(guide, use, size)
    wanted = "" if able else guide.wording.parts.one_of("lacks-", use, USES)
    return Fitting(group, count, able, wanted)


@kept("guide", 256)
def hardware_for(guide: Guide, use: HardwareUse, size: str) -> tuple[Hardware, ...]:
    """What the shelf holds for a use, and for a size of cable where one is given."""
    return tuple(
        each
        for each in guide.catalogue.hardware
        if each.use == use
        and (
            not size or awg.rank(each.smallest_awg) <= awg.rank(size) <= awg.rank(each.largest_awg)
        )
    )
