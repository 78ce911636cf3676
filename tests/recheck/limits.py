"""What comes in, worked out again: input limits, charge currents, voltages, sensor."""

from collections.abc import Iterator
from typing import Any

from tests.recheck import tables
from tests.recheck.facts import NEAR, Facts


class Limits(Facts):
    """Shore, generator and chargers."""

    def input_limits(self) -> Iterator[str]:
        shore, generator = self.data["charging"]["shore"], self.data["charging"]["generator"]
        post_a = min(self.needs.shore_a, self.needs.service.amps, self.found["ac_in"]["breaker_a"])
        legs = self.own_legs(self.needs.shore_legs)
        yield from self._setting("shore", shore, legs, post_a)
        yield from self._charge("shore", shore["charge_a"], shore, legs)
        if bool(self.needs.generator_w) != bool(generator):
            yield "a generator that is not there, or none where one is"
        if generator:
            legs = self.own_legs(self.needs.service.legs)
            yield from self._generator(generator, legs)

    def _generator(self, plan: dict[str, Any], legs: int) -> Iterator[str]:
        gives_w = self._gives_w()
        if abs(plan["derated_w"] - gives_w) > 1e-6 * gives_w:
            yield f"a generator of {plan['derated_w']:.0f} W that gives {gives_w:.0f} W"
        asked_w = plan["setting_a"] * self.hot_wires() * self.needs.service.volts
        if asked_w > gives_w + 1e-6:
            yield f"limits of {asked_w:.0f} W on a generator that gives {gives_w:.0f} W"
        cord_a = min(self.needs.service.amps, self.found["ac_in"]["breaker_a"])
        yield from self._setting("generator", plan, legs, cord_a)
        for charge_a in (plan["charge_a"], plan["charge_free_a"]):
            yield from self._charge("generator", charge_a, plan, legs)

    def _gives_w(self) -> float:
        needs = self.needs
        height = max(0.0, 1 - tables.LOSS_PER_1000_FT * needs.altitude_m / 304.8)
        degrees_f = needs.ambient_c * 9 / 5 + 32
        early = tables.LOSS_PER_10_F * (degrees_f - tables.HEAT_FROM_F) / 10
        late = tables.LOSS_PER_5_C * (needs.ambient_c - tables.HEAT_FROM_C) / 5
        heat = min(1.0, max(0.0, 1 - max(early, late)))
        return needs.generator_w * min(1.0, height) * heat

    def _setting(
        self, name: str, plan: dict[str, Any], legs: int, breaker_a: float
    ) -> Iterator[str]:
        sharing = self.hot_wires() // legs
        setting_a = plan["setting_a"]
        if setting_a != int(setting_a):
            yield f"{name}: a limit that cannot be set in whole amperes"
        if abs(setting_a * sharing - plan["input_limit_a"]) > NEAR:
            yield f"{name}: what is set on each unit does not make the limit of the leg"
        if setting_a * sharing > 0.8 * breaker_a + 1e-6:
            yield f"{name}: {setting_a * sharing:.0f} A for hours through {breaker_a:.0f} A"

    def _charge(self, name: str, charge_a: float, plan: dict[str, Any], legs: int) -> Iterator[str]:
        if charge_a <= NEAR:
            return
        most_a = self.unit.charge_current * self.units
        bank_a = self.battery.charge_current * self.parallel
        if charge_a > min(most_a, bank_a) * (1 + NEAR):
            yield f"{name}: {charge_a:.0f} A of charge is more than charger or bank bears"
        chargers = 2 if legs == 2 and self.layout.startswith("split-phase") else 1
        watts = charge_a * self.data["charging"]["absorption_v"] / self.unit.charge_efficiency
        volts = self.needs.service.volts
        drawn_a = watts / (self.unit.charge_power_factor * volts * chargers)
        # Shared out as well as can be, the busier of two legs bears at least half of it.
        light = [load for load in self.needs.light if load.volts == 120]
        if name == "generator" and plan["starter"]:
            light = [load for load in light if load.name != plan["starter"]]
        light_a = sum(self.va(load) for load in light) / volts / legs
        if drawn_a + light_a > plan["input_limit_a"] * (1 + 1e-6):
            limit_a = plan["input_limit_a"]
            yield f"{name}: the charger draws {drawn_a:.1f} A through a limit of {limit_a:.0f} A"

    def week(self) -> Iterator[str]:
        """What shore and generator charge in the week goes through a charger on its own legs."""
        plan, weeks = self.data["charging"], self.data["simulation"]
        stretch = max(1, round(self.needs.nights))
        shore_h = 7 // stretch * tables.SHORE_NIGHT_H
        generator_h = 7 * self.guide.planning.generator_hours
        for name, hours, charged in (
            ("shore", shore_h, weeks["hooked_up"]["charged_wh"]["shore"]),
            ("generator", generator_h, weeks["charged_wh"]["generator"]),
        ):
            if plan[name] is None:
                continue
            limit_a, legs = plan[name]["input_limit_a"], plan[name]["legs"]
            chargers = 2 if legs == 2 and self.layout.startswith("split-phase") else 1
            way = self.unit.charge_efficiency * self.unit.charge_power_factor
            most_w = limit_a * chargers * self.needs.service.volts * way
            if charged > hours * most_w * (1 + NEAR) + NEAR:
                yield (
                    f"{name}: {charged:.0f} Wh charged in {hours:.0f} h at {most_w:.0f} W at most"
                )

    def own_legs(self, legs: int) -> int:
        """How many of these legs pass through the units."""
        if self.needs.whole and self.layout != "sub-panel":
            return legs
        return min(legs, self.legs)

    def hot_wires(self) -> int:
        """Hot wires into all units."""
        return int(self.found["ac_in"]["poles"]) * self.units

    def charging(self) -> Iterator[str]:
        """Voltages of the charge, what else charges, and the sensor of lead-acid."""
        plan, chemistry = self.data["charging"], self.battery.chemistry
        cells = round(self.nominal_v / (3.2 if chemistry == "lifepo4" else 2.0))
        low_v, high_v = tables.ABSORPTION_CELL_V[chemistry]
        if not low_v - NEAR <= plan["absorption_v"] / cells <= high_v + NEAR:
            yield f"{plan['absorption_v']:.2f} V of absorption for {cells} cells"
        if plan["float_v"] >= plan["absorption_v"]:
            yield "a float voltage that is no lower than absorption"
        low, high = tables.CORRECTION_CELL_V_PER_K[chemistry]
        correction = plan["compensation_v_per_k"]
        if not low - NEAR <= correction / cells <= high + NEAR:
            yield f"{1000 * correction:.0f} mV a degree for {cells} cells"
        here_v = plan["absorption_v"] + correction * (self.needs.ambient_c - 25)
        if abs(plan["absorption_here_v"] - here_v) > 1e-6:
            yield "absorption is not corrected for the temperature of the place"
        sensors = self.products("temperature-sensor", self.guide.catalogue.temperature_sensors)
        if len(sensors) != (0 if chemistry == "lifepo4" else 1):
            yield "no sensor on lead-acid batteries, or one that nothing reads"
        if any(each.stud != self.battery.stud for each in sensors):
            yield "a sensor that does not go on the battery's post"
        bank_a = self.battery.charge_current * self.parallel
        for name in ("alternator_a", "solar_a"):
            if plan.get(name, 0.0) > bank_a * (1 + NEAR):
                yield f"{name}: more than the bank takes"
        half_a = tables.ALTERNATOR_SHARE * self.needs.alternator_a
        for each in self.products("alternator-charger", self.guide.catalogue.alternator_chargers):
            if each.output != self.unit.dc_nominal:
                yield "a charger at the alternator for another bank"
            if each.current * each.output / each.input / each.efficiency > half_a + 1e-6:
                yield "a charger that draws more than half of the alternator"
