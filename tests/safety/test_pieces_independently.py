"""The live pieces against a calculation of their own, for 200 seeded inputs each.

Nothing of the engine's sizing is used: formulas stand here, tables are those of the re-check.
"""

import html
import random
import re
from math import sqrt

import pytest

from engine.model.guide import Appliance, Guide
from engine.model.products import Battery, InverterCharger
from engine.pages.pieces.pieces import piece_html
from tests.recheck import tables
from tests.recheck.facts import between, loss, ohm_per_m

INPUTS = 200
AIR_C = 35.0  # 95 °F, the guide's default
INSULATION_C = 105.0
DROP_SHARE = 0.03  # ABYC E-11 11.14.2.6 (secondary)
FUSE_FACTOR = 1.25  # common practice, no source
SOFT_SHARE = 0.5  # logged starts (secondary), the low end
LEAST_TIMES = 3.0  # common practice, no source
AGEING = 0.9  # common practice, no source
RATE_H = 20.0
LARGE_A = (225, 250, 300, 350, 400, 450, 500, 600, 700, 800)  # NEC 240.6(A), above 200 A
ROW = re.compile(r'<tr><th scope="row">(.*?)</th>(.*?)</tr>')
CELL = re.compile(r"<td>(.*?)</td>")
FAULT = re.compile(r'class="rig-piece-fault">(.*?)</p>')


def rows(drawn: str) -> dict[str, list[str]]:
    """The table of a piece by the heads of its rows."""
    text = html.unescape(drawn).replace("\xa0", " ")
    return {head: CELL.findall(cells) for head, cells in ROW.findall(text)}


def figure(text: str) -> float:
    """The first figure of a text."""
    found = re.match(r"[\d,.]+", text)
    assert found is not None, text
    return float(found[0].replace(",", ""))


def good(drawn: str) -> bool:
    """Whether the piece says that it will do."""
    return "Works" in drawn


def seeded(name: str) -> random.Random:
    return random.Random(f"safety {name}")


def test_cable_and_its_fuse(guide: Guide) -> None:
    """Ohm's law over both conductors at their heat; ampacity 33 CFR 183.425; fuse NEC 240.6(A)."""
    rng, seen = seeded("drop"), set()
    sizes = sorted({each.awg for each in guide.catalogue.cables if each.use == "dc"})
    for _ in range(INPUTS):
        amps, feet = rng.randint(1, 600), rng.randint(1, 100)
        bank, size = rng.choice((12, 24, 48)), rng.choice(sizes)
        drawn = piece_html(
            guide,
            "drop",
            {
                "current": f"{amps} A",
                "length": f"{feet} ft",
                "bank": f"{bank}V",
                "size": size,
            },
        )
        fuse_a = min(
            each for each in (*tables.STANDARD_A, *LARGE_A) if each >= FUSE_FACTOR * amps - 1e-9
        )
        for name, cells in rows(drawn).items():
            own = name.removesuffix(" AWG")
            carries_a = tables.DC_105_A[own] * sqrt((INSULATION_C - AIR_C) / 75.0)
            share = min(amps, carries_a) / carries_a
            hot_c = AIR_C + (INSULATION_C - AIR_C) * share**2
            drop_v = 2 * amps * feet * 0.3048 * ohm_per_m(own, hot_c)
            assert figure(cells[0]) == pytest.approx(drop_v, rel=0.002, abs=0.006)
            assert figure(cells[1]) == pytest.approx(carries_a, abs=0.51)
            thin, lossy = carries_a < fuse_a, drop_v > DROP_SHARE * bank
            verdict = "too thin for the fuse" if thin else "drops too much" if lossy else "works"
            assert cells[2] == verdict, (amps, feet, bank, own)
            seen.add(verdict)
            if own == size:
                assert good(drawn) == (verdict == "works")
                assert (f"a fuse of {fuse_a} A" in html.unescape(drawn).replace("\xa0", " ")) == (
                    not (lossy and not thin)
                )
    assert len(seen) == 3


