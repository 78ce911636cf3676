"""What the shelf holds for a run on direct current: the fuse with its holder, and cable sizes."""

from typing import NamedTuple

from engine.advice.plan.shelf import preference, waits
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.products import Fuse, FuseHolder
from engine.model.result import Check
from engine.sizing import conductors, protection
from engine.standards import awg
from engine.trace import step

Fused = tuple[Fuse, FuseHolder]

choose_dc_cable = kept("never", 1024)(conductors.choose_dc_cable)


class Run(NamedTuple):
    """What a fuse must bear: lasting current, highest voltage, short circuit; and its factor."""

    current_a: float
    highest_v: float
    interrupt_a: float
    factor: float


@kept("guide", 512)
def _able(guide: Guide, highest_v: float, interrupt_a: float) -> dict[float, Fused]:
    """By rating, the fuse that bears the voltage and stops the current; its holder too."""
    found: dict[float, Fused] = {}
    for fuse in guide.catalogue.fuses:
        holders = [
            each
            for each in guide.catalogue.fuse_holders
            if each.family == fuse.family
            and each.largest >= fuse.rating
            and each.volts >= highest_v
        ]
        if not holders or fuse.volts < highest_v or fuse.interrupt < interrupt_a:
            continue
        fused = (fuse, min(holders, key=preference))
        found[fuse.rating] = min(found.get(fuse.rating, fused), fused, key=_preference)
    return found


def _preference(fused: Fused) -> tuple[bool, float, str]:
    return waits(*fused), sum(each.price for each in fused), fused[0].id


@kept("guide", 1024)
def fuse_of(guide: Guide, run: Run) -> tuple[Fused | None, Check]:
    """The cheapest fuse of the smallest rating that will do and can stop a short circuit."""
    able = _able(guide, run.highest_v, run.interrupt_a)
    if not able:
        bearing = _able(guide, run.highest_v, 0.0).values()
        most_a = max((fuse.interrupt for fuse, _ in bearing), default=0.0)
        return None, Check("fuse", run.interrupt_a, most_a, "A", True)
    needed_a = step("", protection.fuse_minimum_a, run.current_a, run.factor)
    rating_a = protection.choose_fuse_a(run.current_a, tuple(able), run.factor)
    if rating_a is None:
        return None, Check("fuse", needed_a, max(able), "A", True)
    return able[rating_a], Check("fuse", needed_a, rating_a, "A", True)


@kept("guide", 64)
def dc_sizes(guide: Guide, insulation_c: int, largest_awg: str) -> tuple[str, ...]:
    """Sizes on the shelf that the unit's stud takes."""
    most = awg.rank(largest_awg)
    return tuple(
        cable.awg
        for cable in guide.catalogue.cables
        if cable.use == "dc" and cable.insulation_c >= insulation_c and awg.rank(cable.awg) <= most
    )
