"""The parts list: what each use of an article takes, and the lines in which articles are bought."""

import math
from collections.abc import Iterable
from typing import NamedTuple


class PartLine(NamedTuple):
    """One use of an article: `product` is its id, `group` a key of the wording that says what for.

    quantity : pieces, or meters where `unit` says so
    price_each : of a pack, or of a piece or a meter where it is sold so
    mass_each_kg : of a piece or a meter
    pack : pieces that are sold together
    have : it is in the rig already and is not bought
    """

    group: str
    product: str
    name: str
    quantity: float
    unit: str
    price_each: float
    mass_each_kg: float
    pack: int = 1
    have: bool = False


class OrderLine(NamedTuple):
    """One line of the parts list as it is bought: an article once, with all its uses.

    needed : pieces or meters that all uses take together
    quantity : how many are bought: whole packs where it is sold in packs
    price : of the line
    """

    uses: tuple[PartLine, ...]
    needed: float
    quantity: float
    price: float

    @property
    def product(self) -> str:
        """Id of the article; "" where the shelf has none."""
        return self.uses[0].product

    @property
    def name(self) -> str:
        """Name of the article, or what is wanted."""
        return self.uses[0].name

    @property
    def pack(self) -> int:
        """Pieces that are sold together."""
        return self.uses[0].pack

    @property
    def unit(self) -> str:
        """What the quantity counts: meters, packs, or pieces where it is ""."""
        return "pack" if self.pack > 1 else self.uses[0].unit

    @property
    def have(self) -> bool:
        """Whether it is in the rig already and is not bought."""
        return self.uses[0].have

    @property
    def price_each(self) -> float:
        """Price of one of them."""
        return self.uses[0].price_each


def orders_of(lines: Iterable[PartLine]) -> tuple[OrderLine, ...]:
    """Each article once, in the order of its first use; what the shelf lacks goes by its name."""
    uses: dict[tuple[str, str], list[PartLine]] = {}
    for line in lines:
        uses.setdefault((line.product or line.name, line.unit), []).append(line)
    return tuple(map(_order, uses.values()))


def price_of(lines: Iterable[PartLine]) -> float:
    """What these lines cost together, as they are bought."""
    needed: dict[tuple[str, str], float] = {}
    first: dict[tuple[str, str], PartLine] = {}
    for line in lines:
        article = (line.product or line.name, line.unit)
        if article in needed:
            needed[article] += line.quantity
        else:
            needed[article], first[article] = line.quantity, line
    return sum(
        [
            (needed[article] if line.pack == 1 else _bought(line, needed[article]))
            * line.price_each
            for article, line in first.items()
        ]
    )


def _order(uses: list[PartLine]) -> OrderLine:
    first = uses[0]
    needed = first.quantity if len(uses) == 1 else sum([use.quantity for use in uses])
    quantity = _bought(first, needed)
    return OrderLine(tuple(uses), needed, quantity, quantity * first.price_each)


def _bought(line: PartLine, needed: float) -> float:
    """How many are bought so that there are as many as needed: whole packs."""
    return float(math.ceil(needed / line.pack)) if line.pack > 1 else needed
