"""The unit, worked out again: layout, power, start, battery current and energy."""

from collections.abc import Iterator
from itertools import product
from math import inf

from engine.model.needs import Load
from tests.recheck import tables
from tests.recheck.facts import NEAR, Facts, between, cold_share

MOST_LOADS_TRIED = 12


class Power(Facts):
    """Layout, unit and bank."""

    def layout_suits(self) -> Iterator[str]:
        service = self.needs.service
        if self.found["inverter"]["count"] != self.units:
            yield f"{self.layout} wants {self.units} units"
        if self.legs > service.legs:
            yield "it makes two legs for a panel with one"
        if self.needs.whole:
            passes = self.units if self.layout == "split-phase-pair" else self.unit.legs_passed
            passes = 1 if self.layout == "parallel-pair" else passes
            if self.layout == "sub-panel" or passes < service.legs:
                yield "it does not pass the whole service"
        if any(load.volts == 240 for load in self.needs.running) and self.legs != 2:
            yield "240 V must run on battery and the layout makes none"
        if self.layout == "split-phase-native" and self.unit.output != "split-phase":
            yield "this unit does not make two legs by itself"
        if self.layout == "split-phase-pair" and "split-phase" not in self.unit.pairs:
            yield "this unit cannot be one of a split-phase pair"
        if self.layout == "parallel-pair" and "parallel" not in self.unit.pairs:
            yield "this unit cannot be paralleled"
        if self.needs.mount not in self.unit.mounts:
            yield "its maker does not allow that position"

    def unit_carries(self) -> Iterator[str]:
        rated_w = between(self.unit.continuous, self.needs.ambient_c)
        if rated_w is None:
            yield "hotter than its maker allows"
            return
        able_w = rated_w * self.share
        warm = min(1.0, rated_w / self.unit.continuous[0][1])
        able_va = self.unit.apparent * warm * self.share
        margin = self.guide.planning.load_margin
        if not any(
            all(self._leg_holds(leg, able_w, able_va, margin) for leg in split)
            for split in self._splits()
        ):
            yield "no way to share the loads between the legs keeps its power and its start"

    def _leg_holds(
        self, leg: list[tuple[Load, float]], able_w: float, able_va: float, margin: float
    ) -> bool:
        watts = sum(load.running_w * part for load, part in leg)
        va = sum(self.va(load) * part for load, part in leg)
        steps = [(self.start_va(load) - self.va(load)) * part for load, part in leg]
        hardest = max(steps, default=0.0)
        starters = [load for (load, _), step in zip(leg, steps, strict=True) if step > NEAR]
        seconds = max((load.start_s for load in starters), default=0.0)
        surge = [power for duration, power in self.unit.surge if duration >= seconds] or [0.0]
        return (
            min(watts * margin, self._passed_w()) <= able_w + 1e-6
            and va <= able_va + 1e-6
            and va + hardest <= max(surge) * self.share + 1e-6
        )

    def _passed_w(self) -> float:
        """What the breaker of the panel that is there passes on each leg; else all [W]."""
        service = self.needs.service
        there = self.needs.whole and service.amps > tables.HOUSEHOLD_A
        return service.amps * 120.0 if there and self.legs == service.legs else inf

    def _splits(self) -> Iterator[tuple[list[tuple[Load, float]], ...]]:
        on_120 = [load for load in self.running if load.volts == 120]
        on_240 = [(load, 0.5) for load in self.running if load.volts == 240]
        if self.legs == 1:
            yield ([(load, 1.0) for load in on_120],)
            return
        if len(on_120) > MOST_LOADS_TRIED:  # the largest are tried every way, the rest in turns
            on_120.sort(key=self.va, reverse=True)
        free = min(len(on_120), MOST_LOADS_TRIED)
        for tried in product((0, 1), repeat=free):
            legs: tuple[list[tuple[Load, float]], ...] = (list(on_240), list(on_240))
            sums = [0.0, 0.0]
            for index, load in enumerate(on_120):
                at = tried[index] if index < free else int(sums[1] < sums[0])
                legs[at].append((load, 1.0))
                sums[at] += self.va(load)
            yield legs

    def bank_gives(self) -> Iterator[str]:
        battery, n = self.battery, self.parallel
        if abs(self.nominal_v / self.unit.dc_nominal - 1) > 0.08:
            yield f"a bank of {self.nominal_v:g} V on a unit for {self.unit.dc_nominal:g} V"
        if self.needs.bank_v not in (None, self.unit.dc_nominal):
            yield "not the bank voltage that was asked for"
        if self.on_48 and self.unit.dc_nominal != 48:
            yield "48 V loads on a bank of another voltage"
        if battery.chemistry != self.needs.chemistry:
            yield "another chemistry than was asked for"
        if self.series > battery.most_in_series or n > battery.most_in_parallel:
            yield "more batteries in a row or side by side than the maker allows"
        if self.needs.weather.coldest_c < battery.lowest_charge_temperature:
            yield "too cold for the battery to be charged"
        running_a = self.running_a()
        if running_a > battery.continuous_current * n * (1 + NEAR):
            yield f"{running_a:.0f} A for hours is above the bank's limit"
        start_a, seconds = self._start_a()
        held = battery.peak_current if seconds <= battery.peak_time else battery.continuous_current
        if start_a > max(held, battery.continuous_current) * n * (1 + NEAR):
            yield f"{start_a:.0f} A at the start is above the bank's limit"
        need_wh, gives_wh = self._energy_wh()
        if gives_wh < need_wh * (1 - 1e-6):
            yield f"{gives_wh:.0f} Wh for a need of {need_wh:.0f} Wh"

    def _start_a(self) -> tuple[float, float]:
        live = [load for load in self.running if load.volts == 120 or self.legs == 2]
        steps = [(self.start_va(load) - self.va(load), load.start_s) for load in live]
        va = sum(self.va(load) for load in live)
        # A load on 240 V starts half on either leg, so half of its step stands on one.
        halves = [0.5 if load.volts == 240 else 1.0 for load in live]
        worst = max((step * half for (step, _), half in zip(steps, halves, strict=True)), default=0)
        seconds = max((time for step, time in steps if step > NEAR), default=0.0)
        each_va = (va + worst) / self.units
        on_ac_a = (self.units * self.dc_w(each_va) + self.on_12) / self.low_v
        start_a = self.start_12 * self.per_12 / self.low_v
        on_12_a = self.running_a() + start_a if start_a else 0.0
        return max(on_ac_a, on_12_a), max(seconds, self.start_12_s)

    def _energy_wh(self) -> tuple[float, float]:
        daily = [
            (load, load.count * load.running_w * load.hours * load.duty)
            for load in self.needs.loads
        ]
        ac_wh = sum(wh for load, wh in daily if load.volts >= 120)
        dc_wh = sum(wh for load, wh in daily if load.volts == 12) * self.per_12
        dc_wh += sum(wh for load, wh in daily if load.volts == 48)
        a, b = self.loss
        typical_w = sum(load.running_w * wh for load, wh in daily if load.volts >= 120)
        typical_w = typical_w / ac_wh / self.units if ac_wh else 0.0
        a_day = ac_wh * (1 + a + b * typical_w) + self.units * self.unit.idle * 24 + dc_wh
        need_wh = a_day * self.needs.nights
        battery = self.battery
        capacity_ah = battery.capacity
        if battery.chemistry != "lifepo4":
            mean_a = self._mostly_a(daily, 1 + a + b * typical_w) / self.parallel
            hours = 20 * pow(capacity_ah / (mean_a * 20), battery.peukert)
            capacity_ah = min(capacity_ah, mean_a * hours)
        cold = cold_share(battery.chemistry, self.needs.weather.bank_c)
        ageing = self.guide.planning.ageing
        usable = capacity_ah * self.nominal_v * self.parallel * battery.usable * cold * ageing
        return need_wh, usable

    def _mostly_a(self, daily: list[tuple[Load, float]], per_ac: float) -> float:
        """Current at which most of the energy is drawn, idle included."""
        idle_w = self.units * self.unit.idle
        drawn = [(idle_w, idle_w * 24)]
        for load, wh in daily:
            factor = {12.0: self.per_12, 48.0: 1.0}.get(load.volts, per_ac)
            drawn.append((load.running_w * factor, wh * factor))
        return sum(w * wh for w, wh in drawn) / sum(wh for _, wh in drawn) / self.unit.dc_nominal
