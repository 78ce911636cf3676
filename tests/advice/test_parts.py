"""The parts list: everything a design needs, counted, and what the shelf lacks named."""

import math
from dataclasses import fields, replace
from typing import Any

import pytest

from engine.advice.plan.left_out import LEFT_OUT, left_out_of
from engine.advice.plan.part_lines import TOOLS
from engine.advice.plan.parts import known_parts, parts_of
from engine.advice.plan.parts_on_ac import ac_needs_of, parts_on_ac, push_in_ends, wiring_of
from engine.advice.plan.parts_on_voltage import parts_on_voltage
from engine.advice.plan.shelf import cable_for, ferrule_for
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.parts import PartLine, orders_of
from engine.model.products import Catalogue
from engine.model.result import Design
from engine.standards import awg
from tests.advice.conftest import (
    AIRCON,
    COACH,
    COOKING,
    SOME,
    TWO_AIRCONS,
    VAN,
    Case,
    MakeCase,
    with_shelf,
)

SOURCES = f"{VAN} alt=180A drive=2h solar=400W"
BIG_BANK = f"{COOKING} bank=12V nights=4"
ALL = (VAN, COOKING, AIRCON, COACH, TWO_AIRCONS, SOME, SOURCES, BIG_BANK)

# Group of the list: kind of article, and answers that put it there.
GROUPS = {
    "soft-starter": ("soft_starters", AIRCON),
    "busbar": ("busbars", BIG_BANK),
    "soc-monitor": ("monitors", VAN),
    "precharge": ("precharges", VAN),
    "lugs": ("lugs", VAN),
    "clamps": ("hardware", VAN),
    "grommets": ("hardware", VAN),
    "heat-shrink": ("hardware", VAN),
    "strain-reliefs": ("hardware", VAN),
    "labels": ("hardware", VAN),
    "remote-panel": ("hardware", VAN),
    "gfci": ("hardware", SOME),
    "breaker-lock": ("hardware", COACH),
    "tow-end": ("hardware", f"{COACH} bank=12V"),
    "charge-isolator": ("hardware", f"{COACH} bank=24V"),
    "comm-cable": ("hardware", TWO_AIRCONS),
    "cord-guard": ("cord_guards", VAN),
    "sheaths": ("hardware", VAN),
    "small-fuses": ("hardware", VAN),
    "lug-crimper": ("crimpers", VAN),
    "breaker-in": ("breakers", VAN),
    "breaker-out": ("breakers", VAN),
    "sub-panel": ("sub_panels", SOME),
    "ferrules": ("ferrules", COACH),
    "ferrule-crimper": ("crimpers", COACH),
    "fan": ("fans", f"{COOKING} mount=sideways"),
    "alternator-charger": ("alternator_chargers", SOURCES),
    "solar-panel": ("solar_panels", SOURCES),
    "solar-controller": ("solar_controllers", SOURCES),
}


def lines(found: Case, group: str) -> list[PartLine]:
    return [line for line in found.design.parts if line.group == group]


def relisted(found: Case, shelf: Guide, **needs: Any) -> list[PartLine]:
    """The parts list of the same design from another shelf."""
    design = found.design
    cooling = replace(design.cooling, fan=None) if not shelf.catalogue.fans else design.cooling
    dc = design.dc
    dc = replace(
        dc,
        monitor=dc.monitor if shelf.catalogue.monitors else None,
        busbar=dc.busbar if shelf.catalogue.busbars else None,
    )
    design = replace(design, dc=dc, cooling=cooling)
    return list(parts_on(shelf, replace(found.needs, **needs), design))


def parts_on(shelf: Guide, needs: Needs, design: Design) -> tuple[PartLine, ...]:
    candidate = design.candidate
    on_voltage = parts_on_voltage(shelf, needs, candidate.inverter.dc_nominal)
    ac_needs = ac_needs_of(needs, candidate.inverter.dc_nominal)
    on_ac = parts_on_ac(shelf, ac_needs, wiring_of(candidate), design.ac)
    known = known_parts(shelf, needs, candidate, (on_ac, design.cooling, on_voltage))
    return parts_of(shelf, needs, candidate, (known, design.bank, design.dc))


