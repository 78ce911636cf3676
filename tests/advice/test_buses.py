"""Loads on 12 V, on one leg and on both: each is sized where its current flows; none is lost."""

from dataclasses import replace
from pathlib import Path
from typing import Any, get_args, get_type_hints

import pytest

from engine.advice.judge.runs import runs_of
from engine.advice.plan.charging import hourly_load_w
from engine.advice.plan.house import dc_loads_of
from engine.links import fragment_of, read_pairs
from engine.model.buses import BUSES, DC, LEG, LEGS, bus_of, bus_of_volts
from engine.model.guide import Appliance, Guide
from engine.model.result import Design
from engine.needs import load_of, needs_of
from guide.fault import ContentError
from guide.load import load_guide
from tests.advice.conftest import COACH, COOKING, Case, MakeCase, with_shelf
from tests.guide.shops import edited

ROOFTOP_W = 720.0  # 60 A on 12 V, invented
LIGHT = "loads=fridge-12v,lights,pump,microwave"
"""12 V in small, and a heavy load on 120 V."""


def rooftop(guide: Guide, **more: Any) -> Guide:
    """The guide with one invented appliance more: a rooftop air conditioner on 12 V."""
    made = Appliance(
        id="rooftop-12v",
        name="Rooftop on 12 V",
        plain="invented",
        volts=12,
        running=ROOFTOP_W,
        power_factor=1.0,
        hours=4.0,
        duty=0.5,
        heavy=True,
        at_once=False,
        locked_rotor=0.0,
        start_time=0.0,
        soft_startable=False,
        hour_of_day=14,
        caution="",
        source="invented",
    )
    return replace(guide, appliances=(*guide.appliances, replace(made, **more)))


def pair(case: MakeCase, shelf: Guide, text: str) -> tuple[Case, Case]:
    """The same answers without and with the rooftop."""
    return case(f"{COOKING} {text} {LIGHT}", shelf), case(
        f"{COOKING} {text} {LIGHT},rooftop-12v", shelf
    )


@pytest.fixture(scope="module")
def shelf(guide: Guide) -> Guide:
    return rooftop(guide)


def test_what_is_heavy_on_12_v_runs_at_once_and_not_through_the_inverter(
    case: MakeCase, shelf: Guide
) -> None:
    without, found = pair(case, shelf, "bank=12V")
    assert "rooftop-12v" in {load.id for load in found.needs.running}
    assert dc_loads_of(found.needs) == dc_loads_of(without.needs) + ROOFTOP_W
    assert "microwave" in {load.id for load in found.needs.running}
    assert found.design.supply.legs == without.design.supply.legs
    assert found.design.ac == without.design.ac


def test_it_raises_the_current_of_the_bank_and_of_all_that_carries_it(
    case: MakeCase, shelf: Guide
) -> None:
    without, found = pair(case, shelf, "bank=12V")
    bank, dc, before = found.design.bank, found.design.dc, without.design
    more_a = ROOFTOP_W / dc.low_v
    assert bank.continuous_a == pytest.approx(before.bank.continuous_a + more_a)
    assert bank.surge_a == pytest.approx(before.bank.surge_a + more_a)
    assert dc.bank_a == pytest.approx(before.dc.bank_a + more_a)
    assert dc.current_a == before.dc.current_a  # the unit's own run carries none of it
    assert dc.disconnect.rating >= 1.25 * dc.bank_a  # common practice, no source
    assert dc.monitor is not None and dc.monitor.rating >= dc.bank_a
    assert dc.busbar is not None and dc.busbar.rating >= dc.bank_a
    assert dc.trunk.ampacity_a >= dc.fuse.rating


def test_switch_shunt_and_busbars_grow_where_the_old_ones_no_longer_bear_it(
    case: MakeCase, shelf: Guide
) -> None:
    without = case(f"{COOKING} bank=12V {LIGHT}", shelf).design.dc
    found = case(f"{COOKING} bank=12V {LIGHT},rooftop-12v*3", shelf).design.dc
    assert found.disconnect.rating > without.disconnect.rating
    assert found.monitor is not None and without.monitor is not None
    assert found.monitor.rating > without.monitor.rating
    assert found.shared and found.busbar is not None
    assert found.busbar.rating >= 1.25 * found.bank_a