def test_start_and_running_on(guide: Guide) -> None:
    """Locked rotor and fan times volts, halved by a soft starter; running load in the heat."""
    rng, seen = seeded("start"), set()
    motors = [each for each in guide.appliances if each.locked_rotor and each.volts == 120]
    for _ in range(INPUTS):
        load, unit = rng.choice(motors), rng.choice(guide.catalogue.inverters)
        plate = rng.choice(("", *(f"{rng.randint(5, 150)} A" for _ in range(4))))
        soft = rng.choice(("yes", "no")) if load.soft_startable else "no"
        drawn = piece_html(
            guide, "start", {"load": load.id, "plate": plate, "soft": soft, "unit": unit.id}
        )
        running_a = load.running / load.power_factor / 120.0
        if plate and figure(plate) < LEAST_TIMES * running_a:
            assert "RLA" in FAULT.findall(drawn)[0], (load.id, plate)
            assert not good(drawn)
            seen.add("refused")
            continue
        assert FAULT.findall(drawn) == []
        start_va, held_va = asked_va(load, plate, soft), surge_va(unit, load.start_time)
        assert figure(rows(drawn)["At start-up"][0]) == pytest.approx(start_va, rel=0.005)
        lasting_w = between(unit.continuous, AIR_C) or 0.0
        does = start_va <= held_va + 1e-9 and load.running <= lasting_w
        assert good(drawn) == does, (load.id, plate, soft, unit.id)
        seen.add("does" if does else "weak" if load.running > lasting_w else "stalls")
    assert seen == {"refused", "does", "weak", "stalls"}


def asked_va(load: Appliance, plate: str, soft: str) -> float:
    locked_a = figure(plate) + load.fan if plate else load.locked_rotor
    return locked_a * 120.0 * (1.0 - SOFT_SHARE if soft == "yes" else 1.0)


def surge_va(unit: InverterCharger, seconds: float) -> float:
    """The shortest listed time that is not shorter."""
    return next((va for lasts_s, va in sorted(unit.surge) if lasts_s >= seconds), 0.0)


def test_hours_and_what_each_battery_must_deliver(guide: Guide) -> None:
    """Energy over draw; Peukert for lead; current at the unit's lowest voltage."""
    rng, seen = seeded("hours"), set()
    pairs = [
        (battery, unit, series)
        for battery in guide.catalogue.batteries
        for unit in guide.catalogue.inverters
        for series in (1, 2, 4, 8)
        if series_of(battery, unit) == series <= battery.most_in_series
    ]
    for _ in range(INPUTS):
        battery, unit, series = rng.choice(pairs)
        strings = rng.randint(1, battery.most_in_parallel)
        watts, percent = rng.randint(20, 4000), rng.randint(1, 100)
        drawn = piece_html(
            guide,
            "hours",
            {
                "battery": battery.id,
                "count": str(strings * series),
                "power": f"{watts} W",
                "share": f"{percent} %",
                "unit": unit.id,
            },
        )
        assert FAULT.findall(drawn) == []
        cells = rows(drawn)[f"{strings * series} ×"]
        hours, each_a = lasting(battery, unit, strings, series, watts, percent / 100)
        assert figure(cells[0]) == pytest.approx(hours, rel=0.002, abs=0.051)
        assert figure(cells[1]) == pytest.approx(each_a, rel=0.002, abs=0.51)
        over = each_a > battery.continuous_current
        assert ("more than each can deliver" in cells[1]) == over, (battery.id, each_a)
        weak = watts > (between(unit.continuous, AIR_C) or 0.0)
        assert good(drawn) == (not over and not weak), (battery.id, unit.id, watts)
        seen |= {("over", over), ("weak", weak)}
    assert len(seen) == 4


def series_of(battery: Battery, unit: InverterCharger) -> int:
    """Batteries in series for the unit's voltage; a class of 12 V has four or six cells."""
    cell_v = 3.2 if battery.chemistry == "lifepo4" else 2.0
    cells = round(battery.nominal / cell_v)
    wanted = round(unit.dc_nominal / 12.0) * (4 if battery.chemistry == "lifepo4" else 6)
    return wanted // cells if wanted % cells == 0 else 0


def lasting(
    battery: Battery,
    unit: InverterCharger,
    strings: int,
    series: int,
    watts: float,
    share: float,
) -> tuple[float, float]:
    """Hours, and the current of each battery while the load runs."""
    a, b = loss(unit)
    running_w = watts + unit.idle + a * watts + b * watts * watts
    draw_w = share * running_w + (1 - share) * unit.idle
    bank_v = battery.nominal * series
    capacity_ah = battery.capacity
    if battery.chemistry != "lifepo4":
        mean_a = draw_w / bank_v / strings
        given_ah = mean_a * RATE_H * (battery.capacity / (mean_a * RATE_H)) ** battery.peukert
        capacity_ah = min(capacity_ah, given_ah)
    usable_wh = strings * bank_v * capacity_ah * battery.usable * AGEING
    return usable_wh / draw_w, running_w / unit.low_voltage_cutoff / strings