@pytest.mark.parametrize("group", GROUPS)
def test_what_the_shelf_lacks_is_named_with_its_size_and_never_left_out(
    guide: Guide, case: MakeCase, group: str
) -> None:
    kind, text = GROUPS[group]
    found = case(text)
    assert all(line.product for line in lines(found, group))
    assert lines(found, group)
    lacking = [
        line for line in relisted(found, with_shelf(guide, **{kind: ()})) if line.group == group
    ]
    assert lacking
    for line in lacking:
        assert line.product == ""
        assert len(line.name) > len("a fan") - 1
        assert line.price_each == line.mass_each_kg == 0.0
        assert line.quantity > 0


def test_a_fuse_for_a_12_v_battery_that_stays_is_named_where_the_shelf_has_none(
    guide: Guide, case: MakeCase
) -> None:
    found = case(f"{COOKING} bank=24V")
    (fuse,) = lines(found, "kept-fuse")
    assert fuse.product
    assert lines(found, "kept-fuse-holder")
    dc = found.design.dc
    bare = tuple(each._replace(kept_fuse=None, kept_holder=None) for each in dc.branches)
    design = replace(found.design, dc=replace(dc, branches=bare))
    listed = parts_on(guide, found.needs, design)
    (lacking,) = [line for line in listed if line.group == "kept-fuse"]
    assert (lacking.product, lacking.price_each) == ("", 0.0)
    assert " A" in lacking.name
    assert not [line for line in listed if line.group == "kept-fuse-holder"]


def test_a_van_has_no_12_v_battery_behind_its_circuits(case: MakeCase) -> None:
    """A trailer keeps one for brake and jacks; a fuse for one that is not there would be bought."""
    van, trailer = (case(f"{rig} scope=some heavy=0 bank=24V") for rig in ("rig=van", "rig=rig-30"))
    for found, there in ((van, False), (trailer, True)):
        (house,) = [each for each in found.design.dc.branches if each.id == "house"]
        assert bool(house.kept) == bool(house.kept_fuse) == there
        assert bool(lines(found, "kept-fuse")) == there


def test_cable_that_the_shelf_lacks_is_named_by_size_and_length(
    guide: Guide, case: MakeCase
) -> None:
    found = case(f"{COOKING} bank=24V")
    lacking = {
        line.group: line for line in relisted(found, with_shelf(guide, cables=())) if line.unit
    }
    branches = {f"{branch.id}-cable" for branch in found.design.dc.branches}
    always = {"dc-cable", "battery-links", "bond-cable", "frame-cable", "ac-cable"}
    assert always | branches == set(lacking)
    assert {"step-down-cable", "house-cable"} <= branches
    assert all(not line.product and "AWG" in line.name for line in lacking.values())
    assert lacking["dc-cable"].quantity == pytest.approx(2 * found.needs.cable_m)


@pytest.mark.parametrize("text", ALL)
def test_every_line_of_the_usual_lists_is_on_the_shelf(
    guide: Guide, case: MakeCase, text: str
) -> None:
    shelf = {
        article.id: article
        for kind in fields(Catalogue)
        for article in getattr(guide.catalogue, kind.name)
    }
    for line in case(text).design.parts:
        assert line.product in shelf, line
        assert line.quantity > 0


@pytest.mark.parametrize("text", ALL)
def test_price_and_weight_are_the_sums_of_the_list(case: MakeCase, text: str) -> None:
    design = case(text).design
    assert design.parts_price == pytest.approx(sum(order.price for order in design.orders))
    staying = [line for line in design.parts if line.group not in TOOLS]
    assert design.mass_kg == pytest.approx(
        sum(line.quantity * line.mass_each_kg for line in staying)
    )
    assert all(line.mass_each_kg == 0.0 for line in design.parts if line.group in TOOLS)


