"""The parts list as it is read: under headings, with its sum, its weight and what may change it."""

from dataclasses import dataclass

from engine.advice.plan.branches import BRANCHES
from engine.advice.plan.price import price_range
from engine.model.guide import Guide
from engine.model.result import Design, PartLine
from engine.pages.answer.offers import offers_of
from engine.pages.drawings.diagram_links import part_id
from engine.units import show
from engine.wording.tongue import money, plain

PART_GROUPS = {
    "power": ("inverter", "battery", "soft-starter", "soc-monitor"),
    "protection": (
        *("fuse", "fuse-holder", "battery-fuse", "battery-fuse-holder"),
        *("disconnect", "precharge", "busbar", "small-fuses"),
        *(f"{branch}-fuse" for branch in BRANCHES),
        *("branch-fuse-holder", "solar-switch", "house-switch", "kept-fuse", "kept-fuse-holder"),
    ),
    "cables": (
        *("dc-cable", "battery-links"),
        *(f"{branch}-cable" for branch in BRANCHES),
        *("lugs", "bond-cable", "frame-cable", "clamps", "grommets", "sheaths"),
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
    ),
    "terminals": ("ferrules",),
    "cooling": ("fan",),
    "charging": (
        "alternator-charger",
        "solar-controller",
        "solar-panel",
        "step-down",
        "temperature-sensor",
    ),
    "tools": ("lug-crimper", "ferrule-crimper"),
}
"""Under which heading of the parts list each group of parts stands; spares stand with theirs."""

SPARE = "spare-"
HEADINGS = tuple(PART_GROUPS)
GROUPS = tuple(group for groups in PART_GROUPS.values() for group in groups)


@dataclass(frozen=True, slots=True)
class PartRow:
    """A line of the parts list as it is read; `id` is that of the first line of its group."""

    quantity: str
    name: str
    why: str
    price: str
    on_shelf: bool
    offers: tuple[str, ...] = ()
    id: str = ""


class PartsView:
    """The parts of one design, as texts."""

    def __init__(self, guide: Guide, design: Design) -> None:
        self.guide = guide
        self.design = design
        self._first = set({each.group: each for each in reversed(design.parts)}.values())
        self._spares = {
            (each.group.removeprefix(SPARE), each.product): each
            for each in design.parts
            if each.group.startswith(SPARE)
        }

    def rows(self) -> list[PartRow]:
        """Every line, spares with what they spare."""
        lines = (each for each in self.design.parts if not each.group.startswith(SPARE))
        return [self._row(each) for each in lines]

    def groups(self) -> list[tuple[str, list[PartRow]]]:
        """The same under headings, by what the parts are for."""
        page = self.guide.wording.page
        found = [
            (
                page.one_of("parts-", name, HEADINGS),
                [self._row(e) for e in self.design.parts if e.group in groups],
            )
            for name, groups in PART_GROUPS.items()
        ]
        return [(title, rows) for title, rows in found if rows]

    def _row(self, line: PartLine) -> PartRow:
        spare = self._spares.get((line.group, line.product))
        count = line.quantity + (spare.quantity if spare else 0.0)
        price = line.price + (spare.price if spare else 0.0)
        name = line.name
        if spare:
            name += self.guide.wording.page.say("spares", count=plain(spare.quantity))
        return PartRow(
            quantity=show(count, "m") if line.unit == "m" else f"{plain(count)} ×",
            name=name,
            why=self.guide.wording.parts.one_of("", line.group, GROUPS),
            price=money(price) if line.product else "",
            on_shelf=bool(line.product),
            offers=offers_of(self.guide, line.product),
            id=part_id(line.group) if line in self._first else "",
        )

    @property
    def total(self) -> str:
        """Sum of the parts list."""
        return money(self.design.parts_price)

    @property
    def about(self) -> str:
        """The sum to tens, and between which sums it lies."""
        sums = (self.design.parts_price, *price_range(self.guide, self.design))
        about, least, most = (money(round(each, -1)) for each in sums)
        return self.guide.wording.page.say("about-price", about=about, least=least, most=most)

    @property
    def range(self) -> str:
        """Between which sums it lies, and why."""
        least, most = price_range(self.guide, self.design)
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
