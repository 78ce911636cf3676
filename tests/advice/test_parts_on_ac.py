"""What the AC side of a parts list holds: how many of each, for which service, with which legs."""

import math
from dataclasses import replace

import pytest

from engine.model.guide import Guide
from tests.advice.conftest import (
    COACH,
    COOKING,
    SIDE_BY_SIDE,
    SOME,
    TWO_AIRCONS,
    VAN,
    MakeCase,
    with_shelf,
)
from tests.advice.test_parts import lines, relisted

ON_BOTH_LEGS = "rig=coach-50 scope=some heavy=1 biggest=cooking v240=yes"


@pytest.mark.parametrize(
    ("text", "group", "quantity"),
    [
        (SIDE_BY_SIDE, "breaker-main", 1),
        (SIDE_BY_SIDE, "breaker-joint", 1),
        (COACH, "breaker-lock", 1),
        (f"{COACH} bank=12V", "tow-end", 1),
        (COACH, "ferrule-crimper", 1),
        (VAN, "input-lead", 1),
        (VAN, "strain-reliefs", 4),  # two cables of the unit, two ends each
        (TWO_AIRCONS, "strain-reliefs", 8),
    ],
)
def test_of_each_article_there_are_as_many_as_are_fitted(
    case: MakeCase, text: str, group: str, quantity: int
) -> None:
    (line,) = lines(case(text), group)
    assert line.quantity == quantity


@pytest.mark.parametrize("group", ["breaker-main", "breaker-joint"])
def test_one_breaker_for_both_units_of_a_leg_has_one_pole(
    guide: Guide, case: MakeCase, group: str
) -> None:
    (line,) = lines(case(SIDE_BY_SIDE), group)
    breaker = next(each for each in guide.catalogue.breakers if each.id == line.product)
    assert breaker.poles == 1


@pytest.mark.parametrize(("text", "units"), [(COOKING, 1), (COACH, 1), (TWO_AIRCONS, 2)])
def test_each_unit_has_a_cable_in_and_a_cable_out(
    guide: Guide, case: MakeCase, text: str, units: int
) -> None:
    (cable,) = lines(case(text), "ac-cable")
    assert cable.quantity == 2 * units * guide.planning.ac_run_m


@pytest.mark.parametrize(("text", "legs"), [(SOME, 1), (ON_BOTH_LEGS, 2)])
def test_a_new_panel_has_the_legs_that_feed_it(
    guide: Guide, case: MakeCase, text: str, legs: int
) -> None:
    (line,) = lines(case(text), "sub-panel")
    panel = next(each for each in guide.catalogue.sub_panels if each.id == line.product)
    assert panel.legs == legs


@pytest.mark.parametrize(("cord", "service"), [("15A", "household-15"), ("20A", "household-20")])
def test_a_lead_is_for_the_service_of_the_cord(
    guide: Guide, case: MakeCase, cord: str, service: str
) -> None:
    found = case(f"{VAN} cord={cord}")
    (line,) = lines(found, "input-lead")
    lead = next(each for each in guide.catalogue.input_leads if each.id == line.product)
    assert lead.service == service
    others = tuple(each for each in guide.catalogue.input_leads if each.service != service)
    listed = relisted(found, with_shelf(guide, input_leads=others))
    (lacking,) = [line for line in listed if line.group == "input-lead"]
    assert lacking.product == ""


@pytest.mark.parametrize("share", [0.0, 0.1, 0.5, 1.0])
def test_spare_ferrules_are_a_share_of_those_that_are_fitted(
    guide: Guide, case: MakeCase, share: float
) -> None:
    """Whole pieces, rounded up: of eight ends half are four spares."""
    found = case(COACH)
    listed = relisted(found, replace(guide, planning=replace(guide.planning, spare_ends=share)))
    fitted = [line for line in listed if line.group == "ferrules"]
    spares = {line.product: line.quantity for line in listed if line.group == "spare-ferrules"}
    assert sum(line.quantity for line in fitted) == 8
    for line in fitted:
        assert spares[line.product] == math.ceil(share * line.quantity)
