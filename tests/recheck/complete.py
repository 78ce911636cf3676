"""Whether the list can be bought and fitted as it stands: what a plan easily forgets, once more.

The list of what is forgotten is fitters' common practice, no source.
"""

from collections.abc import Iterator

from tests.recheck import tables
from tests.recheck.facts import Facts, one
from tests.recheck.tables import rank


class Complete(Facts):
    """Small parts, guards, labels, and reasons for what stays out."""

    def small_parts(self) -> Iterator[str]:
        """What goes with units and batteries, once for each that wants it."""
        there = self.needs.whole and self.needs.service.amps > tables.HOUSEHOLD_A
        tows = self.needs.service.amps > tables.HOUSEHOLD_A and not self.needs.alternator_a
        bears = self.battery.chemistry != "lifepo4" and self.unit.dc_nominal == tables.HOUSE_V
        wanted = {
            "comm-cable": self.units - 1,
            "remote-panel": 1,
            "cord-guard": 1,
            "labels": 1,
            "strain-reliefs": tables.STRAIN_RELIEFS_A_UNIT * self.units,
            "gfci": 0 if there else self.guide.planning.water_circuits,
            "breaker-lock": int(there),
            "tow-end": int(tows and not bears and not self.stays()),
        }
        for group, count in wanted.items():
            if self.quantity(group) != count:
                yield f"{self.quantity(group):g} of {group} on the list, not {count}"
        for guard in self.products("cord-guard", self.guide.catalogue.cord_guards):
            if guard.service != self.needs.service_id:
                yield "a guard of shore power for another cord"

    def on_cables(self) -> Iterator[str]:
        """Heat-shrink on each lug, clamps along what is long, strain reliefs of the AC cable."""
        shelf = self.guide.catalogue
        lugs: dict[str, float] = {}
        for line in self.parts("lugs"):
            size = one(shelf.lugs, line["product"]).awg
            lugs[size] = lugs.get(size, 0.0) + line["quantity"]
        for line in self.parts("heat-shrink"):
            sleeve = one(shelf.hardware, line["product"])
            fits = [size for size in lugs if _takes(sleeve, size)]
            count = sum(lugs.pop(size) for size in fits)
            if count != line["quantity"]:
                yield f"{line['quantity']:g} of {sleeve.id} for {count:g} lugs"
        if lugs:
            yield f"no heat-shrink for the lugs of {' and '.join(lugs)} AWG"
        for relief in self.products("strain-reliefs", shelf.hardware):
            if not _takes(relief, self.found["ac_in"]["awg"]):
                yield "strain reliefs for another AC cable"
        runs = 2 * self.found["dc_cable"]["runs"] * self.units
        if self.needs.cable_m > tables.CLAMP_EVERY_M:
            clamps = runs * self.needs.cable_m / tables.CLAMP_EVERY_M
            if self.quantity("clamps") < clamps - 1e-9:
                yield f"{self.quantity('clamps'):g} clamps for {clamps:.0f} feet and a half"
            if self.quantity("grommets") < runs:
                yield "fewer grommets than long cables"

    def left_out(self) -> Iterator[str]:
        """What is forgotten most easily is on the list, or left out with a reason."""
        absent = {each["what"]: each["why"] for each in self.data["not_included"]}
        if any(not why.strip() for why in absent.values()):
            yield "left out without a reason"
        rig_has_charger = self.needs.service.amps > tables.HOUSEHOLD_A
        for what, on_list, asked in (
            (
                "temperature sensor",
                self.parts("temperature-sensor") + self.parts("frost-sensor"),
                True,
            ),
            ("converter/charger", [], rig_has_charger),
            ("charge line", self._on_tow_line(), rig_has_charger),
            ("Labor", [], True),
            ("Screws", [], True),
            ("Hold-downs", [], True),
        ):
            if asked and not on_list and not any(what in each for each in absent):
                yield f"neither on the list nor left out with a reason: {what}"

    def _on_tow_line(self) -> list[dict[str, object]]:
        """The charger that is on that line, or what ends it."""
        groups = ("tow-end", "charge-isolator", "alternator-charger")
        return [line for group in groups for line in self.parts(group)]


def _takes(article: object, size: str) -> bool:
    least, most = getattr(article, "smallest_awg", ""), getattr(article, "largest_awg", "")
    return rank(least) <= rank(size) <= rank(most)
