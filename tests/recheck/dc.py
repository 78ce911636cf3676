"""The battery side, worked out again: cable, fuse, switch, short pieces, voltage left."""

from collections.abc import Iterator

from tests.recheck import tables
from tests.recheck.branches import Branches
from tests.recheck.facts import NEAR, ohm_per_m, one
from tests.recheck.tables import rank


class Dc(Branches):
    """Everything between bank and unit."""

    def cable_and_fuse(self) -> Iterator[str]:
        cable, fuse = self.found["dc_cable"], self.found["dc_fuse"]
        full_a = self.full_a()
        carries_a = self.ampacity_a(cable["awg"]) * cable["runs"]
        if cable["length_m"] != self.needs.cable_m:
            yield "the cable is not as long as was said"
        if full_a > carries_a * (1 + NEAR):
            yield f"{full_a:.0f} A in a cable for {carries_a:.0f} A"
        if fuse["rating_a"] > carries_a * (1 + NEAR):
            yield "the fuse lets through more than the cable carries"
        if fuse["rating_a"] < 1.25 * full_a * (1 - NEAR):
            yield "the fuse is too small for the current at a low battery"
        if cable["runs"] > self.unit.dc_lugs_per_stud or (
            cable["runs"] > 1 and rank(cable["awg"]) < rank("1/0")
        ):
            yield "so many cables may not run in parallel"
        if rank(cable["awg"]) > rank(self.unit.dc_largest_awg):
            yield "the cable is too thick for the stud"
        hot_c = self.needs.ambient_c + (105 - self.needs.ambient_c) * (full_a / carries_a) ** 2
        drop_v = 2 * full_a * cable["length_m"] * ohm_per_m(cable["awg"], hot_c) / cable["runs"]
        if drop_v > self.guide.planning.drop_limit * self.unit.dc_nominal * (1 + 1e-6):
            yield f"{drop_v:.2f} V are lost on the way"
        yield from self._protection()

    def _protection(self) -> Iterator[str]:
        cable, fuse = self.found["dc_cable"], self.found["dc_fuse"]
        if fuse["interrupt_a"] < self.interrupt_a():
            yield "the fuse cannot stop the bank's short circuit"
        yield from self._fuse_on_list("fuse", fuse["rating_a"], self.units)
        bank_a = self.bank_a()
        for switch in self.products("disconnect", self.guide.catalogue.disconnects):
            if switch.rating < 1.25 * bank_a * (1 - NEAR) or switch.volts < self.highest_v():
                yield "the battery switch is too weak"
        if self.quantity("disconnect") != 1:
            yield "not one battery switch"
        for bars in self.products("busbar", self.guide.catalogue.busbars):
            if bars.rating < 1.25 * bank_a * (1 - NEAR):
                yield "the busbars are too weak"
        for meter in self.products("soc-monitor", self.guide.catalogue.monitors):
            if meter.rating < 1.25 * bank_a * (1 - NEAR):
                yield "the shunt is too small"
        bond = self.products("bond-cable", self.guide.catalogue.cables)
        least = max(rank(tables.LOW_COPPER), rank(cable["awg"]) - 1)
        if not bond or any(rank(each.awg) < least for each in bond):
            yield "the bond of the case is too thin or missing"
        joint = self.products("frame-cable", self.guide.catalogue.cables)
        least = max(rank(tables.LOW_COPPER), rank(cable["awg"]) - 1)
        if self.units == 1:
            least = max(least, rank(cable["awg"]))
        carries_a = sum(self.ampacity_a(each.awg) for each in joint) * self.frame_leads()
        if any(rank(each.awg) < least for each in joint) or carries_a < (
            fuse["rating_a"] * self.units * (1 - NEAR)
        ):
            yield "the negative's joint to the frame is too thin or missing"

    def frame_leads(self) -> int:
        """Cables from the shunt to the frame."""
        return round(self.quantity("frame-cable") / self.guide.planning.bond_run_m)

    def _fuse_on_list(self, group: str, rating_a: float, count: int) -> Iterator[str]:
        fuses = self.products(group, self.guide.catalogue.fuses)
        holders = self.products(f"{group}-holder", self.guide.catalogue.fuse_holders)
        if self.quantity(group) != count or self.quantity(f"{group}-holder") != count:
            yield f"not {count} of {group} and its holder"
        for fuse, holder in zip(fuses, holders, strict=False):
            if fuse.rating != rating_a or fuse.volts < self.highest_v() - 1e-9:
                yield f"another {group} on the list, or not for this voltage"
            if holder.family != fuse.family or holder.largest < fuse.rating:
                yield f"the holder does not suit the {group}"

    def strings_and_lugs(self) -> Iterator[str]:
        """Topology worked out from counts alone, and a lug at either end of every conductor."""
        n, s, runs = self.parallel, self.series, self.found["dc_cable"]["runs"]
        at_bank = [each for each in self.found["dc_branches"] if self.starts_at_bank(each)]
        branch_lugs = sum(int(each["runs"]) for each in at_bank)
        trunk_runs = self.frame_leads()
        load_bar = runs * self.units + trunk_runs + branch_lugs > tables.LUGS_ON_A_STUD
        crowded = trunk_runs + branch_lugs > tables.LUGS_ON_A_STUD
        shared = n > 1 or self.units > 1 or crowded or load_bar
        bank_bar = shared and (n > 1 or not load_bar)
        string_a = self.string_a()
        fused = n > tables.STRINGS_UNFUSED or shared  # else the main fuse is the battery's own
        link_m = self.guide.planning.link_m
        if fused:
            fuse = self.products("battery-fuse", self.guide.catalogue.fuses)[0]
            yield from self._fuse_on_list("battery-fuse", fuse.rating, n)
            if fuse.rating < 1.25 * string_a * (1 - NEAR):
                yield "the fuse of each battery is too small"
            # The others alone are less than the bank, whose figure or 20 kA is taken (ABYC E-11).
            if fuse.interrupt < self.interrupt_a():
                yield "the fuse of each battery cannot stop the others"
        elif self.parts("battery-fuse"):
            yield "fuses for each battery that nobody asks for"
        main = 2 * runs * self.units
        at_bars = (n * (2 if fused else 1) if shared else 0) + (n if bank_bar else 0)
        strings = n * (s - 1) + at_bars
        pieces = {
            one(self.guide.catalogue.cables, line["product"]).awg: round(line["quantity"] / link_m)
            for line in self.parts("battery-links")
        }
        yield from self._pieces_suit(pieces, strings, string_a, 1 if load_bar else 0)
        cable_m = self.quantity("dc-cable")
        if abs(cable_m - main * self.needs.cable_m) > 1e-6:
            yield f"{cable_m:.2f} m of battery cable for {main} runs"
        conductors = main + sum(pieces.values()) + self.frame_leads()
        lugs = 2 * conductors + self.branch_lugs()
        if self.quantity("lugs") != lugs:
            yield f"{self.quantity('lugs'):.0f} lugs for {lugs} ends"
        pairs = (2 if load_bar and n > 1 else 1) if shared else 0
        if self.quantity("busbar") != pairs:
            yield f"{self.quantity('busbar'):.0f} pairs of busbars, not {pairs}"

    def _pieces_suit(
        self, pieces: dict[str, int], strings: int, string_a: float, to_bar: int
    ) -> Iterator[str]:
        """Some way to hand the short pieces out: to the units, to trunk and shunt, to strings.

        One unit: three in its own cable. Two: a trunk and a shunt piece for both, one each to the
        fuses. One more of the trunk's where a bar stands behind the shunt. The rest joins the
        batteries.
        """
        runs, size = self.found["dc_cable"]["runs"], self.found["dc_cable"]["awg"]
        rating_a = self.found["dc_fuse"]["rating_a"]
        fuse = self.products("battery-fuse", self.guide.catalogue.fuses)
        guarded_a = fuse[0].rating if fuse else max(rating_a * self.units, string_a)
        own = {size: (3 + to_bar) * runs if self.units == 1 else runs * self.units}
        trunks = [{}] if self.units == 1 else self._trunks(pieces, rating_a * self.units, to_bar)
        for trunk in trunks:
            left = {
                each: count - own.get(each, 0) - trunk.get(each, 0)
                for each, count in pieces.items()
            }
            left = {each: count for each, count in left.items() if count}
            if not strings and not left:
                return
            if len(left) == 1 and strings:
                ((each, count),) = left.items()
                link_runs = count / strings
                if link_runs in (1.0, 2.0) and self.ampacity_a(each) * link_runs >= guarded_a * (
                    1 - NEAR
                ):
                    return
        yield f"short pieces {pieces} do not suit {strings} links for {guarded_a:.0f} A"

    def _trunks(self, pieces: dict[str, int], rating_a: float, to_bar: int) -> list[dict[str, int]]:
        return [
            {size: (2 + to_bar) * runs}
            for size in pieces
            for runs in (1, 2)
            if self.ampacity_a(size) * runs >= rating_a * (1 - NEAR)
            and (runs == 1 or rank(size) >= rank("1/0"))
        ]

    def voltage_left(self) -> Iterator[str]:
        """Walk down to the voltage at the unit by trial, the unit taking a constant power."""
        cable = self.found["dc_cable"]
        full_a = self.full_a()
        hot_c = (
            self.needs.ambient_c
            + (105 - self.needs.ambient_c)
            * (full_a / (self.ampacity_a(cable["awg"]) * cable["runs"])) ** 2
        )
        ohm = self.battery.resistance * self.series / self.parallel + 2 * ohm_per_m(
            cable["awg"], hot_c
        ) * self.needs.cable_m / (cable["runs"] * self.units)
        power_w = self.running_a() * self.low_v
        volts = self.nominal_v
        for _ in range(200):
            volts = self.nominal_v - ohm * power_w / volts
            if volts < self.low_v / 2:
                break
        if volts < self.low_v * (1 - NEAR):
            yield f"{volts:.2f} V reach the unit, which stops below {self.low_v:g} V"
