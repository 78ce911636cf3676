"""What the diagram says beside each symbol of the battery side."""

from collections.abc import Collection
from dataclasses import dataclass

from engine.advice.plan.branches import BRANCHES
from engine.advice.plan.house import HOUSE_V, on_dc
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.parts import PartLine
from engine.model.result import Design
from engine.pages import words
from engine.pages.drawings.diagram_canvas import Lead
from engine.pages.drawings.diagram_links import leads_of
from engine.units import show
from engine.wording.tongue import plain

SOURCES = ("solar", "alternator", "step-down", "house-12v", "dc48")
SWITCHED = ("solar", "house", "dc48")
KINDS = ("number", "caution")
SMALL_FUSES, KEPT_FUSE, BUFFER = "small-fuses", "kept-fuse", "buffer"
HOUSE_PARTS = HOUSE_BATTERY, ISOLATOR = "house-battery", "charge-isolator"

Line = str | tuple[str, str]
"""A short line; with the part that it names, where that is another than the label's."""


@dataclass(frozen=True, slots=True)
class Label:
    """A heading and short lines beside one symbol; `part` names what it is."""

    part: str
    title: str
    lines: tuple[Line, ...]

    @property
    def parted(self) -> tuple[tuple[str, str], ...]:
        """Each line with the part that it names, "" for none."""
        return tuple((line, "") if isinstance(line, str) else line for line in self.lines)

    @property
    def sentence(self) -> str:
        """The same as one sentence."""
        return ". ".join((self.title, *(text for text, _ in self.parted))) + "."


