"""The parts list as it is read: each article once under a heading, with its uses beneath.

Page, files, command line and print take its lines from here.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from engine.advice.plan.branches import BRANCHES
from engine.advice.plan.left_out import LEFT_OUT, left_out_of
from engine.advice.plan.price import price_range
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.parts import OrderLine, PartLine
from engine.model.result import Design
from engine.pages.answer.offers import offers_of
from engine.pages.drawings.diagram_links import part_id
from engine.units import show
from engine.wording.tongue import money, plain

PART_GROUPS = {
    "power": (
        *("inverter", "battery", "soft-starter", "soc-monitor"),
        *("comm-cable", "remote-panel"),
    ),
    "protection": (
        *("fuse", "fuse-holder", "battery-fuse", "battery-fuse-holder"),
        *("disconnect", "precharge", "busbar", "small-fuses"),
        *(f"{branch}-fuse" for branch in BRANCHES),
        *(
            "branch-fuse-holder",
            "solar-switch",
            "house-switch",
            "dc48-switch",
            "kept-fuse",
            "kept-fuse-holder",
        ),
    ),
    "cables": (
        *("dc-cable", "battery-links"),
        *(f"{branch}-cable" for branch in BRANCHES),
        *("lugs", "bond-cable", "frame-cable", "clamps", "grommets", "sheaths", "heat-shrink"),
    ),
    "ac": (
        "breaker-main",
        "breaker-in",
        "breaker-out",
        "breaker-joint",
        "ac-cable",
        "panel",
        "sub-panel",
        "input-lead",
        "cord-guard",
        "strain-reliefs",
        "gfci",
        "breaker-lock",
    ),
    "terminals": ("ferrules",),
    "cooling": ("fan",),
    "charging": (
        "alternator-charger",
        "solar-controller",
        "solar-panel",
        "step-down",
        "house-battery",
        "charge-isolator",
        "buffer",
        "temperature-sensor",
        "frost-sensor",
        "tow-end",
    ),
    "labels": ("labels",),
    "tools": ("lug-crimper", "ferrule-crimper"),
}
"""Under which heading of the parts list each group of parts stands; spares stand with theirs."""

SPARE = "spare-"
YOURS = "-yours"
THERE = ("battery-yours", "house-battery-yours")
"""What may be in the rig already, by its group."""
HEADINGS = tuple(PART_GROUPS)
GROUPS = tuple(group for groups in PART_GROUPS.values() for group in groups)
SAID = (*GROUPS, *THERE)


class PartUse(NamedTuple):
    """What an article is for; the diagram leads to `id`, "" but for the first of a group."""

    text: str
    id: str


@dataclass(frozen=True, slots=True)
class PartRow:
    """A line of the parts list as it is read; `article` is the shop's number of it, or ""."""

    quantity: str
    article: str
    name: str
    uses: tuple[PartUse, ...]
    price: str
    offers: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class LeftOut:
    """What is not on the list, and why."""

    what: str
    why: str


class PartsView:
    """The parts of one design, as texts."""

    def __init__(self, guide: Guide, design: Design) -> None:
        self.guide = guide
        self.design = design
        self._first = set({each.group: each for each in reversed(design.parts)}.values())

    def rows(self) -> list[PartRow]:
        """Every article once, with all its uses."""
        return [row for _, rows in self.groups() for row in rows]

    def groups(self) -> list[tuple[str, list[PartRow]]]:
        """The same under headings, by what an article is for in the first place."""
        page = self.guide.wording.page
        return [
            (page.one_of("parts-", name, HEADINGS), [self._row(each) for each in orders])
            for name, orders in self._ordered()
        ]

    def orders(self) -> tuple[OrderLine, ...]:
        """What is bought, in the order in which it is read."""
        return tuple(order for _, orders in self._ordered() for order in orders)

    def _ordered(self) -> Iterator[tuple[str, list[OrderLine]]]:
        orders = self.design.orders
        for name, groups in PART_GROUPS.items():
            found = [each for each in orders if each.uses[0].group in groups]
            if found:
                yield name, found

    def left_out(self, needs: Needs) -> list[LeftOut]:
        """What stays out of the list, each with the reason."""
        parts = self.guide.wording.parts
        return [
            LeftOut(parts.one_of("out-", each, LEFT_OUT), parts.one_of("why-out-", each, LEFT_OUT))
            for each in left_out_of(needs, self.design)
        ]

    def _row(self, order: OrderLine) -> PartRow:
        return PartRow(
            quantity=self._quantity(order),
            article=order.product,
            name=order.name,
            uses=tuple(self._uses(order)),
            price=self._price(order),
            offers=offers_of(self.guide, order.product),
        )

    def _price(self, order: OrderLine) -> str:
        if order.have:
            return self.guide.wording.page["have-it"]
        return money(order.price) if order.product else ""

    def _quantity(self, order: OrderLine) -> str:
        if order.unit == "m":
            return show(order.quantity, "m")
        if order.pack > 1:
            return self.guide.wording.page.count("packs", order.quantity, 0, pack=order.pack)
        return plain(order.quantity)

    def _uses(self, order: OrderLine) -> Iterator[PartUse]:
        """What it is for; how many for each, where that is not the quantity of the line."""
        spares = {each.group: each for each in order.uses if each.group.startswith(SPARE)}
        main = [each for each in order.uses if each.group not in spares]
        for use in main:
            key = f"{use.group}{YOURS}" if use.have else use.group
            why = self.guide.wording.parts.one_of("", key, SAID)
            spare = spares.get(f"{SPARE}{use.group}")
            if len(main) > 1 or spare or order.pack > 1:
                amount = self._amount(use, spare)
                why = self.guide.wording.page.say("part-use", amount=amount, why=why)
            yield PartUse(why, part_id(use.group) if use in self._first else "")

    def _amount(self, use: PartLine, spare: PartLine | None) -> str:
        count = use.quantity + (spare.quantity if spare else 0.0)
        amount = show(count, "m") if use.unit == "m" else plain(count)
        if spare is None:
            return amount
        return amount + self.guide.wording.page.say("spares", count=plain(spare.quantity))

    @property
    def total(self) -> str:
        """Sum of the parts list."""
        return money(self.design.parts_price)

    @property
    def between(self) -> tuple[float, float]:
        """Least and most that the parts cost."""
        return price_range(self.guide, self.design)

    @property
    def about(self) -> str:
        """The sum to tens, and between which sums it lies."""
        sums = (self.design.parts_price, *self.between)
        about, least, most = (money(round(each, -1)) for each in sums)
        return self.guide.wording.page.say("about-price", about=about, least=least, most=most)

    @property
    def range(self) -> str:
        """Between which sums it lies, and why."""
        least, most = self.between
        return self.guide.wording.page.say(
            "price-range",
            least=money(least),
            most=money(most),
            allowance=show(self.guide.planning.price_allowance, "share"),
        )

    @property
    def mass(self) -> str:
        """Weight of what stays in the rig."""
        return show(self.design.mass_kg, "kg")
