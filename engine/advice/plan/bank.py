"""The battery bank of a candidate: enough energy, enough current, and the maker's limits kept."""

import math
from collections.abc import Sequence
from typing import NamedTuple

from engine.advice.plan.bank_checks import bank_checks, charged_from_c
from engine.advice.plan.on_bank import OnBank, Stock, stock_of
from engine.advice.plan.supply import low_battery_v, nameplate_w
from engine.model.guide import BankBy, Guide
from engine.model.products import Battery
from engine.model.result import BankPlan, Candidate, Check, Supply
from engine.sizing import battery as sizing
from engine.sizing.bank import charge_limit_a
from engine.sizing.dc_circuit import strings_for_voltage
from engine.sizing.inverter import (
    LossCurve,
    bank_input_w,
    dc_current_a,
    hardest_start_w,
    input_w,
)
from engine.sizing.short_circuit import bank_short_circuit_a, stated_short_circuit_a
from engine.standards.battery_chemistry import chemistry_of
from engine.trace import step

CHEAPEST: BankBy = "price"
HOURS_ON = 24.0
LEAD_ACID_RATE_H = 20.0
MOST_STRINGS = 40
# Counts of strings are rounded up with a little mercy; a floor must not lie above that.
ROUNDING = 1e-6
# Where no bank will do, the nearest miss is looked for among so many, the most promising ones.
NEAREST_TRIED = 12


def plan_bank(
    on: OnBank,
    candidate: Candidate,
    supply: Supply,
    only: Battery | None = None,
    by: BankBy = CHEAPEST,
) -> tuple[BankPlan | None, tuple[Check, ...]]:
    """The best bank that keeps every limit, with its checks; of one battery, where it is given.

    by: whether the best is the cheapest or the lightest

    Where none does, no plan and the checks of the one that came nearest.
    """
    needs = on.needs
    demand = Demand(on, candidate, supply)
    shelf: Sequence[Stock] = on.shelf
    if only:
        only_this = stock_of(on.guide, only, on.volts, on.cold_share)
        shelf = [only_this] if only.chemistry == needs.chemistry else []
    found = _best(demand, shelf, by)
    if found is not None:
        plan = demand.bank_of(*found)
        return plan, bank_checks(plan, needs.weather.coldest_c)
    closest = sorted(
        shelf, key=lambda each: demand.least_strings(each) / each.battery.most_in_parallel
    )
    missing = [
        bank_checks(demand.bank_of(each.battery, strings), needs.weather.coldest_c)
        for each in closest[:NEAREST_TRIED]
        if (strings := demand.strings_of(each.battery)) is not None
    ]
    nearest = max(missing, key=_worst, default=())
    return None, nearest or (Check("battery-series", 0.0, 1.0, "yes", False),)


def _best(demand: "Demand", shelf: Sequence[Stock], by: BankBy) -> "tuple[Battery, Strings] | None":
    """The best that keeps its maker's limits; what cannot be it is not worked out."""
    floors = sorted(
        (floor, at)
        for at, each in enumerate(shelf)
        if (floor := demand.least(each, by)) is not None
    )
    best: tuple[tuple[float, float, int], Battery, Strings] | None = None
    for floor, at in floors:
        if best is not None and floor > best[0][0]:
            break
        battery = shelf[at].battery
        strings = demand.strings_of(battery)
        # Strings are counted so that currents hold; what is left to refuse is told by these.
        if (
            strings is None
            or strings.parallel > battery.most_in_parallel
            or demand.needs.weather.coldest_c < charged_from_c(battery)
        ):
            continue
        cost = (*_cost(demand.guide, battery, strings, by), at)
        if best is None or cost < best[0]:
            best = (cost, battery, strings)
    return best[1:] if best is not None else None


class Strings(NamedTuple):
    """How a kind of battery would be joined, and the strings that each demand asks for."""

    series: int
    parallel: int
    for_energy: int
    for_current: int
    for_surge: int
    for_voltage: int
    string_ah: float
    usable_wh: float


def _cost(guide: Guide, battery: Battery, strings: Strings, by: BankBy) -> tuple[float, float]:
    count = strings.series * strings.parallel
    waiting = guide.priorities.counts_of("waiting") if battery.id in guide.absent else 0.0
    price, mass_kg = count * battery.price + waiting, count * battery.mass
    return (price, mass_kg) if by == CHEAPEST else (mass_kg, price)