@pytest.mark.parametrize("text", ALL)
def test_a_lug_for_either_end_of_every_conductor_between_studs(case: MakeCase, text: str) -> None:
    design = case(text).design
    conductors = sum(each.quantity for each in design.dc.conductors)
    clamped = sum(
        each.quantity * each.studs.count("")
        for each in design.dc.conductors
        if each.group not in ("dc-cable", "battery-links")
    )
    lugs = [line for line in design.parts if line.group == "lugs"]
    assert sum(line.quantity for line in lugs) == 2 * conductors - clamped


def test_tools_at_hand_are_not_sold_again(case: MakeCase) -> None:
    assert {line.group for line in case(f"{COACH} tools=crimper").design.parts}.isdisjoint(TOOLS)
    assert {line.group for line in case(COACH).design.parts} >= TOOLS


def test_one_bare_ferrule_for_every_conductor_end_and_spares(guide: Guide, case: MakeCase) -> None:
    found = case(COACH)
    ends = push_in_ends(wiring_of(found.candidate), found.design.ac)
    assert sum(line.quantity for line in lines(found, "ferrules")) == len(ends) == 8
    for line in lines(found, "ferrules"):
        ferrule = next(each for each in guide.catalogue.ferrules if each.id == line.product)
        assert not ferrule.insulated
        assert ferrule.barrel == pytest.approx(found.candidate.inverter.terminals.conductor_depth)
    assert lines(found, "spare-ferrules")


def test_an_insulated_ferrule_is_refused_even_where_it_is_the_only_one(guide: Guide) -> None:
    collars = tuple(each for each in guide.catalogue.ferrules if each.insulated)
    only = with_shelf(guide, ferrules=collars)
    assert ferrule_for(guide, "6", 0.018) is not None
    assert ferrule_for(only, "6", 0.018) is None


def test_screw_terminals_ask_for_none(case: MakeCase) -> None:
    found = case(COOKING)
    assert push_in_ends(wiring_of(found.candidate), found.design.ac) == ()
    assert not lines(found, "ferrules")


def test_a_crimper_must_reach_every_size(guide: Guide, case: MakeCase) -> None:
    found = case(COACH)
    small = tuple(
        replace(each, largest_awg="12", smallest_awg="18") for each in guide.catalogue.crimpers
    )
    listed = {line.group: line for line in relisted(found, with_shelf(guide, crimpers=small))}
    assert not listed["ferrule-crimper"].product
    assert not listed["lug-crimper"].product


def test_a_soft_starter_must_bear_the_running_current(guide: Guide, case: MakeCase) -> None:
    """2,400 W at a power factor of 0.95 and 120 V are 21 A, above the smaller one's 16 A."""
    usual = lines(case(AIRCON), "soft-starter")[0]
    found = case(f"{AIRCON} loads=aircon-15k:2400W")
    large = lines(found, "soft-starter")[0]
    ratings = {each.id: each.largest_running for each in guide.catalogue.soft_starters}
    assert ratings[usual.product] < 21.0 <= ratings[large.product]
    assert found.design.soft_starter is not None
    assert found.design.soft_starter.id == large.product


def test_breakers_are_those_of_the_plan_before_and_after_the_units(
    guide: Guide, case: MakeCase
) -> None:
    for text in (COACH, TWO_AIRCONS, SOME):
        found = case(text)
        ac = found.design.ac
        for group, rating_a in (("breaker-in", ac.input_a), ("breaker-out", ac.output_a)):
            (line,) = lines(found, group)
            breaker = next(each for each in guide.catalogue.breakers if each.id == line.product)
            assert (breaker.rating, breaker.poles) == (rating_a, ac.breaker_poles)
            assert line.quantity == ac.breakers


