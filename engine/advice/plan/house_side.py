"""The rig's own 12 V system: what hangs on it, and what keeps it alive beside another bank.

A trailer or a coach comes with a 12 V battery for lights, furnace, slides, jacks and brake. A bank
of 12 V takes its place. Beside any other bank that battery stays: lead-acid, which neither frost
nor the tow vehicle's charge line harms, charged from the bank, so that it is full with nothing
plugged in.
"""

import math

from engine.advice.plan.house import HOUSE_V, dc_loads_of, motor_a, step_down
from engine.advice.plan.kept import battery_of, for_house
from engine.advice.plan.shelf import waits
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Battery
from engine.model.result import Check, HouseSide
from engine.sizing.inverter import dc_current_a
from engine.standards.battery_chemistry import LEAD_ACID

HANGS = ("slides", "jacks", "furnace", "brake", "tow-line", "converter")
"""What may hang on a rig's own 12 V system, as rigs.yaml names it."""
TOW_LINE = "tow-line"


def house_side_of(guide: Guide, needs: Needs, bank_v: float) -> HouseSide | None:
    """The rig's own system beside a bank of this voltage; None where there is none of its own."""
    if not needs.house_v:
        return None
    running_a, moving_a = dc_current_a(dc_loads_of(needs), HOUSE_V), motor_a(needs)
    hangs = tuple(name for name in HANGS if name in needs.rig.hangs)
    if not needs.keeps_house(bank_v):
        return HouseSide(hangs, running_a, moving_a, None, 0, None, 0.0, False)
    theirs = for_house(guide, needs, bank_v)
    found = _battery(guide, running_a, moving_a)
    if theirs and needs.existing:
        found = battery_of(guide, needs.existing), theirs.batteries
    battery, count = found or (None, 0)
    charger = step_down(guide, needs, bank_v)
    strings = theirs.strings if theirs else count
    accepts_a = strings * battery.charge_current if battery else 0.0
    return HouseSide(
        hangs=hangs,
        running_a=running_a,
        motor_a=moving_a,
        battery=battery,
        batteries=count,
        charger=charger,
        charge_a=min(charger.current, accepts_a) if charger else 0.0,
        isolator=TOW_LINE in hangs and not needs.alternator_a,
        there=theirs is not None,
    )


@kept("guide", 256)
def _battery(guide: Guide, running_a: float, moving_a: float) -> tuple[Battery, int] | None:
    """The cheapest sealed lead-acid battery, and how many in parallel do what is asked of them.

    They accept as much as runs, since the charger may give no more than they accept; and they move
    the largest motor while it runs.
    """
    able = [
        (each, count)
        for each in guide.catalogue.batteries
        if each.nominal == HOUSE_V
        and each.kind.family is LEAD_ACID
        and each.kind.valve_regulated
        and (count := _count(each, running_a, moving_a)) <= each.most_in_parallel
    ]

    def order(pair: tuple[Battery, int]) -> tuple[bool, float, str]:
        battery, count = pair
        return waits(battery), count * battery.price, battery.id

    return min(able, key=order, default=None)


def _count(battery: Battery, running_a: float, moving_a: float) -> int:
    by_charge = running_a / battery.charge_current
    by_motor = (running_a + moving_a) / battery.continuous_current
    return max(1, math.ceil(by_charge), math.ceil(by_motor))


def house_side_check(guide: Guide, needs: Needs, bank_v: float) -> tuple[Check, ...]:
    """Whether a battery on the shelf moves what hangs on the system that stays."""
    if not needs.keeps_house(bank_v):
        return ()
    side = house_side_of(guide, needs, bank_v)
    return (Check("house-battery", 0.0 if side and side.battery else 1.0, 0.0, "yes", True),)
