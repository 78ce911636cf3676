"""Air conditioners and water heaters on DC: past the inverter, and in all that carries them."""

from dataclasses import replace

import pytest

from engine.advice.plan.house import dc_start_of, on_dc
from engine.model.buses import DC, DC48
from tests.advice.conftest import COOKING, Case, MakeCase

LIGHT = "loads=fridge-12v,lights,pump,microwave"


def pair(case: MakeCase, bank: str, load: str) -> tuple[Case, Case]:
    """The same answers without and with a load."""
    return case(f"{COOKING} {bank} {LIGHT}"), case(f"{COOKING} {bank} {LIGHT},{load}")


@pytest.mark.parametrize(
    ("bank", "load"),
    [
        ("bank=12V", "aircon-12v"),
        ("bank=12V", "water-heater-12v"),
        ("bank=48V", "aircon-48v"),
        ("bank=12V", "heat:600W:3h:dc"),
        ("bank=48V", "heat:600W:3h:dc48"),
    ],
)
def test_a_heavy_load_on_dc_raises_the_bank_and_not_the_inverter(
    case: MakeCase, bank: str, load: str
) -> None:
    without, found = pair(case, bank, load)
    assert found.best.candidate == without.best.candidate
    assert found.design.supply == without.design.supply
    assert found.design.dc.current_a == without.design.dc.current_a
    heavy = next(each for each in found.needs.running if each not in without.needs.running)
    low_v = found.design.dc.low_v
    more_a = heavy.running_w / low_v
    assert found.design.bank.continuous_a == pytest.approx(
        without.design.bank.continuous_a + more_a
    )
    assert found.design.dc.bank_a == pytest.approx(without.design.dc.bank_a + more_a)
    assert found.design.dc.disconnect.rating >= 1.25 * found.design.dc.bank_a
    assert found.design.dc.monitor is not None
    assert found.design.dc.monitor.rating >= found.design.dc.bank_a
    day_wh = heavy.running_w * heavy.hours * heavy.duty
    need, before = found.design.bank.energy, without.design.bank.energy
    assert need.dc_wh == pytest.approx(before.dc_wh + day_wh)
    assert need.ac_wh == before.ac_wh


def test_a_load_on_48_v_has_a_fused_branch_with_a_switch_on_the_list(case: MakeCase) -> None:
    found = case(f"{COOKING} bank=48V {LIGHT},aircon-48v")
    (branch,) = (each for each in found.design.dc.branches if each.id == "dc48")
    assert branch.current_a == pytest.approx(1100.0 / found.design.dc.low_v)
    assert branch.fuse is not None and branch.fuse.rating >= 1.25 * branch.current_a
    assert branch.fuse.volts >= found.design.dc.highest_v
    assert branch.cable is not None and branch.cable.ampacity_a >= branch.fuse.rating
    assert branch.switch is not None and branch.switch.rating >= 1.25 * branch.current_a
    groups = {line.group for line in found.design.parts}
    assert {"dc48-fuse", "dc48-cable", "dc48-switch"} <= groups


def test_a_load_on_48_v_chooses_a_bank_of_48_v_and_no_other_can_feed_it(case: MakeCase) -> None:
    assert case(f"{COOKING} {LIGHT},aircon-48v").best.candidate.inverter.dc_nominal == DC48.volts
    none = case(f"{COOKING} bank=24V {LIGHT},aircon-48v")
    assert none.outcome.best is None
    failed = {check.id for each in none.outcome.considered for check in each.failed}
    assert "dc-voltage" in failed


def test_a_converter_to_12_v_must_bear_an_air_conditioner_there(case: MakeCase) -> None:
    """360 W of 12 V heat and the refrigerator's 55 W ask for the larger converter."""
    _, found = pair(case, "bank=48V", "heat:360W:3h:dc")
    assert found.check("step-down").value >= 360.0 + 55.0
    assert found.check("step-down").passed


@pytest.mark.parametrize("turned", [False, True])
def test_of_two_motors_on_12_v_the_harder_start_counts(case: MakeCase, *, turned: bool) -> None:
    """By hand: 40 A at 12 V less 120 W are 360 W for half a second, 20 A less 60 W 180 W."""
    needs = case(f"{COOKING} bank=12V {LIGHT}").needs
    like = next(load for load in needs.running if load.bus is DC)
    hard = replace(like, running_w=120.0, locked_rotor_a=40.0, start_s=0.5)
    long = replace(like, running_w=60.0, locked_rotor_a=20.0, start_s=3.0)
    running = (long, hard) if turned else (hard, long)
    assert dc_start_of(replace(needs, running=running)) == (360.0, 0.5)
    assert dc_start_of(replace(needs, running=(long,))) == (180.0, 3.0)
    assert dc_start_of(replace(needs, running=())) == (0.0, 0.0)


def test_something_hangs_on_12_v_where_a_load_or_the_rig_itself_does(case: MakeCase) -> None:
    needs = case(f"{COOKING} bank=12V {LIGHT}").needs
    on_12_v = tuple(load for load in needs.loads if load.bus is DC)
    assert on_12_v
    for house_v, loads, hangs in ((0.0, (), False), (12.0, (), True), (0.0, on_12_v, True)):
        assert on_dc(replace(needs, house_v=house_v, loads=loads)) is hangs
