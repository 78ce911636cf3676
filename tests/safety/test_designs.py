"""Fuses with room to spare, a fuse for each battery in parallel, studs that are not crowded."""

from collections import Counter

import pytest

from engine.model.guide import Guide
from engine.model.result import Design
from tests.pages.conftest import DETAILED, Case, case_of

# 3,733 A of a 60 Ah pack, worked out from its cells' data sheet (forum calculation, seen).
LITHIUM_A_PER_AH = 3733.0 / 60.0
LARGE_INTERRUPT_A = 20_000.0  # ABYC E-11 11.10.1.2 (secondary)
MOST_LUGS = 4  # ABYC E-11, from memory
LINKS = (
    *DETAILED,
    ("rig=van/scope=some/heavy=0/", "bank=12V"),
    ("rig=van/scope=whole/heavy=1/biggest=cooking/", "bank=12V&solar=800W&alt=200A&drive=2h"),
    ("rig=rig-30/scope=whole/heavy=1/biggest=cooking/", "bank=12V&cable=20ft&solar=400W"),
    ("rig=rig-30/scope=whole/heavy=1/biggest=cooking/", "bank=24V&chemistry=flooded&solar=200W"),
    ("rig=coach-50/scope=whole/heavy=2/biggest=aircon-13k5/softstart=no/v240=no/", "solar=800W"),
    ("rig=coach-50/scope=some/heavy=1/biggest=cooking/v240=no/", "bank=48V&alt=200A&drive=2h"),
)


@pytest.fixture(scope="module")
def designs(guide: Guide) -> list[Case]:
    """Designs of every voltage, with and without strings in parallel, branches and two units."""
    found = [case_of(guide, *link) for link in LINKS]
    assert all(found)
    return [case for case in found if case]


def short_a(design: Design) -> float:
    """Short circuit of the bank, worked out here."""
    battery = design.bank.battery
    each_a = battery.short_circuit
    if battery.chemistry == "lifepo4":
        each_a = max(each_a, 0.995 * LITHIUM_A_PER_AH * battery.capacity)
    return each_a * design.bank.parallel


def test_no_fuse_at_a_bank_is_without_room_to_spare(designs: list[Case]) -> None:
    """A quarter over the short circuit, common practice, no source; or 20 kA, E-11."""
    for case in designs:
        design = case.design
        own = [each.fuse for each in design.dc.branches if each.fused and each.id != "starter"]
        for fuse in (design.dc.fuse, design.dc.battery_fuse, *own):
            if fuse is None:
                continue
            least_a = min(1.25 * short_a(design), LARGE_INTERRUPT_A)
            assert fuse.interrupt >= least_a, (case.link, fuse.name)
            assert fuse.interrupt >= LARGE_INTERRUPT_A or fuse.interrupt > short_a(design)


def test_every_battery_in_parallel_has_its_fuse_and_a_lone_string_none(
    designs: list[Case],
) -> None:
    seen = set()
    for case in designs:
        bank, dc = case.design.bank, case.design.dc
        fused = bank.parallel > 1 or dc.shared  # busbars lie ahead of the main fuse
        assert dc.battery_fuses == (bank.parallel if fused else 0), case.link
        seen.add(bank.parallel > 1)
        if dc.battery_fuse:
            assert dc.battery_fuse.rating <= dc.link.ampacity_a, case.link
    assert seen == {True, False}


def test_what_lies_ahead_of_a_fuse_is_said_with_its_length_and_has_a_sleeve(
    guide: Guide, designs: list[Case]
) -> None:
    """Two pieces of 0.4 m for two units, one else: below 40 in, 33 CFR 183.455(b)(2)."""
    seen = set()
    for case in designs:
        dc, units = case.design.dc, case.design.candidate.units
        assert dc.unfused_m == pytest.approx(0.8 if units > 1 else 0.4), case.link
        own_a = dc.battery_fuse.rating if dc.battery_fuse else 0.0
        assert dc.fed_a == own_a * case.design.bank.parallel, case.link
        notes = {each.caution.id: each for each in case.advice.cautions}
        assert ("busbars-fed" in notes) == (dc.fed_a > dc.trunk.ampacity_a), case.link
        if "busbars-fed" in notes:
            assert ("31.5 in" if units > 1 else "15.7 in") in notes["busbars-fed"].do
        seen.add((units, "busbars-fed" in notes))
    assert {(1, True), (1, False), (2, True)} <= seen
    assert guide.planning.link_m * 2 <= 40 * 0.0254


