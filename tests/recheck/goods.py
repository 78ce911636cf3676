"""The parts as goods, worked out again: voltage ratings, studs, panel, air, mass and prices."""

from collections.abc import Iterator
from itertools import pairwise
from math import ceil
from typing import Any

from tests.recheck import tables
from tests.recheck.facts import Facts, one


class Goods(Facts):
    """Whether each part bears its voltage, fits its stud, and costs and weighs what is said."""

    def voltages(self) -> Iterator[str]:
        """Every part that is joined to the bank bears the most that a charger puts on it."""
        shelf, most_v = self.guide.catalogue, self.highest_v()
        branches: tuple[str, ...] = ("solar", "alternator", "step-down", "dc48")
        if self.unit.dc_nominal == tables.HOUSE_V:
            branches += ("house",)
        groups: dict[str, tuple[Any, ...]] = {
            "fuse": shelf.fuses,
            "battery-fuse": shelf.fuses,
            "fuse-holder": shelf.fuse_holders,
            "battery-fuse-holder": shelf.fuse_holders,
            "disconnect": shelf.disconnects,
            "busbar": shelf.busbars,
            "soc-monitor": shelf.monitors,
            **{f"{name}-fuse": shelf.fuses for name in branches},
        }
        if self.unit.dc_nominal == tables.HOUSE_V:
            groups["house-switch"] = shelf.disconnects
        groups["dc48-switch"] = shelf.disconnects
        for group, articles in groups.items():
            for each in self.products(group, articles):
                if each.volts < most_v - 1e-9:
                    yield f"{group}: made for {each.volts:g} V, and {most_v:.1f} V come"
        for each in self.products("precharge", shelf.precharges):
            if each.volts < self.unit.dc_nominal:
                yield "precharge: made for a lower bank"
        for each in self.products("step-down", shelf.step_downs):
            if each.input != self.unit.dc_nominal or each.output != tables.HOUSE_V:
                yield "step-down: made for another bank"
        for each in self.products("fan", shelf.fans):
            if each.volts not in (self.unit.dc_nominal, self.needs.service.volts):
                yield "fan: made for another voltage"

    def lug_sizes(self) -> Iterator[str]:
        """A lug's size is that of a cable on the list, its hole that of a stud on the list."""
        shelf = self.guide.catalogue
        cables = [line for line in self.data["parts"] if line["unit"] == "m" and line["product"]]
        made = {one(shelf.cables, line["product"]).awg for line in cables}
        studs = {self.unit.dc_stud, self.battery.stud}
        for group, articles in (
            ("fuse-holder", shelf.fuse_holders),
            ("battery-fuse-holder", shelf.fuse_holders),
            ("branch-fuse-holder", shelf.fuse_holders),
            ("disconnect", shelf.disconnects),
            ("house-switch", shelf.disconnects),
            ("dc48-switch", shelf.disconnects),
            ("busbar", shelf.busbars),
            ("soc-monitor", shelf.monitors),
        ):
            studs |= {each.stud for each in self.products(group, articles)}
        count: dict[tuple[str, str], float] = {}
        for line in self.parts("lugs"):
            if line["product"]:
                lug = one(shelf.lugs, line["product"])
                count[lug.awg, lug.stud] = count.get((lug.awg, lug.stud), 0) + line["quantity"]
        for size, stud in count:
            if size not in made or stud not in studs:
                yield f"lugs of {size} AWG for {stud}, where nothing is so"
        # Both poles end at the unit; a pair of busbars, a holder or a switch may share the hole.
        main = self.found["dc_cable"]
        if count.get((main["awg"], self.unit.dc_stud), 0) < 2 * main["runs"] * self.units:
            yield "too few lugs for the studs of the unit"
        if sum(n for (_, stud), n in count.items() if stud == self.battery.stud) < 2:
            yield "too few lugs for the posts of the batteries"

    def panel_and_inlet(self) -> Iterator[str]:
        """A new panel bears its breaker and has its legs; a household cord has its inlet."""
        shelf, out = self.guide.catalogue, self.found["ac_out"]
        legs = 1 if self.layout == "sub-panel" else self.legs
        panels = [*self.products("panel", shelf.sub_panels)]
        panels += self.products("sub-panel", shelf.sub_panels)
        for panel in panels:
            if panel.rating < out["breaker_a"] or panel.legs != legs:
                yield "the panel is not made for its breaker or its legs"
        leads = self.products("input-lead", shelf.input_leads)
        wanted = [self.needs.service_id] if self.needs.service.amps <= tables.HOUSEHOLD_A else []
        if [each.service for each in leads] != wanted:
            yield "not the inlet of the service"

    def air(self) -> Iterator[str]:
        """The fans carry the heat of what runs at once away, at the rise that is allowed."""
        planning = self.guide.planning
        each_w = self.loads_w() / self.units
        heat_w = self.units * (self.dc_w(each_w) - each_w)
        # Density of the standard atmosphere's pressure at the temperature of the place.
        pressure = tables.SEA_LEVEL_PA * (1 - 2.25577e-5 * self.needs.altitude_m) ** 5.2559
        density = pressure / (tables.GAS_J_PER_KG_K * (self.needs.ambient_c + 273.15))
        wanted = 3600 * heat_w / (density * tables.AIR_J_PER_KG_K * planning.allowed_rise_k)
        for line in self.parts("fan"):
            if not line["product"]:
                continue
            fan = one(self.guide.catalogue.fans, line["product"])
            flow = line["quantity"] * _flow(fan.flow, planning.fan_pressure_pa)
            if flow < wanted * planning.fan_factor * (1 - 0.005):
                yield f"fans for {flow:.0f} m³/h where {wanted:.0f} are wanted, with margin"

    def house_feed(self) -> Iterator[str]:
        """The converter carries what runs on 12 V."""
        for each in self.products("step-down", self.guide.catalogue.step_downs):
            if each.current * each.output < self.house_w - 1e-9:
                yield "the converter to 12 V is too small"

    def lines(self) -> Iterator[str]:
        """Each article once, in whole packs, at the catalogue's price; the weight is theirs."""
        articles = {
            each.id: each
            for kind in type(self.guide.catalogue).__dataclass_fields__
            for each in getattr(self.guide.catalogue, kind)
        }
        mass_kg = 0.0
        seen = [line["product"] for line in self.data["parts"] if line["product"]]
        if len(seen) != len(set(seen)):
            yield "an article that stands on the list twice"
        for line in self.data["parts"]:
            article = articles.get(line["product"])
            if article is None:
                continue
            pack = getattr(article, "pack", 1)
            packs = sum(use["quantity"] for use in line["uses"]) / pack
            bought = ceil(packs) if pack > 1 else packs
            if abs(line["quantity"] - bought) > 1e-6 * bought:
                yield f"{article.id}: {line['quantity']:g} bought, where its uses take {packs:g}"
            if abs(line["price"] - bought * article.price) > 1e-6 * max(1.0, line["price"]):
                yield f"{article.id}: not the price of the catalogue"
            stays = [
                use["quantity"]
                for use in line["uses"]
                if use["group"] not in ("ferrule-crimper", "lug-crimper")
            ]
            mass_kg += sum(stays) / pack * article.mass
        if abs(mass_kg - self.found["mass_kg"]) > 1e-6 * mass_kg:
            yield f"{self.found['mass_kg']:.1f} kg where the parts weigh {mass_kg:.1f} kg"

    def drawing(self) -> Iterator[str]:
        """The labels of the diagram say the ratings and sizes of the answer."""
        text = " ".join(self.data["drawing"])
        for what, wanted in self._labels().items():
            if wanted not in text:
                yield f"the drawing does not say {what}: {wanted}"

    def _labels(self) -> dict[str, str]:
        found, shelf = self.found, self.guide.catalogue
        entry, out = found["ac_in"], found["ac_out"]
        poles = ("one pole", "two poles")
        said = {
            "main fuse": f"Fuse {found['dc_fuse']['rating_a']:g} A. {found['dc_fuse']['class']}",
            "battery cable": f"each pole. {self._cable_label()}",
            "breaker ahead": f"{entry['breaker_a']:g} A, {poles[entry['breaker_poles'] - 1]}",
            "breaker behind": f"{out['breaker_a']:g} A, {poles[out['breaker_poles'] - 1]}",
            "AC wires": f"{entry['poles'] + 1} × {entry['awg']} AWG",
            "ground": f"ground {entry['ground_awg']} AWG",
            "battery": f"{self.series * self.parallel} × {self.battery.name}",
            "unit": self.unit.name,
        }
        if out["joint_breaker_a"]:
            rating_a = out["joint_breaker_a"]
            said["joint"] = f"Common output breaker. {rating_a:g} A, one pole"
        if entry["main_breaker_a"]:
            rating_a = entry["main_breaker_a"]
            said["main"] = f"Main breaker at the cord. {rating_a:g} A, one pole"
        for each in self.products("disconnect", shelf.disconnects):
            said["switch"] = f"Battery switch {each.rating:g} A"
        for each in self.products("soc-monitor", shelf.monitors):
            said["shunt"] = each.name
        for line in self.parts("battery-fuse"):
            fuse = one(shelf.fuses, line["product"])
            where = "each battery" if self.series * self.parallel > 1 else "the battery"
            said["battery fuse"] = f"Fuse {fuse.rating:g} A at {where}. {fuse.family}"
        for branch in found["dc_branches"]:
            if branch["fuse_a"]:
                said[branch["id"]] = f"use {branch['fuse_a']:g} A {branch['class']}"
        return said

    def _cable_label(self) -> str:
        """Its size, and how many; then its length, which is said to three places at most."""
        cable = self.found["dc_cable"]
        runs = f"{cable['runs']} × " if cable["runs"] > 1 else ""
        return f"{runs}{cable['awg']} AWG"


def _flow(points: tuple[tuple[float, float], ...], at_pa: float) -> float:
    """Flow of a fan at a back pressure, straight between its points of (pressure, flow)."""
    falling = sorted(points)
    for (p0, q0), (p1, q1) in pairwise(falling):
        if p0 <= at_pa <= p1:
            return q0 + (q1 - q0) * (at_pa - p0) / (p1 - p0)
    return 0.0
