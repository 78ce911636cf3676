"""Figures that are allowed and far from those of their kind: a price times ten, a slipped decimal.

None of them is a fault, since a shop may sell what is unlike the rest: they are told to be seen.
"""

from bisect import bisect_left
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields
from typing import Any

from engine.model.products import (
    Battery,
    Cable,
    Catalogue,
    Ferrule,
    Fuse,
    Hardware,
    InverterCharger,
)
from engine.standards import awg
from engine.units import significant

ALIKE, ANY = 5.0, 12.0
"""How many times the usual of what is alike, or of all its family, is told; no source: no price and
no weight of the demo is, and nearly each of them is that slipped by a factor of ten."""
ABOVE = 1.5
"""How many times the highest charge current of its family for its power is told; no source."""
FEWEST = 3
"""Others that make a usual figure."""


@dataclass(frozen=True, slots=True)
class Outlier:
    """A figure to be looked at: family, id and key of it, and what it is far from."""

    family: str
    id: str
    key: str
    why: str


def outliers(catalogue: Catalogue) -> list[Outlier]:
    """Every such figure of what is sold, in the order of the catalog."""
    return [
        found
        for kind in fields(Catalogue)
        for found in _of_family(kind.name, getattr(catalogue, kind.name))
    ]


def _of_family(family: str, products: tuple[Any, ...]) -> Iterator[Outlier]:
    for key in ("price", "mass"):
        usual = _Usual(products, key)
        for each in products:
            if why := usual.far(each):
                yield Outlier(family, each.id, key, why)
    units = [each for each in products if isinstance(each, InverterCharger)]
    highest, second = sorted((0.0, 0.0, *map(_charge_share, units)), reverse=True)[:2]
    for each in units if len(units) > FEWEST else ():
        share = _charge_share(each)
        most = second if share == highest else highest
        if share > ABOVE * most:
            why = f"for its power it is {significant(share / most)} times the highest of the others"
            yield Outlier(family, each.id, "charge_current", why)


def _charge_share(unit: InverterCharger) -> float:
    """Charge power at the nominal voltage over the apparent power."""
    return unit.charge_current * unit.dc_nominal / unit.apparent


class _Usual:
    """What a figure is for its size, among what is alike and in the whole family."""

    def __init__(self, products: tuple[Any, ...], key: str) -> None:
        self.key = key
        self.all = sorted(self.of(each) for each in products)
        self.alike: dict[tuple[object, ...], list[float]] = {}
        for each in products:
            self.alike.setdefault(_group(each), []).append(self.of(each))
        for ratios in self.alike.values():
            ratios.sort()

    def of(self, product: Any) -> float:
        """The figure of a product for its size."""
        return float(getattr(product, self.key)) / _size(product)

    def far(self, product: Any) -> str:
        """Why a figure is told, "" for one that is not."""
        alike, most = self.alike[_group(product)], ALIKE
        if len(alike) <= FEWEST:
            alike, most = self.all, ANY
        if len(alike) <= FEWEST or (most == ANY and isinstance(product, Hardware)):
            return ""  # a pack of labels tells nothing of a remote panel
        own = self.of(product)
        usual = _median_without(alike, own)
        if usual <= 0 or 1 / most <= own / usual <= most:
            return ""
        if own > usual:
            return f"for its size it is {significant(own / usual)} times the usual of the others"
        share = significant(usual / own) if own else "no"
        return f"for its size the usual of the others is {share} times as much"


def _median_without(ratios: list[float], own: float) -> float:
    """The median of sorted figures without one of them."""
    at = bisect_left(ratios, own)
    middle = (len(ratios) - 1) // 2
    low = middle - 1 if len(ratios) % 2 else middle  # of an even number of others, two are middle
    found = [ratios[place + (place >= at)] for place in (low, middle)]
    return sum(found) / 2


def _group(product: Any) -> tuple[object, ...]:
    return tuple(getattr(product, name, "") for name in ("use", "family", "chemistry"))


_SIZES: tuple[tuple[type[Any], Callable[[Any], float]], ...] = (
    (InverterCharger, lambda each: each.apparent),
    (Battery, lambda each: each.nominal * each.capacity),
    (Cable, lambda each: awg.area_m2(each.awg) * each.conductors),
    (Fuse, lambda each: each.rating**0.5),
    (Ferrule, lambda each: each.pack),
)


def _size(product: Any) -> float:
    """What a price and a weight go with; 1 where nothing does."""
    measure = next((each for kind, each in _SIZES if isinstance(product, kind)), None)
    size = measure(product) if measure else getattr(product, "pack", 1)
    return float(size) or 1.0