def test_a_ground_wire_may_be_thicker_and_ac_cable_must_be_exact(
    guide: Guide, case: MakeCase
) -> None:
    found = case(VAN)
    bond = found.design.dc.bond_awg
    thicker = tuple(
        each
        for each in guide.catalogue.cables
        if each.use != "ground" or awg.rank(each.awg) > awg.rank(bond)
    )
    listed = {line.group: line for line in relisted(found, with_shelf(guide, cables=thicker))}
    assert listed["bond-cable"].product
    size = found.design.ac.output_awg
    inexact = tuple(each for each in guide.catalogue.cables if each.use != "ac" or each.awg != size)
    listed = {line.group: line for line in relisted(found, with_shelf(guide, cables=inexact))}
    assert not listed["ac-cable"].product


def test_a_converter_to_12_v_only_where_the_bank_is_not_12_v(case: MakeCase) -> None:
    assert not lines(case(VAN), "step-down")
    assert not lines(case(COOKING), "step-down")
    assert lines(case(f"{COOKING} bank=24V"), "step-down")
    assert lines(case(f"{VAN} bank=24V"), "step-down")
    assert not lines(case(f"{COOKING} house=none loads=kettle,tv bank=24V"), "step-down")


def test_an_alternator_charger_is_one_that_the_alternator_bears(
    guide: Guide, case: MakeCase
) -> None:
    (line,) = lines(case(f"{VAN} alt=60A drive=2h"), "alternator-charger")
    assert not line.product
    assert "60 A" in line.name
    (line,) = lines(case(f"{VAN} alt=100A drive=2h"), "alternator-charger")
    charger = next(each for each in guide.catalogue.alternator_chargers if each.id == line.product)
    assert charger.input_a <= 50.0


def test_an_article_is_one_line_with_its_uses_beneath() -> None:
    """By hand: 3 + 4 lugs in packs of 5 at $9 are two packs; 2 m and 3 m of cable at $4 are 5 m."""
    lugs = PartLine("lugs", "lug", "Lug", 3, "", 9.0, 0.1, 5)
    spare = lugs._replace(group="spare-lugs", quantity=4)
    cable = PartLine("dc-cable", "cable", "Cable", 2.0, "m", 4.0, 0.5)
    link = cable._replace(group="battery-links", quantity=3.0)
    first, second = orders_of([lugs, cable, spare, link])
    assert (first.quantity, first.unit, first.needed, first.price) == (2.0, "pack", 7, 18.0)
    assert (second.quantity, second.unit, second.price) == (5.0, "m", 20.0)
    assert [use.group for use in second.uses] == ["dc-cable", "battery-links"]


def test_what_the_shelf_lacks_is_one_line_by_its_name() -> None:
    wanted = PartLine("lugs", "", "lugs, 2 AWG to M8", 3, "", 0.0, 0.0)
    other = wanted._replace(name="lugs, 4 AWG to M8")
    assert [order.needed for order in orders_of([wanted, other, wanted])] == [6, 3]


@pytest.mark.parametrize("text", ALL)
def test_each_article_stands_on_the_list_once_in_whole_packs(case: MakeCase, text: str) -> None:
    orders = case(text).design.orders
    articles = [order.product for order in orders]
    assert len(articles) == len(set(articles))
    for order in orders:
        if order.pack > 1:
            assert order.quantity == int(order.quantity)
            assert order.needed <= order.quantity * order.pack < order.needed + order.pack


def test_two_units_have_a_cable_between_them_and_one_has_none(case: MakeCase) -> None:
    assert [line.quantity for line in lines(case(TWO_AIRCONS), "comm-cable")] == [1]
    assert not lines(case(COACH), "comm-cable")


def test_the_guard_of_shore_power_is_that_of_the_cord(guide: Guide, case: MakeCase) -> None:
    for text in ALL:
        (line,) = lines(case(text), "cord-guard")
        guard = next(each for each in guide.catalogue.cord_guards if each.id == line.product)
        assert guard.service == case(text).needs.service_id


