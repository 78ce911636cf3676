"""The small things without which a plan cannot be fitted: what holds, seals, marks and connects."""

import math
from collections.abc import Iterator
from typing import NamedTuple, get_args

from engine.advice.plan.house import HOUSE_V
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Hardware, HardwareUse, Product
from engine.model.result import DcPlan
from engine.standards import awg
from engine.standards.battery_chemistry import LITHIUM, chemistry_of
from engine.standards.cable_support import CLAMP_EVERY_M

USES = get_args(HardwareUse)


class Fitting(NamedTuple):
    """What is wanted, how many, what of the shelf will do, and its words where nothing does."""

    group: str
    quantity: int
    able: tuple[Product, ...]
    wanted: str


def fittings_on_cables(guide: Guide, dc: DcPlan) -> Iterator[Fitting]:
    """Clamps, grommets, a sheath for what no fuse guards, small fuses, heat-shrink on each lug."""
    clamps = grommets = sheathed = 0
    lugs: dict[str, int] = {}
    for each in dc.conductors:
        if each.length_m > CLAMP_EVERY_M:
            clamps += each.quantity * math.ceil(each.length_m / CLAMP_EVERY_M)
            grommets += each.quantity
        if each.sheathed:
            sheathed += each.quantity
        start, end = each.studs
        lugs[each.size] = lugs.get(each.size, 0) + each.quantity * (bool(start) + bool(end))
    yield hardware(guide, "clamps", "clamp", clamps)
    yield hardware(guide, "grommets", "grommet", grommets)
    yield hardware(guide, "sheaths", "sheath", sheathed)
    # Monitor and pre-charge each begin with a thin wire at what a large fuse guards, or none.
    yield hardware(guide, "small-fuses", "small-fuse", 2 if dc.precharge else 1)
    sleeves: dict[tuple[str, ...], list[int]] = {}
    of: dict[tuple[str, ...], tuple[Hardware, ...]] = {}
    for size in sorted(lugs, key=awg.rank):
        able = hardware_for(guide, "heat-shrink", size)
        ids = tuple([each.id for each in able])
        of[ids] = able
        sleeves.setdefault(ids, []).append(lugs[size])
    for ids, counts in sleeves.items():
        wanted = guide.wording.parts["lacks-heat-shrink"]
        yield Fitting("heat-shrink", sum(counts), of[ids], wanted)


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


def hardware(guide: Guide, group: str, use: HardwareUse, count: int, size: str = "") -> Fitting:
    """So many of what the shelf holds for a use, and for a size of cable where one is given."""
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
