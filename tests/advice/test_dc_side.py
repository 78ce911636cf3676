"""Fuse, cable, switch, links and bond of a design, and what is said where the shelf lacks one."""

from dataclasses import replace

import pytest

from engine.advice.plan.branches import Branches, Feed, branch_conductors, feed_check
from engine.advice.plan.dc_run import _cable_fault, main_run
from engine.advice.plan.dc_shelf import Run
from engine.advice.plan.dc_side import plan_dc
from engine.model.guide import Guide
from engine.model.result import Check, DcPlan
from engine.sizing.ampacity import dc_ampacity_a
from engine.sizing.inverter import constant_power_current_a
from engine.standards import awg
from tests.advice.conftest import AIRCON, COOKING, TWO_AIRCONS, VAN, Case, MakeCase, with_shelf

BIG_BANK = f"{COOKING} bank=12V nights=4"
TWO_STRINGS = "rig=rig-30 scope=whole heavy=1 biggest=aircon-13k5 softstart=no"


def plan(found: Case, shelf: Guide) -> tuple[DcPlan | None, tuple[Check, ...]]:
    return plan_dc(found.candidate, found.supply, found.design.bank, Branches(shelf, found.needs))


@pytest.mark.parametrize("text", [VAN, COOKING, TWO_AIRCONS, BIG_BANK, f"{COOKING} cable=30ft"])
def test_the_fuse_lies_between_the_current_and_what_the_cable_carries(
    case: MakeCase, text: str
) -> None:
    """Never above the corrected ampacity: common practice, no source (the law allows 150 %)."""
    dc = case(text).design.dc
    assert 1.25 * dc.current_a <= dc.fuse.rating <= dc.cable.ampacity_a
    assert dc.cable.drop_fraction <= 0.03


def test_the_current_is_that_of_the_full_output_at_the_lowest_voltage(case: MakeCase) -> None:
    found = case(COOKING)
    dc, unit = found.design.dc, found.candidate.inverter
    assert dc.low_v == unit.low_voltage_cutoff
    assert dc.current_a == pytest.approx(dc.unit_dc_w / unit.low_voltage_cutoff)
    assert dc.unit_w > max(leg.demand.real_w for leg in found.supply.legs)
    on_12_v = sum(load.running_w for load in found.needs.running if load.volts == 12)
    behind_w = on_12_v / found.design.bank.house_efficiency
    assert dc.bank_a == pytest.approx(dc.current_a + behind_w / dc.low_v)


@pytest.mark.parametrize("ambient", ["20C", "40C", "55C"])
def test_fuse_switch_and_shunt_follow_the_nameplate_and_the_cable_the_hottest_air(
    case: MakeCase, ambient: str
) -> None:
    """NEC 210.20(A) for 1.25, by analogy; a derated unit gives all of it on a cool morning."""
    found = case(f"{COOKING} ambient={ambient}")
    dc, unit = found.design.dc, found.candidate.inverter
    assert dc.unit_w == unit.continuous[0][1]
    assert dc.hot_w == found.supply.continuous_w
    assert (dc.hot_a < dc.current_a) == (found.needs.ambient_c > 25.0)
    assert dc.fuse.rating >= 1.25 * dc.current_a
    assert dc.disconnect.rating >= 1.25 * dc.bank_a
    assert dc.monitor is not None
    assert dc.monitor.rating >= 1.25 * dc.bank_a
    assert dc.cable.ampacity_a >= dc.fuse.rating


@pytest.mark.parametrize(
    ("chemistry", "highest_v"), [("flooded", 24 * 2.58), ("agm", 24 * 2.52), ("lifepo4", 16 * 3.65)]
)
def test_parts_bear_equalizing_and_the_correction_for_cold(
    case: MakeCase, chemistry: str, highest_v: float
) -> None:
    """Flooded 48 V equalizes at 62 V; AGM at 0 °C is 2.42 V and 25 times 4 mV a cell (from memory);
    LiFePO4 3.65 V at most (trade tables)."""
    dc = case(f"{COOKING} bank=48V chemistry={chemistry}").design.dc
    assert dc.highest_v == pytest.approx(highest_v)
    assert dc.monitor is not None
    bars = (dc.busbar,) if dc.busbar else ()
    for part in (dc.disconnect, dc.fuse, dc.holder, dc.monitor, *bars):
        assert part.volts >= highest_v, part.id


