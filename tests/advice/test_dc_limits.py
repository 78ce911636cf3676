"""What stands against what in the checks of the DC side, by hand, and the bars that it needs."""

from dataclasses import replace

import pytest

from engine.advice.plan.branches import Branches, Feed, feed_check
from engine.advice.plan.dc_run import main_run
from engine.advice.plan.dc_shelf import Run
from engine.advice.plan.dc_side import plan_dc
from engine.model.guide import Guide
from engine.standards import awg
from tests.advice.conftest import (
    AIRCON,
    COACH,
    COOKING,
    SIDE_BY_SIDE,
    SOME,
    TWO_AIRCONS,
    VAN,
    MakeCase,
    with_shelf,
)
from tests.reader import published

OHM_PER_M = {
    size: ohm / 304.8 for size, ohm in published("resistance_nec_ch9_table8")["stranded"].items()
}
"""At 75 °C, from ohms per 1,000 ft."""
LONG = f"{COOKING} bank=12V cable=20ft"
ROAD_AND_SUN = "solar=400W alt=180A drive=2h"
TWO_STRINGS = "rig=rig-30 scope=whole heavy=1 biggest=aircon-13k5 softstart=no bank=12V"


@pytest.mark.parametrize("text", [VAN, COOKING, COACH, TWO_AIRCONS, f"{COOKING} bank=48V"])
def test_the_cable_is_held_to_the_fuse_that_guards_it(case: MakeCase, text: str) -> None:
    """A cable carries what its fuse passes for hours, not only what the unit draws: NEC 240.4."""
    found = case(text)
    dc = found.design.dc
    checks = [each for each in found.best.checks if each.id == "cable"]
    assert [(each.value, each.limit) for each in checks] == [(dc.fuse.rating, dc.cable.ampacity_a)]
    assert checks[0].value > dc.current_a


@pytest.mark.parametrize("volts", [12.0, 24.0, 48.0])
def test_what_a_cable_loses_stands_against_3_percent_of_the_voltage(
    case: MakeCase, volts: float
) -> None:
    """There and back through the thickest that the unit takes, NEC chapter 9 table 8, at 105 °C by
    0.00393 a kelvin from 20 °C; 3 % is common practice, no source."""
    found = case(f"{COOKING} bank={volts:.0f}V")
    needs = replace(found.needs, cable_m=200.0)
    none, checks = plan_dc(
        found.candidate, found.supply, found.design.bank, Branches(found.guide, needs)
    )
    assert none is None
    (failed,) = (each for each in checks if not each.passed)
    unit, current_a = found.candidate.inverter, found.design.dc.current_a
    runs = min(2, unit.dc_lugs_per_stud)
    thickest = unit.dc_largest_awg
    warmer = (1 + 0.00393 * 85) / (1 + 0.00393 * 55)
    drop_v = current_a * 2 * 200.0 * OHM_PER_M[thickest] * warmer / runs
    assert (failed.id, failed.unit) == ("cable", "V")
    assert failed.limit == pytest.approx(0.03 * volts)
    assert failed.value == pytest.approx(drop_v, rel=0.01)


@pytest.mark.parametrize("beside", range(4))
@pytest.mark.parametrize(("text", "runs"), [(COOKING, 1), (LONG, 2)])
def test_each_cable_of_a_run_has_two_lugs_on_the_stud_that_takes_four(
    case: MakeCase, text: str, runs: int, beside: int
) -> None:
    """Four terminals on a stud, ABYC E-11 (from memory): two cables in parallel fill it."""
    found = case(text)
    design, factor = found.design, found.guide.planning.fuse_factor
    asked = Run(design.dc.current_a, design.dc.highest_v, 5_000.0, factor)
    strong = replace(design.bank.battery, continuous_current=1_000.0)
    bank = replace(design.bank, battery=strong, parallel=1)
    loads = (design.dc.bank_a, beside)
    main, _ = main_run(found.guide, found.needs, found.candidate, bank, asked, loads)
    assert main is not None and main.cable.runs == runs
    assert (main.strings.fuse is not None) is (beside > {1: 2, 2: 0}[runs])


