"""Between which sums the parts of a design will cost, so that nobody plans on one figure."""

from engine.advice.plan.part_lines import TOOLS
from engine.model.guide import Guide
from engine.model.parts import OrderLine, orders_of
from engine.model.result import Design

OFTEN_THERE = TOOLS | {"input-lead", "panel", "house-battery"}
"""Groups of parts that a rig or its owner may have already."""


def price_range(guide: Guide, design: Design) -> tuple[float, float]:
    """Least and most that the parts cost.

    Least: without the tools, the inlet, the panel and the 12 V battery, which may be there, and
    with opened articles where the shop has some. Most: the whole list, and the shop's allowance for
    prices that move and runs that turn out longer.
    """
    bought = orders_of(line for line in design.parts if line.group not in OFTEN_THERE)
    least = sum(_least(guide, order) for order in bought)
    return least, design.parts_price * (1.0 + guide.planning.price_allowance)


def _least(guide: Guide, order: OrderLine) -> float:
    article = guide.article(order.product)
    left, price = order.quantity, 0.0
    for offer in sorted(getattr(article, "open_box", ()), key=lambda each: each.price):
        taken = min(left, offer.count)
        price += taken * offer.price
        left -= taken
    return price + left * order.price_each
