"""What hangs on 12 V: how much, how it starts, and the converter between it and a higher bank."""

from typing import NamedTuple

from engine.advice.plan.shelf import preference
from engine.model.buses import DC
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import StepDown
from engine.model.result import Check

HOUSE_V = DC.volts


def dc_loads_of(needs: Needs) -> float:
    """What runs on 12 V at the same time, past the inverter [W]."""
    return sum(load.running_w for load in needs.running if load.bus is DC)


class DcStart(NamedTuple):
    """The hardest start on 12 V: what it draws more than running, and how long; 0 without any."""

    step_w: float
    seconds: float


def dc_start_of(needs: Needs) -> DcStart:
    """The hardest start of a motor on 12 V."""
    starts = [
        DcStart(load.locked_rotor_a * load.volts - load.running_w, load.start_s)
        for load in needs.running
        if load.bus is DC and load.locked_rotor_a
    ]
    return max(starts, default=DcStart(0.0, 0.0))


def on_dc(needs: Needs) -> bool:
    """Whether anything hangs on 12 V at all."""
    return any(load.bus is DC for load in needs.loads)


def step_down(guide: Guide, needs: Needs, bank_v: float) -> StepDown | None:
    """The converter from this bank to all that runs and starts on 12 V; None where there is none.

    It limits its own current, so the start of a motor must stay within what it gives for long.
    """
    watts = converted_w(needs)
    able = (
        each
        for each in guide.catalogue.step_downs
        if each.input == bank_v and each.current * each.output >= watts
    )
    return min(able, key=preference, default=None)


def converted_w(needs: Needs) -> float:
    """What a converter to 12 V must give: all that runs there, and the hardest start [W]."""
    return dc_loads_of(needs) + max(0.0, dc_start_of(needs).step_w)


def converter_check(guide: Guide, needs: Needs, bank_v: float) -> tuple[Check, ...]:
    """Whether a converter bears what hangs on 12 V; nothing to check where the bank has 12 V."""
    if bank_v == HOUSE_V or not on_dc(needs):
        return ()
    chosen = step_down(guide, needs, bank_v)
    sold = (
        [chosen]
        if chosen
        else [each for each in guide.catalogue.step_downs if each.input == bank_v]
    )
    most_w = max((each.current * each.output for each in sold), default=0.0)
    return (Check("step-down", converted_w(needs), most_w, "W", True),)


def house_efficiency(guide: Guide, needs: Needs, bank_v: float) -> float:
    """Efficiency on the way from the bank to all that runs on 12 V; 1 where that is the bank."""
    converter = None if bank_v == HOUSE_V else step_down(guide, needs, bank_v)
    return converter.efficiency if converter else 1.0
