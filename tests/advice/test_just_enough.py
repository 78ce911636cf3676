"""Of every kind of part: what bears just what is asked for is taken, and nothing that bears less.

Of several that bear it, what is in stock goes before what is not, then the cheaper one.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import pytest

from engine.advice.plan.branches import Branches, Feed, alternator_charger
from engine.advice.plan.cooling import plan_cooling
from engine.advice.plan.dc_shelf import Run, fuse_of
from engine.advice.plan.house import step_down
from engine.advice.plan.house_side import house_side_of
from engine.advice.plan.parts import known_parts, parts_of
from engine.advice.plan.parts_on_ac import ac_needs_of, parts_on_ac, wiring_of
from engine.advice.plan.parts_on_voltage import parts_on_voltage
from engine.advice.plan.shelf import cable_for, ferrule_for
from engine.advice.plan.solar import solar_plan
from engine.advice.plan.supply import soft_starter_for
from engine.model.buses import LEG
from engine.model.guide import Guide
from engine.model.products import FuseHolder, Product
from engine.model.result import DcPlan
from tests.advice.conftest import (
    AIRCON,
    COOKING,
    SOME,
    TWO_AIRCONS,
    VAN,
    Case,
    MakeCase,
    with_shelf,
)
from tests.advice.test_dc_side import plan

HAIR = 0.999


@dataclass(frozen=True)
class Kind:
    """A kind of part: its shelf, answers that ask for one, and which is taken for them.

    asked : what the part must bear at least, by its field
    taken : the part of a shelf that is taken, by its id; "" where none is
    like : what else a part must be to be asked for at all
    most : whether what is asked for is a most that the part may take, not a least
    """

    shelf: str
    text: str
    asked: Callable[[Case], Mapping[str, float]]
    taken: Callable[[Case, Guide], str]
    like: Callable[[Case], Mapping[str, Any]] = lambda _: {}
    most: bool = False


def _dc(pick: Callable[[DcPlan], Product | None]) -> Callable[[Case, Guide], str]:
    def taken(found: Case, shelf: Guide) -> str:
        made, _ = plan(found, shelf)
        part = pick(made) if made else None
        return part.id if part else ""

    return taken


def _strongest_holder(found: Case) -> FuseHolder:
    return max(found.guide.catalogue.fuse_holders, key=lambda each: (each.volts, each.largest))


def _bank(found: Case) -> Mapping[str, float]:
    """NEC 210.20(A) by analogy: 1.25 times what flows for long."""
    return {"rating": 1.25 * found.design.dc.bank_a, "volts": found.design.dc.highest_v}


def _listed(group: str) -> Callable[[Case, Guide], str]:
    def taken(found: Case, shelf: Guide) -> str:
        needs, design = found.needs, found.design
        bank_v = found.candidate.inverter.dc_nominal
        on_voltage = parts_on_voltage(shelf, needs, bank_v)
        on_ac = parts_on_ac(
            shelf, ac_needs_of(needs, bank_v), wiring_of(found.candidate), design.ac
        )
        of = (on_ac, design.cooling, on_voltage)
        known = known_parts(shelf, needs, found.candidate, of)
        listed = parts_of(shelf, needs, found.candidate, (known, design.bank, design.dc))
        (line,) = (each for each in listed if each.group == group)
        return line.product

    return taken


def _branch_switch(found: Case, shelf: Guide) -> str:
    feed = Feed(12.0, 11.0, 14.6, 10_000.0)
    (house,) = (each for each in Branches(shelf, found.needs).of(feed) if each.id == "house")
    return house.switch.id if house.switch else ""


def _controller(found: Case, shelf: Guide) -> str:
    panels = replace(found.guide.catalogue.solar_panels[0], rated=120.0, open_circuit=24.0)
    solar = solar_plan(with_shelf(shelf, solar_panels=(panels,)), found.needs, 24.0)
    return solar.controller.id if solar else ""


def _converter(found: Case, shelf: Guide) -> str:
    part = step_down(shelf, found.needs, 24.0)
    return part.id if part else ""


def _charger(found: Case, shelf: Guide) -> str:
    part = alternator_charger(shelf, found.needs, 24.0)
    return part.id if part else ""


def _main_fuse(_: Case, shelf: Guide) -> str:
    fused = fuse_of(shelf, Run(100.0, 58.4, 20_000.0, 1.25))[0]
    return fused[0].id if fused else ""


def _main_holder(found: Case, shelf: Guide) -> str:
    fuse = replace(
        found.guide.catalogue.fuses[0], family="x", rating=125.0, volts=58.4, interrupt=20_000.0
    )
    fused, _ = fuse_of(with_shelf(shelf, fuses=(fuse,)), Run(100.0, 58.4, 20_000.0, 1.25))
    return fused[1].id if fused else ""


def _fan_of(found: Case, shelf: Guide) -> str:
    fan = plan_cooling(shelf, found.needs, found.candidate, found.supply).fan
    return fan.id if fan else ""


def _cable(_: Case, shelf: Guide) -> str:
    part = cable_for(shelf, "dc", "2", 1)
    return part.id if part else ""


def _ferrule(_: Case, shelf: Guide) -> str:
    part = ferrule_for(shelf, "6", 0.012)
    return part.id if part else ""


def _soft_starter(found: Case, shelf: Guide) -> str:
    motor = replace(found.needs.running[0], running_w=1200.0, power_factor=1.0, bus=LEG)
    needs = replace(found.needs, running=(replace(motor, soft_startable=True),))
    part = soft_starter_for(shelf, needs)
    return part.id if part else ""


def _house_battery(found: Case, shelf: Guide) -> str:
    side = house_side_of(shelf, found.needs, 24.0)
    return side.battery.id if side and side.battery else ""


KINDS = {
    # 100 A for long ask for 125 A by a factor of 1.25.
    "fuse": Kind(
        "fuses",
        VAN,
        lambda _: {"rating": 125.0, "volts": 58.4, "interrupt": 20_000.0},
        _main_fuse,
        lambda found: {"family": _strongest_holder(found).family},
    ),
    "holder": Kind(
        "fuse_holders",
        VAN,
        lambda _: {"largest": 125.0, "volts": 58.4},
        _main_holder,
        lambda _: {"family": "x"},
    ),
    "cable": Kind(
        "cables",
        VAN,
        lambda _: {},
        _cable,
        lambda _: {"use": "dc", "awg": "2", "conductors": 1},
    ),
    "ferrule": Kind(
        "ferrules", VAN, lambda _: {}, _ferrule, lambda _: {"awg": "6", "barrel": 0.012}
    ),
    "fan": Kind("fans", f"{VAN} mount=sideways", lambda _: {"volts": 12.0}, _fan_of),
    # 1,200 W at 120 V are 10 A.
    "soft starter": Kind(
        "soft_starters", AIRCON, lambda _: {"largest_running": 10.0}, _soft_starter
    ),
    "battery that stays": Kind(
        "batteries",
        f"{COOKING} bank=24V",
        lambda _: {},
        _house_battery,
        lambda _: {"chemistry": "agm", "nominal": 12.0, "most_in_parallel": 99},
    ),
    "shunt": Kind("monitors", TWO_AIRCONS, _bank, _dc(lambda dc: dc.monitor)),
    "busbars": Kind("busbars", TWO_AIRCONS, _bank, _dc(lambda dc: dc.busbar)),
    "switch": Kind("disconnects", TWO_AIRCONS, _bank, _dc(lambda dc: dc.disconnect)),
    "switch of a branch": Kind(
        "disconnects",
        f"{COOKING} bank=12V house=none",
        lambda found: {"rating": 1.25 * found.guide.planning.house_feed, "volts": 14.6},
        _branch_switch,
    ),
    "panel": Kind(
        "sub_panels",
        SOME,
        lambda found: {"rating": found.design.ac.output_a},
        _listed("sub-panel"),
        lambda _: {"legs": 1},
    ),
    "pre-charge": Kind("precharges", VAN, lambda _: {"volts": 12.0}, _listed("precharge")),
    # 480 W of panels of 120 W in pairs are 20 A on 24 V: P = U · I.
    "solar controller": Kind(
        "solar_controllers",
        f"{VAN} solar=480W",
        lambda _: {"current": 20.0},
        _controller,
        lambda _: {"largest_input": 100.0},
    ),
    # 240 W on 12 V are 20 A.
    "converter": Kind(
        "step_downs",
        f"{VAN} loads=microwave,heat:240W:1h:dc",
        lambda _: {"current": 20.0},
        _converter,
        lambda _: {"input": 24.0, "output": 12.0, "charges": False},
    ),
    # Half of an alternator's rating for long, common practice: 90 A of 180 A.
    "alternator charger": Kind(
        "alternator_chargers",
        f"{VAN} alt=180A drive=2h",
        lambda _: {"current": 45.0},
        _charger,
        lambda _: {"input": 12.0, "output": 24.0, "efficiency": 1.0},
        most=True,
    ),
}


@pytest.mark.parametrize("name", KINDS)
def test_what_bears_just_what_is_asked_for_is_taken_and_a_hair_less_is_not(
    guide: Guide, case: MakeCase, name: str
) -> None:
    kind = KINDS[name]
    found = case(kind.text)
    first: Any = getattr(guide.catalogue, kind.shelf)[0]
    asked = kind.asked(found)
    just = replace(first, id="just", **{**kind.like(found), **asked})
    assert kind.taken(found, with_shelf(guide, **{kind.shelf: (just,)})) == "just"
    for field, value in asked.items():
        short = replace(just, **{field: value / HAIR if kind.most else value * HAIR})
        assert kind.taken(found, with_shelf(guide, **{kind.shelf: (short,)})) == "", field


@pytest.mark.parametrize("name", KINDS)
def test_of_several_that_bear_it_the_cheapest_is_taken_and_first_what_is_in_stock(
    guide: Guide, case: MakeCase, name: str
) -> None:
    kind = KINDS[name]
    found = case(kind.text)
    first: Any = getattr(guide.catalogue, kind.shelf)[0]
    made = {**kind.like(found), **kind.asked(found), "stock": "in-stock"}
    cheap = replace(first, id="cheap", price=10.0, **made)
    dear = replace(first, id="dear", price=20.0, **made)
    out = replace(cheap, stock="out-of-stock")
    for shelf, taken in (
        ((cheap, dear), "cheap"),
        ((dear, cheap), "cheap"),
        ((out, dear), "dear"),
        ((out,), "cheap"),
    ):
        assert kind.taken(found, with_shelf(guide, **{kind.shelf: shelf})) == taken
