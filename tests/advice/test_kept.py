"""Batteries that are there are in the design: which way each rig and bank goes, and the rest."""

from dataclasses import replace

import pytest

from engine.advice.judge.keeping import Tried, keeping_of, try_all
from engine.advice.plan.interrupt import weakest_fuse_a
from engine.advice.plan.kept import (
    alone,
    battery_of,
    for_house,
    joined,
    joined_of,
    nearest,
    needs_with,
    plan_kept,
)
from engine.advice.plan.on_bank import on_bank_of
from engine.answer import advise
from engine.conversation import Conversation
from engine.links import read_pairs
from engine.model.answers import ExistingBank
from engine.model.buses import DC
from engine.model.guide import Guide
from engine.model.result import Check, Considered, Design, Keeping, Only
from engine.pages.answer.keeping import MOST_SAID, keeping_row
from engine.sizing.bank import ReuseFault
from engine.sizing.short_circuit import required_interrupt_a
from tests.advice.conftest import COOKING, VAN, Case, MakeCase, with_shelf

FEW = "rig=van scope=some heavy=0"
COOK = "rig=van scope=whole heavy=1 biggest=cooking"
HEATER = "rig=rig-30 scope=whole heavy=1 biggest=heating"
AIRCON = "rig=rig-30 scope=whole heavy=1 biggest=aircon-13k5 softstart=no"
COACH = "rig=coach-50 scope=whole heavy=2 biggest=aircon-15k softstart=no v240=no"

# Rig and bank, what becomes of them, the reasons in order. Energy and voltage are arithmetic over
# planning figures of the kind (tests/published/battery_chemistry.yaml); that it comes out least by
# the shop's priorities is computed, not a source.
PAIRS = (
    (FEW, "2x200Ah-12V-lifepo4-2y", "alone", ()),
    (FEW, "2x200Ah-12V-agm", "alone", ()),
    (FEW, "4x225Ah-6V-flooded-2y", "alone", ()),
    (COOK, "2x100Ah-12V-lifepo4-1y", "joined", ("current", "energy")),
    (FEW, "1x100Ah-12V-lifepo4-5y", "replaced", ("energy",)),
    (FEW, "2x100Ah-12V-agm-1y", "replaced", ("energy",)),
    (FEW, "2x100Ah-12V-agm-6y", "replaced", ("age",)),
    (VAN, "1x300Ah-12V-lifepo4-2y", "alone", ()),
    (VAN, "2x100Ah-12V-lifepo4-11y", "replaced", ("age",)),
    (f"{VAN} ambient=-10C", "2x200Ah-12V-lifepo4-1y", "replaced", ("cold",)),
    (f"{VAN} bank=12V", "2x100Ah-24V-lifepo4-1y", "replaced", ("voltage",)),
    (COOK, "4x100Ah-12V-lifepo4-1y", "alone", ()),
    (COOK, "3x100Ah-51.2V-lifepo4-1y", "alone", ()),
    (f"{COOKING} bank=12V", "1x100Ah-12V-lifepo4-5y", "replaced", ("current", "start", "energy")),
    (f"{COOKING} bank=24V", "3x100Ah-12V-lifepo4-1y", "joined", ("current", "energy")),
    (HEATER, "2x200Ah-12V-lifepo4-5y", "alone", ()),
    (HEATER, "4x100Ah-12V-lifepo4-1y", "alone", ()),
    (HEATER, "2x100Ah-12V-agm-1y", "replaced", ("energy",)),
    (f"{HEATER} bank=24V", "2x100Ah-12V-agm-1y", "house", ("energy",)),
    (HEATER, "2x100Ah-12V-lifepo4-11y", "replaced", ("age",)),
    (AIRCON, "3x200Ah-12V-lifepo4-1y", "joined", ("energy",)),
    (AIRCON, "2x200Ah-12V-lifepo4-5y", "replaced", ("energy",)),
    (f"{AIRCON} bank=24V", "2x100Ah-12V-agm-1y", "house", ("energy",)),
    (f"{AIRCON} bank=24V", "4x225Ah-6V-flooded-2y", "house", ("energy",)),
    (AIRCON, "8x200Ah-12V-lifepo4-5y", "alone", ()),
    (COACH, "8x200Ah-12V-lifepo4-5y", "alone", ()),
    (f"{COACH} bank=24V", "2x200Ah-12V-agm", "house", ("energy",)),
)


