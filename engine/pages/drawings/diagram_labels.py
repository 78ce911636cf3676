"""What the one-line diagram says beside each symbol, read off the design and its parts list."""

from collections.abc import Iterator
from dataclasses import dataclass

from engine.advice.plan.branches import BRANCHES
from engine.advice.plan.house import HOUSE_V, on_dc
from engine.advice.plan.layouts import PARALLEL_PAIR, SPLIT_NATIVE, SPLIT_PAIR, TWO_LEG
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.parts import PartLine
from engine.model.result import Design
from engine.pages import words
from engine.units import show
from engine.wording.tongue import plain

SOURCES = ("solar", "alternator", "step-down", "house-12v")
SWITCHED = ("solar", "house")
LEGS = ("one", "in-phase", "split", "native", "parallel")


@dataclass(frozen=True, slots=True)
class Label:
    """A heading and short lines beside one symbol; `part` names what it is."""

    part: str
    title: str
    lines: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """The same as one sentence."""
        return ". ".join((self.title, *self.lines)) + "."


class Labels:
    """The labels of one design; each is made only where the design has the thing."""

    def __init__(self, guide: Guide, needs: Needs, design: Design) -> None:
        self.guide = guide
        self.page = guide.wording.page
        self.needs = needs
        self.design = design
        self.units = design.candidate.units
        self.listed: dict[str, PartLine] = {line.group: line for line in design.parts}
        self.branches = {branch.id: branch for branch in design.dc.branches}

    def all(self) -> tuple[Label, ...]:
        """Every label, from the shore cord to the batteries."""
        return tuple(self._in_order())

    def _in_order(self) -> Iterator[Label]:
        yield self.shore()
        if not self.needs.whole:
            yield self.main_panel()
        if self.design.ac.main_a:
            yield self.main_breaker()
        yield self.breaker("in")
        yield self.unit()
        yield self.bond()
        yield self.breaker("out")
        if self.design.ac.joint_a:
            yield self.joint()
        yield self.panel()
        if "soft-starter" in self.listed:
            yield self.soft_starter()
        yield self.cable()
        yield self.fuse()
        yield self.switch()
        if self.design.dc.precharge:
            yield self.precharge()
        if self.design.dc.shared:
            yield self.busbars()
        yield from (self.source(name) for name in self.sources())
        yield self.monitor()
        if self.design.dc.battery_fuse:
            yield self.battery_fuse()
        yield self.bank()

    def _each(self, count: int) -> str:
        """ "2 × " in front of what there is more than one of."""
        return f"{count} × " if count > 1 else ""

    def shore(self) -> Label:
        """The service that the rig is made for."""
        service = self.needs.service
        if service.legs == 2:
            volts = self.page.say(
                "draw-two-legs", volts=plain(service.volts), both=plain(2 * service.volts)
            )
        else:
            volts = self.page.say("draw-one-leg", volts=plain(service.volts))
        lines = [f"{show(service.amps, 'A')}, {volts}", self.page.say("draw-shore-bond")]
        if self.needs.generator_w:
            lines.append(
                self.page.say("draw-shore-generator", watts=show(self.needs.generator_w, "W"))
            )
        return Label("shore", self.page.say("draw-shore"), tuple(lines))

    def main_panel(self) -> Label:
        """The rig's own panel, where only a few circuits move."""
        if self.needs.bare:
            stays = self.page["draw-main-panel-stays-bare"]
            return Label("main-panel", self.page["draw-main-panel-bare"], (stays,))
        return Label(
            "main-panel", self.page["draw-main-panel"], (self.page["draw-main-panel-stays"],)
        )

    def breaker(self, side: str) -> Label:
        """The breakers ahead of or behind the units, with the conductors of that side."""
        ac = self.design.ac
        rating, size = (ac.input_a, ac.input_awg) if side == "in" else (ac.output_a, ac.output_awg)
        return Label(
            f"breaker-{side}",
            self._each(ac.breakers) + self.page.one_of("draw-breaker-", side, ("in", "out")),
            (
                self.page.say(
                    "draw-one-pole" if ac.breaker_poles == 1 else "draw-two-pole",
                    amps=show(rating, "A"),
                ),
                *((self.page.say("draw-pole-each"),) if ac.breaker_poles > ac.poles else ()),
                self.page.say(
                    "draw-ac-wires", count=plain(ac.poles + 1), size=size, ground_size=ac.ground_awg
                ),
            ),
        )

    def main_breaker(self) -> Label:
        """The one breaker ahead of two units on one leg."""
        rating = self.page.say("draw-one-pole", amps=show(self.design.ac.main_a, "A"))
        return Label(
            "breaker-main", self.page.say("draw-main"), (rating, self.page.say("draw-main-why"))
        )

    def joint(self) -> Label:
        """The one breaker behind two units that feed one leg."""
        rating = self.page.say("draw-one-pole", amps=show(self.design.ac.joint_a, "A"))
        return Label(
            "breaker-joint", self.page.say("draw-joint"), (rating, self.page.say("draw-joint-why"))
        )

    def unit(self) -> Label:
        """The inverter-chargers."""
        inverter = self.design.candidate.inverter
        return Label(
            "inverter",
            f"{self._each(self.units)}{inverter.name}",
            (
                self.page.say("draw-transfer"),
                *((self.page.say("draw-tie"),) if self.design.candidate.layout == TWO_LEG else ()),
                self.page.say("draw-converter"),
            ),
        )

    def bond(self) -> Label:
        """Where neutral and ground meet off the battery, and the wire from case to frame."""
        has_relay = self.design.candidate.inverter.bond_relay
        lines = [self.page["draw-bond-relay" if has_relay else "draw-bond-none"]]
        if has_relay and self.units > 1:
            lines.append(self.page.say("draw-bond-once"))
        size = self.design.dc.bond_awg
        lines.append(self.page.say("draw-case" if self.units == 1 else "draw-cases", size=size))
        return Label("bond-cable", self.page.say("draw-bond"), tuple(lines))

    def panel(self) -> Label:
        """The panel that the units feed, and what its legs get off the battery."""
        layout = self.design.candidate.layout
        part = "panel" if self.needs.whole else "sub-panel"
        new = self.listed.get(part)
        title = new.name if new else self.page.say("draw-panel")
        legs = {
            TWO_LEG: "in-phase",
            SPLIT_PAIR: "split",
            SPLIT_NATIVE: "native",
            PARALLEL_PAIR: "parallel",
        }.get(layout, "one")
        return Label(part, title, (self.page.one_of("draw-legs-", legs, LEGS),))

    def soft_starter(self) -> Label:
        """Soft starters sit in the air conditioners."""
        line = self.listed["soft-starter"]
        title = f"{self._each(int(line.quantity))}{line.name}"
        return Label("soft-starter", title, (self.page.say("draw-soft-starter"),))

    def cable(self) -> Label:
        """The cable between each unit and the bank."""
        dc = self.design.dc
        return Label(
            "dc-cable",
            self.page.say("draw-cable"),
            (
                words.cable_name(self.guide, self.design),
                self.page.say("draw-one-way", length=show(dc.cable_m, "m")),
            ),
        )

    def fuse(self) -> Label:
        """The main fuse of each unit."""
        fuse = self.design.dc.fuse
        return Label(
            "fuse",
            self._each(self.units) + self.page.say("draw-fuse", amps=show(fuse.rating, "A")),
            (
                words.family_name(self.guide, fuse.family),
                self.page.say("draw-interrupts", amps=f"{plain(fuse.interrupt / 1000, 1)} kA"),
            ),
        )

    def switch(self) -> Label:
        """The battery switch."""
        amps = show(self.design.dc.disconnect.rating, "A")
        cuts = self.page["draw-switch-cuts" if self.units == 1 else "draw-switch-cuts-all"]
        return Label("disconnect", self.page.say("draw-switch", amps=amps), (cuts,))

    def precharge(self) -> Label:
        """The resistor beside the switch."""
        return Label(
            "precharge", self.page.say("draw-precharge"), (self.page.say("draw-precharge-first"),)
        )

    def monitor(self) -> Label:
        """The shunt of the battery monitor."""
        return Label(
            "soc-monitor",
            self.page.say("draw-shunt"),
            (
                self.listed["soc-monitor"].name,
                self.page.say("draw-shunt-all"),
                self.page.say("draw-shunt-fuse"),
                self.page.say("draw-frame", cable=words.frame_name(self.design)),
            ),
        )

    def busbars(self) -> Label:
        """The pair of busbars."""
        dc = self.design.dc
        bar = (self.page["draw-load-bar"],) if dc.load_bar else ()
        title = f"{self._each(dc.bar_pairs)}{self.listed['busbar'].name}"
        return Label("busbar", title, (self.page["draw-busbars"], *bar))

    def sources(self) -> tuple[str, ...]:
        """What else hangs on the bank."""
        bank_v = self.design.candidate.inverter.dc_nominal
        there = {
            "solar": "solar-panel" in self.listed,
            "alternator": "alternator-charger" in self.listed,
            "step-down": "step-down" in self.listed,
            "house-12v": on_dc(self.needs) and bank_v == HOUSE_V,
        }
        return tuple(name for name in SOURCES if there[name])

    def source(self, name: str) -> Label:
        """A source or a consumer on the bank, with the fuse and cable of each side of it."""
        if name == "solar":
            panels, controller = self.listed["solar-panel"], self.listed["solar-controller"]
            title = f"{self._each(int(panels.quantity))}{panels.name}"
            return Label("solar-panel", title, (controller.name, *self._branch("solar")))
        if name == "alternator":
            charger = self.listed["alternator-charger"]
            title = self.page.say("draw-alternator", amps=show(self.needs.alternator_a, "A"))
            lines = (charger.name, *self._branch("alternator"), *self._branch("starter"))
            return Label("alternator-charger", title, lines)
        if name == "step-down":
            line = self.listed["step-down"]
            lines = (line.name, *self._branch("step-down"), *self._branch("house"))
            return Label("step-down", self.page.say("draw-house"), lines)
        return Label("house-12v", self.page.say("draw-house"), self._branch("house"))

    def _branch(self, name: str) -> tuple[str, ...]:
        """Fuse and cable of a branch, as far as the shelf has them."""
        branch = self.branches.get(name)
        if branch is None:
            return ()
        lines = []
        if branch.fuse:
            family = words.family_name(self.guide, branch.fuse.family)
            fuse = f"{show(branch.fuse.rating, 'A')} {family}"
            lines.append(self.page.one_of("draw-fuse-", name, BRANCHES, fuse=fuse))
        if branch.cable:
            cable, length = words.runs_name(branch.cable), show(branch.length_m, "m")
            said = self.page.one_of("draw-cable-", name, BRANCHES, cable=cable, length=length)
            lines.append(said)
        if branch.switch:
            rating = show(branch.switch.rating, "A")
            lines.append(self.page.one_of("draw-switch-", name, SWITCHED, amps=rating))
        if branch.kept_fuse:
            lines.append(self.page.say("draw-kept", amps=show(branch.kept_fuse.rating, "A")))
        return tuple(lines)

    def battery_fuse(self) -> Label:
        """The fuse of each string, where each has its own."""
        dc = self.design.dc
        if dc.battery_fuse is None:
            raise ValueError("these batteries have no fuses of their own")
        amps = show(dc.battery_fuse.rating, "A")
        title = self._each(dc.battery_fuses) + self.page.say("draw-battery-fuse", amps=amps)
        return Label(
            "battery-fuse",
            title,
            (words.family_name(self.guide, dc.battery_fuse.family),),
        )

    def bank(self) -> Label:
        """The batteries, in series and in parallel."""
        bank = self.design.bank
        arranged = (
            (self.page.say("draw-bank", series=plain(bank.series), parallel=plain(bank.parallel)),)
            if bank.count > 1
            else ()
        )
        total = (
            f"{plain(bank.nominal_v, 1)} V, {plain(bank.capacity_ah)} Ah, "
            f"{show(bank.energy_wh, 'Wh')}"
        )
        return Label("battery", f"{bank.count} × {bank.battery.name}", (*arranged, total))
