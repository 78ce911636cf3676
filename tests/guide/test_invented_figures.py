"""The demo's figures follow the rules that stand above them, so they are those of no real series.

The rules are the demo's own: invented, no source. What of them physics asks is tested besides.
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import floor
from typing import Any

import pytest

from engine.model.products import Article, InverterCharger
from tests.guide.shops import demo


@dataclass(frozen=True)
class Make:
    """What one family of inverter/chargers adds to the common rules.

    surge: shares of the apparent power for 1 s and for 30 s
    idle, mass: a fixed part [W, kg], and one for each VA or kVA
    """

    surge: tuple[float, float]
    idle: tuple[float, float]
    mass: tuple[float, float]


MAKES = {
    "tall": Make((1.9, 1.4), (4.0, 0.0056), (3.0, 4.9)),
    "flat": Make((1.9, 1.4), (4.0, 0.0056), (2.5, 4.6)),
    "twin": Make((1.9, 1.4), (8.0, 0.0056), (4.0, 5.0)),
    "split": Make((1.85, 1.35), (10.0, 0.0046), (6.0, 5.9)),
    "small": Make((1.75, 1.3), (3.0, 0.006), (1.5, 4.3)),
}
CONTINUOUS = {30.0: 0.84, 45.0: 0.74, 60.0: 0.58}
LOADS = (0.05, 0.25, 0.5, 0.84)
BY_VOLTS = {12.0: (1.0, 0.03, 0.085), 24.0: (0.92, 0.027, 0.07), 48.0: (0.84, 0.024, 0.056)}
"""By battery voltage: share of the idle draw, loss in proportion to the load, to its square."""
UNITS = tuple(pytest.param(each, id=each.id) for each in demo().catalogue.inverters)
BARS_MM2 = (20 * 3, 25 * 4, 30 * 5, 40 * 6, 50 * 6.5)
AMPERES_OF_CONTACTS = {35.0: 44.0, 60.0: 40.0, 75.0: 40.0, 210.0: 36.0}


def nearest(value: float, step: float = 1.0) -> float:
    """The nearest multiple of the step, a half upward."""
    return step * floor(value / step + 0.5)


def told(value: float) -> float:
    """Watts or volt-amperes as they are told: three figures."""
    return nearest(value, 10 if value < 10_000 else 100)


def family_of(unit: InverterCharger) -> str:
    return unit.id.partition("-")[0]


@pytest.mark.parametrize("unit", UNITS)
def test_the_output_of_a_unit_follows_its_rule(unit: InverterCharger) -> None:
    va, make = unit.apparent, MAKES[family_of(unit)]
    assert unit.continuous == tuple((at, told(k * va)) for at, k in CONTINUOUS.items())
    one_s, thirty_s = make.surge
    assert unit.surge == ((1.0, told(one_s * va)), (30.0, told(thirty_s * va)))


@pytest.mark.parametrize("unit", UNITS)
def test_the_losses_of_a_unit_follow_its_rule(unit: InverterCharger) -> None:
    va, (fixed_w, each_va_w) = unit.apparent, MAKES[family_of(unit)].idle
    share, straight, square = BY_VOLTS[unit.dc_nominal]
    idle_w = share * (fixed_w + each_va_w * va)
    assert unit.idle == nearest(idle_w)
    assert unit.search == nearest(0.26 * idle_w)
    loads_w = [told(load * va) for load in LOADS]
    assert [at_w for at_w, _ in unit.efficiency] == loads_w
    for load_w, (_, stands) in zip(loads_w, unit.efficiency, strict=True):
        lost_w = idle_w + straight * load_w + square * load_w**2 / va
        assert stands == pytest.approx(nearest(load_w / (load_w + lost_w), 0.01))


@pytest.mark.parametrize("unit", UNITS)
def test_charger_capacitors_and_weight_of_a_unit_follow_its_rule(unit: InverterCharger) -> None:
    va, (fixed_kg, each_kva_kg) = unit.apparent, MAKES[family_of(unit)].mass
    assert unit.charge_current == floor(va / 2 / (14.4 * unit.dc_nominal / 12))
    assert unit.input_capacitance == pytest.approx(nearest(0.08 * va / unit.dc_nominal) / 1000)
    assert unit.mass == pytest.approx(nearest(fixed_kg + each_kva_kg * va / 1000, 0.5))


@pytest.mark.parametrize("unit", UNITS)
def test_a_unit_could_be_built(unit: InverterCharger) -> None:
    """What its charger draws it may also give, and idling loses no more than a light load does."""
    volts = 14.4 * unit.dc_nominal / 12
    drawn_va = unit.charge_current * volts / unit.charge_efficiency / unit.charge_power_factor
    assert drawn_va <= unit.apparent
    assert drawn_va / 120 <= unit.pass_through * unit.legs_passed
    load_w, share = unit.efficiency[0]
    assert unit.idle <= load_w * (1 / share - 1)


@pytest.mark.parametrize("unit", UNITS)
def test_id_and_name_of_a_unit_say_what_it_is(unit: InverterCharger) -> None:
    family, volts, va = family_of(unit), unit.dc_nominal, unit.apparent
    assert unit.id == f"{family}-{volts:g}v-{va:g}va"
    assert unit.name == f"{family.capitalize()} {va:g}, {volts:g} V"


def column(kind: str, *names: str) -> list[tuple[Any, ...]]:
    """These fields of each article of a kind."""
    shelf: Iterable[Article] = getattr(demo().catalogue, kind)
    return [tuple(getattr(each, name) for name in names) for each in shelf]


def amps_of_watts(watts: float, volts: float) -> Callable[[float], float]:
    """The whole amperes of so many watts at so many volts of a 12 V battery, by battery voltage."""
    return lambda battery_v: floor(watts / (volts * battery_v / 12))


def test_solar_controllers_follow_their_rule() -> None:
    rows = column("solar_controllers", "current", "largest_input", "mass")
    currents = [floor(19.5 * 1.65**place) for place in range(len(rows))]
    assert rows == [
        (a, 110.0 if a <= 40 else 165.0, pytest.approx(nearest(0.2 + 0.037 * a, 0.1)))
        for a in currents
    ]


def test_chargers_and_converters_follow_their_rule() -> None:
    small, large = amps_of_watts(400, 14.4), amps_of_watts(650, 14.4)
    assert column("alternator_chargers", "output", "current") == [
        (12.0, small(12)), (12.0, large(12)), (24.0, large(24)), (48.0, large(48)),
    ]  # fmt: skip
    plain = [amps_of_watts(watts, 12.8)(12) for watts in (360, 720)]
    charging = [amps_of_watts(watts, 14.4)(12) for watts in (250, 400, 650, 1000)]
    assert sorted(column("step_downs", "charges", "input", "current")) == [
        *((False, volts, amps) for volts in (24.0, 48.0) for amps in plain),
        *((True, 24.0, amps) for amps in charging),
        *((True, 48.0, amps) for amps in charging[1:]),
    ]


def test_busbars_and_shunts_follow_their_rule() -> None:
    rated = [(10 * floor(0.28 * area_mm2),) for area_mm2 in BARS_MM2]
    assert column("busbars", "rating") == rated
    assert column("monitors", "rating") == [(10 * floor(34 * 1.75**place),) for place in range(3)]


def test_battery_switches_have_whole_pairs_of_contacts() -> None:
    rows = column("disconnects", "rating", "volts")
    assert {volts for _, volts in rows} == set(AMPERES_OF_CONTACTS)
    for rating, volts in rows:
        pairs = rating / AMPERES_OF_CONTACTS[volts]
        assert pairs == int(pairs) and 1 <= pairs <= 22, (rating, volts)


def test_batteries_of_six_volts_follow_their_rule() -> None:
    rows = [each for each in demo().catalogue.batteries if each.nominal == 6.0]
    rule = {"agm": (0.2, 0.024), "flooded": (0.13, 0.0205)}
    assert {each.chemistry for each in rows} == set(rule)
    for each in rows:
        rate, kg_each_wh = rule[each.chemistry]
        assert each.charge_current == nearest(rate * each.capacity)
        assert each.mass == pytest.approx(nearest(kg_each_wh * 6 * each.capacity))


def test_large_batteries_of_12_v_follow_their_rule() -> None:
    rows = [
        each
        for each in demo().catalogue.batteries
        if each.chemistry == "lifepo4" and each.nominal == 12.8 and each.capacity > 300
    ]
    assert len(rows) == 2
    for each in rows:
        ah = each.capacity
        assert each.price == nearest(3.55 * ah, 5)
        assert each.mass == pytest.approx(nearest(0.11 * ah, 0.5))
        assert each.continuous_current == nearest(0.62 * ah, 10)
        assert each.peak_current == 2 * each.continuous_current
        assert each.charge_current == ah / 2
        assert each.resistance == pytest.approx(nearest(780 / ah, 0.1) / 1000)
        assert each.short_circuit == nearest(each.nominal / each.resistance, 100)


def test_what_is_no_longer_sold_has_a_successor_and_no_figures_of_its_own() -> None:
    sold = {each.id: each for each in (*demo().catalogue.inverters, *demo().catalogue.batteries)}
    assert demo().discontinued
    for each in demo().discontinued:
        assert each.successor in sold, each.id
        models = [one for one in sold.values() if type(one) is type(each)]
        own = {name: getattr(each, name) for name in ("mass", "charge_current", "price")}
        assert any(all(getattr(one, k) == v for k, v in own.items()) for one in models), each.id
