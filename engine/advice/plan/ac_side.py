"""The AC conductors of each unit: breakers, sizes, and every conductor end that enters it."""

from engine.advice.plan.layouts import PARALLEL_PAIR, SPLIT_NATIVE, SPLIT_PAIR, TWO_LEG
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import PowerNeeds
from engine.model.result import AcPlan, Candidate, Check
from engine.sizing.ampacity import ac_conductor
from engine.sizing.grounding import equipment_ground
from engine.sizing.terminals import BESIDE_HOT, SIDES, ConductorEnd, Function, terminal_accepts


def plan_ac(
    guide: Guide, needs: PowerNeeds, candidate: Candidate, breaker_a: float
) -> AcPlan | None:
    """Breakers and conductors; None where no conductor of the table may carry it in this heat.

    Of the candidate layout, units and legs alone decide.

    breaker_a: ahead of the panel [A]
    """
    poles = 2 if candidate.layout in (TWO_LEG, SPLIT_NATIVE) and _both_legs(needs, candidate) else 1
    split = candidate.layout == SPLIT_PAIR
    try:
        size, ground = _sizes(
            breaker_a,
            guide.planning.ac_insulation_c,
            guide.planning.ac_terminal_c,
            needs.ambient_c,
            poles + 1,
        )
    except ValueError:  # no conductor of the table may carry it at this temperature
        return None
    return AcPlan(
        # What the cord cannot bring needs no larger breaker; the wires are sized for the output.
        input_a=min(breaker_a, needs.service.amps),
        output_a=breaker_a,
        poles=poles,
        input_awg=size,
        output_awg=size,
        ground_awg=ground,
        ends_per_unit=_ends(poles, size, ground),
        # Both legs of a 240 V load or a shared neutral go together: NEC 240.15(B) and 210.4(B),
        # from memory.
        breakers=1 if split else candidate.units,
        breaker_poles=2 if split else poles,
        joint_a=breaker_a if candidate.layout == PARALLEL_PAIR else 0.0,
        # Two breakers side by side would let twice the cord's rating through.
        main_a=needs.service.amps if candidate.layout == PARALLEL_PAIR else 0.0,
    )


def ac_check(candidate: Candidate, plan: AcPlan | None) -> Check:
    """Whether there are conductors, and the unit's terminals take them."""
    if plan is None:
        return Check("ac-conductor", 0.0, 1.0, "yes", False)
    terminals = candidate.inverter.terminals
    return _takes(plan.input_awg, plan.ground_awg, terminals.smallest_awg, terminals.largest_awg)


@kept("never", 256)
def _takes(size: str, ground: str, smallest: str, largest: str) -> Check:
    taken = all(terminal_accepts(each, smallest, largest) for each in (size, ground))
    return Check("terminals", float(taken), 1.0, "yes", False)


def _both_legs(needs: PowerNeeds, candidate: Candidate) -> bool:
    return candidate.legs == 2 or (needs.whole and needs.service.legs == 2)


@kept("never", 1024)
def _sizes(
    breaker_a: float, insulation_c: int, terminal_c: int, ambient_c: float, carrying: int
) -> tuple[str, str]:
    size = ac_conductor(breaker_a, insulation_c, terminal_c, ambient_c, carrying)
    return size, equipment_ground(breaker_a)


@kept("never", 256)
def _ends(poles: int, size: str, ground: str) -> tuple[ConductorEnd, ...]:
    hots: tuple[Function, ...] = ("hot",) if poles == 1 else ("hot-1", "hot-2")
    return tuple(
        ConductorEnd(side, ground if name == "ground" else size, name)
        for side in SIDES
        for name in (*hots, *BESIDE_HOT)
    )
