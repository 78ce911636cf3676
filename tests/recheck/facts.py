"""What every part of the re-check reads: the answer as data, the catalogue, and plain physics."""

from itertools import pairwise
from math import sqrt
from typing import Any

from scipy.optimize import nnls

from engine.model.guide import Guide
from engine.model.needs import Load, Needs
from engine.model.products import Battery, InverterCharger
from tests.recheck import tables

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
        self.battery: Battery = one(guide.catalogue.batteries, self.found["battery"]["id"])
        self.series: int = self.found["battery"]["series"]
        self.parallel: int = self.found["battery"]["parallel"]
        self.running = [load for load in needs.running if load.volts != 12]
        self.on_12 = sum(load.running_w for load in needs.running if load.volts == 12)
        motors = [load for load in needs.running if load.volts == 12 and load.locked_rotor_a > 0]
        self.start_12 = max(
            (12 * each.locked_rotor_a - each.running_w for each in motors), default=0.0
        )
        self.start_12_s = max((each.start_s for each in motors), default=0.0)
        self.loss = loss(self.unit)
        self.low_v: float = self.unit.low_voltage_cutoff
        self.nominal_v: float = self.battery.nominal * self.series

    def parts(self, group: str) -> list[dict[str, Any]]:
        """Lines of one group."""
        return [line for line in self.data["parts"] if line["group"] == group]

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
        """Current of one unit at its full output."""
        rated_w = between(self.unit.continuous, self.needs.ambient_c) or 0.0
        return self.dc_w(rated_w) / self.low_v

    def interrupt_a(self) -> float:
        """What a fuse at the bank must be able to stop."""
        each_a = self.battery.short_circuit
        if self.battery.chemistry == "lifepo4":
            each_a = max(each_a, tables.LITHIUM_SHORT_A_PER_AH * self.battery.capacity)
        least_a = tables.INTERRUPT_MARGIN * each_a * self.parallel
        return least_a if least_a <= tables.OWN_FIGURE_UP_TO_A else tables.LARGE_INTERRUPT_A

    def ampacity_a(self, size: str) -> float:
        """What one cable carries in that heat."""
        ambient_c = self.needs.ambient_c
        factor = sqrt(min(1.0, max(0.0, (105 - ambient_c) / 75)))
        return tables.DC_105_A[size] * factor

    def highest_v(self) -> float:
        """Voltage of the bank at the end of a charge."""
        lithium = self.battery.chemistry == "lifepo4"
        nominal, most = tables.LITHIUM_CELL_V if lithium else tables.LEAD_CELL_V
        return round(self.nominal_v / nominal) * most


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
    """Capacity in the cold: lithium 0.8 at 0 °C and 0.7 at −20 °C, lead 0.5 at −20 °C."""
    points = {"lifepo4": ((-20.0, 0.7), (0.0, 0.8), (25.0, 1.0))}.get(
        chemistry, ((-20.0, 0.5), (25.0, 1.0))
    )
    if at_c < points[0][0]:
        return 0.0
    return between(points, min(at_c, 25.0)) or 0.0
