"""Where the cables of the DC side meet, and what the unit's terminals have at the worst."""

from dataclasses import replace

import pytest

from engine.advice.plan.branches import Branches
from engine.advice.plan.dc_begun import begin_dc
from engine.advice.plan.dc_side import plan_dc
from engine.model.products import Busbar, Monitor
from tests.advice.conftest import (
    COOKING,
    SIDE_BY_SIDE,
    SOME,
    VAN,
    MakeCase,
    with_shelf,
)

ROAD_AND_SUN = "solar=400W alt=180A drive=2h"


@pytest.mark.parametrize(
    ("text", "strings", "shared"),
    [
        (VAN, 1, False),
        (COOKING, 2, True),
        (SIDE_BY_SIDE, 1, True),
        (f"{SOME} {ROAD_AND_SUN}", 1, True),
    ],
)
def test_cables_meet_on_busbars_where_units_strings_or_branches_are_many(
    case: MakeCase, text: str, strings: int, shared: bool
) -> None:
    """Four lugs on a stud, ABYC E-11 (from memory)."""
    found = case(text)
    bank = replace(found.design.bank, parallel=strings)
    dc, _ = plan_dc(found.candidate, found.supply, bank, Branches(found.guide, found.needs))
    assert dc is not None
    assert dc.shared is shared is (dc.busbar is not None) is (dc.bar_pairs > 0)
    assert isinstance(dc.monitor, Monitor)
    assert dc.busbar is None or isinstance(dc.busbar, Busbar)
    bar = dc.busbar.stud if dc.busbar else found.design.bank.battery.stud
    starts = {each.studs[0] for each in dc.conductors if each.label == "to-its-fuse"}
    starter = {""} if any(each.id == "starter" for each in dc.branches) else set()
    assert starts == {bar} | starter


@pytest.mark.parametrize(("text", "pairs"), [(f"{SOME} {ROAD_AND_SUN}", 1), (SIDE_BY_SIDE, 1)])
def test_one_string_needs_no_bar_ahead_of_the_shunt(case: MakeCase, text: str, pairs: int) -> None:
    """A positive bar, and one for the loads' negatives: its own negative goes to the shunt."""
    found = case(text)
    bank = replace(found.design.bank, parallel=1)
    dc, _ = plan_dc(found.candidate, found.supply, bank, Branches(found.guide, found.needs))
    assert dc is not None and dc.shared
    assert dc.bar_pairs == pairs


@pytest.mark.parametrize("kind", ["monitors", "busbars"])
@pytest.mark.parametrize(("share", "does"), [(1.0, True), (0.999, False)])
def test_shunt_and_busbars_carry_a_quarter_more_than_all_at_once(
    case: MakeCase, kind: str, share: float, does: bool
) -> None:
    """NEC 210.20(A) for 1.25, by analogy: just that will do."""
    found = case(COOKING)
    rating = 1.25 * found.design.dc.bank_a * share
    parts = tuple(replace(each, rating=rating) for each in getattr(found.guide.catalogue, kind))
    shelf = with_shelf(found.guide, **{kind: parts})
    dc, _ = plan_dc(found.candidate, found.supply, found.design.bank, Branches(shelf, found.needs))
    assert dc is not None
    assert ((dc.monitor if kind == "monitors" else dc.busbar) is not None) is does


def test_a_way_that_swallows_all_power_leaves_no_voltage(case: MakeCase) -> None:
    """P > U² / 4R has no solution, and nothing to start on: the unit stops."""
    found = case(VAN)
    bank = found.design.bank
    empty = replace(bank.battery, resistance=bank.nominal_v**2 / bank.dc_w)
    weak = replace(bank, battery=empty)
    dc, checks = plan_dc(found.candidate, found.supply, weak, Branches(found.guide, found.needs))
    assert dc is not None
    assert (dc.terminal_v, dc.start_v) == (0.0, None)
    (check,) = (each for each in checks if each.id == "terminal-voltage")
    assert (check.value, check.limit) == (0.0, found.candidate.inverter.low_voltage_cutoff)
    assert not check.passed


def test_what_a_unit_gives_on_the_hottest_day_is_that_of_one(case: MakeCase) -> None:
    """Two side by side on one leg give twice as much: of each its own, no more than its plate."""
    found = case(SIDE_BY_SIDE)
    dc, unit = found.design.dc, found.candidate.inverter
    assert (found.candidate.units, found.candidate.units_per_leg) == (2, 2)
    assert dc.hot_w == pytest.approx(found.supply.continuous_w / 2)
    assert dc.hot_w <= dc.unit_w == unit.continuous[0][1]
    assert dc.hot_a <= dc.current_a


def test_what_fails_on_the_way_begins_no_dc_side(case: MakeCase) -> None:
    """What runs on 48 V has no feed from a bank of 24 V."""
    found = case(f"{COOKING} bank=24V")
    other = case(f"{COOKING} bank=48V loads=lights,aircon-48v").needs
    for needs, begun in ((found.needs, True), (other, False)):
        run, checks = begin_dc(
            found.candidate, found.supply, found.design.bank, Branches(found.guide, needs)
        )
        assert (run is not None) is begun
        assert begun is all(each.passed for each in checks)