def test_a_fuse_that_cannot_stop_the_bank_is_passed_over(guide: Guide, case: MakeCase) -> None:
    found = case(BIG_BANK)
    assert found.design.bank.short_circuit_a > 10_000.0
    assert found.design.dc.fuse.interrupt >= 20_000.0
    weak = tuple(each for each in guide.catalogue.fuses if each.interrupt < 20_000.0)
    without, checks = plan(found, with_shelf(guide, fuses=weak))
    assert without is None
    assert [(check.id, check.value, check.limit) for check in checks] == [
        ("fuse", 20_000.0, max(each.interrupt for each in weak))
    ]


def test_where_every_fuse_is_too_small_the_largest_is_named(guide: Guide, case: MakeCase) -> None:
    found = case(f"{COOKING} bank=12V")
    small = tuple(each for each in guide.catalogue.fuses if each.rating <= 150.0)
    without, checks = plan(found, with_shelf(guide, fuses=small))
    assert without is None
    assert checks[0].limit == 150.0
    assert checks[0].value == pytest.approx(1.25 * found.design.dc.current_a)


def test_a_fuse_without_a_holder_is_of_no_use(guide: Guide, case: MakeCase) -> None:
    found = case("rig=van scope=some heavy=0 bank=12V chemistry=agm loads=lights,phones")
    family = found.design.dc.fuse.family
    holders = tuple(each for each in guide.catalogue.fuse_holders if each.family != family)
    other, _ = plan(found, with_shelf(guide, fuse_holders=holders))
    assert other is not None
    assert other.fuse.family != family
    none, checks = plan(found, with_shelf(guide, fuse_holders=()))
    assert none is None
    assert not checks[0].passed


def test_a_fuse_must_bear_the_charging_voltage(guide: Guide, case: MakeCase) -> None:
    """16 cells of 3.65 V (trade tables) are 58.4 V, above a fuse for 32 V."""
    found = case(f"{COOKING} bank=48V")
    assert found.design.dc.fuse.volts >= 58.4
    assert found.design.dc.disconnect.volts >= 58.4
    low = tuple(replace(each, volts=58.0) for each in guide.catalogue.fuses)
    assert plan(found, with_shelf(guide, fuses=low))[0] is None
    lead = case(f"{COOKING} bank=48V chemistry=agm")
    assert lead.design.dc.fuse.volts >= 24 * 2.45


def test_a_parallel_bank_above_500_ah_has_a_fuse_for_each_battery(case: MakeCase) -> None:
    """ABYC E-11, July 2025 (secondary)."""
    found = case(BIG_BANK)
    dc, bank = found.design.dc, found.design.bank
    assert bank.capacity_ah > 500.0
    assert bank.parallel > 1
    assert dc.battery_fuse is not None
    assert dc.battery_fuses == bank.parallel
    assert dc.string_a == min(bank.battery.continuous_current, dc.bank_a)
    assert 1.25 * dc.string_a <= dc.battery_fuse.rating <= dc.link.ampacity_a
    assert dc.battery_fuse.interrupt >= min(bank.short_circuit_a, 20_000.0)
    assert dc.battery_holder is not None
    assert dc.battery_holder.largest >= dc.battery_fuse.rating


def test_without_one_for_each_battery_the_set_up_is_refused(guide: Guide, case: MakeCase) -> None:
    found = case(BIG_BANK)
    main_only = tuple(
        each for each in guide.catalogue.fuses if each.rating == found.design.dc.fuse.rating
    )
    strong = replace(
        found.design.bank,
        battery=replace(found.design.bank.battery, continuous_current=10_000.0),
    )
    # Each string may then carry the whole current, plus what runs on 12 V.
    without, checks = plan_dc(
        found.candidate,
        found.supply,
        strong,
        Branches(
            with_shelf(guide, fuses=main_only),
            replace(found.needs, running=found.needs.running * 3),
        ),
    )
    assert without is None
    assert [check.id for check in checks if not check.passed] == ["fuse"]


