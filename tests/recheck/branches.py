"""What hangs on the bank beside the units, worked out again: its current, fuse and cable."""

from collections.abc import Iterator
from typing import Any

from tests.recheck import tables
from tests.recheck.facts import NEAR, Facts, ohm_per_m, one


class Branches(Facts):
    """Chargers, converter and 12 V circuits."""

    def starts_at_bank(self, branch: dict[str, Any]) -> bool:
        """Not at the starter battery, nor behind a converter that limits itself."""
        return branch["id"] != "starter" and not self._behind_converter(branch)

    def branch_lugs(self) -> int:
        """At the bank three and one on the way back; at the starter battery one, in its holder."""
        lugs = 0
        for each in self.found["dc_branches"]:
            at_starter = 2 if each["id"] == "starter" else 0
            lugs += int(each["runs"]) * (4 if self.starts_at_bank(each) else at_starter)
            if each["id"] in ("house", "dc48"):  # its switch, in the positive
                lugs += 2 * int(each["runs"])
        return lugs

    def branches(self) -> Iterator[str]:
        branches = {each["id"]: each for each in self.found["dc_branches"]}
        if set(branches) != set(self._wanted()):
            yield f"branches {sorted(branches)}, wanted {sorted(self._wanted())}"
            return
        for name, (current_a, volts, length_m) in self._wanted().items():
            branch = branches[name]
            if abs(branch["current_a"] - current_a) > 1e-6 * current_a:
                yield f"{name}: {branch['current_a']:.1f} A, not {current_a:.1f} A"
            if branch["length_m"] != length_m:
                yield f"{name}: another length than planned"
            yield from self._cable(branch, current_a, volts)
            yield from self._fuse(branch, current_a)
        fused = [each for each in branches.values() if not self._behind_converter(each)]
        if self.quantity("branch-fuse-holder") != len(fused):
            yield "not one holder for each fuse of a branch"

    def _wanted(self) -> dict[str, tuple[float, float, float]]:
        """Current, voltage and length of each branch that the parts list calls for."""
        planning, catalogue = self.guide.planning, self.guide.catalogue
        bank_v = self.unit.dc_nominal
        found = {}
        for each in self.products("solar-controller", catalogue.solar_controllers):
            found["solar"] = (each.current, bank_v, planning.branch_run_m)
        for each in self.products("alternator-charger", catalogue.alternator_chargers):
            found["alternator"] = (each.current, bank_v, planning.branch_run_m)
            input_a = each.current * each.output / each.input / each.efficiency
            found["starter"] = (input_a, each.input, planning.starter_run_m)
        for each in self.products("step-down", catalogue.step_downs):
            input_a = each.current * each.output / each.efficiency / self.low_v
            found["step-down"] = (input_a, bank_v, planning.branch_run_m)
            found["house"] = (each.current, each.output, planning.branch_run_m)
        if self.on_48:
            found["dc48"] = (self.on_48 / self.low_v, bank_v, planning.branch_run_m)
        if bank_v == tables.HOUSE_V and self.on_12_v():
            moved_a = self.largest_motor_a()
            feed_a = max(planning.house_feed, self.house_w / self.low_v + moved_a)
            found["house"] = (feed_a, bank_v, planning.branch_run_m)
        return found

    def _behind_converter(self, branch: dict[str, Any]) -> bool:
        return branch["id"] == "house" and self.unit.dc_nominal != tables.HOUSE_V

    def _cable(self, branch: dict[str, Any], current_a: float, volts: float) -> Iterator[str]:
        name, size, runs = branch["id"], branch["awg"], branch["runs"]
        carries_a = self.ampacity_a(size) * runs
        if carries_a < max(1.25 * current_a, branch["fuse_a"] or 0.0) * (1 - NEAR):
            yield f"{name}: the cable carries {carries_a:.0f} A"
        ambient_c = self.needs.ambient_c
        hot_c = ambient_c + (105 - ambient_c) * (current_a / carries_a) ** 2
        drop_v = 2 * current_a * branch["length_m"] * ohm_per_m(size, hot_c) / runs
        planning = self.guide.planning
        share = planning.starter_drop if name == "starter" else planning.drop_limit
        if drop_v > share * volts * (1 + 1e-6):
            yield f"{name}: {drop_v:.2f} V are lost on the way"
        shelf = self.guide.catalogue.cables
        if [each.awg for each in self.products(f"{name}-cable", shelf)] != [size]:
            yield f"{name}: another cable on the list"
        link_m = 0.0 if self._behind_converter(branch) else planning.link_m
        length_m = (2 * branch["length_m"] + link_m) * runs
        if abs(self.quantity(f"{name}-cable") - length_m) > 1e-6:
            yield f"{name}: not {length_m:.2f} m of cable on the list"

    def _fuse(self, branch: dict[str, Any], current_a: float) -> Iterator[str]:
        name = branch["id"]
        if self._behind_converter(branch):
            if branch["fuse_a"] is not None or self.parts(f"{name}-fuse"):
                yield f"{name}: a fuse behind a converter that limits itself"
            return
        if (branch["fuse_a"] or 0.0) < 1.25 * current_a * (1 - NEAR):
            yield f"{name}: the fuse is too small"
        if (branch["fuse_a"] or 0.0) > tables.MOST_OF_A_FUSE * 1.25 * current_a:
            yield f"{name}: a fuse of {branch['fuse_a']:g} A for {current_a:.1f} A"
        starter = name == "starter"
        least_a = tables.STARTER_INTERRUPT_A if starter else self.interrupt_a()
        most_v = 6 * tables.LEAD_CELL_V[1] if starter else self.highest_v()
        lines = self.parts(f"{name}-fuse")
        if [line["quantity"] for line in lines] != [1]:
            yield f"{name}: not one fuse"
        for line in lines:
            fuse = one(self.guide.catalogue.fuses, line["product"])
            if fuse.rating != branch["fuse_a"] or fuse.family != branch["class"]:
                yield f"{name}: another fuse on the list"
            if fuse.interrupt < least_a or fuse.volts < most_v - 1e-9:
                yield f"{name}: a fuse that cannot stop the short circuit, or not for this voltage"
            holders = self.products("branch-fuse-holder", self.guide.catalogue.fuse_holders)
            if not any(
                each.family == fuse.family and each.largest >= fuse.rating for each in holders
            ):
                yield f"{name}: no holder for its fuse"