def _worst(checks: tuple[Check, ...]) -> float:
    return min(check.margin for check in checks)


class Demand:
    """What the candidate asks of any bank."""

    def __init__(self, on: OnBank, candidate: Candidate, supply: Supply) -> None:
        inverter, units = candidate.inverter, candidate.units
        self.guide = guide = on.guide
        self.needs = needs = on.needs
        self.system_v = inverter.dc_nominal
        self.low_v = low_battery_v(inverter.dc_nominal, inverter.low_voltage_cutoff)
        self.house_efficiency = on.house_efficiency
        self.house_w = house_w = on.house_w
        running_w = supply.total_w * guide.planning.load_margin
        curve = supply.curve
        self.dc_w = step("battery.running", bank_input_w, curve, running_w / units, units, house_w)
        # A start draws at a low power factor; its volt-amperes are taken as watts, to be safe.
        self.start_dc_w = step(
            "battery.start", bank_input_w, curve, supply.total_worst_va / units, units, house_w
        )
        if on.step_w > 0:
            self.start_dc_w = step(
                "battery.start", hardest_start_w, self.start_dc_w, self.dc_w, on.step_w
            )
        self.continuous_a = step("battery.running", dc_current_a, self.dc_w, self.low_v)
        self.surge_a = step("battery.start", dc_current_a, self.start_dc_w, self.low_v)
        self.surge_s = max(on.step_s, *(leg.start_s for leg in supply.legs))
        self.energy = energy_of(on, candidate, supply)
        self.hold_wh = step(
            "battery.reserve" if needs.reserve != 1 else "",
            sizing.with_reserve_wh,
            self.energy.total_wh,
            needs.reserve,
        )
        self.mean_a = step(
            "battery.draw" if chemistry_of(needs.chemistry).family.by_peukert else "",
            sizing.mean_draw_a,
            *draws_of(on, self.energy),
            self.system_v,
        )
        self.cold_share = on.cold_share
        # The cable is not chosen yet: what it may lose at full output is taken.
        full_a = units * dc_current_a(
            input_w(supply.curve, nameplate_w(inverter.continuous)), self.low_v
        )
        self.cable_ohm = guide.planning.drop_limit * self.system_v / full_a

    def least_strings(self, stock: Stock) -> int:
        """A number that the strings of this battery do not stay below; quick to work out."""
        for_energy = self.hold_wh / stock.string_wh if stock.string_wh else 0.0
        for_current = self.continuous_a / stock.battery.continuous_current
        for_surge = self.surge_a / stock.peak_a
        return max(1, math.ceil(max(for_energy, for_current, for_surge) - ROUNDING))

    def least(self, stock: Stock, by: BankBy) -> float | None:
        """Price or mass that no bank of this battery stays below.

        None where it does not make the voltage or too many are needed.
        """
        battery, series = stock.battery, stock.series
        if not 1 <= series <= battery.most_in_series:
            return None
        strings = self.least_strings(stock)
        if strings > battery.most_in_parallel:
            return None
        return series * strings * (battery.price if by == CHEAPEST else battery.mass)

    def strings_of(self, battery: Battery) -> Strings | None:
        """How many of this battery; None where it cannot make the voltage."""
        try:
            series = sizing.batteries_in_series(self.system_v, battery.nominal)
        except ValueError:
            return None
        for_voltage = strings_for_voltage(
            self.continuous_a,
            battery.nominal * series,
            self.low_v,
            battery.resistance * series,
            self.cable_ohm,
        )
        for_current = step(
            "battery.running",
            sizing.parallel_for_current,
            self.continuous_a,
            battery.continuous_current,
        )
        held = self.surge_s <= battery.peak_time
        surge_each_a = battery.peak_current if held else battery.continuous_current
        bears_a = max(surge_each_a, battery.continuous_current)
        for_surge = step("battery.start", sizing.parallel_for_current, self.surge_a, bears_a)
        for_energy, string_ah, usable_wh = self._strings_for_energy(battery, series)
        # Where no number of strings would do, the check of the voltage says so later.
        for_voltage = for_voltage or 1
        return Strings(
            series=series,
            parallel=step(
                "battery.bank",
                sizing.strings_in_parallel,
                for_energy,
                for_current,
                for_surge,
                for_voltage,
            ),
            for_energy=for_energy,
            for_current=for_current,
            for_surge=for_surge,
            for_voltage=for_voltage,
            string_ah=string_ah,
            usable_wh=usable_wh,
        )

    def bank_of(self, battery: Battery, strings: Strings) -> BankPlan:
        """The bank of so many of this battery."""
        return BankPlan(
            battery=battery,
            series=strings.series,
            parallel=strings.parallel,
            energy=self.energy,
            usable_each_wh=strings.usable_wh,
            need_wh=self.energy.total_wh,
            mean_a=self.mean_a,
            string_ah=strings.string_ah,
            house_efficiency=self.house_efficiency,
            house_w=self.house_w,
            dc_w=self.dc_w,
            start_dc_w=self.start_dc_w,
            continuous_a=self.continuous_a,
            surge_a=self.surge_a,
            surge_s=self.surge_s,
            for_energy=strings.for_energy,
            for_current=strings.for_current,
            for_surge=strings.for_surge,
            for_voltage=strings.for_voltage,
            short_circuit_a=step(
                "fuse.short",
                bank_short_circuit_a,
                stated_short_circuit_a(battery.short_circuit, battery.capacity, battery.chemistry),
                strings.parallel,
            ),
            charge_limit_a=charge_limit_a(battery.charge_current, strings.parallel),
        )

    def _strings_for_energy(self, battery: Battery, series: int) -> tuple[int, float, float]:
        """Strings for the energy; the capacity that one then gives, and what may be used of it."""
        if not self.cold_share:  # so cold that nothing is known of it; its check says so
            return 1, battery.capacity, 0.0
        if not battery.kind.family.by_peukert:
            usable_wh = self._usable_wh(battery, series, battery.capacity)
            strings = step("battery.bank", sizing.parallel_for_energy, self.hold_wh, usable_wh)
            return strings, battery.capacity, usable_wh
        strings, string_ah, usable_wh = 1, 0.0, 0.0
        while strings < MOST_STRINGS:
            # Lead-acid gives less the faster it is emptied, so more strings also raise each share.
            string_ah, usable_wh = self.lead_string(battery, series, strings)
            held_wh = step("battery.bank", sizing.strings_hold_wh, usable_wh, strings)
            if held_wh >= self.hold_wh:
                break
            strings += 1
        return strings, string_ah, usable_wh

    def lead_string(self, battery: Battery, series: int, strings: int) -> tuple[float, float]:
        """Capacity of one of so many lead-acid strings, and what may be used of it [Ah, Wh]."""
        string_ah = step(
            "battery.string",
            sizing.peukert_capacity_ah,
            battery.capacity,
            LEAD_ACID_RATE_H,
            self.mean_a / strings,
            battery.peukert,
        )
        return string_ah, self._usable_wh(battery, series, string_ah)

    def _usable_wh(self, battery: Battery, series: int, capacity_ah: float) -> float:
        return step(
            "battery.string",
            sizing.usable_wh,
            battery.nominal * series,
            capacity_ah,
            battery.usable,
            self.cold_share,
            self.guide.planning.ageing,
        )


