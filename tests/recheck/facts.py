"""What every part of the re-check reads: the answer as data, the catalogue, and plain physics."""

from itertools import pairwise
from math import sqrt
from typing import Any

from scipy.optimize import nnls

from engine.model.guide import Guide
from engine.model.needs import Load, Needs
from engine.model.products import Battery, InverterCharger
from tests.recheck import tables
from tests.recheck.theirs import battery_of, must_stop_a

NEAR = 1e-9
SHAPES = {  # layout: units, legs of the output, units that share one leg
    "single": (1, 1, 1.0),
    "two-leg": (1, 1, 1.0),
    "sub-panel": (1, 1, 1.0),
    "split-phase-pair": (2, 2, 1.0),
    "parallel-pair": (2, 1, 2.0),
    "split-phase-native": (1, 2, 0.5),
}


class Facts:
    """One answer with what it was given for."""

    def __init__(self, guide: Guide, needs: Needs, data: dict[str, Any]) -> None:
        self.guide, self.needs, self.data = guide, needs, data
        self.found = data["recommendation"]
        self.layout = self.found["layout"]
        self.units, self.legs, self.share = SHAPES[self.layout]
        self.unit: InverterCharger = one(guide.catalogue.inverters, self.found["inverter"]["id"])
        self.battery: Battery = battery_of(guide, needs.existing, self.found)
        self.kept: int = self.found["battery"]["kept"]
        self.series: int = self.found["battery"]["series"]
        self.parallel: int = self.found["battery"]["parallel"]
        self.running = [load for load in needs.running if load.volts >= 120]
        self.house_w = sum(load.running_w for load in needs.running if load.volts == 12)
        # Behind a converter the bank gives more than what runs takes.
        self.per_12: float = 1.0
        for converter in self.products("step-down", guide.catalogue.step_downs):
            self.per_12 = 1 / converter.efficiency
        self.on_12 = self.house_w * self.per_12
        self.on_48 = sum(load.running_w for load in needs.running if load.volts == 48)
        self.on_12 += self.on_48
        motors = [load for load in needs.running if load.volts == 12 and load.locked_rotor_a > 0]
        self.start_12 = max(
            (12 * each.locked_rotor_a - each.running_w for each in motors), default=0.0
        )
        self.start_12_s = max((each.start_s for each in motors), default=0.0)
        self.loss = loss(self.unit)
        self.low_v: float = self.unit.low_voltage_cutoff
        self.nominal_v: float = self.battery.nominal * self.series

    def on_12_v(self) -> bool:
        """Whether anything hangs on 12 V: a load, or the rig's own system."""
        return self.needs.house_v > 0 or any(load.volts == 12 for load in self.needs.loads)

    def stays(self) -> bool:
        """Whether the rig's own 12 V system keeps a battery beside this bank."""
        return self.needs.house_v > 0 and self.unit.dc_nominal != self.needs.house_v

    def largest_motor_a(self) -> float:
        """The larger of slides and jacks, which are moved one at a time [A]."""
        hangs = self.needs.rig.hangs if self.needs.house_v else {}
        return max(hangs.get("slides", 0.0), hangs.get("jacks", 0.0))

    def parts(self, group: str) -> list[dict[str, Any]]:
        """What one use takes of which article."""
        return [
            {"product": line["product"], "quantity": use["quantity"]}
            for line in self.data["parts"]
            for use in line["uses"]
            if use["group"] == group
        ]

    def quantity(self, group: str) -> float:
        """Pieces of one group."""
        return float(sum(line["quantity"] for line in self.parts(group)))

    def products(self, group: str, shelf: tuple[Any, ...]) -> list[Any]:
        """Articles of one group."""
        return [one(shelf, line["product"]) for line in self.parts(group) if line["product"]]

    def va(self, load: Load) -> float:
        """Volt-amperes of a load."""
        return load.running_w / load.power_factor

    def start_va(self, load: Load) -> float:
        """Its locked rotor, softened where a soft starter is there or on the list."""
        softened = self.needs.soft_start_fitted or self.found["soft_starters"] > 0
        factor = 1.0
        if softened and load.soft_startable:
            factor = 1.0 - self.guide.planning.soft_start_reduction
        return max(self.va(load), load.locked_rotor_a * load.volts * factor)

    def dc_w(self, ac_w: float) -> float:
        """DC power of one unit at an output."""
        a, b = self.loss
        return ac_w + self.unit.idle + a * ac_w + b * ac_w * ac_w

    def loads_w(self) -> float:
        """Watts of all that lives on this layout."""
        live = [load for load in self.running if load.volts == 120 or self.legs == 2]
        return sum(load.running_w for load in live)

    def running_a(self) -> float:
        """Current of the bank while everything runs, with margin."""
        each_w = self.loads_w() * self.guide.planning.load_margin / self.units
        return (self.units * self.dc_w(each_w) + self.on_12) / self.low_v

    def full_a(self) -> float:
        """Current of one unit at the output of its nameplate, which it gives when it is cool."""
        rated_w = max(watts for _, watts in self.unit.continuous)
        return self.dc_w(rated_w) / self.low_v

    def bank_a(self) -> float:
        """Current of all units at full output, and of what runs on 12 V."""
        return self.full_a() * self.units + self.on_12 / self.low_v

    def string_a(self) -> float:
        """Most that one string carries for long: its share, or what its maker allows."""
        if self.parallel == 1:
            return self.bank_a()
        share_a = self.bank_a() / self.parallel
        return max(share_a, min(self.bank_a(), self.battery.continuous_current))

    def interrupt_a(self) -> float:
        """What a fuse at the bank must be able to stop."""
        each_a = self.battery.short_circuit
        if self.battery.chemistry == "lifepo4":
            each_a = max(each_a, tables.LITHIUM_SHORT_A_PER_AH * self.battery.capacity)
        return must_stop_a(each_a * self.parallel)

    def ampacity_a(self, size: str) -> float:
        """What one cable carries in that heat."""
        ambient_c = self.needs.ambient_c
        factor = sqrt(min(1.0, max(0.0, (105 - ambient_c) / 75)))
        return tables.DC_105_A[size] * factor

    def highest_v(self) -> float:
        """Most that a charger puts on the bank: at its end, equalizing, or corrected for cold."""
        chemistry = self.battery.chemistry
        if chemistry == "lifepo4":
            nominal, most = tables.LITHIUM_CELL_V
            return round(self.nominal_v / nominal) * most
        nominal, most = tables.LEAD_CELL_V
        cells = round(self.nominal_v / nominal)
        if chemistry == "flooded":
            most = tables.EQUALIZE_CELL_V
        coldest_c = min(tables.COLDEST_CHARGED_C, self.needs.weather.coldest_c)
        correction = self.data["charging"]["compensation_v_per_k"]
        cold_v = self.data["charging"]["absorption_v"] + correction * (coldest_c - 25)
        return max(cells * most, float(cold_v))