@pytest.mark.parametrize(
    ("text", "strings", "bars"),
    [
        (VAN, 1, 0),
        (SOME, 1, 0),
        (COOKING, 3, 2),
        (TWO_STRINGS, 2, 2),
        (f"{TWO_STRINGS} {ROAD_AND_SUN}", 2, 3),
        (LONG, 3, 3),
        (TWO_AIRCONS, 3, 3),
        (SIDE_BY_SIDE, 5, 2),
    ],
)
def test_there_are_as_many_busbars_as_cables_meet_in_places(
    case: MakeCase, text: str, strings: int, bars: int
) -> None:
    """Kirchhoff's current law at the shunt: the batteries' negatives meet ahead of it, the loads'
    behind it, and they may not share a bar; the positives have one of their own."""
    design = case(text).design
    assert design.bank.parallel == strings
    on_bars = {
        (each.label, stud)
        for each in design.dc.conductors
        for stud in each.studs
        if design.dc.busbar and stud == design.dc.busbar.stud
    }
    assert bool(on_bars) is bool(bars)
    assert 2 * design.dc.bar_pairs == bars + bars % 2
    listed = sum(line.quantity for line in design.parts if line.group == "busbar")
    assert listed == design.dc.bar_pairs


def test_without_a_cable_what_hangs_on_the_bank_is_carried_by_nothing(
    guide: Guide, case: MakeCase
) -> None:
    needs = case(COOKING).needs
    feed = Feed(12.0, 11.0, 14.6, 1e4)
    for thickest, carried in (("4/0", True), ("14", False)):
        cables = tuple(
            each
            for each in guide.catalogue.cables
            if each.use != "dc" or awg.rank(each.awg) <= awg.rank(thickest)
        )
        branches = Branches(with_shelf(guide, cables=cables), needs).of(feed)
        (house,) = (each for each in branches if each.id == "house")
        assert (house.cable is not None) is carried
        (check,) = feed_check(guide, feed, branches)
        assert check.value == pytest.approx(1.25 * house.current_a)
        assert check.passed is carried
        assert carried or check.limit == 0.0


@pytest.mark.parametrize("text", [AIRCON, COOKING])
def test_a_run_asks_for_a_fuse_of_a_quarter_more_and_a_switch_of_as_much(
    case: MakeCase, text: str
) -> None:
    """NEC 210.20(A) for 1.25, by analogy: what each check asks, and what the part is good for."""
    found = case(text)
    dc = found.design.dc
    assert found.check("fuse").value == pytest.approx(1.25 * dc.current_a)
    assert found.check("fuse").limit == dc.fuse.rating
    assert found.check("disconnect").value == pytest.approx(1.25 * dc.bank_a)
    assert found.check("disconnect").limit == dc.disconnect.rating


@pytest.mark.parametrize(("text", "units"), [(VAN, 1), (TWO_AIRCONS, 2)])
def test_a_single_string_behind_busbars_has_a_fuse_of_its_own(
    case: MakeCase, text: str, units: int
) -> None:
    """Two units have their fuses behind the busbars: nothing else guards what lies before them."""
    found = case(text)
    assert found.candidate.units == units
    design, factor = found.design, found.guide.planning.fuse_factor
    asked = Run(100.0, design.dc.highest_v, 5_000.0, factor)
    strong = replace(design.bank.battery, continuous_current=1_000.0)
    bank = replace(design.bank, battery=strong, parallel=1)
    main, _ = main_run(found.guide, found.needs, found.candidate, bank, asked, (200.0, 0))
    assert main is not None
    assert (main.strings.fuse is not None) is (units > 1)