class DcLabels:
    """The labels of the battery side; each is made only where the design has the thing."""

    def __init__(self, guide: Guide, needs: Needs, design: Design) -> None:
        self.guide = guide
        self.page = guide.wording.page
        self.needs = needs
        self.design = design
        self.units = design.candidate.units
        self.listed: dict[str, PartLine] = {line.group: line for line in design.parts}
        self.branches = {branch.id: branch for branch in design.dc.branches}

    def leads(self, label: Label, targets: Collection[str]) -> tuple[Lead, ...]:
        """The links of a label beside that to its part: target, what it says, its whole name."""
        return tuple(
            (
                target,
                self.page.one_of("draw-to-", kind, KINDS),
                self.page.one_of("draw-to-of-", kind, KINDS, name=label.title),
            )
            for kind, target in leads_of(label.part, targets)
        )

    def _each(self, count: int) -> str:
        """ "2 × " in front of what there is more than one of."""
        return f"{count} × " if count > 1 else ""

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
                self.page["draw-fuse-positive"],
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
            "precharge",
            self.page.say("draw-precharge"),
            (
                self.page.say("draw-precharge-first"),
                (self.page.say("draw-precharge-fuse", name=self._small_fuse), SMALL_FUSES),
            ),
        )

    @property
    def _small_fuse(self) -> str:
        """The fuse where a thin wire starts."""
        return self.listed[SMALL_FUSES].name

    def monitor(self) -> Label:
        """The shunt of the battery monitor."""
        return Label(
            "soc-monitor",
            self.page.say("draw-shunt"),
            (
                self.listed["soc-monitor"].name,
                self.page.say("draw-shunt-all"),
                (self.page.say("draw-shunt-fuse", name=self._small_fuse), SMALL_FUSES),
            ),
        )

    def frame(self) -> Label:
        """Where the battery's negative is bonded to the frame."""
        cable = self.page.say("draw-frame-cable", cable=words.frame_name(self.design))
        return Label("frame-cable", self.page["draw-frame"], (self.page["draw-frame-from"], cable))

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
            "dc48": "dc48" in self.branches,
        }
        return tuple(name for name in SOURCES if there[name])

    def source(self, name: str) -> Label:
        """A source or a consumer on the bank, with the fuse and cable of each side of it."""
        if name == "solar":
            panels, controller = self.listed["solar-panel"], self.listed["solar-controller"]
            title = f"{self._each(int(panels.quantity))}{panels.name}"
            lines = ((controller.name, "solar-controller"), *self._branch("solar"))
            return Label("solar-panel", title, lines)
        if name == "alternator":
            charger = self.listed["alternator-charger"]
            title = self.page.say("draw-alternator", amps=show(self.needs.alternator_a, "A"))
            branches = dict.fromkeys((*self._branch("alternator"), *self._branch("starter")))
            return Label("alternator-charger", title, (charger.name, *branches))
        if name == "step-down":
            line = self.listed["step-down"]
            lines = (line.name, *self._branch("step-down"), *self._branch("house"), *self._kept())
            return Label("step-down", self.page.say("draw-house"), lines)
        if name == "dc48":
            return Label("dc48", self.page["draw-dc48"], self._branch("dc48"))
        return Label("house-12v", self.page.say("draw-house"), self._branch("house"))

    def _kept(self) -> tuple[Line, ...]:
        """The fuse at the 12 V battery that stays in the rig; a buffer for what starts there."""
        lines: list[Line] = []
        if self.kept:
            fuse = self.branches["house"].kept_fuse
            kept = self.page.say("draw-kept", amps=show(fuse.rating, "A")) if fuse else ""
            lines.append((kept, KEPT_FUSE) if kept else self._lacking(KEPT_FUSE))
            for group in (HOUSE_BATTERY, ISOLATOR):
                if group in self.listed:
                    lines.append((self.page.one_of("draw-", group, HOUSE_PARTS), group))
        if self.buffered:
            lines.append((self.listed[BUFFER].name, BUFFER))
        return tuple(lines)

    @property
    def kept(self) -> bool:
        """Whether a 12 V battery stays behind the converter."""
        return "house" in self.branches and self.branches["house"].kept

    @property
    def buffered(self) -> bool:
        """Whether a buffer gives what starts behind the converter its start."""
        return BUFFER in self.listed

    def fused(self, name: str) -> bool:
        """Whether a branch has a fuse; one that was not planned needs one, too."""
        branch = self.branches.get(name)
        return branch is None or branch.fused

    def cut(self, name: str) -> bool:
        """Whether a branch has a switch; one that was not planned needs one, too."""
        branch = self.branches.get(name)
        return name in SWITCHED and (branch is None or branch.cut)

    def _branch(self, name: str) -> tuple[Line, ...]:
        """Fuse, cable and switch of a branch; what the shelf lacks as the parts list names it."""
        branch = self.branches.get(name)
        if branch is None:
            return (self.page["draw-unplanned"],)
        lines: list[Line] = []
        if branch.fuse:
            family = words.family_name(self.guide, branch.fuse.family)
            fuse = f"{show(branch.fuse.rating, 'A')} {family}"
            said = self.page.one_of("draw-fuse-", name, BRANCHES, fuse=fuse)
            lines.append((said, f"{name}-fuse"))
        elif branch.fused:
            lines.append(self._lacking(f"{name}-fuse"))
        if branch.cable:
            cable, length = words.runs_name(branch.cable), show(branch.length_m, "m")
            lines.append(
                self.page.one_of("draw-cable-", name, BRANCHES, cable=cable, length=length)
            )
        else:
            lines.append(self._lacking(f"{name}-cable"))
        if branch.switch:
            rating = show(branch.switch.rating, "A")
            said = self.page.one_of("draw-switch-", name, SWITCHED, amps=rating)
            lines.append((said, f"{name}-switch"))
        elif branch.cut:
            lines.append(self._lacking(f"{name}-switch"))
        return tuple(lines)

    def _lacking(self, group: str) -> Line:
        """What is wanted, and not in stock."""
        return self.page.say("draw-lacking", name=self.listed[group].name), group

    def battery_fuse(self) -> Label:
        """The fuse of each string, where each has its own."""
        dc = self.design.dc
        if dc.battery_fuse is None:
            raise ValueError("these batteries have no fuses of their own")
        amps = show(dc.battery_fuse.rating, "A")
        title = (
            self._each(dc.battery_fuses) + self.page.say("draw-battery-fuse", amps=amps)
            if self.design.bank.count > 1
            else self.page.say("draw-battery-fuse-one", amps=amps)
        )
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