def one(shelf: Any, article_id: str) -> Any:
    """The article with this id."""
    return next(each for each in shelf if each.id == article_id)


def between(points: tuple[tuple[float, float], ...], at: float) -> float | None:
    """Straight lines between the maker's points; nothing beyond the last one."""
    if at <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in pairwise(points):
        if at <= x1:
            return y0 + (y1 - y0) * (at - x0) / (x1 - x0)
    return None


def loss(unit: InverterCharger) -> tuple[float, float]:
    """Loss beyond idle as a·P + b·P², least squares without negative parts, by scipy."""
    rows = [[watts, watts * watts] for watts, _ in unit.efficiency]
    right = [watts * (1 / share - 1) - unit.idle for watts, share in unit.efficiency]
    scale = max(watts for watts, _ in unit.efficiency)
    scaled = [[first / scale, second / scale**2] for first, second in rows]
    (a, b), _ = nnls(scaled, right)
    return float(a) / scale, float(b) / scale**2


def ohm_per_m(size: str, at_c: float) -> float:
    """Resistance of a conductor at its temperature."""
    at_75 = tables.OHM_PER_KFT[size] / 304.8
    return at_75 * (1 + tables.ALPHA_20 * (at_c - 20)) / (1 + tables.ALPHA_20 * 55)


def cold_share(chemistry: str, at_c: float) -> float:
    """Capacity in the cold, by chemistry; nothing below what is known."""
    points = tables.COLD[chemistry]
    if at_c < points[0][0]:
        return 0.0
    return between(points, min(at_c, 25.0)) or 0.0