def lugs_by_stud(design: Design) -> Counter[str]:
    """Lugs on each stud that several cables share, worked out from counts alone."""
    dc, bank, units = design.dc, design.bank, design.candidate.units
    at_bank = sum(
        each.cable.runs
        for each in dc.branches
        if each.cable and each.fused and each.id != "starter"
    )
    found: Counter[str] = Counter()
    loads = dc.cable.runs * units + at_bank
    found["shunt, load side"] = dc.trunk.runs + (dc.trunk.runs if dc.load_bar else loads)
    found["shunt, battery side"] = dc.trunk.runs
    if not dc.shared:
        found["battery, positive"] = dc.trunk.runs + at_bank
    found["battery, between two in series"] = dc.link.runs
    found["switch"] = max(dc.trunk.runs, dc.cable.runs * units)
    found["unit"] = dc.cable.runs
    assert bank.count
    return found


def test_no_stud_takes_more_than_four_lugs(designs: list[Case]) -> None:
    """From memory of ABYC E-11; a busbar where more would meet."""
    bars, none = 0, 0
    for case in designs:
        found = lugs_by_stud(case.design)
        assert {stud: n for stud, n in found.items() if n > MOST_LUGS} == {}, case.link
        bars += case.design.dc.load_bar
        none += not case.design.dc.load_bar
    assert bars and none


def test_bars_on_both_sides_of_the_shunt_are_two_pairs(designs: list[Case]) -> None:
    for case in designs:
        dc, bank = case.design.dc, case.design.bank
        lines = [line for line in case.design.parts if line.group == "busbar"]
        pairs = sum(line.quantity for line in lines)
        both = dc.load_bar and bank.parallel > 1
        assert pairs == (2 if both else 1 if dc.shared else 0), case.link


@pytest.mark.parametrize(
    ("path", "each"),
    [
        ("rig=coach-50/scope=whole/heavy=1/biggest=cooking/v240=no/", 12.0),
        ("rig=coach-50/scope=whole/heavy=2/biggest=aircon-13k5/softstart=no/v240=no/", 12.0),
    ],
)
def test_one_hot_wire_of_a_30_a_post_carries_24_a_in_all(
    guide: Guide, path: str, each: float
) -> None:
    """NEC 210.20(A): 0.8 · 30 A in one wire, so half of it on each of two legs or units."""
    case = case_of(guide, path, "shore=30A")
    assert case is not None
    shore = case.advice.charging.shore
    through = case.design.ac.poles * case.design.candidate.units
    assert (shore.input_limit_a, shore.legs, through) == (24.0, 1, 2)
    assert each * through == shore.input_limit_a


def test_panels_and_12_v_circuits_have_a_switch_that_bears_them(designs: list[Case]) -> None:
    """1.25 over lasting current, common practice; 1.56 over the panels', NEC 690, from memory."""
    seen = set()
    for case in designs:
        for branch in case.design.dc.branches:
            if branch.id not in ("solar", "house", "dc48"):
                assert branch.switch is None, case.link
                continue
            seen.add(branch.id)
            assert branch.switch is not None, case.link
            if branch.id in ("house", "dc48"):
                assert branch.switch.rating >= 1.25 * branch.current_a
            line = next(each for each in case.design.parts if each.group == f"{branch.id}-switch")
            assert (line.product, line.quantity) == (branch.switch.id, 1)
    assert seen == {"solar", "house", "dc48"}