def design_of(found: Case) -> tuple[Design, Keeping]:
    keeping = found.outcome.keeping
    assert keeping is not None
    return found.design, keeping


@pytest.mark.parametrize(("rig", "have", "way", "faults"), PAIRS)
def test_each_pair_goes_its_way_and_the_first_look_says_why(
    guide: Guide, case: MakeCase, rig: str, have: str, way: str, faults: tuple[str, ...]
) -> None:
    found = case(f"{rig} have={have}")
    design, keeping = design_of(found)
    assert (keeping.way, tuple(each.code for each in keeping.faults)) == (way, faults)
    without = case(rig).design
    assert (design != without) == (way != "replaced")
    told = keeping_row(guide, advise(Conversation(guide), found.outcome))
    assert told is not None
    start = {
        "alone": "Your batteries stay and are the whole bank",
        "joined": "Your batteries stay, with ",
        "house": "Your batteries stay for the 12 V circuits",
        "replaced": "New batteries take the place of yours",
    }[way]
    assert told.label.startswith(start)
    said = {
        "energy": "you need",
        "age": "do not count on this kind",
        "cold": "do not charge them",
        "voltage": "cannot make the",
        "current": "what you run at once needs",
        "start": "the largest start-up load needs",
    }
    assert all(said[code] in told.text for code in faults[:MOST_SAID])


@pytest.mark.parametrize(("rig", "have"), [(r, h) for r, h, way, _ in PAIRS if way == "alone"])
def test_kept_alone_buys_no_battery_and_costs_less_by_theirs(
    case: MakeCase, rig: str, have: str
) -> None:
    found = case(f"{rig} have={have}")
    design, keeping = design_of(found)
    lines = [line for line in design.parts if line.group == "battery"]
    assert [(line.have, line.product, line.price_each, line.mass_each_kg) for line in lines] == [
        (True, "", 0.0, 0.0)
    ]
    assert lines[0].quantity == design.bank.kept == design.bank.count
    assert design.bank.count <= found.outcome.keeping.bank.count if found.outcome.keeping else False
    assert keeping.other is not None and keeping.other.design is not None
    assert design.parts_price < keeping.other.design.parts_price


@pytest.mark.parametrize(("rig", "have"), [(r, h) for r, h, way, _ in PAIRS if way == "joined"])
def test_joined_buys_only_those_that_are_missing(case: MakeCase, rig: str, have: str) -> None:
    design, keeping = design_of(case(f"{rig} have={have}"))
    bank = design.bank
    bought, there = (
        sum(line.quantity for line in design.parts if line.group == "battery" and line.have is flag)
        for flag in (False, True)
    )
    assert (bought, there) == (bank.count - keeping.bank.count, keeping.bank.count)
    assert bank.usable_wh >= bank.need_wh


@pytest.mark.parametrize(("rig", "have"), [(r, h) for r, h, *_ in PAIRS])
def test_every_fuse_at_the_bank_that_is_used_can_interrupt_it_or_practice_accepts_it(
    case: MakeCase, rig: str, have: str
) -> None:
    """A margin of 1.25 up to 10 kA, above that 20 kA: ABYC E-11 11.10.1.2 (secondary)."""
    found = case(f"{rig} have={have}")
    design, _ = design_of(found)
    short_a = design.bank.short_circuit_a
    if design.bank.kept:
        per_ah = 62.0 if design.bank.battery.chemistry == "lifepo4" else 40.0
        assert short_a == pytest.approx(per_ah * design.bank.capacity_ah)
    assert weakest_fuse_a(design.dc) >= required_interrupt_a(short_a)
    check = found.check("interrupt")
    assert (check.value, check.limit) == (short_a, weakest_fuse_a(design.dc))
    assert check.accepted == (short_a > check.limit)


def test_the_kind_that_is_there_is_planned_on_where_none_was_asked_for(case: MakeCase) -> None:
    found = case(f"{FEW} have=2x200Ah-12V-agm")
    assert found.outcome.needs.chemistry == found.design.bank.battery.chemistry == "agm"
    assert "chemistry" not in found.outcome.needs.assumed
    asked = case(f"{FEW} chemistry=lifepo4 have=2x200Ah-12V-agm")
    assert asked.outcome.keeping is not None
    assert [each.code for each in asked.outcome.keeping.faults] == ["chemistry"]
    assert asked.design == case(f"{FEW} chemistry=lifepo4").design