@pytest.mark.parametrize(
    "text",
    [
        "rig=van scope=whole heavy=1 biggest=cooking chemistry=flooded bank=24V",
        "rig=van scope=whole heavy=1 biggest=cooking bank=12V",
    ],
)
def test_three_strings_of_any_size_have_a_fuse_each_that_the_cable_bears(
    case: MakeCase, text: str
) -> None:
    """Common practice, no source: in a fault of one the others feed into it."""
    found = case(text)
    dc, bank = found.design.dc, found.design.bank
    assert bank.parallel == dc.battery_fuses == 3
    assert bank.capacity_ah <= 500.0
    assert dc.battery_fuse is not None
    assert 1.25 * dc.string_a <= dc.battery_fuse.rating <= dc.link.ampacity_a
    assert dc.battery_fuse.interrupt >= min(bank.short_circuit_a, 20_000.0)


def test_each_of_two_strings_has_a_fuse_that_its_cable_bears(case: MakeCase) -> None:
    """Common practice, no source: the other feeds a fault of its cable past the main fuse."""
    found = case(TWO_STRINGS)
    dc = found.design.dc
    assert found.design.bank.parallel == dc.battery_fuses == 2
    assert dc.battery_fuse is not None
    assert 1.25 * dc.string_a <= dc.battery_fuse.rating <= dc.link.ampacity_a


@pytest.mark.parametrize("text", [VAN, f"{COOKING} bank=48V"])
def test_a_single_string_has_none(case: MakeCase, text: str) -> None:
    found = case(text)
    bank = found.design.bank
    assert bank.parallel == 1
    assert found.design.dc.battery_fuse is None
    assert found.design.dc.battery_fuses == 0


def test_a_single_string_is_guarded_by_the_main_fuse(case: MakeCase) -> None:
    dc = case(f"{COOKING} chemistry=agm bank=48V").design.dc
    assert dc.string_a == dc.bank_a
    assert dc.link.ampacity_a >= dc.fuse.rating


def test_two_units_share_a_thicker_piece_up_to_the_switch(case: MakeCase) -> None:
    found = case(TWO_AIRCONS)
    dc = found.design.dc
    assert found.candidate.units == 2
    assert dc.trunk.ampacity_a >= 2 * dc.fuse.rating
    assert dc.cable.ampacity_a < 2 * dc.fuse.rating
    assert case(COOKING).design.dc.trunk == case(COOKING).design.dc.cable


def test_where_no_short_piece_carries_both_units_the_set_up_is_refused(
    guide: Guide, case: MakeCase
) -> None:
    found = case(TWO_AIRCONS)
    thin = tuple(
        each
        for each in guide.catalogue.cables
        if each.use != "dc" or awg.rank(each.awg) <= awg.rank("2")
    )
    without, checks = plan(found, with_shelf(guide, cables=thin))
    assert without is None
    assert [check.id for check in checks if not check.passed] == ["cable"]


def test_a_cable_for_each_unit_that_is_too_thin_for_both_carries_nothing_up_to_the_switch(
    guide: Guide, case: MakeCase
) -> None:
    found = case(TWO_AIRCONS)
    dc = found.design.dc
    own = tuple(
        each for each in guide.catalogue.cables if each.use != "dc" or each.awg == dc.cable.size
    )
    shelf = replace(
        with_shelf(guide, cables=own),
        planning=replace(guide.planning, most_cable_runs=dc.cable.runs),
    )
    light = replace(found.design.bank.battery, continuous_current=50.0)
    bank = replace(found.design.bank, battery=light, parallel=8)
    without, checks = plan_dc(found.candidate, found.supply, bank, Branches(shelf, found.needs))
    assert without is None
    failed = [(each.id, each.value, each.limit) for each in checks if not each.passed]
    assert failed == [("cable", 2 * dc.fuse.rating, 0.0)]


