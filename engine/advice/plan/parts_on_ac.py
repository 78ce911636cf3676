"""The part of the list that shore power and the AC side of the units take, whatever the bank."""

import math
from typing import NamedTuple

from engine.advice.plan.fittings import ends_tow_line, hardware
from engine.advice.plan.part_lines import Lines, PartLines
from engine.advice.plan.shelf import breakers_for, crimpers_for, ferrule_for
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Ferrule, HardwareUse
from engine.model.result import AcPlan, Candidate
from engine.sizing.terminals import ConductorEnd
from engine.standards import awg
from engine.wording.tongue import plain

CABLES_OF_A_UNIT, ENDS = 2, 2
"""Into each unit and out of it, and a strain relief where each end enters a box."""


class Wiring(NamedTuple):
    """What of a candidate decides these lines; units that share it and the feed have the same."""

    layout: str
    units: int
    legs: int
    bank_v: float
    terminals: str
    terminal_m: float


class AcNeeds(NamedTuple):
    """What of the needs decides these lines; needs that share it have the same.

    panel_there, bare : see `PowerNeeds` · ends_tow_line : see `fittings.ends_tow_line`
    crimper : whether one for ferrules is there
    """

    service_id: str
    service_a: float
    whole: bool
    panel_there: bool
    bare: bool
    crimper: bool
    ends_tow_line: bool


def ac_needs_of(needs: Needs, bank_v: float) -> AcNeeds:
    """That part of the needs, with a bank of this voltage."""
    return AcNeeds(
        service_id=needs.service_id,
        service_a=needs.service.amps,
        whole=needs.whole,
        panel_there=needs.panel_there,
        bare=needs.bare,
        crimper=needs.tools == "crimper",
        ends_tow_line=ends_tow_line(needs, bank_v),
    )


class OnAc(NamedTuple):
    """Breakers, cable, panel and ferrules; and the small things, which stand at the list's end."""

    lines: Lines
    fittings: Lines


def wiring_of(candidate: Candidate) -> Wiring:
    """That of a candidate."""
    inverter = candidate.inverter
    terminals = inverter.terminals
    return Wiring(
        candidate.layout,
        candidate.units,
        candidate.legs,
        inverter.dc_nominal,
        terminals.kind,
        terminals.conductor_depth,
    )


class _Parts(PartLines):
    def __init__(self, guide: Guide, needs: AcNeeds, wiring: Wiring) -> None:
        super().__init__(guide, wiring.bank_v)
        self.needs = needs
        self.wiring = wiring

    def all(self, ac: AcPlan) -> OnAc:
        self._ac(ac)
        self._terminals(ac)
        lines = self._told()
        self._on_shore_power(ac)
        self._for_the_units()
        return OnAc(lines, self._told())

    def _ac(self, ac: AcPlan) -> None:
        units = self.wiring.units
        for group, rating_a in (("breaker-in", ac.input_a), ("breaker-out", ac.output_a)):
            self._breaker(group, ac.breakers, rating_a, ac.breaker_poles)
        if ac.main_a:
            self._breaker("breaker-main", 1, ac.main_a, 1)
        if ac.joint_a:
            self._breaker("breaker-joint", 1, ac.joint_a, 1)
        self._put_cable(
            "ac-cable", "ac", 2 * units * self.planning.ac_run_m, ac.input_awg, ac.poles + 1
        )
        if not self.needs.panel_there:
            legs = self.wiring.legs
            panels = [
                each
                for each in self.catalogue.sub_panels
                if each.legs == legs and each.rating >= ac.output_a
            ]
            group = "panel" if self.needs.whole else "sub-panel"
            self._put(group, 1, panels, "" if panels else self._lacks_panel(ac))
        if self.needs.bare:
            service = self.needs.service_id
            leads = [each for each in self.catalogue.input_leads if each.service == service]
            self._put("input-lead", 1, leads, self.parts["lacks-input-lead"])

    def _breaker(self, group: str, count: int, rating_a: float, poles: int) -> None:
        able = breakers_for(self.guide, rating_a, poles)
        self._put(group, count, able, "" if able else self._lacks_breaker(rating_a, poles))

    def _lacks_breaker(self, rating_a: float, poles: int) -> str:
        return self.parts.say(
            "lacks-breaker-one-pole" if poles == 1 else "lacks-breaker-two-pole",
            amps=plain(rating_a),
        )

    def _lacks_panel(self, ac: AcPlan) -> str:
        return self.parts.say(
            "lacks-panel" if self.needs.whole else "lacks-sub-panel", amps=plain(ac.output_a)
        )

    def _terminals(self, ac: AcPlan) -> None:
        """A bare ferrule for every conductor end of push-in terminals, and the tool; else none."""
        ends: dict[str, int] = {}
        for end in push_in_ends(self.wiring, ac):
            ends[end.awg] = ends.get(end.awg, 0) + 1
        depth_m = self.wiring.terminal_m
        for size in sorted(ends, key=awg.rank):
            self._ferrules(size, ends[size], ferrule_for(self.guide, size, depth_m), depth_m)
        if ends and not self.needs.crimper:
            thinnest, thickest = min(ends, key=awg.rank), max(ends, key=awg.rank)
            tools = crimpers_for(self.guide, "ferrule", thinnest, thickest)
            self._put("ferrule-crimper", 1, tools, self.parts["lacks-ferrule-crimper"])

    def _ferrules(self, size: str, ends: int, chosen: Ferrule | None, depth_m: float) -> None:
        able = (chosen,) if chosen else ()
        depth = plain(depth_m * 1000)
        wanted = "" if able else self.parts.say("lacks-ferrules", size=size, depth=depth)
        self._put("ferrules", ends, able, wanted)
        if chosen:
            spares = math.ceil(ends * self.planning.spare_ends)
            self._put("spare-ferrules", spares, able, wanted)

    def _on_shore_power(self, ac: AcPlan) -> None:
        """A guard sized to the cord, strain reliefs, GFCIs, and a lock on the factory charger.

        Outlets that move to a new panel leave the GFCI behind that guarded them.
        """
        needs = self.needs
        guards = [each for each in self.catalogue.cord_guards if each.service == needs.service_id]
        amps = plain(needs.service_a)
        wanted = "" if guards else self.parts.say("lacks-cord-guard", amps=amps)
        self._put("cord-guard", 1, guards, wanted)
        reliefs = CABLES_OF_A_UNIT * ENDS * self.wiring.units
        self._small("strain-reliefs", "strain-relief", reliefs, ac.input_awg)
        if needs.panel_there:
            self._small("breaker-lock", "breaker-lock", 1)
        else:
            self._small("gfci", "gfci", self.planning.water_circuits)

    def _for_the_units(self) -> None:
        self._small("comm-cable", "comm-cable", self.wiring.units - 1)
        self._small("remote-panel", "remote-panel", 1)
        if self.needs.ends_tow_line:
            self._small("tow-end", "tow-end", 1)
        self._small("labels", "labels", 1)

    def _small(self, group: str, use: HardwareUse, count: int, size: str = "") -> None:
        self._fit([hardware(self.guide, group, use, count, size)])


@kept("answer", 256)
def parts_on_ac(guide: Guide, needs: AcNeeds, wiring: Wiring, ac: AcPlan) -> OnAc:
    """What is on the list for units wired so."""
    return _Parts(guide, needs, wiring).all(ac)


def push_in_ends(wiring: Wiring, ac: AcPlan) -> tuple[ConductorEnd, ...]:
    """Every conductor end that wants a ferrule; none for screw terminals."""
    if wiring.terminals != "push-in":
        return ()
    return ac.ends_per_unit * wiring.units
