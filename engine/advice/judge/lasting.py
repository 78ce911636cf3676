"""How long a full bank lasts while the load that needs the most of it runs on and on."""

from typing import NamedTuple

from engine.advice.plan.charging import HOURS_PER_DAY, battery_factor
from engine.model.needs import Load, Needs
from engine.model.result import Design
from engine.sizing.loads import daily_energy_wh


class HeavyHours(NamedTuple):
    """The heavy load that needs the most energy, and for how long it runs on a full bank [h]."""

    load: Load
    hours: float


def heavy_load(needs: Needs) -> Load | None:
    """The heavy load that needs the most energy in a day; None where none is heavy."""
    heavy = [load for load in needs.loads if load.heavy]
    return max(heavy, key=lambda each: each.running_w * each.hours * each.duty, default=None)


def heavy_hours(needs: Needs, design: Design) -> HeavyHours | None:
    """How long it runs on a full bank with nothing to charge it, pauses of its thermostat included.

    t = E_usable / (P_rest + P_load), with all other loads at their mean of a day.

    Source: arithmetic; the shares of an hour in which appliances run are those of the loads.
    """
    load = heavy_load(needs)
    if load is None:
        return None
    factor = battery_factor(design, load)
    a_day_wh = load.count * factor * daily_energy_wh(load.running_w, load.hours, load.duty)
    rest_w = (design.bank.need_wh / needs.nights - a_day_wh) / HOURS_PER_DAY
    load_w = load.count * factor * daily_energy_wh(load.running_w, 1.0, load.duty)
    return HeavyHours(load, design.bank.usable_wh / (max(rest_w, 0.0) + load_w))
