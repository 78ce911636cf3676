"""The rig's own 12 V system beside a bank of another voltage, worked out again."""

from collections.abc import Iterator

from tests.recheck.facts import Facts


class HouseSide(Facts):
    """A battery that stays, what charges it, and the charge line that comes to it."""

    def house_side(self) -> Iterator[str]:
        shelf = self.guide.catalogue
        batteries = self.products("house-battery", shelf.batteries)
        count = self.quantity("house-battery")
        lines = self.parts("charge-isolator")
        if not self.stays():
            if batteries or lines:
                yield "a 12 V battery or its charge line where the bank feeds the rig"
            return
        if len(batteries) != 1:
            yield "no battery for the rig's own 12 V system"
            return
        (battery,) = batteries
        if battery.nominal != self.needs.house_v or battery.chemistry != "agm":
            yield "the rig's own 12 V system keeps another kind of battery"
        running_a = self.house_w / self.needs.house_v
        if count * battery.continuous_current < running_a + self.largest_motor_a():
            yield "the 12 V battery cannot move the largest motor"
        set_a = self.found["house"]["charge_a"]
        if set_a > count * battery.charge_current or set_a < running_a:
            yield f"its charger set to {set_a:g} A"
        for each in self.products("step-down", shelf.step_downs):
            if not each.charges or set_a > each.current:
                yield "what feeds the 12 V battery does not charge it"
        tow = "tow-line" in self.needs.rig.hangs and not self.needs.alternator_a
        if tow != bool(lines):
            yield "the isolator of the charge line is missing, or not needed"
