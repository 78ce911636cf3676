"""The rig's own 12 V system beside a bank of another voltage, worked out again."""

from collections.abc import Iterator

from tests.recheck.facts import Facts
from tests.recheck.theirs import house_short_a, theirs_of


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
        have = self.needs.existing
        there = [each for each in self.parts("house-battery") if not each["product"]]
        if have and there and not self.kept:
            batteries = [theirs_of(self.guide, have)]
            count /= round(self.needs.house_v / have.nominal_v)
            if house_short_a(have) <= 0 or have.chemistry == "lifepo4":
                yield "a battery that is there and cannot be that of the 12 V system"
        if len(batteries) != 1:
            yield "no battery for the rig's own 12 V system"
            return
        (battery,) = batteries
        right = battery.nominal == self.needs.house_v and battery.chemistry == "agm"
        if not there and not right:
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