def test_the_switch_and_shunt_bear_everything_at_once(case: MakeCase) -> None:
    dc = case(TWO_AIRCONS).design.dc
    assert dc.disconnect.rating >= 1.25 * dc.bank_a
    assert dc.monitor is not None
    assert dc.monitor.rating >= dc.bank_a
    assert dc.busbar is not None
    assert dc.busbar.rating >= 1.25 * dc.bank_a


def test_without_a_strong_enough_switch_the_strongest_is_named(
    guide: Guide, case: MakeCase
) -> None:
    found = case(COOKING)
    weak = tuple(replace(each, rating=100.0) for each in guide.catalogue.disconnects)
    without, checks = plan(found, with_shelf(guide, disconnects=weak))
    assert without is None
    failed = next(check for check in checks if not check.passed)
    assert (failed.id, failed.limit) == ("disconnect", 100.0)


def test_busbars_bear_what_the_switch_bears(case: MakeCase) -> None:
    """Common practice, no source: 1.25 times, since the fuse lets that pass for hours."""
    dc = case(f"{TWO_STRINGS} bank=24V nights=2").design.dc
    assert dc.busbar is not None
    assert dc.bank_a < 150.0 < 1.25 * dc.bank_a <= dc.busbar.rating
    assert dc.busbar.rating >= dc.fuse.rating


def test_busbars_only_where_something_is_shared(case: MakeCase) -> None:
    assert case(VAN).design.dc.busbar is None
    assert not case(VAN).design.dc.shared
    assert case(TWO_AIRCONS).design.dc.shared


@pytest.mark.parametrize(
    ("more", "unit", "lacks"),
    [("cable=60ft", "V", "drop"), ("ambient=59C bank=12V cable=0.5ft", "A", "ampacity")],
)
def test_where_no_cable_will_do_it_says_what_the_thickest_lacks(
    guide: Guide, case: MakeCase, more: str, unit: str, lacks: str
) -> None:
    found = case(f"{COOKING} bank=12V")
    asked = case(f"{VAN} {more}" if "bank" in more else f"{VAN} bank=12V {more}").needs
    needs = replace(found.needs, cable_m=asked.cable_m, ambient_c=asked.ambient_c)
    thin = tuple(
        each
        for each in guide.catalogue.cables
        if each.use != "dc" or lacks == "drop" or awg.rank(each.awg) <= awg.rank("2")
    )
    none, checks = plan_dc(
        found.candidate,
        found.supply,
        found.design.bank,
        Branches(with_shelf(guide, cables=thin), needs),
    )
    assert none is None
    failed = next(check for check in checks if not check.passed)
    assert (failed.id, failed.unit) == ("cable", unit)


def test_with_no_cable_on_the_shelf_nothing_is_carried(guide: Guide, case: MakeCase) -> None:
    without, checks = plan(case(COOKING), with_shelf(guide, cables=()))
    assert without is None
    cable = next(check for check in checks if not check.passed)
    assert (cable.id, cable.limit) == ("cable", 0.0)


def test_parallel_cables_only_where_the_stud_takes_them(guide: Guide, case: MakeCase) -> None:
    long = f"{COOKING} bank=12V cable=20ft"
    assert case(long).design.dc.cable.runs == 2
    single = tuple(replace(each, dc_lugs_per_stud=1) for each in guide.catalogue.inverters)
    found = case(long, with_shelf(guide, inverters=single))
    assert all(
        each.design is None or each.design.dc.cable.runs == 1 for each in found.outcome.considered
    )


def test_what_is_left_at_the_unit_is_what_battery_and_cable_leave(case: MakeCase) -> None:
    dc, bank = case(COOKING).design.dc, case(COOKING).design.bank
    current_a = constant_power_current_a(bank.dc_w, bank.nominal_v, dc.loop_ohm)
    assert current_a is not None
    assert dc.terminal_v == pytest.approx(bank.dc_w / current_a)
    assert bank.nominal_v - dc.loop_ohm * current_a == pytest.approx(dc.terminal_v)
    longer = case(f"{COOKING} cable=15ft").design.dc
    assert longer.loop_ohm > dc.loop_ohm or longer.cable.size != dc.cable.size
    start = case(AIRCON).design.dc
    assert start.start_v is not None
    assert start.start_v < start.terminal_v