def test_a_new_panel_has_gfcis_and_the_panel_that_is_there_a_lock_for_the_factory_charger(
    guide: Guide, case: MakeCase
) -> None:
    for text in ALL:
        found = case(text)
        gfcis = sum(line.quantity for line in lines(found, "gfci"))
        there = found.needs.panel_there
        assert gfcis == (0 if there else guide.planning.water_circuits)
        assert bool(lines(found, "breaker-lock")) == there


@pytest.mark.parametrize(
    ("text", "ends"),
    [
        (VAN, False),
        (COOKING, True),
        (f"{COOKING} bank=12V", True),
        (f"{COOKING} bank=12V chemistry=agm", False),
        (f"{COOKING} bank=24V", False),  # it goes on to the 12 V battery that stays
        (f"{COOKING} bank=24V chemistry=agm house=none", True),
        (f"{COOKING} alt=180A", False),
    ],
)
def test_a_tow_vehicle_s_line_reaches_no_bank_but_lead_acid_of_12_v(
    case: MakeCase, text: str, ends: bool
) -> None:
    assert bool(lines(case(text), "tow-end")) == ends


def test_every_lug_has_heat_shrink_of_its_size_and_every_ac_cable_end_a_strain_relief(
    guide: Guide, case: MakeCase
) -> None:
    shelf = {each.id: each for each in guide.catalogue.hardware}
    for text in ALL:
        found = case(text)
        sleeves = lines(found, "heat-shrink")
        lugs = sum(line.quantity for line in lines(found, "lugs"))
        assert sum(line.quantity for line in sleeves) == lugs
        (relief,) = lines(found, "strain-reliefs")
        assert relief.quantity == 4 * found.candidate.units
        size = awg.rank(found.design.ac.input_awg)
        kind = shelf[relief.product]
        assert awg.rank(kind.smallest_awg) <= size <= awg.rank(kind.largest_awg)


@pytest.mark.parametrize("name", LEFT_OUT)
def test_what_stays_out_is_said_where_it_is_so(case: MakeCase, name: str) -> None:
    texts = [*ALL, VAN.replace("whole", "some"), f"{COOKING} bank=12V chemistry=agm"]
    texts.append(f"{COOKING} mount=sideways")
    said = [name in left_out_of(case(text).needs, case(text).design) for text in texts]
    assert any(said)
    assert name in ("labor", "fixings", "hold-downs") or not all(said)


@pytest.mark.parametrize("text", [*ALL, VAN.replace("whole", "some"), f"{COOKING} mount=sideways"])
def test_what_stays_out_goes_with_what_is_in(case: MakeCase, text: str) -> None:
    """A new panel leaves its circuits to the fitter, one that is there stays as it is."""
    found = case(text)
    out = left_out_of(found.needs, found.design)
    new_panel = bool(lines(found, "sub-panel") or lines(found, "panel"))
    assert (("circuits" in out), ("own-panel" in out)) == (new_panel, not new_panel)
    assert ("vents" in out) == bool(lines(found, "fan"))
    assert ("roof-wires" in out) == bool(lines(found, "solar-panel"))
    assert ("main-panel" in out) == (found.needs.bare and not lines(found, "panel"))
    assert ("inlet" in out) != bool(lines(found, "input-lead"))


@pytest.mark.parametrize("text", [VAN, COOKING, COACH, TWO_AIRCONS, SOME])
def test_each_unit_has_a_cable_in_and_one_out(case: MakeCase, text: str) -> None:
    found = case(text)
    (line,) = [each for each in found.design.parts if each.group == "ac-cable"]
    runs_m = 2 * found.candidate.units * found.guide.planning.ac_run_m
    assert line.quantity == pytest.approx(runs_m)
    assert line.unit == "m"


def test_panels_and_a_controller_that_the_shop_lacks_are_named_once(
    guide: Guide, case: MakeCase
) -> None:
    found = case(f"{VAN} solar=400W", with_shelf(guide, solar_controllers=()))
    lines = [each for each in found.design.parts if each.group.startswith("solar-")]
    named = {each.group: each.quantity for each in lines if not each.product}
    assert {name: named.get(name) for name in ("solar-panel", "solar-controller")} == {
        "solar-panel": 1,
        "solar-controller": 1,
    }