def house(design: Design) -> float:
    return next(each.current_a for each in design.dc.branches if each.id == "house")


def test_the_feed_of_the_fuse_panel_bears_it(case: MakeCase, shelf: Guide) -> None:
    without, found = pair(case, shelf, "bank=12V house=none")
    branch = next(each for each in found.design.dc.branches if each.id == "house")
    assert house(without.design) == shelf.planning.house_feed
    running_a = dc_loads_of(found.needs) / found.design.dc.low_v
    assert branch.current_a == pytest.approx(running_a)
    assert running_a > shelf.planning.house_feed
    assert branch.fuse is not None and branch.fuse.rating >= 1.25 * running_a
    assert branch.cable is not None and branch.cable.ampacity_a >= branch.fuse.rating


def test_its_energy_counts_each_day_and_in_the_hours_in_which_it_runs(
    case: MakeCase, shelf: Guide
) -> None:
    without, found = pair(case, shelf, "bank=12V nights=1")
    day_wh = ROOFTOP_W * 4.0 * 0.5
    need, before = found.design.bank.energy, without.design.bank.energy
    assert need.dc_wh == pytest.approx(before.dc_wh + day_wh)
    assert need.ac_wh == before.ac_wh
    hours = hourly_load_w(found.needs, found.design)
    assert sum(hours) == pytest.approx(need.total_wh)
    assert min(hours[14:18]) > max(hours[8:13])


@pytest.mark.parametrize("bank_v", [24, 48])
def test_the_converter_of_another_bank_bears_it_or_a_check_fails(
    case: MakeCase, guide: Guide, bank_v: int
) -> None:
    smaller = rooftop(guide, running=360.0)
    without, found = pair(case, smaller, f"bank={bank_v}V house=none")
    for each, rating_a in ((without, 28.0), (found, 56.0)):
        check = each.check("step-down")
        assert check.passed and check.value == dc_loads_of(each.needs)
        assert check.limit == rating_a * 12.0
        (line,) = (line for line in each.design.parts if line.group == "step-down")
        assert line.product == f"stepdown-{bank_v}v-{rating_a:.0f}a"
        assert house(each.design) == rating_a
    _, none = pair(case, rooftop(guide), f"bank={bank_v}V house=none")
    assert none.outcome.best is None
    stopped = [
        each for each in none.outcome.considered if [c.id for c in each.failed] == ["step-down"]
    ]
    assert stopped
    (check,) = stopped[0].failed
    assert (check.limit, check.unit) == (56.0 * 12.0, "W")


def test_a_motor_on_12_v_counts_with_its_start(case: MakeCase, guide: Guide) -> None:
    motor = rooftop(guide, locked_rotor=300.0, start_time=0.8)
    calm = case(f"{COOKING} bank=12V loads=fridge-12v,microwave,rooftop-12v", rooftop(guide))
    found = case(f"{COOKING} bank=12V loads=fridge-12v,microwave,rooftop-12v", motor)
    bank = found.design.bank
    assert bank.continuous_a == calm.design.bank.continuous_a
    step_w = 300.0 * 12.0 - ROOFTOP_W
    assert bank.start_dc_w == pytest.approx(bank.dc_w + step_w)
    assert bank.surge_a > calm.design.bank.surge_a
    assert bank.surge_s == 0.8
    assert found.design.supply == calm.design.supply


def test_the_converter_must_bear_the_start_since_it_limits_its_current(
    case: MakeCase, guide: Guide
) -> None:
    motor = rooftop(guide, running=120.0, locked_rotor=50.0, start_time=0.8)
    text = f"{COOKING} bank=24V house=none loads=fridge-12v,microwave,rooftop-12v"
    found = case(text, motor)
    assert found.check("step-down").value == 55.0 + 50.0 * 12.0  # the refrigerator's 55 W
    assert found.check("step-down").limit == 56.0 * 12.0


