"""Figures of the explanatory pages about loads and the battery."""

from dataclasses import dataclass

from engine.model.buses import LEG
from engine.model.guide import Appliance, Guide
from engine.model.products import Battery, InverterCharger
from engine.pages.pieces.hours import lasts
from engine.sizing import battery, charge_settings, charging, inverter, loads
from engine.standards.appliances import MICROWAVE_EFFICIENCY
from engine.standards.battery_chemistry import chemistry_of
from engine.units import factor, read, show, significant
from engine.wording.tongue import plain

ROOM_C = 25.0


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar of a chart: its label, its length as a number, and the figure beside it."""

    label: str
    value: float
    text: str


def bar_of(label: str, value: float, unit: str) -> Bar:
    return Bar(label, value, f"{significant(value)} {unit}")


@dataclass(frozen=True, slots=True)
class Heavy:
    """A heavy load as it is read."""

    name: str
    running: str
    start: str
    plain: str


class LoadFigures:
    """What the pages may ask about what runs and about the battery that feeds it."""

    def __init__(self, guide: Guide) -> None:
        self.guide = guide

    # Loads

    def appliance(self, name: str) -> Appliance:
        """An appliance of the guide."""
        return self.guide.appliance(name)

    def running(self, name: str) -> str:
        """What an appliance draws while it runs."""
        return show(self.appliance(name).running, "W")

    def running_va(self, name: str) -> str:
        """The same as apparent power."""
        found = self.appliance(name)
        return show(loads.apparent_power_va(found.running, found.power_factor), "VA")

    def start_va(self, name: str, soft: bool = False) -> float:
        """Apparent power of a motor's start."""
        found = self.appliance(name)
        locked = loads.locked_rotor_va(found.locked_rotor, found.volts)
        return loads.start_va(locked, self.guide.planning.soft_start_reduction if soft else 0.0)

    def starts(self, name: str, model: str) -> list[Bar]:
        """Running, start and softened start of an appliance, and what a unit gives for it."""
        found = self.appliance(name)
        unit = self.inverter(model)
        running_va = loads.apparent_power_va(found.running, found.power_factor)
        surge_va = inverter.surge_for(unit.surge, found.start_time)
        return [
            bar_of("Running", running_va, "VA"),
            bar_of("Start, with a soft starter", self.start_va(name, soft=True), "VA"),
            bar_of("Start, without", self.start_va(name), "VA"),
            bar_of(f"{unit.name} gives for it", surge_va, "VA"),
        ]

    def power_bars(self, *names: str) -> list[Bar]:
        """What appliances draw while they run."""
        found = [self.appliance(name) for name in names]
        return [bar_of(each.name, each.running, "W") for each in found]

    def heavy(self) -> list[Heavy]:
        """What counts as a heavy load, the strongest first."""
        found = [each for each in self.guide.appliances if each.heavy and each.bus is LEG]
        return [
            Heavy(each.name, show(each.running, "W"), self._start_text(each), each.plain)
            for each in sorted(found, key=lambda each: -each.running)
        ]

    def _start_text(self, found: Appliance) -> str:
        if not found.locked_rotor:
            return "none to speak of"
        return show(loads.locked_rotor_va(found.locked_rotor, found.volts), "VA")

    def heavy_from(self) -> str:
        """Power from which a load counts as heavy."""
        return show(self.guide.planning.heavy_from, "W")

    def start_times(self, name: str) -> str:
        """How many times its running volt-amperes a motor takes at the start."""
        found = self.appliance(name)
        running_va = loads.apparent_power_va(found.running, found.power_factor)
        return plain(self.start_va(name) / running_va, 1)

    def start_seconds(self, name: str) -> str:
        """How long a start is taken to last."""
        return f"{plain(self.appliance(name).start_time, 1)} seconds"

    def start_battery_a(self, name: str, model: str, soft: bool = False) -> str:
        """Current from a low battery during a start; its volt-amperes are taken as watts."""
        unit = self.inverter(model)
        curve = inverter.fit_losses(unit.efficiency, unit.idle)
        low_v = inverter.low_battery_v(unit.dc_nominal, unit.low_voltage_cutoff)
        drawn_w = inverter.input_w(curve, self.start_va(name, soft))
        return f"{plain(inverter.dc_current_a(drawn_w, low_v))} A"

    def peak(self, name: str) -> tuple[str, str]:
        """What a battery gives for a moment, and for hours."""
        found = self.battery(name)
        return f"{plain(found.peak_current)} A", f"{plain(found.continuous_current)} A"

    def energy(self, power: str, hours: str) -> str:
        """Energy of a power over a time."""
        return f"{plain(loads.daily_energy_wh(read(power, 'W'), read(hours, 'h')))} Wh"

    def microwave(self, cooking: str) -> str:
        """What an oven of a cooking power draws."""
        return show(loads.microwave_input_w(read(cooking, "W"), MICROWAVE_EFFICIENCY), "W")

    def soft_start_share(self) -> str:
        """What a soft starter is taken to save of the start."""
        return show(self.guide.planning.soft_start_reduction, "share")

    def watts_of_btu(self, heat: str) -> str:
        """A heat in BTU/h as watts."""
        return show(loads.btu_per_h_to_w(float(heat)), "W")

    def daily(self, name: str) -> str:
        """Energy of an appliance in its usual day."""
        found = self.appliance(name)
        return show(loads.daily_energy_wh(found.running, found.hours, found.duty), "Wh")

    def amperes(self, power: str, volts: str = "120 V") -> str:
        """Current that a power draws at a voltage, nothing lost."""
        return f"{plain(loads.running_current_a(read(power, 'W'), read(volts, 'V')), 1)} A"

    def hours(self, power: str, model: str, name: str) -> str:
        """How long a full battery feeds a load through a unit."""
        unit, each = self.inverter(model), self.battery(name)
        found = lasts(self.guide, unit, each, strings=1, power_w=read(power, "W"))
        return f"{plain(found.hours, 1)} hours"

    # Battery

    def inverter(self, model: str) -> InverterCharger:
        """A unit of the catalog."""
        return next(each for each in self.guide.catalogue.inverters if each.id == model)

    def battery(self, name: str) -> Battery:
        """A battery of the catalog."""
        return next(each for each in self.guide.catalogue.batteries if each.id == name)

    def battery_name(self, name: str) -> str:
        """Its maker and name."""
        found = self.battery(name)
        return f"{found.maker} {found.name}"

    def rated(self, name: str) -> str:
        """Energy that is printed on a battery."""
        found = self.battery(name)
        return show(found.nominal * found.capacity, "Wh")

    def usable(self, name: str) -> str:
        """Energy that is planned on."""
        return show(self._usable_wh(self.battery(name)), "Wh")

    def usable_bars(self, *names: str) -> list[Bar]:
        """Printed and planned energy of batteries."""
        found = []
        for each in map(self.battery, names):
            found += [
                bar_of(f"{each.name}: printed on it", each.nominal * each.capacity, "Wh"),
                bar_of(f"{each.name}: planned on", self._usable_wh(each), "Wh"),
            ]
        return found

    def by_weight(self, *names: str) -> list[Bar]:
        """Planned energy for each pound of batteries."""
        found = [self.battery(name) for name in names]
        pound_kg = factor("lb", "kg")
        return [
            bar_of(each.name, self._usable_wh(each) / each.mass * pound_kg, "Wh/lb")
            for each in found
        ]

    def times_by_weight(self, better: str, other: str) -> str:
        """How many times the planned energy of another battery one gives for its weight."""
        first, second = (self.by_weight(name)[0].value for name in (better, other))
        return plain(first / second, 1)

    def lead_share(self) -> str:
        """Share of a lead-acid battery that is planned on."""
        return show(self.guide.planning.lead_acid_depth, "share")

    def idle(self, model: str) -> str:
        """What a unit draws with nothing running."""
        return show(self.inverter(model).idle, "W")

    def idle_day(self, model: str) -> str:
        """The same over a day."""
        return show(loads.daily_energy_wh(self.inverter(model).idle, 24.0), "Wh")

    def _usable_wh(self, each: Battery) -> float:
        cold = battery.cold_capacity_factor(each.chemistry, ROOM_C)
        ageing = self.guide.planning.ageing
        return battery.usable_wh(each.nominal, each.capacity, each.usable, cold, ageing)

    def cold_share(self, chemistry: str, temperature: str) -> str:
        """Share of the capacity in the cold."""
        return show(battery.cold_capacity_factor(chemistry, read(temperature, "degC")), "share")

    def efficiency(self, chemistry: str) -> str:
        """Share of the energy put in that comes out again."""
        return show(chemistry_of(chemistry).efficiency, "share")

    def charge_hours(self, chemistry: str, start: str, end: str, rate: str) -> str:
        """Time to charge between two states at a rate, as a share of the capacity in an hour."""
        hours = charging.hours_to_charge(
            read(start, "share"),
            read(end, "share"),
            100.0,
            read(rate, "share") * 100.0,
            0.0,
            chemistry,
        )
        return f"{plain(hours, 1)} hours"

    def charge_volts(self, nominal: str, chemistry: str) -> str:
        """Absorption and float voltage of a bank."""
        cells = charge_settings.cells_in_series(read(nominal, "V"), chemistry)
        found = charge_settings.charge_voltages(cells, chemistry)
        return f"{plain(found.absorption_v, 1)} V, then {plain(found.float_v, 1)} V"
