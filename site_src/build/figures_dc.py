"""Figures of the explanatory pages about cable, fuses and what charges."""

from dataclasses import dataclass

from engine.sizing import (
    alternator,
    ampacity,
    conductors,
    generator,
    inverter,
    protection,
    short_circuit,
    solar,
)
from engine.standards import awg
from engine.standards.clearness import typical_clearness
from engine.standards.interrupt import FUSE_FAMILIES
from engine.units import factor, read, show
from engine.wording.tongue import plain
from site_src.build.figures_loads import ROOM_C, Bar, LoadFigures, bar_of

HOT_C = 35.0
SHOWN_SIZES = ("4", "2", "1/0", "2/0", "4/0")


@dataclass(frozen=True, slots=True)
class WarmCable:
    """A cable, and how warm its copper gets."""

    size: str
    heat: str


@dataclass(frozen=True, slots=True)
class Cable:
    """A run of battery cable as it is read."""

    current: str
    size: str
    drop: str
    fuse: str


class DcFigures(LoadFigures):
    """What the pages may ask about everything on the battery's side."""

    # Cable and fuse

    def current(self, power: str, volts: str, model: str) -> float:
        """Battery current at a low battery for a load on a unit [A]."""
        unit = self.inverter(model)
        curve = inverter.fit_losses(unit.efficiency, unit.idle)
        drawn_w = inverter.input_w(curve, read(power, "W"))
        return inverter.dc_current_a(drawn_w, inverter.low_battery_v(read(volts, "V")))

    def current_bars(self, power: str, models: dict[str, str]) -> list[Bar]:
        """Battery current for the same load at each voltage."""
        return [
            bar_of(volts, self.current(power, volts, model), "A") for volts, model in models.items()
        ]

    def cable(self, power: str, volts: str, model: str, length: str) -> Cable:
        """Cable and fuse for a load on a unit over a length, one way."""
        current_a, fuse_a, chosen = self._run(power, volts, model, length)
        runs = f"{chosen.runs} × " if chosen.runs > 1 else ""
        return Cable(
            f"{plain(current_a)} A",
            f"{runs}{chosen.size} AWG",
            f"{plain(chosen.drop_v, 2)} V ({show(chosen.drop_fraction, 'share')})",
            f"{plain(fuse_a)} A",
        )

    def warm_cable(self, power: str, volts: str, model: str, length: str) -> WarmCable:
        """How warm the cable of a load gets, carrying it for hours in hot air."""
        _, _, chosen = self._run(power, volts, model, length)
        return WarmCable(f"{chosen.size} AWG", show(chosen.temperature_c, "degC"))

    def _run(
        self, power: str, volts: str, model: str, length: str
    ) -> tuple[float, float, conductors.CableChoice]:
        """Current, fuse and cable for a load on a unit over a length, one way."""
        planning = self.guide.planning
        current_a = self.current(power, volts, model)
        fuse_a = protection.next_standard_rating_a(
            protection.fuse_minimum_a(current_a, planning.fuse_factor)
        )
        chosen = conductors.choose_dc_cable(
            current_a,
            read(length, "m"),
            read(volts, "V"),
            planning.drop_limit,
            planning.cable_insulation_c,
            HOT_C,
            awg.SIZES,
            planning.most_cable_runs,
            fuse_a,
        )
        if chosen is None:
            raise ValueError(f"no cable for {power} at {volts} over {length}")
        return current_a, fuse_a, chosen

    def ampacities(self) -> list[tuple[str, str, str]]:
        """Gauge, current it may carry in 35 °C air, and its resistance."""
        insulation_c = self.guide.planning.cable_insulation_c
        return [
            (
                f"{size} AWG",
                f"{plain(ampacity.dc_ampacity_a(size, insulation_c, HOT_C))} A",
                _resistance(conductors.resistance_ohm_per_m(size, 75.0)),
            )
            for size in SHOWN_SIZES
        ]

    def ampacity_bars(self) -> list[Bar]:
        """Current that each gauge may carry in 35 °C air."""
        insulation_c = self.guide.planning.cable_insulation_c
        return [
            bar_of(f"{size} AWG", ampacity.dc_ampacity_a(size, insulation_c, HOT_C), "A")
            for size in SHOWN_SIZES
        ]

    def interrupt_bars(self, name: str, parallel: int) -> list[Bar]:
        """Short circuit of a bank, and what each kind of fuse stops at 14 V."""
        each = self.battery(name)
        bank_a = self._short_a(name, parallel)
        families = dict.fromkeys(family.name for family in FUSE_FAMILIES)
        return [
            bar_of(f"{parallel} × {each.name}, short circuit", bank_a, "A"),
            *(
                bar_of(f"{family} fuse", short_circuit.family_interrupt_a(family, 14.0), "A")
                for family in families
            ),
        ]

    def drop_limit(self) -> str:
        """Voltage that may be lost on the battery cable."""
        return show(self.guide.planning.drop_limit, "share")

    def starter_drop(self) -> str:
        """The same ahead of a DC-DC charger, which makes up for it."""
        return show(self.guide.planning.starter_drop, "share")

    def fuse_factor(self) -> str:
        """Fuse over lasting current."""
        return plain(self.guide.planning.fuse_factor, 2)

    def fuse_families(self) -> list[tuple[str, str, str]]:
        """Name, what it can stop at 14 V and at 58 V; "not made for it" where nothing."""

        def stops(name: str, volts: float) -> str:
            found = short_circuit.family_interrupt_a(name, volts)
            return f"{plain(found / 1000, 1)} kA" if found else "not made for it"

        names = dict.fromkeys(each.name for each in FUSE_FAMILIES)
        return [(name, stops(name, 14.0), stops(name, 58.0)) for name in names]

    def short_circuit(self, name: str, parallel: int) -> str:
        """Short-circuit current of equal batteries side by side."""
        return f"{plain(self._short_a(name, parallel) / 1000, 1)} kA"

    def _short_a(self, name: str, parallel: int) -> float:
        each = self.battery(name)
        stated_a = short_circuit.stated_short_circuit_a(
            each.short_circuit, each.capacity, each.chemistry
        )
        return short_circuit.bank_short_circuit_a(stated_a, parallel)

    def fuse_place(self, sheathed: bool) -> str:
        """Farthest place of a fuse from another source than the battery."""
        return show(protection.fuse_place_limit_m(sheathed, from_battery=False), "m")

    # What charges

    def generator(self, rated: str, altitude: str, ambient: str) -> str:
        """What a generator gives high up and in the heat."""
        return show(
            round(
                generator.derated_w(read(rated, "W"), read(altitude, "m"), read(ambient, "degC"))
            ),
            "W",
        )

    def generator_bars(self, rated: str, heights: tuple[str, ...], ambient: str) -> list[Bar]:
        """What a generator gives at each height."""
        return [
            bar_of(
                f"At {show(read(height, 'm'), 'm')}",
                generator.derated_w(read(rated, "W"), read(height, "m"), read(ambient, "degC")),
                "W",
            )
            for height in heights
        ]

    def alternator_bars(self, rated: tuple[str, ...]) -> list[Bar]:
        """Printed current of alternators, and what is planned on for hours."""
        return [
            bar
            for each in rated
            for bar in (
                bar_of(f"{each}: printed on it", read(each, "A"), "A"),
                bar_of(f"{each}: for hours", alternator.continuous_a(read(each, "A")), "A"),
            )
        ]

    def alternator_a(self, rated: str) -> str:
        """What an alternator gives for hours."""
        return f"{plain(alternator.continuous_a(read(rated, 'A')))} A"

    def alternator_share(self) -> str:
        """Share of an alternator's rating that is planned on for hours."""
        return show(alternator.CONTINUOUS_SHARE, "share")

    def from_alternator_a(self, rated: str, volts: str, most: str) -> str:
        """Charge current that a DC-DC charger may be set to."""
        found = alternator.converter_current_a(
            rated_a=read(rated, "A"),
            vehicle_load_a=self.guide.planning.vehicle_load,
            battery_v=read(volts, "V"),
            converter_max_a=read(most, "A"),
        )
        return f"{plain(found)} A"

    def sun(self, rated: str, latitude: str, months: dict[int, str]) -> list[Bar]:
        """Energy of flat panels into the battery on the average day of each month."""
        return [
            bar_of(name, self._sun_wh(rated, latitude, month), "Wh")
            for month, name in months.items()
        ]

    def sun_share(self, latitude: str, month: int, of: int) -> str:
        """What a month brings, as a share of another month."""
        month_wh, of_wh = (self._sun_wh("100 W", latitude, each) for each in (month, of))
        return show(round(month_wh / of_wh, 2), "share")

    def _sun_wh(self, rated: str, latitude: str, month: int) -> float:
        return solar.daily_yield_wh(
            read(rated, "W"), float(latitude), month, 0.0, typical_clearness(month), ROOM_C
        )


def _resistance(ohm_per_m: float) -> str:
    """The resistance of a conductor along its length."""
    milliohm_per_m = ohm_per_m * 1000
    per_ft = plain(milliohm_per_m / factor("m", "ft"), 3)
    return f"{per_ft} mΩ/ft ({plain(milliohm_per_m, 3)} mΩ/m)"
