"""What hangs on 12 V: how much, how it starts, and what feeds it from a higher bank."""

from typing import NamedTuple

from engine.advice.plan.shelf import preference
from engine.kept import kept
from engine.model.buses import DC, DC48, Bus
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Buffer, StepDown
from engine.model.result import Check

HOUSE_V = DC.volts


def dc_loads_of(needs: Needs, bus: Bus = DC) -> float:
    """What runs on 12 V, or on another DC bus, at the same time, past the inverter [W]."""
    return sum(load.running_w for load in needs.running if load.bus is bus)


class DcStart(NamedTuple):
    """The hardest start on 12 V: what it draws more than running, and how long; 0 without any."""

    step_w: float
    seconds: float


def dc_start_of(needs: Needs, bus: Bus = DC) -> DcStart:
    """The hardest start of a motor on 12 V, or on another DC bus."""
    starts = [
        DcStart(load.locked_rotor_a * load.volts - load.running_w, load.start_s)
        for load in needs.running
        if load.bus is bus and load.locked_rotor_a
    ]
    return max(starts, default=DcStart(0.0, 0.0))


MOTORS = ("slides", "jacks")


def motor_a(needs: Needs) -> float:
    """The largest motor on the rig's own system; people move one at a time [A]."""
    return max(needs.rig.hangs.get(name, 0.0) for name in MOTORS)


def on_dc(needs: Needs) -> bool:
    """Whether anything hangs on 12 V at all: a load, or what the rig itself has there."""
    return needs.house_v > 0 or any(load.bus is DC for load in needs.loads)


def step_down(guide: Guide, needs: Needs, bank_v: float) -> StepDown | None:
    """The converter from this bank to all that runs on 12 V; None where there is none.

    It limits its own current, so the start of a motor must stay within what it gives for long, or
    a buffer or a battery behind it gives the start. A battery that stays wants one that charges.
    """
    watts, charges = converted_w(guide, needs, bank_v), needs.keeps_house(bank_v)
    return _converter(guide, bank_v, watts, charges=charges)


@kept("guide", 256)
def _converter(guide: Guide, bank_v: float, watts: float, *, charges: bool) -> StepDown | None:
    able = (
        each
        for each in guide.catalogue.step_downs
        if each.input == bank_v and each.charges == charges and each.current * each.output >= watts
    )
    return min(able, key=preference, default=None)


def buffer_of(guide: Guide, needs: Needs, bank_v: float) -> Buffer | None:
    """What gives a motor on 12 V its start where no converter to this bank does; else None."""
    start = dc_start_of(needs)
    if bank_v == HOUSE_V or start.step_w <= 0 or needs.keeps_house(bank_v):
        return None
    if _converter(guide, bank_v, dc_loads_of(needs) + start.step_w, charges=False):
        return None
    able = (
        each
        for each in guide.catalogue.buffers
        if each.volts == HOUSE_V
        and each.current * each.volts >= start.step_w
        and each.time >= start.seconds
    )
    return min(able, key=preference, default=None)


def converted_w(guide: Guide, needs: Needs, bank_v: float) -> float:
    """What a converter to 12 V must give: what runs there, and a start nothing else gives [W]."""
    running_w = dc_loads_of(needs)
    if needs.keeps_house(bank_v) or buffer_of(guide, needs, bank_v):
        return running_w
    return running_w + max(0.0, dc_start_of(needs).step_w)


def converter_check(guide: Guide, needs: Needs, bank_v: float) -> tuple[Check, ...]:
    """Whether a converter bears what hangs on 12 V; nothing to check where the bank has 12 V."""
    direct: tuple[Check, ...] = ()
    if any(load.bus is DC48 for load in needs.loads):
        direct = (Check("dc-voltage", DC48.volts, bank_v, "V", True),)
    if bank_v == HOUSE_V or not on_dc(needs):
        return direct
    chosen = step_down(guide, needs, bank_v)
    sold = (
        [chosen]
        if chosen
        else [
            each
            for each in guide.catalogue.step_downs
            if each.input == bank_v and each.charges == needs.keeps_house(bank_v)
        ]
    )
    most_w = max((each.current * each.output for each in sold), default=0.0)
    step = Check("step-down", converted_w(guide, needs, bank_v), most_w, "W", True)
    return (*direct, step)


def house_efficiency(guide: Guide, needs: Needs, bank_v: float) -> float:
    """Efficiency on the way from the bank to all that runs on 12 V; 1 where that is the bank."""
    converter = None if bank_v == HOUSE_V else step_down(guide, needs, bank_v)
    return converter.efficiency if converter else 1.0