def test_where_no_short_piece_carries_the_only_string_the_set_up_is_refused(
    guide: Guide, case: MakeCase
) -> None:
    """Two cables of 4/0 at 30 °C carry 890 A, 33 CFR 183.425 table 5; the main fuse is smaller."""
    found = case(VAN)
    strong = tuple(replace(each, rating=9_000.0) for each in guide.catalogue.disconnects)
    shelf = with_shelf(guide, disconnects=strong)
    needs = replace(found.needs, ambient_c=30.0)
    asked = Run(100.0, 14.6, 5_000.0, guide.planning.fuse_factor)
    for bank_a, carried in ((880.0, True), (900.0, False)):
        loads = (bank_a, 0)
        main, checks = main_run(shelf, needs, found.candidate, found.design.bank, asked, loads)
        assert (main is not None) is carried
        failed = [(each.id, each.value, each.limit) for each in checks if not each.passed]
        assert failed == ([] if carried else [("cable", bank_a, 0.0)])


def test_short_pieces_may_be_of_the_thickest_cable_of_the_shelf(
    guide: Guide, case: MakeCase
) -> None:
    found = case(COOKING)
    thick = tuple(each for each in guide.catalogue.cables if each.use != "dc" or each.awg == "4/0")
    unit = replace(found.candidate.inverter, dc_largest_awg="4/0")
    candidate = replace(found.candidate, inverter=unit)
    shelf = with_shelf(guide, cables=thick)
    dc, _ = plan_dc(candidate, found.supply, found.design.bank, Branches(shelf, found.needs))
    assert dc is not None
    assert {dc.cable.size, dc.link.size, dc.trunk.size} == {"4/0"}


@pytest.mark.parametrize("kind", ["disconnects", "fuses", "fuse_holders", "monitors", "busbars"])
def test_what_just_bears_the_highest_voltage_and_no_less_will_do(
    guide: Guide, case: MakeCase, kind: str
) -> None:
    """16 cells of 3.65 V are 58.4 V (trade tables)."""
    found = case(f"{COOKING} bank=48V")
    highest_v = found.design.dc.highest_v
    assert highest_v == pytest.approx(58.4)
    for volts, does in ((highest_v, True), (highest_v - 0.1, False)):
        low = tuple(replace(each, volts=volts) for each in getattr(guide.catalogue, kind))
        bank = replace(found.design.bank, parallel=2)
        shelf = with_shelf(guide, **{kind: low})
        dc, _ = plan_dc(found.candidate, found.supply, bank, Branches(shelf, found.needs))
        parts = {"monitors": dc and dc.monitor, "busbars": dc and dc.busbar}
        assert bool(parts.get(kind, dc)) is does


@pytest.mark.parametrize(
    ("ratings", "volts", "limit_a", "passes"),
    [
        ((100.0, 250.0, 500.0), 32.0, 250.0, True),
        ((100.0, 249.0, 200.0), 32.0, 249.0, False),
        ((100.0, 300.0), 14.0, 0.0, False),
        ((), 32.0, 0.0, False),
    ],
)
def test_the_switch_carries_a_quarter_more_or_the_strongest_that_bears_the_voltage_is_told(
    guide: Guide,
    case: MakeCase,
    ratings: tuple[float, ...],
    volts: float,
    limit_a: float,
    passes: bool,
) -> None:
    """NEC 210.20(A) for 1.25, by analogy: 200 A ask for 250 A, and just that will do."""
    found = case(VAN)
    like = guide.catalogue.disconnects[0]
    switches = tuple(
        replace(like, id=f"s{rating}", rating=rating, volts=volts, price=rating)
        for rating in ratings
    )
    asked = Run(100.0, 14.6, 5_000.0, guide.planning.fuse_factor)
    shelf = with_shelf(guide, disconnects=switches)
    _, checks = main_run(shelf, found.needs, found.candidate, found.design.bank, asked, (200.0, 0))
    (check,) = (each for each in checks if each.id == "disconnect")
    assert (check.value, check.limit, check.passed) == (250.0, limit_a, passes)
