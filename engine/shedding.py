"""What must wait where a rig's own panel carries less than what was asked to run at once."""

from collections.abc import Sequence

from engine.model.buses import LEG, LEGS
from engine.model.needs import Load
from engine.sizing.legs import assign_legs
from engine.sizing.loads import apparent_power_va
from engine.standards.services import Service


def carried(
    running: tuple[Load, ...], service: Service
) -> tuple[tuple[Load, ...], tuple[Load, ...]]:
    """What of it runs at once behind a panel of this service, and what must wait.

    Heavy loads on 120 V wait, the last one first: the hardest to start runs on. Where that is not
    enough nothing waits, and the check of the breaker says what is too much.

    running : what was asked to run at once; of the heavy loads the hardest first, then the largest
    """
    runs, waits = list(running), []
    most_va = service.amps * service.volts
    while busiest_va(runs, service.legs) > most_va:
        heavy = [at for at, load in enumerate(runs) if load.heavy and load.bus is LEG]
        if len(heavy) < 2:
            return running, ()
        waits.append(runs.pop(heavy[-1]))
    return tuple(runs), tuple(waits)


def busiest_va(running: Sequence[Load], legs: int) -> float:
    """Apparent power of the busier leg, shared as well as it can be [VA]."""
    on_one = tuple(_va(load) for load in running if load.bus is LEG)
    if legs == 1:
        return sum(on_one)
    placed = assign_legs(on_one, tuple(_va(load) for load in running if load.bus is LEGS))
    return max(placed.leg1_va, placed.leg2_va)


def _va(load: Load) -> float:
    return apparent_power_va(load.running_w, load.power_factor)