def test_a_ferrule_that_the_shop_lacks_is_named_with_the_clamps_depth_in_millimeters(
    guide: Guide, case: MakeCase
) -> None:
    found = case(COACH, with_shelf(guide, ferrules=()))
    depth_mm = found.candidate.inverter.terminals.conductor_depth * 1000.0
    names = [each.name for each in found.design.parts if each.group == "ferrules"]
    assert names
    assert all(f"{depth_mm:g}" in name for name in names)


def test_of_ferrules_in_packs_the_cheaper_piece_is_taken(guide: Guide, case: MakeCase) -> None:
    terminals = case(COACH).candidate.inverter.terminals
    size = push_in_ends(wiring_of(case(COACH).candidate), case(COACH).design.ac)[0].awg
    own = ferrule_for(guide, size, terminals.conductor_depth)
    assert own is not None
    few = replace(own, id="few", price=10.0, pack=10)
    many = replace(own, id="many", price=50.0, pack=100)
    for shelf in ((few, many), (many, few)):
        taken = ferrule_for(with_shelf(guide, ferrules=shelf), size, terminals.conductor_depth)
        assert taken is not None
        assert taken.id == "many"


def test_a_tool_for_ferrules_makes_all_sizes_of_the_list(guide: Guide, case: MakeCase) -> None:
    asked = f"{COACH} tools=screwdriver"
    ends = [
        each.awg for each in push_in_ends(wiring_of(case(COACH).candidate), case(COACH).design.ac)
    ]
    smallest, largest = min(ends, key=awg.rank), max(ends, key=awg.rank)
    assert smallest != largest
    like = next(each for each in guide.catalogue.crimpers if each.makes == "ferrule")
    others = tuple(each for each in guide.catalogue.crimpers if each.makes != "ferrule")
    for first, last, sold in (
        (smallest, largest, True),
        (smallest, smallest, False),
        (largest, largest, False),
    ):
        tool = replace(like, id="tool", smallest_awg=first, largest_awg=last)
        found = case(asked, with_shelf(guide, crimpers=(*others, tool)))
        if found.candidate.inverter.terminals.kind == "push-in":
            lines = [each for each in found.design.parts if each.group == "ferrule-crimper"]
            assert [each.product for each in lines] == (["tool"] if sold else [""])


ONCE = {
    *("disconnect", "soc-monitor", "precharge", "labels", "remote-panel", "cord-guard", "panel"),
    *("lug-crimper", "ferrule-crimper", "breaker-in", "breaker-out", "breaker-lock", "sub-panel"),
    *("frost-sensor", "temperature-sensor", "charge-isolator", "tow-end", "input-lead"),
    *("step-down", "alternator-charger", "solar-controller", "house-fuse", "house-switch"),
    *("step-down-fuse", "alternator-fuse", "solar-fuse", "solar-switch", "starter-fuse"),
    *("kept-fuse", "kept-fuse-holder", "fan"),
}
"""What a rig has once, however many units or batteries."""
EACH_UNIT = {"inverter", "fuse", "fuse-holder", "soft-starter"}
MORE = (
    f"{COACH} bank=24V",
    f"{COACH} bank=12V",
    f"{COOKING} mount=sideways chemistry=agm",
    f"{VAN} coldest=-10C",
    f"{TWO_AIRCONS} bank=12V",
)


def test_what_a_rig_has_once_is_listed_once_and_what_a_unit_has_once_for_each(
    case: MakeCase,
) -> None:
    seen = set()
    for text in (*ALL, *MORE):
        found = case(text)
        for line in found.design.parts:
            seen.add(line.group)
            units = found.candidate.units
            assert line.group not in ONCE or line.quantity == 1, (text, line)
            assert line.group not in EACH_UNIT or line.quantity == units, (text, line)
    assert seen >= ONCE | EACH_UNIT