def test_a_buffer_gives_the_start_that_no_converter_bears(case: MakeCase, guide: Guide) -> None:
    """By hand: 480 W and 55 W run; the start of 100 A at 12 V is 720 W more, 60 A."""
    text = f"{COOKING} bank=24V house=none loads=fridge-12v,microwave,rooftop-12v"
    motor = rooftop(guide, running=480.0, locked_rotor=100.0, start_time=0.8)
    found = case(text, motor)
    assert found.check("step-down").value == 480.0 + 55.0
    (line,) = (line for line in found.design.parts if line.group == "buffer")
    assert line.product == "buffer-60"
    without = case(text, with_shelf(motor, buffers=()))
    assert without.outcome.best is None
    slow = tuple(replace(each, time=0.5) for each in guide.catalogue.buffers)
    assert case(text, with_shelf(motor, buffers=slow)).outcome.best is None
    assert not [
        line
        for line in case(text.replace("24V", "12V"), motor).design.parts
        if line.group == "buffer"
    ]


def test_it_is_no_load_of_the_inverter_in_what_can_run(case: MakeCase, shelf: Guide) -> None:
    _, found = pair(case, shelf, "bank=12V")
    runs = runs_of(shelf, found.needs, found.design)
    said = {*runs.alone, *runs.never, *runs.dead, *(name for two in runs.together for name in two)}
    assert "Rooftop on 12 V" not in said
    assert "Microwave oven" in runs.alone


@pytest.mark.parametrize(
    ("ending", "bus"), [("", LEG), (":dc", DC), (":leg", LEG), (":legs", LEGS)]
)
def test_an_own_load_is_sized_on_the_bus_that_was_typed(
    guide: Guide, case: MakeCase, ending: str, bus: object
) -> None:
    text = COACH.replace("v240=no", "v240=yes" if bus is LEGS else "v240=no")
    found = case(f"{text} loads=tv,thing:900W:2h{ending}")
    own = next(load for load in found.needs.running if load.name == "thing")
    assert own.bus is bus
    assert dc_loads_of(found.needs) == (900.0 if bus is DC else 0.0)
    on_legs = [leg.loads.count("thing") for leg in found.design.supply.legs]
    expected = {DC: 0, LEG: 1, LEGS: 2}[own.bus]
    assert sum(on_legs) == expected
    assert found.design.bank.energy.dc_wh == (1800.0 if bus is DC else 0.0)
    again = read_pairs(guide, fragment_of(guide, found.answers).split("&"))
    assert again.values["loads"] == found.answers.values["loads"]


def test_a_listed_load_on_240_v_counts_once_however_few_watts_it_has(guide: Guide) -> None:
    answers = read_pairs(guide, f"{COACH} loads=dryer-240:300W".split())
    assert [load.id for load in needs_of(guide, answers).running] == ["dryer-240"]


def test_a_bus_that_nothing_handles_is_refused() -> None:
    with pytest.raises(ValueError, match="one of dc, dc48, leg, legs, got 'hvdc'"):
        bus_of("hvdc")
    with pytest.raises(ValueError, match="one of 12, 48, 120, 240 V, got 96"):
        bus_of_volts(96)


def test_every_voltage_that_content_may_write_has_its_bus_and_no_other(guide: Guide) -> None:
    written = get_args(get_type_hints(Appliance)["volts"])
    assert set(written) == {bus.volts for bus in BUSES.values()}
    with pytest.raises(ValueError, match="got 96"):
        load_of(replace(guide.appliances[0], volts=96), 1)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        (
            "volts: 12\n",
            "volts: 96\n",
            "“96” is not one of the choices. Use one of: 12, 48, 120, 240.",
        ),
        (
            "  locked_rotor: 0 A\n  start_time: 0 s\n  source: 40",
            "  locked_rotor: 20 A\n  start_time: 0.5 s\n  soft_startable: true\n  source: 40",
            "soft starters are for motors on AC",
        ),
    ],
)
def test_content_that_hangs_a_load_on_the_wrong_bus_is_told(
    tmp_path: Path, old: str, new: str, told: str
) -> None:
    with pytest.raises(ContentError) as caught:
        load_guide(edited(tmp_path, ("loads.yaml", old, new)))
    assert told in str(caught.value)
    assert "loads.yaml:" in str(caught.value)
