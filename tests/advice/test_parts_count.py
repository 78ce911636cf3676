"""How much of each part is on the list, what it costs and weighs at least, and its order."""

from dataclasses import replace

import pytest

from engine.advice.plan.dc_cables import MAIN
from engine.advice.plan.parts import least_of
from engine.model.guide import Guide
from engine.model.parts import PartLine
from tests.advice.conftest import COOKING, TWO_AIRCONS, VAN, MakeCase, with_shelf
from tests.advice.test_parts import BIG_BANK, lines, parts_on, relisted


def test_a_list_costs_at_least_its_pieces_and_what_is_in_the_rig_costs_nothing() -> None:
    """By hand: three of a pack of ten at $20 are $6, two pieces at $5 are $10."""
    packed = PartLine("lugs", "lug", "Lug", 3, "", 20.0, 0.5, 10)
    single = PartLine("fuse", "fuse", "Fuse", 2, "", 5.0, 0.25)
    there = PartLine("battery", "", "yours", 2, "", 700.0, 20.0, have=True)
    price, mass_kg = least_of((packed, single, there))
    assert price == pytest.approx(16.0)
    assert mass_kg == pytest.approx(2.0)


def test_a_sensor_fits_the_studs_of_the_battery(guide: Guide, case: MakeCase) -> None:
    found = case(f"{COOKING} chemistry=agm")
    stud = found.design.bank.battery.stud
    like = guide.catalogue.temperature_sensors[0]
    fits, other = replace(like, id="fits", stud=stud), replace(like, id="other", stud="M99")
    for sensors, product in (((other, fits), "fits"), ((other,), "")):
        listed = relisted(found, with_shelf(guide, temperature_sensors=sensors))
        (line,) = [line for line in listed if line.group == "temperature-sensor"]
        assert line.product == product
        assert product or stud in line.name


def test_a_branch_for_which_there_is_no_cable_asks_for_both_its_conductors(
    guide: Guide, case: MakeCase
) -> None:
    """There and back: twice its length; what is not in stock has no price and no weight."""
    found = case(f"{COOKING} bank=24V")
    dc = found.design.dc
    branch = dc.branches[0]
    assert branch.length_m > 0.0
    bare = (branch._replace(cable=None), *dc.branches[1:])
    listed = parts_on(guide, found.needs, replace(found.design, dc=replace(dc, branches=bare)))
    (lacking,) = [
        line for line in listed if line.group == f"{branch.id}-cable" and not line.product
    ]
    assert lacking.quantity == pytest.approx(2 * branch.length_m)
    assert (lacking.unit, lacking.price_each, lacking.mass_each_kg) == ("m", 0.0, 0.0)


@pytest.mark.parametrize("text", [VAN, COOKING, TWO_AIRCONS])
def test_each_unit_has_its_own_bond_to_the_chassis(guide: Guide, case: MakeCase, text: str) -> None:
    found = case(text)
    (bond,) = lines(found, "bond-cable")
    assert bond.quantity == found.candidate.units * guide.planning.bond_run_m


@pytest.mark.parametrize("text", [BIG_BANK, TWO_AIRCONS, f"{COOKING} bank=24V"])
def test_the_cable_to_the_unit_stands_before_every_other_cable(case: MakeCase, text: str) -> None:
    found = case(text)
    groups = {each.group for each in found.design.dc.conductors}
    listed = [line.group for line in found.design.parts if line.group in groups]
    assert len({*listed}) > 1
    assert sorted(listed)[0] != MAIN
    assert listed[0] == MAIN
    assert MAIN not in listed[listed.count(MAIN) :]
