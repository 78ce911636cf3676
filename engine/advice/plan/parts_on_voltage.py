"""The part of the list that a bank's voltage alone decides: the way to 12 V, and what charges."""

from typing import NamedTuple

from engine.advice.plan.branches import alternator_charger
from engine.advice.plan.fittings import hardware_for
from engine.advice.plan.house import HOUSE_V, buffer_of, on_dc, step_down
from engine.advice.plan.house_side import house_side_of
from engine.advice.plan.part_lines import Lines, PartLines
from engine.advice.plan.solar import solar_plan
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.wording.tongue import plain


class OnVoltage(NamedTuple):
    """The lines that a bank's voltage alone decides: the way to 12 V, and what charges."""

    on_12v: Lines
    sources: Lines


class _Parts(PartLines):
    def __init__(self, guide: Guide, needs: Needs, bank_v: float) -> None:
        super().__init__(guide, bank_v)
        self.needs = needs

    def all(self) -> OnVoltage:
        """What the bank's voltage alone decides."""
        self._step_down()
        on_12v = self._told()
        self._sources()
        return OnVoltage(on_12v, self._told())

    def _step_down(self) -> None:
        """Circuits on 12 V cannot hang on a 24 or 48 V bank."""
        found = step_down(self.guide, self.needs, self.bank_v) if on_dc(self.needs) else None
        if found and self.bank_v != HOUSE_V:
            self._put("step-down", 1, (found,), "")
        buffer = buffer_of(self.guide, self.needs, self.bank_v)
        if found and buffer:
            self._put("buffer", 1, (buffer,), "")
        side = house_side_of(self.guide, self.needs, self.bank_v)
        if side and side.battery and side.there:
            self._there("house-battery", side.battery.name, side.batteries)
        elif side and side.battery:
            self._put("house-battery", side.batteries, (side.battery,), "")
        if side and side.isolator:
            able = hardware_for(self.guide, "charge-isolator", "")
            self._put("charge-isolator", 1, able, self.parts["lacks-charge-isolator"])

    def _sources(self) -> None:
        needs = self.needs
        if needs.alternator_a:
            charger = alternator_charger(self.guide, needs, self.bank_v)
            self._put(
                "alternator-charger",
                1,
                (charger,) if charger else (),
                self.parts.say(
                    "lacks-alternator-charger",
                    volts=plain(self.bank_v),
                    amps=plain(needs.alternator_a),
                ),
            )
        if needs.solar_w:
            self._solar(needs.solar_w)

    def _solar(self, wanted_w: float) -> None:
        """The cheapest panels with a controller that suits them and the bank."""
        plan = solar_plan(self.guide, self.needs, self.bank_v)
        if plan is None:
            watts, volts = plain(wanted_w), plain(self.bank_v)
            self._put("solar-panel", 1, (), self.parts.say("lacks-solar-panel", watts=watts))
            wanted = self.parts.say("lacks-solar-controller", watts=watts, volts=volts)
            self._put("solar-controller", 1, (), wanted)
            return
        self._put("solar-panel", plan.panels, (plan.panel,), "")
        self._put("solar-controller", 1, (plan.controller,), "")


def parts_on_voltage(guide: Guide, needs: Needs, bank_v: float) -> OnVoltage:
    """What is on the list for a bank of this voltage, whatever else."""
    return _Parts(guide, needs, bank_v).all()
