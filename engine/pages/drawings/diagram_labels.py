"""What the diagram says beside each symbol, read off the design and its parts list."""

from collections.abc import Iterator

from engine.advice.plan.layouts import PARALLEL_PAIR, SPLIT_NATIVE, SPLIT_PAIR, TWO_LEG
from engine.pages.drawings.diagram_labels_dc import DcLabels, Label
from engine.units import show
from engine.wording.tongue import plain

LEGS = ("one", "in-phase", "split", "native", "parallel")


class Labels(DcLabels):
    """The labels of one design; each is made only where the design has the thing."""

    def all(self) -> tuple[Label, ...]:
        """Every label, from the shore cord to the batteries."""
        return tuple(self._in_order())

    def _in_order(self) -> Iterator[Label]:
        yield self.shore()
        yield self.cord_guard()
        if not self.needs.whole:
            yield self.main_panel()
        if self.design.ac.main_a:
            yield self.main_breaker()
        yield self.breaker("in")
        yield self.unit()
        yield self.bond()
        yield self.case()
        yield self.breaker("out")
        if self.design.ac.joint_a:
            yield self.joint()
        yield self.panel()
        if "soft-starter" in self.listed:
            yield self.soft_starter()
        yield self.cable()
        yield from self._protected()
        if self.design.dc.shared:
            yield self.busbars()
        yield from (self.source(name) for name in self.sources())
        yield self.frame()
        yield self.monitor()
        if self.design.dc.battery_fuse:
            yield self.battery_fuse()
        yield self.bank()

    def _protected(self) -> Iterator[Label]:
        """Fuse and switch as they are drawn: several units have their fuses ahead of the switch."""
        several = self.design.candidate.units > 1
        if several:
            yield self.fuse()
        yield self.switch()
        if self.design.dc.precharge:
            yield self.precharge()
        if not several:
            yield self.fuse()

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

    def cord_guard(self) -> Label:
        """What watches the cord."""
        name = self.listed["cord-guard"].name
        return Label("cord-guard", name, (self.page["draw-cord-guard"],))

    def main_panel(self) -> Label:
        """The rig's own panel, where only a few circuits move."""
        if self.needs.bare:
            stays = self.page["draw-main-panel-stays-bare"]
            return Label("main-panel", self.page["draw-main-panel-bare"], (stays,))
        return Label(
            "main-panel", self.page["draw-main-panel"], (self.page["draw-main-panel-stays"],)
        )

    def breaker(self, side: str) -> Label:
        """The input or output breakers of the units, with the conductors of that side."""
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
        """The one breaker at the cord, for two units on one leg."""
        rating = self.page.say("draw-one-pole", amps=show(self.design.ac.main_a, "A"))
        return Label(
            "breaker-main", self.page.say("draw-main"), (rating, self.page.say("draw-main-why"))
        )

    def joint(self) -> Label:
        """The one output breaker of two units that feed one leg."""
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
        """The relay that bonds neutral to ground while the unit inverts."""
        has_relay = self.design.candidate.inverter.bond_relay
        lines = [self.page["draw-bond-relay" if has_relay else "draw-bond-none"]]
        if has_relay and self.units > 1:
            lines.append(self.page.say("draw-bond-once"))
        return Label("bond", self.page.say("draw-bond"), tuple(lines))

    def case(self) -> Label:
        """The wire from each case to the frame."""
        size = self.design.dc.bond_awg
        said = self.page.say("draw-case" if self.units == 1 else "draw-cases", size=size)
        return Label("bond-cable", self.page["draw-case-ground"], (said,))

    def panel(self) -> Label:
        """The panel that the units feed, and what its legs get while they invert."""
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