def draws_of(on: OnBank, energy: sizing.EnergyNeed) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Each load's power at the battery [W], and its energy over the days [Wh]; idle last."""
    by_ac = 1.0 + energy.conversion_wh / energy.ac_wh if energy.ac_wh else 1.0
    factors = [by_ac if each.factor is None else each.factor for each in on.draws]
    pairs = list(zip(on.draws, factors, strict=True))
    watts = [each.running_w * factor for each, factor in pairs]
    energy_wh = [each.energy_wh * factor for each, factor in pairs]
    idle_w = energy.idle_wh / (on.needs.nights * HOURS_ON)
    return (*watts, idle_w), (*energy_wh, energy.idle_wh)


def energy_of(on: OnBank, candidate: Candidate, supply: Supply) -> sizing.EnergyNeed:
    """Energy for the nights away, at the battery's terminals, by what takes it."""
    curve, units = supply.curve, candidate.units
    return step(
        "battery.need",
        sizing.energy_needed_wh,
        on.ac_wh,
        on.dc_wh,
        on.needs.nights,
        # Every unit idles; each then loses by its own share of the output.
        curve=LossCurve(units * curve.idle_w, curve.proportional, curve.quadratic_per_w),
        idle_hours=HOURS_ON,
        typical_ac_w=on.typical_ac_w / units if any(on.ac_wh) else 1.0,
    )
