"""What guards each positive conductor, worked out again: the fuses that feed it, or a sheath."""

from collections.abc import Iterator
from math import inf
from typing import Any

from tests.recheck import tables
from tests.recheck.branches import Branches
from tests.recheck.facts import NEAR, one
from tests.recheck.theirs import house_short_a, must_stop_a

NEGATIVE = ("negative", "back", "frame")
SHEATHED_AT_MOST_M = {"busbar": tables.SHEATHED_M, "battery": tables.FROM_BATTERY_M}


class Unfused(Branches):
    """Each is guarded by all that feeds it, or lies in a sheath and within the length allowed."""

    def unfused(self) -> Iterator[str]:
        pieces = {(each["group"], each["label"]): each for each in self.found["dc_pieces"]}
        fed = self._fed()
        for (group, label), piece in pieces.items():
            if any(word in label for word in NEGATIVE):
                continue
            name = f"{group}, {label}" if group.endswith("-cable") else label
            feeds_a = self._feeds_a(group, label, fed)
            carries_a = self.ampacity_a(piece["awg"]) * self._runs(group, label, piece["count"])
            if feeds_a > carries_a * (1 + NEAR) and not piece["sheathed"]:
                yield f"{name}: fed through {feeds_a:.0f} A, carries {carries_a:.0f} A, no sheath"
        yield from self._ways(pieces, fed)
        sheathed = sum(each["count"] for each in pieces.values() if each["sheathed"])
        if self.quantity("sheaths") != sheathed:
            yield f"{self.quantity('sheaths'):.0f} sleeves for {sheathed} pieces without a fuse"

    def _fed(self) -> float:
        """What feeds the busbars or the stud where all begins: all own fuses, or no fuse at all."""
        for fuse in self.products("battery-fuse", self.guide.catalogue.fuses):
            return float(fuse.rating) * self.parallel
        return inf

    def _feeds_a(self, group: str, label: str, fed_a: float) -> float:
        branches = {f"{each['id']}-cable": each for each in self.found["dc_branches"]}
        if group in branches:
            branch = branches[group]
            if label == "to-its-fuse":
                return inf if branch["id"] == "starter" else fed_a
            # Behind a converter that limits itself, the fuse of a battery that stays.
            return float(branch["fuse_a"] or branch["kept_fuse_a"] or 0.0)
        main_a = float(self.found["dc_fuse"]["rating_a"])
        behind_main = ("fuse-to-switch", "switch-to-unit", "fuse-to-unit")
        if label in behind_main:
            return main_a
        at_a_battery = ("battery-to-its-fuse", "battery-to-busbar", "battery-to-battery-in-series")
        return inf if label in at_a_battery else fed_a

    def _runs(self, group: str, label: str, count: int) -> float:
        """How many of them carry a current together."""
        if label in ("switch-to-fuse-of-each-unit", "fuse-to-unit"):
            return count / self.units
        if label == "battery-to-battery-in-series":
            return count / (self.parallel * (self.series - 1))
        if group == "battery-links" and label.startswith(("battery-", "fuse-of-each")):
            return count / self.parallel
        return count

    def _ways(self, pieces: dict[tuple[str, str], dict[str, Any]], fed_a: float) -> Iterator[str]:
        """Along each way from battery or busbar to the next fuse, its pieces added up."""
        at_bars = "busbar" if fed_a < inf else "battery"
        ahead = [] if fed_a < inf else ["battery-to-busbar"]
        ways = [
            ("battery", ["battery-to-its-fuse"]),
            (at_bars, [*ahead, "bank-to-fuse"]),
            (at_bars, [*ahead, "busbar-to-switch", "switch-to-fuse-of-each-unit"]),
            ("busbar", ["fuse-of-each-battery-to-busbar"]),
        ]
        for start, labels in ways:
            length_m = sum(
                float(each["length_m"])
                for (group, label), each in pieces.items()
                if group == "battery-links" and label in labels
            )
            if length_m > SHEATHED_AT_MOST_M[start] + 1e-9:
                yield f"{length_m:.2f} m from {start} to a fuse"

    def small_wires(self) -> Iterator[str]:
        """A small fuse for the monitor's wire, and one for that of the pre-charge."""
        wanted = 1 + len(self.parts("precharge"))
        if self.quantity("small-fuses") != wanted:
            yield f"{self.quantity('small-fuses'):.0f} small fuses for {wanted} thin wires"

    def kept_battery(self) -> Iterator[str]:
        """Where a 12 V battery stays, the cable behind the converter has a fuse at that battery."""
        house = [each for each in self.found["dc_branches"] if each["id"] == "house"]
        stays = self.stays() and house
        fuses = self.products("kept-fuse", self.guide.catalogue.fuses)
        if not stays:
            if fuses:
                yield "a fuse for a 12 V battery that is not there"
            return
        (branch,) = house
        holders = self.products("kept-fuse-holder", self.guide.catalogue.fuse_holders)
        if len(fuses) != 1 or len(holders) != 1:
            yield "no fuse at a 12 V battery that stays"
            return
        fuse, carries_a = fuses[0], self.ampacity_a(branch["awg"]) * branch["runs"]
        if fuse.rating != branch["kept_fuse_a"] or fuse.rating > carries_a * (1 + NEAR):
            yield "the fuse at a 12 V battery that stays is above its cable, or another"
        if fuse.interrupt < self._at_kept_battery_a():
            yield "the fuse at a 12 V battery that stays cannot stop it"
        if holders[0].family != fuse.family or holders[0].largest < fuse.rating:
            yield "no holder for the fuse at a 12 V battery that stays"

    def _at_kept_battery_a(self) -> float:
        """What a fuse at the 12 V battery that stays must stop: theirs where they are free."""
        have = self.needs.existing
        there = any(not each["product"] for each in self.parts("house-battery"))
        short_a = house_short_a(have) if have and there else 0.0
        return must_stop_a(short_a) if short_a else tables.STARTER_INTERRUPT_A

    def small_articles(self) -> Iterator[str]:
        """Sleeves and small fuses are what their lines say."""
        for group, use in (("sheaths", "sheath"), ("small-fuses", "small-fuse")):
            for line in self.parts(group):
                if (
                    line["product"]
                    and one(self.guide.catalogue.hardware, line["product"]).use != use
                ):
                    yield f"{group}: another article"