def test_new_ones_with_other_figures_than_theirs_do_not_join(guide: Guide) -> None:
    there = ExistingBank(1, 100.0, 12.0, "lifepo4", 1.0, "")
    assert joined_of(guide, there) is not None
    for change in ({"capacity_ah": 110.0}, {"nominal_v": 36.0}):
        assert joined_of(guide, replace(there, **change)) is None  # type: ignore[arg-type]


@pytest.mark.parametrize("by", [0.97, 1.03])
def test_the_weaker_figure_of_both_counts(guide: Guide, by: float) -> None:
    there = ExistingBank(1, 100.0, 12.0, "agm", 1.0, "")
    theirs = battery_of(guide, there)
    weaker_if_less = (
        *("capacity", "continuous_current", "peak_current", "peak_time", "charge_current"),
        *("usable", "most_in_parallel"),
    )
    weaker_if_more = ("short_circuit", "resistance", "peukert", "lowest_charge_temperature")
    figures = {name: by * getattr(theirs, name) for name in (*weaker_if_less, *weaker_if_more)}
    like = next(each for each in guide.catalogue.batteries if each.chemistry == "agm")
    new = replace(like, nominal=theirs.nominal, **figures)
    both = joined_of(with_shelf(guide, batteries=(new,)), there)
    assert both is not None and new != like
    for name, figure in figures.items():
        ends = sorted((figure, getattr(theirs, name)))
        assert ends[0] < ends[1]
        assert getattr(both, name) == ends[name in weaker_if_more], name


def test_twelve_volts_of_lithium_are_four_cells(guide: Guide) -> None:
    """3.2 V a cell, common practice."""
    volts = {12.0: 12.8, 24.0: 25.6, 48.0: 51.2, 12.8: 12.8, 36.0: 38.4}
    for said_v, nominal_v in volts.items():
        there = ExistingBank(1, 100.0, said_v, "lifepo4", 1.0, "")
        assert battery_of(guide, there).nominal == pytest.approx(nominal_v)


def test_the_fuse_at_the_12_v_battery_that_stays_can_stop_theirs(case: MakeCase) -> None:
    """Two of 200 Ah, 40 A/Ah (secondary): 16 kA, so 20 kA by ABYC E-11 11.10.1.2 (secondary)."""
    design, keeping = design_of(case(f"{HEATER} bank=24V have=2x200Ah-12V-agm nights=3"))
    assert keeping.way == "house" and design.house is not None and design.house.there
    house = next(each for each in design.dc.branches if each.id == "house")
    assert house.kept_fuse is not None and house.kept_fuse.interrupt >= 20_000.0
    lines = [line for line in design.parts if line.group == "house-battery"]
    assert [(line.quantity, line.have, line.price_each) for line in lines] == [(2, True, 0.0)]


def test_lithium_does_not_stay_on_the_12_v_circuits(case: MakeCase) -> None:
    """Frost and a tow vehicle's charge line harm it: common practice, no source."""
    design, keeping = design_of(case(f"{AIRCON} bank=24V have=2x200Ah-12V-lifepo4-5y"))
    assert keeping.way == "replaced" and design.house is not None and not design.house.there


def test_theirs_stay_on_12_v_as_long_as_they_just_move_the_motor_and_take_what_runs(
    guide: Guide, case: MakeCase
) -> None:
    """Two strings: what both give and take; a hair beyond either, they go."""
    needs = case(f"{HEATER} bank=24V have=2x200Ah-12V-agm nights=3").needs
    assert needs.existing is not None
    each = battery_of(guide, needs.existing)
    load = replace(needs.running[0], bus=DC)
    takes_w = 2 * each.charge_current * 12.0
    gives_a = 2 * each.continuous_current
    for running_w, motor_a, stays in (
        (0.0, gives_a, True),
        (0.0, gives_a + 0.1, False),
        (takes_w, 0.0, True),
        (takes_w + 1.0, 0.0, False),
        (takes_w, gives_a - 2 * each.charge_current, True),
        (takes_w, gives_a, False),
    ):
        rig = replace(needs.rig, hangs={**needs.rig.hangs, "slides": motor_a, "jacks": motor_a})
        asked = replace(needs, rig=rig, running=(replace(load, running_w=running_w),))
        found = for_house(guide, asked, 24.0)
        assert (found is not None) is stays, (running_w, motor_a)
        assert found is None or (found.batteries, found.strings) == (2, 2)