def test_the_case_is_bonded_one_size_below_the_positive_and_never_below_8_awg(
    case: MakeCase,
) -> None:
    """NEC 551.20(C), 8 AWG (secondary); ABYC A-31, one size below (secondary)."""
    for text in (VAN, COOKING, BIG_BANK):
        dc = case(text).design.dc
        below = awg.SIZES[awg.rank(dc.cable.size) - 1]
        assert dc.bond_awg == max(below, "8", key=awg.rank)


@pytest.mark.parametrize("text", [VAN, COOKING, TWO_AIRCONS, f"{COOKING} bank=12V cable=20ft"])
def test_the_negative_is_joined_to_the_frame_once_by_what_the_main_fuses_need(
    case: MakeCase, text: str
) -> None:
    """NEC 552.10(C)(4): 8 AWG, no thinner than the positive; lead for lead, common practice."""
    found = case(text)
    dc = found.design.dc
    (joint,) = (each for each in dc.conductors if each.group == "frame-cable")
    assert dc.monitor is not None
    assert joint.studs[0] == dc.monitor.stud
    assert awg.rank(joint.size) >= max(map(awg.rank, ("8", dc.bond_awg, dc.trunk.size)))
    carries_a = joint.quantity * dc_ampacity_a(joint.size, 105, found.needs.ambient_c)
    assert carries_a >= dc.fuse.rating * found.candidate.units


def test_a_pre_charge_is_asked_for_where_the_inrush_is_above_the_banks_peak(
    case: MakeCase,
) -> None:
    found = case(COOKING)
    assert found.design.dc.precharge
    bank = found.design.bank
    calm = replace(bank, battery=replace(bank.battery, peak_current=1e6))
    dc, _ = plan_dc(found.candidate, found.supply, calm, Branches(found.guide, found.needs))
    assert dc is not None
    assert not dc.precharge


@pytest.mark.parametrize(("text", "links"), [(COOKING, 1), (TWO_AIRCONS, 2)])
def test_up_to_the_fuse_lies_one_link_and_with_busbars_ahead_of_two_fuses_a_second(
    guide: Guide, case: MakeCase, text: str, links: int
) -> None:
    """33 CFR 183.455(b)(2) says how long it may be."""
    assert case(text).design.dc.unfused_m == pytest.approx(links * guide.planning.link_m)


@pytest.mark.parametrize("text", [VAN, COOKING, AIRCON])
def test_a_single_string_has_no_fuse_of_its_own_to_count(case: MakeCase, text: str) -> None:
    dc = case(text).design.dc
    assert (dc.battery_fuses, dc.fed_a) == (0, 0.0) or dc.battery_fuse is not None


def test_every_string_with_a_fuse_feeds_the_busbars(case: MakeCase) -> None:
    design = case(f"{COOKING} bank=12V nights=4").design
    assert design.dc.battery_fuse is not None
    assert design.dc.battery_fuses == design.bank.parallel > 1
    assert design.dc.fed_a == design.bank.parallel * design.dc.battery_fuse.rating


def test_branches_may_lie_in_the_thickest_cable_of_the_shelf(guide: Guide, case: MakeCase) -> None:
    thick = tuple(each for each in guide.catalogue.cables if each.use != "dc" or each.awg == "4/0")
    found = case(f"{COOKING} bank=24V alt=180A drive=2h solar=400W")
    feed = Feed(24.0, 22.0, 29.2, 10_000.0)
    branches = Branches(with_shelf(guide, cables=thick), found.needs).of(feed)
    assert len(branches) > 3
    for branch in branches:
        assert branch.cable is not None and branch.cable.size == "4/0", branch.id