def test_a_crimper_for_lugs_reaches_from_the_smallest_to_the_largest(
    guide: Guide, case: MakeCase
) -> None:
    """Of a list whose thinnest and thickest lugs are each for one stud."""
    found = case(SOURCES)
    lugs = {(each.size, stud) for each in found.design.dc.conductors for stud in each.studs if stud}
    sizes = sorted({size for size, _ in lugs}, key=awg.rank)
    assert [sum(size == end for size, _ in lugs) for end in (sizes[0], sizes[-1])] == [1, 1]
    like = next(each for each in guide.catalogue.crimpers if each.makes == "lug")
    assert len(sizes) > 1
    for smallest, largest, does in (
        (sizes[0], sizes[-1], True),
        (sizes[1], sizes[-1], False),
        (sizes[0], sizes[-2], False),
    ):
        one = replace(like, id="one", smallest_awg=smallest, largest_awg=largest)
        listed = relisted(found, with_shelf(guide, crimpers=(one,)))
        (tool,) = (line for line in listed if line.group == "lug-crimper")
        assert bool(tool.product) is does


@pytest.mark.parametrize("text", ALL)
def test_every_cable_is_clamped_led_through_walls_and_sheathed_where_no_fuse_guards_it(
    case: MakeCase, text: str
) -> None:
    """A clamp at least every 18 in (ABYC E-11, from memory), a grommet for each of these."""
    found = case(text)
    long = [each for each in found.design.dc.conductors if each.length_m > 0.4572]
    wanted = {
        "clamps": sum(each.quantity * math.ceil(each.length_m / 0.4572) for each in long),
        "grommets": sum(each.quantity for each in long),
        "sheaths": sum(each.quantity for each in found.design.dc.conductors if each.sheathed),
    }
    listed = {name: sum(line.quantity for line in lines(found, name)) for name in wanted}
    assert listed == wanted


@pytest.mark.parametrize("text", [VAN, COACH, COOKING])
def test_a_breaker_that_the_shelf_lacks_is_named_by_its_poles(
    guide: Guide, case: MakeCase, text: str
) -> None:
    found = case(text)
    ac, say = found.design.ac, guide.wording.parts.say
    poles = {1: "lacks-breaker-one-pole", 2: "lacks-breaker-two-pole"}
    listed = relisted(found, with_shelf(guide, breakers=()))
    names = {line.group: line.name for line in listed if not line.product}
    assert names["breaker-out"] == say(poles[ac.breaker_poles], amps=f"{ac.output_a:g}")
    assert names["breaker-in"] == say(poles[ac.breaker_poles], amps=f"{ac.input_a:g}")


def test_a_ferrule_is_for_the_size_that_was_asked_for(guide: Guide) -> None:
    for size in {each.awg for each in guide.catalogue.ferrules}:
        for barrel in {each.barrel for each in guide.catalogue.ferrules if each.awg == size}:
            found = ferrule_for(guide, size, barrel)
            assert found is None or found.awg == size
            assert found is None or found.barrel == pytest.approx(barrel, abs=0.0011)


@pytest.mark.parametrize("precharge", [True, False])
def test_a_thin_wire_of_the_monitor_has_a_small_fuse_and_that_of_the_pre_charge_another(
    guide: Guide, case: MakeCase, *, precharge: bool
) -> None:
    found = case(VAN)
    design = replace(found.design, dc=replace(found.design.dc, precharge=precharge))
    listed = [line for line in parts_on(guide, found.needs, design) if line.group == "small-fuses"]
    assert sum(line.quantity for line in listed) == 1 + precharge


def test_cable_is_for_its_use_and_of_its_size_but_a_ground_may_be_thicker(guide: Guide) -> None:
    for use, size, cores in {(e.use, e.awg, e.conductors) for e in guide.catalogue.cables}:
        found = cable_for(guide, use, size, cores)
        assert found is not None
        assert (found.use, found.conductors) == (use, cores)
        assert found.awg == size or (use == "ground" and awg.rank(found.awg) > awg.rank(size))