@pytest.mark.parametrize("years", [0.0, -0.1])
def test_a_battery_that_is_as_old_as_its_kind_lasts_does_not_stay(
    guide: Guide, case: MakeCase, years: float
) -> None:
    """AGM: five years, from memory."""
    needs = case(f"{HEATER} bank=24V have=2x200Ah-12V-agm nights=3").needs
    assert needs.existing is not None
    old = replace(needs, existing=replace(needs.existing, age_years=5.0 + years))
    assert (for_house(guide, old, 24.0) is not None) is (years < 0.0)
    assert bool(alone(guide, replace(old, chemistry="agm"), 12.0)) is (years < 0.0)


@pytest.mark.parametrize(("years", "joins"), [(0.0, True), (0.01, False)])
def test_new_ones_join_up_to_the_shops_own_age(
    guide: Guide, case: MakeCase, years: float, joins: bool
) -> None:
    needs = case(f"{COOK} have=2x100Ah-12V-lifepo4-1y").needs
    assert needs.existing is not None
    most_years = guide.planning.kept_join_years
    aged = replace(needs, existing=replace(needs.existing, age_years=most_years + years))
    only, why = joined(guide, aged, 12.0)
    assert (only is not None) is joins
    assert [each.code for each in why] == ([] if joins else ["join-age"])


@pytest.mark.parametrize(("count", "kept"), [(1, 1), (3, 3), (99, None)])
def test_of_theirs_no_more_stand_side_by_side_than_the_shop_allows(
    guide: Guide, case: MakeCase, count: int, kept: int | None
) -> None:
    needs = case(f"{FEW} have=2x200Ah-12V-agm").needs
    assert needs.existing is not None
    only = alone(guide, replace(needs, existing=replace(needs.existing, count=count)), 12.0)
    assert only is not None
    assert only.kept == (kept or guide.planning.kept_strings)


def test_a_cheap_enough_new_bank_wins_and_the_other_is_named(guide: Guide) -> None:
    cheap = tuple(replace(each, price=1.0) for each in guide.catalogue.batteries)
    shelf = with_shelf(guide, batteries=cheap)
    conversation = Conversation(shelf)
    answers = read_pairs(shelf, f"{FEW} have=4x100Ah-12V-lifepo4-1y".split())
    outcome = conversation.outcome(answers)
    assert outcome.keeping is not None and outcome.keeping.way == "replaced"
    assert outcome.keeping.faults == ()
    told = keeping_row(shelf, advise(conversation, outcome))
    assert told is not None and "With yours it could be" in told.text


def test_where_there_are_none_nothing_is_said(guide: Guide, case: MakeCase) -> None:
    found = case(VAN)
    assert found.outcome.keeping is None
    assert keeping_row(guide, advise(Conversation(guide), found.outcome)) is None


def test_those_that_are_there_cost_nothing_and_add_no_weight(guide: Guide) -> None:
    theirs = battery_of(guide, ExistingBank(2, 200.0, 12.0, "agm", 1.0, ""))
    assert (theirs.price, theirs.mass) == (0.0, 0.0)


def test_without_a_data_sheet_theirs_bear_the_start_of_a_motor_for_three_seconds(
    guide: Guide,
) -> None:
    """From memory, the low end."""
    theirs = battery_of(guide, ExistingBank(2, 200.0, 12.0, "agm", 1.0, ""))
    assert theirs.peak_time == 3.0


def test_each_battery_of_the_shelf_is_most_like_itself(guide: Guide) -> None:
    """By its kind, then by its energy; of equals the first by its id."""
    for each in guide.catalogue.batteries:
        like = nearest(
            guide, ExistingBank(1, each.capacity, 0.0, each.chemistry, 1.0, ""), each.nominal
        )
        assert like.chemistry == each.chemistry
        assert like.nominal * like.capacity == pytest.approx(each.nominal * each.capacity)
        assert like.id <= each.id


@pytest.mark.parametrize(
    ("share", "equal"), [(0.949, False), (0.951, True), (1.049, True), (1.051, False)]
)
def test_up_to_5_percent_apart_counts_as_equal(guide: Guide, share: float, equal: bool) -> None:
    """Common practice, no source."""
    there = ExistingBank(1, 100.0, 12.0, "lifepo4", 1.0, "")
    like = next(each for each in guide.catalogue.batteries if each.chemistry == "lifepo4")
    nominal_v = battery_of(guide, there).nominal
    for volts, ah in ((share, 1.0), (1.0, share)):
        one = replace(like, nominal=nominal_v * volts, capacity=100.0 * ah)
        assert (joined_of(with_shelf(guide, batteries=(one,)), there) is not None) is equal


