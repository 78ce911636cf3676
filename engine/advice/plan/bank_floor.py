"""The least that a bank costs, whatever the unit: so that what cannot win is not worked out."""

import math

from engine.advice.plan.bank import ROUNDING
from engine.advice.plan.on_bank import daily_wh_of
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.sizing.battery import cold_capacity_factor, usable_wh
from engine.standards.battery_chemistry import chemistry_of


def least_bank_price(guide: Guide, needs: Needs) -> float:
    """A price that no new bank for these needs stays below: that of what the loads take alone.

    No unit idles and nothing is lost on the way. Lead-acid gives more the slower it is emptied, so
    nothing is said of it.
    """
    share = cold_capacity_factor(needs.chemistry, needs.weather.bank_c)
    if not share or chemistry_of(needs.chemistry).family.by_peukert:
        return 0.0
    hold_wh = needs.nights * needs.reserve * sum(daily_wh_of(needs.loads))
    prices = []
    for each in guide.catalogue.batteries:
        if each.chemistry == needs.chemistry:
            holds_wh = usable_wh(
                each.nominal, each.capacity, each.usable, share, guide.planning.ageing
            )
            count = math.ceil(hold_wh / holds_wh - ROUNDING) if holds_wh else 1
            prices.append(max(1, count) * each.price)
    return min(prices, default=0.0)
