"""Collecting lines of the parts list; what the shelf lacks is named, never left out."""

from collections.abc import Iterable, Sequence

from engine.advice.plan.fittings import Fitting
from engine.advice.plan.shelf import cable_for, preference
from engine.model.guide import Guide
from engine.model.parts import PartLine
from engine.model.products import Product

TOOLS = frozenset({"ferrule-crimper", "lug-crimper"})
Lines = tuple[PartLine, ...]


class PartLines:
    """The lines so far, of a design on a bank of this voltage."""

    def __init__(self, guide: Guide, bank_v: float) -> None:
        self.guide = guide
        self.catalogue = guide.catalogue
        self.planning = guide.planning
        self.bank_v = bank_v
        self.lines: list[PartLine] = []
        self.parts = guide.wording.parts

    def _put(self, group: str, quantity: int, able: Sequence[Product], wanted: str) -> None:
        """Add the cheapest article that will do; where there is none, say what is wanted."""
        if not able:
            self.lines.append(PartLine(group, "", wanted, quantity, "", 0.0, 0.0))
            return
        product = able[0] if len(able) == 1 else min(able, key=preference)
        pack: int = getattr(product, "pack", 1)
        mass_kg = 0.0 if group in TOOLS else product.mass / pack
        self.lines.append(
            PartLine(group, product.id, product.name, quantity, "", product.price, mass_kg, pack)
        )

    def _put_cable(self, group: str, use: str, length_m: float, awg_size: str, cores: int) -> None:
        """Add cable of this size; what the shelf lacks is named."""
        chosen = cable_for(self.guide, use, awg_size, cores)
        if chosen is None:
            wanted = self.parts.count("lacks-cable", cores, 0, size=awg_size)
            self.lines.append(PartLine(group, "", wanted, length_m, "m", 0.0, 0.0))
        else:
            self.lines.append(
                PartLine(group, chosen.id, chosen.name, length_m, "m", chosen.price, chosen.mass)
            )

    def _fit(self, fittings: Iterable[Fitting]) -> None:
        for each in fittings:
            if each.quantity:
                self._put(each.group, each.quantity, each.able, each.wanted)

    def _there(self, group: str, name: str, count: int) -> None:
        self.lines.append(PartLine(group, "", name, count, "", 0.0, 0.0, have=True))

    def _told(self) -> Lines:
        """The lines so far, which are forgotten."""
        told, self.lines = tuple(self.lines), []
        return told