def test_of_several_equal_ones_the_cheapest_joins_theirs(guide: Guide) -> None:
    there = ExistingBank(1, 100.0, 12.0, "lifepo4", 1.0, "")
    like = next(each for each in guide.catalogue.batteries if each.chemistry == "lifepo4")
    theirs = battery_of(guide, there)
    dear = replace(like, id="dear", nominal=theirs.nominal, capacity=100.0, price=900.0)
    cheap = replace(dear, id="cheap", price=800.0)
    for shelf in ((dear, cheap), (cheap, dear)):
        new = joined_of(with_shelf(guide, batteries=shelf), there)
        assert new is not None
        assert new.id == "cheap"


@pytest.mark.parametrize(
    ("count", "volts", "stay"),
    [(4, 6.0, (4, 2)), (5, 6.0, (4, 2)), (1, 6.0, None), (2, 24.0, None), (1, 12.0, (1, 1))],
)
def test_only_whole_strings_of_12_v_stay_for_the_12_v_circuits(
    guide: Guide, case: MakeCase, count: int, volts: float, stay: tuple[int, int] | None
) -> None:
    """Two of 6 V in series make 12 V; one of 6 V or of 24 V never does."""
    needs = case(f"{HEATER} bank=24V have=2x200Ah-12V-agm nights=3").needs
    rig = replace(needs.rig, hangs={**needs.rig.hangs, "slides": 0.0, "jacks": 0.0})
    there = ExistingBank(count, 225.0, volts, "agm", 1.0, "")
    assert for_house(guide, replace(needs, rig=rig, running=(), existing=there), 24.0) == stay


def test_theirs_that_cannot_make_the_voltage_are_no_bank_and_the_check_says_so(
    case: MakeCase,
) -> None:
    found = case(f"{FEW} have=2x200Ah-12V-agm")
    bank = found.design.bank
    assert bank.kept
    odd = Only(replace(bank.battery, nominal=30.0), bank.kept, bank.yours)
    on = on_bank_of(found.guide, found.needs, found.candidate.inverter.dc_nominal)
    plan, checks = plan_kept(on, found.candidate, found.supply, odd)
    assert plan is None
    assert checks == (Check("battery-series", 0.0, 1.0, "yes", False),)


def test_why_not_at_another_voltage_is_told_by_the_nearest_that_has_that_voltage(
    case: MakeCase,
) -> None:
    """Where their voltage alone forbids it; a setup of which the voltage is a part says no more."""
    found = case(f"{VAN} have=1x100Ah-24V-lifepo4-1y bank=12V")
    needs, best = found.needs, found.best

    def tried(score: float, *codes: str) -> Tried:
        faults = tuple(ReuseFault(code, 1.0, 2.0) for code in codes)
        return Tried(replace(best, score=score), None, None, faults, ())

    first = tried(1.0, "voltage")
    for others, told in (
        ((), ["voltage"]),
        ((tried(2.0, "voltage", "energy"),), ["voltage"]),
        ((tried(2.0, "voltage", "energy"), tried(3.0, "energy")), ["voltage", "energy"]),
        ((tried(3.0, "energy"), tried(2.0, "age")), ["voltage", "age"]),
    ):
        keeping = keeping_of(needs, (first, *others))
        assert keeping is not None
        assert [each.code for each in keeping.faults] == told


@pytest.mark.parametrize(
    ("all_of_them", "fewest", "asked", "taken"),
    [
        (1.0, 0.5, ["new", "all"], 1.0),  # what counts the same as new ones stays as it is
        (1.1, 1.2, ["new", "all", "fewest"], 1.1),
        (1.1, 0.9, ["new", "all", "fewest"], 0.9),
        (None, 1.2, ["new", "all", "fewest"], 1.2),
        (None, None, ["new", "all", "fewest"], None),
    ],
)
def test_as_few_as_will_do_are_tried_where_all_of_theirs_do_not_win(
    case: MakeCase,
    all_of_them: float | None,
    fewest: float | None,
    asked: list[str],
    taken: float | None,
) -> None:
    """By what each way counts, None where it does not pass; new ones count 1."""
    found = case(f"{FEW} have=2x200Ah-12V-agm")
    counts = {"new": 1.0, "all": all_of_them, "fewest": fewest, "more": None}
    tried: list[str] = []

    def design(only: Only | None) -> Considered:
        way = only.use if only else "new"
        tried.append(way)
        score = counts[way]
        if score is None:
            return replace(found.best, design=None, score=0.0)
        return replace(found.best, score=score)

    best = try_all(found.guide, found.needs, found.candidate.inverter.dc_nominal, design)
    assert [way for way in tried if way != "more"] == asked
    assert best.alone is not None
    assert (best.alone.score if best.alone.design else None) == taken


