"""The AC side, worked out again: breakers, wires, ferrules, and the place."""

from collections.abc import Iterator
from typing import Any

from tests.recheck import tables
from tests.recheck.facts import NEAR, Facts, one
from tests.recheck.tables import rank
from tests.recheck.theirs import USUAL


class Ac(Facts):
    """Breakers, wires, terminals, place."""

    def ac_side(self) -> Iterator[str]:
        entry, out, service = self.found["ac_in"], self.found["ac_out"], self.needs.service
        if self.needs.whole and entry["breaker_a"] != service.amps:
            yield "the breaker is not that of the service"
        if entry["breaker_a"] > service.amps:
            yield "a breaker above the cord's rating"
        yield from self._feed_of_panel(out)
        if out["breaker_a"] > self.unit.pass_through:
            yield "the breaker lets through more than the relay bears"
        two = self.layout in ("two-leg", "split-phase-native") and (
            self.legs == 2 or (self.needs.whole and service.legs == 2)
        )
        if entry["poles"] != (2 if two else 1) or out["poles"] != entry["poles"]:
            yield "not as many poles as legs"
        for end in (entry, out):
            yield from self._ac_wire(end)
        for group, end in (("breaker-in", entry), ("breaker-out", out)):
            split = self.layout == "split-phase-pair"
            if self.quantity(group) != (1 if split else self.units):
                yield f"not one {group} for each unit, or for two half a turn apart"
            for breaker in self.products(group, self.guide.catalogue.breakers):
                if (breaker.rating, breaker.poles) != (
                    end["breaker_a"],
                    2 if split else end["poles"],
                ):
                    yield f"another {group} on the list"
        cores = entry["poles"] + 1
        for cable in self.products("ac-cable", self.guide.catalogue.cables):
            if cable.awg != out["awg"] or cable.conductors != cores:
                yield "another AC cable on the list"
        if self.needs.whole == bool(self.parts("sub-panel")):
            yield "a sub-panel for a whole rig, or none for a few circuits"

    def _feed_of_panel(self, out: dict[str, Any]) -> Iterator[str]:
        service = self.needs.service
        there = self.needs.whole and service.amps > 20
        if there and out["breaker_a"] > service.amps:
            yield "more ahead of the panel than it is made for"
        live = [load for load in self.running if load.volts == 120 or self.legs == 2]
        each_a = sum(self.va(load) for load in live) / service.volts / self.legs
        if each_a > out["breaker_a"] * (1 + NEAR):
            yield "the loads trip the breaker"
        main = [
            (breaker.rating, breaker.poles)
            for breaker in self.products("breaker-main", self.guide.catalogue.breakers)
        ]
        if main != ([(service.amps, 1)] if self.layout == "parallel-pair" else []):
            yield "two breakers side by side let more through than the cord bears"
        joint = [
            (breaker.rating, breaker.poles)
            for breaker in self.products("breaker-joint", self.guide.catalogue.breakers)
        ]
        if joint != ([(out["breaker_a"], 1)] if self.layout == "parallel-pair" else []):
            yield "not one breaker where two units on one leg meet"
        if (self.needs.whole and not there) != bool(self.parts("panel")):
            yield "a new panel where one is there, or none where there is none"

    def _ac_wire(self, end: dict[str, Any]) -> Iterator[str]:
        size, breaker_a, ground = end["awg"], end["breaker_a"], end["ground_awg"]
        ambient_c = self.needs.ambient_c
        factor = next((k for most, k in tables.AC_FACTOR_90 if ambient_c <= most), 0.0)
        carries_a = min(tables.AC_90_A[size] * factor, tables.AC_60_A[size])
        if breaker_a > min(carries_a, tables.SMALL_A.get(size, 1e9)) + NEAR:
            yield f"a breaker of {breaker_a:g} A on {size} AWG"
        least = next(each for most, each in tables.GROUND if breaker_a <= most)
        if rank(ground) < rank(least):
            yield f"a ground of {ground} AWG for {breaker_a:g} A"
        terminals = self.unit.terminals
        for each in (size, ground):
            if not rank(terminals.smallest_awg) <= rank(each) <= rank(terminals.largest_awg):
                yield f"{each} AWG does not fit the terminals"

    def ferrules(self) -> Iterator[str]:
        push_in = self.unit.terminals.kind == "push-in"
        entry, out = self.found["ac_in"], self.found["ac_out"]
        wanted: dict[str, int] = {}
        if push_in:
            for end in (entry, out):
                for size, count in ((end["awg"], end["poles"] + 1), (end["ground_awg"], 1)):
                    wanted[size] = wanted.get(size, 0) + count * self.units
        listed: dict[str, float] = {}
        for line in self.parts("ferrules"):
            ferrule = one(self.guide.catalogue.ferrules, line["product"])
            listed[ferrule.awg] = listed.get(ferrule.awg, 0) + line["quantity"]
            if ferrule.insulated or abs(ferrule.barrel * 1000 - tables.FERRULE_MM) > 0.01:
                yield "a ferrule that is insulated or not 18 mm long"
        if listed != wanted:
            yield f"ferrules {listed} for conductor ends {wanted}"
        tool = push_in and self.needs.tools != "crimper"
        if tool != bool(self.parts("ferrule-crimper")):
            yield "the ferrule crimper is missing, or not needed"

    def place(self) -> Iterator[str]:
        asked = self.unit.clearances
        most = max(asked.top, asked.bottom, asked.sides, asked.front)
        gap = self.needs.gap_m
        free = gap is None or gap >= most - 1e-6
        fan = not (self.needs.mount == "upright" and free)
        if fan != bool(self.parts("fan")):
            yield "a fan is missing, or not needed"
        if self.needs.payload_kg is not None and self.found["mass_kg"] > self.needs.payload_kg:
            yield "heavier than the rig may take on"
        if (self.on_12_v() and self.unit.dc_nominal != 12) != bool(self.parts("step-down")):
            yield "a converter to 12 V is missing, or not needed"
        buffers = self.products("buffer", self.guide.catalogue.buffers)
        for each in buffers:
            enough = each.current * each.volts >= self.start_12 * (1 - NEAR)
            if each.volts != 12 or not enough or each.time < self.start_12_s:
                yield "the buffer does not give the start of the motor on 12 V"
        start_w = 0.0 if buffers or self.stays() else self.start_12
        for each in self.products("step-down", self.guide.catalogue.step_downs):
            if each.current * 12 < (self.house_w + start_w) * (1 - NEAR):
                yield "the converter to 12 V does not bear what hangs on it"

    def _theirs(self) -> Iterator[str]:
        """What is there costs nothing, is no more than there is, and is young enough."""
        have = self.needs.existing
        there = [line for line in self.data["parts"] if line["have"]]
        if any(line["price"] or line["product"] for line in there):
            yield "something that is there is bought"
        count = sum(
            use["quantity"] for line in there for use in line["uses"] if use["group"] == "battery"
        )
        if count != self.kept:
            yield f"{count:.0f} batteries that are there on the list, {self.kept} in the bank"
        if not self.kept:
            return
        assert have is not None
        if self.kept > have.count or have.age_years >= USUAL[have.chemistry].life_years:
            yield "more batteries kept than there are, or too old ones"
        grown = self.kept < self.series * self.parallel
        if grown and have.age_years > self.guide.planning.kept_join_years:
            yield "new batteries beside old ones"
        if self.kept < self.series * self.parallel / 4:
            yield "a few old batteries among many new ones"

    def list_adds_up(self) -> Iterator[str]:
        if self.quantity("inverter") != self.units:
            yield "not as many units on the list as in the layout"
        if self.quantity("battery") != self.series * self.parallel:
            yield "not as many batteries on the list as in the bank"
        yield from self._theirs()
        motors = sum(1 for load in self.needs.running if load.soft_startable)
        added = self.found["soft_starters"]
        if added not in (0, motors) or self.quantity("soft-starter") != added:
            yield "not one soft starter for each motor"
        total = sum(line["price"] for line in self.data["parts"])
        if abs(total - self.found["parts_price"]) > 1e-6 * max(1.0, total):
            yield "the prices do not add up"