def test_the_fuse_at_the_starter_battery_bears_its_absorption(guide: Guide, case: MakeCase) -> None:
    """Six lead-acid cells of 2.45 V (from memory), whatever the bank of the rig."""
    needs = case(f"{VAN} alt=180A drive=2h").needs
    for volts, does in ((6 * 2.45, True), (6 * 2.45 - 0.01, False)):
        fuses = tuple(replace(each, volts=volts) for each in guide.catalogue.fuses)
        branches = Branches(with_shelf(guide, fuses=fuses), needs).of(Feed(12.0, 11.0, 14.0, 1e4))
        (starter,) = (each for each in branches if each.id == "starter")
        assert (starter.fuse is not None) is does


def test_a_cable_that_carries_just_what_is_asked_for_lacks_voltage_and_not_ampacity(
    guide: Guide, case: MakeCase
) -> None:
    found = case(f"{COOKING} bank=12V")
    thick = tuple(each for each in guide.catalogue.cables if each.use != "dc" or each.awg == "2/0")
    shelf = with_shelf(guide, cables=thick)
    unit = replace(found.candidate.inverter, dc_lugs_per_stud=1, dc_largest_awg="2/0")
    candidate = replace(found.candidate, inverter=unit)
    carried_a = dc_ampacity_a("2/0", guide.planning.cable_insulation_c, 30.0)
    for fuse_a, lacks in ((carried_a, "V"), (carried_a + 0.1, "A")):
        needs = replace(found.needs, ambient_c=30.0, cable_m=20.0)
        assert _cable_fault(shelf, needs, candidate, 200.0, fuse_a).unit == lacks


def test_what_lies_ahead_of_the_fuse_of_a_branch_is_sheathed_and_nothing_behind_it(
    case: MakeCase,
) -> None:
    sources = "alt=180A drive=2h solar=400W"
    branches = (
        *case(f"{COOKING} bank=24V {sources}").design.dc.branches,
        *case(f"{COOKING} bank=12V").design.dc.branches,
    )
    pieces = list(branch_conductors(branches, "M8", "M10", 0.4))
    assert {each.sheathed for each in pieces} == {True, False}
    for each in pieces:
        assert each.sheathed is (each.label == "to-its-fuse"), each
    for branch in branches:
        assert branch.cable is not None
        own = list(branch_conductors((branch,), "M8", "M10", 0.4))
        there_m, back_m = (
            sum(each.length_m for each in own if (each.label == "back") is back)
            for back in (False, True)
        )
        ahead_m = 0.4 if branch.fused else 0.0
        assert (there_m, back_m) == pytest.approx((branch.length_m + ahead_m, branch.length_m))
    assert sum(each.sheathed for each in pieces) == sum(branch.fused for branch in branches)


@pytest.mark.parametrize(("volts", "fed"), [(12.0, 1), (24.0, 0)])
def test_what_is_fed_straight_from_the_bank_is_checked_and_nothing_else(
    guide: Guide, case: MakeCase, volts: float, fed: int
) -> None:
    """Solar, alternator and converter have fuses of their own kind beside it."""
    needs = case(f"{COOKING} alt=180A drive=2h solar=400W").needs
    feed = Feed(volts, 0.9 * volts, 1.2 * volts, 1e4)
    branches = Branches(guide, needs).of(feed)
    assert sum(each.fused for each in branches) > 1
    assert [check.id for check in feed_check(guide, feed, branches)] == ["house-feed"] * fed


@pytest.mark.parametrize("beside", range(6))
def test_a_stud_takes_four_lugs_and_beyond_them_there_are_busbars_and_a_fuse_ahead(
    case: MakeCase, beside: int
) -> None:
    """Four terminals on a stud, ABYC E-11 (from memory): two for each cable of the run."""
    found = case(VAN)
    design = found.design
    assert (found.candidate.units, design.bank.parallel) == (1, 1)
    asked = Run(design.dc.current_a, design.dc.highest_v, 5_000.0, found.guide.planning.fuse_factor)
    loads = (design.dc.bank_a, beside)
    main, _ = main_run(found.guide, found.needs, found.candidate, design.bank, asked, loads)
    assert main is not None
    assert (main.strings.fuse is not None) is (2 * main.cable.runs + beside > 4)