def test_of_equals_all_of_theirs_stay(case: MakeCase) -> None:
    found = case(f"{FEW} have=2x200Ah-12V-agm")

    def design(only: Only | None) -> Considered:
        told = (Check(only.use if only else "new", 1.0, 1.0, "count", True),)
        return replace(found.best, checks=told, score=2.0 if only else 1.0)

    tried = try_all(found.guide, found.needs, found.candidate.inverter.dc_nominal, design)
    assert tried.alone is not None
    assert [each.id for each in tried.alone.checks] == ["all"]


@pytest.mark.parametrize(("years", "code"), [("1y", "share"), ("9y", "join-age")])
def test_why_new_ones_beside_theirs_do_not_help_is_told(
    case: MakeCase, years: str, code: str
) -> None:
    """Either they are too old to be joined, or the bank that they make together fails."""
    found = case(f"{COOK} have=2x100Ah-12V-lifepo4-{years}")
    failing = {
        "all": Check("kept-energy", 1.0, 2.0, "Wh", False),
        "fewest": Check("kept-energy", 1.0, 2.0, "Wh", False),
        "more": Check("kept-share", 0.1, 0.25, "share", False),
    }

    def design(only: Only | None) -> Considered:
        if only is None:
            return found.best
        return replace(found.best, design=None, checks=(failing[only.use],))

    tried = try_all(found.guide, found.needs, 12.0, design)
    assert [each.code for each in tried.faults] == ["energy"]
    assert [each.code for each in tried.joining] == [code]


def test_what_else_is_against_theirs_than_the_voltage_is_told_alone(case: MakeCase) -> None:
    found = case(f"{VAN} have=1x100Ah-24V-lifepo4-1y bank=12V")

    def tried(score: float, *codes: str) -> Tried:
        faults = tuple(ReuseFault(code, 1.0, 2.0) for code in codes)
        return Tried(replace(found.best, score=score), None, None, faults, ())

    keeping = keeping_of(found.needs, (tried(1.0, "voltage", "energy"), tried(2.0, "age")))
    assert keeping is not None
    assert [each.code for each in keeping.faults] == ["voltage", "energy"]


def test_of_the_other_ways_the_one_that_counts_least_is_named(case: MakeCase) -> None:
    found = case(f"{FEW} have=2x200Ah-12V-agm")
    assert found.design.bank.kept

    def tried(theirs: float, new: float) -> Tried:
        kept, bought = (replace(found.best, score=each) for each in (theirs, new))
        return Tried(bought, kept, None, (), ())

    keeping = keeping_of(found.needs, (tried(1.0, 7.0), tried(2.0, 5.0), tried(3.0, 6.0)))
    assert keeping is not None and keeping.other is not None
    assert keeping.other.score == 5.0
    assert keeping_of(found.needs, ()) is None
    assert keeping_of(replace(found.needs, existing=None), (tried(1.0, 2.0),)) is None


def test_needs_of_theirs_are_of_their_kind_and_they_feed_nothing_beside(
    guide: Guide, case: MakeCase
) -> None:
    needs = case(f"{FEW} have=2x200Ah-12V-agm").needs
    theirs = battery_of(guide, ExistingBank(2, 200.0, 12.0, "agm", 1.0, ""))
    new = Only(theirs, 0, "")
    assert needs_with(needs, new) == needs
    kept = needs_with(needs, replace(new, kept=2))
    assert kept == replace(needs, chemistry="agm", existing=None) != needs


def test_at_least_a_quarter_of_a_joined_bank_is_theirs(case: MakeCase) -> None:
    """Common practice, no source."""
    for rig, have in ((r, h) for r, h, way, _ in PAIRS if way == "joined"):
        found = case(f"{rig} have={have}")
        check = found.check("kept-share")
        assert (check.limit, check.at_most) == (0.25, False)
        assert check.value == found.design.bank.kept / found.design.bank.count >= 0.25
