"""What hangs on the bank beside the units: its fuse, its cable, its switch, and both its ends."""

from dataclasses import replace

import pytest

from engine.advice.plan.branches import Branches, Feed, alternator_charger, branch_conductors
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Branch
from tests.advice.conftest import COOKING, VAN, MakeCase, with_shelf

SOURCES = "solar=400W alt=180A drive=2h"
FEEDS = {12.0: Feed(12.0, 11.0, 14.6, 10e3), 24.0: Feed(24.0, 22.0, 29.2, 10e3)}
FEEDS[48.0] = Feed(48.0, 44.0, 58.4, 10e3)


def branches_of(guide: Guide, needs: Needs, volts: float) -> dict[str, Branch]:
    return {each.id: each for each in Branches(guide, needs).of(FEEDS[volts])}


@pytest.mark.parametrize("volts", FEEDS)
@pytest.mark.parametrize("least_a", [0.0, 100.0, 200.0])
def test_the_cable_of_a_branch_carries_what_its_fuse_passes(
    guide: Guide, case: MakeCase, volts: float, least_a: float
) -> None:
    """A shelf whose smallest fuse is large asks for a thicker cable: 33 CFR 183.455 (here 100 %),
    at the bank as at a 12 V battery that stays behind a converter."""
    large = tuple(each for each in guide.catalogue.fuses if each.rating >= least_a)
    needs = case(f"{COOKING} bank=24V {SOURCES}").needs
    found = branches_of(with_shelf(guide, fuses=large), needs, volts)
    assert len(found) >= 4
    guarded = 0
    for each in found.values():
        fuses = [fuse for fuse in (each.fuse, each.kept_fuse) if fuse]
        assert each.cable is not None
        guarded += len(fuses)
        for fuse in fuses:
            assert each.cable.ampacity_a >= fuse.rating >= max(least_a, 1.25 * each.current_a)
    assert guarded == len(found)
    assert (found["house"].kept_fuse is not None) is (volts != 12.0)


@pytest.mark.parametrize(("text", "kept"), [(COOKING, True), (VAN, False)])
def test_only_where_a_12_v_battery_stays_is_there_a_fuse_behind_a_converter(
    guide: Guide, case: MakeCase, text: str, kept: bool
) -> None:
    """A converter limits its own current, 33 CFR 183.460(b); a battery does not."""
    house = branches_of(guide, case(f"{text} bank=24V").needs, 24.0)["house"]
    assert (house.fused, house.fuse) == (False, None)
    assert house.kept is kept is (house.kept_fuse is not None) is (house.kept_holder is not None)


def test_a_long_way_to_the_starter_battery_may_lose_twice_what_others_may(
    guide: Guide, case: MakeCase
) -> None:
    """3 % and 6 %, between the 3 and 10 % of ABYC E-11 11.14.2.6 (secondary): the charger makes up
    for what is lost ahead of it."""
    shelf = replace(guide, planning=replace(guide.planning, branch_run_m=6.0, starter_run_m=6.0))
    found = branches_of(shelf, case(f"{VAN} {SOURCES}").needs, 12.0)
    lost = {each.id: each.cable.drop_fraction for each in found.values() if each.cable}
    assert set(lost) == {"solar", "alternator", "starter", "house"}
    assert 0.03 < lost.pop("starter") <= 0.06
    assert max(lost.values()) <= 0.03


@pytest.mark.parametrize(
    ("rating_a", "volts", "does"),
    [(37.5, 14.6, True), (37.4, 14.6, False), (37.5, 14.5, False), (37.4, 14.5, False)],
)
def test_a_switch_of_12_v_circuits_carries_a_quarter_more_and_bears_the_highest_voltage(
    guide: Guide, case: MakeCase, rating_a: float, volts: float, does: bool
) -> None:
    """30 A of an RV's fuse panel ask for 37.5 A (NEC 551.10(E)(1) from memory, 210.20(A)); the
    cheapest that will do is taken, wherever it stands."""
    like = guide.catalogue.disconnects[0]
    shelf = [
        replace(like, id=name, rating=rating_a, volts=volts, price=price)
        for name, price in (("dear", 90.0), ("cheap", 10.0), ("dearer", 95.0))
    ]
    needs = case(VAN).needs
    house = branches_of(with_shelf(guide, disconnects=tuple(shelf)), needs, 12.0)["house"]
    assert (house.current_a, house.cut_a, house.cut_v) == (30.0, 37.5, 14.6)
    assert (house.switch.id if house.switch else "") == ("cheap" if does else "")


@pytest.mark.parametrize(
    ("rated_a", "input_a", "does"), [(180.0, 90.0, True), (180.0, 90.1, False), (60.0, 90.0, False)]
)
def test_a_charger_takes_no_more_than_half_of_the_alternator_and_makes_the_banks_voltage(
    guide: Guide, case: MakeCase, rated_a: float, input_a: float, does: bool
) -> None:
    """Half of its rating for long: common practice, no source. The cheapest of those is taken."""
    needs = replace(case(f"{VAN} {SOURCES}").needs, alternator_a=rated_a)
    like = guide.catalogue.alternator_chargers[0]
    given = input_a * like.input * like.efficiency / 24.0
    shelf = tuple(
        replace(like, id=name, output=24.0, current=given, price=price)
        for name, price in (("dear", 900.0), ("cheap", 100.0), ("dearer", 950.0))
    )
    assert shelf[0].input_a == pytest.approx(input_a)
    chargers = with_shelf(guide, alternator_chargers=shelf)
    taken = alternator_charger(chargers, needs, 24.0)
    assert (taken.id if taken else "") == ("cheap" if does else "")
    assert ("alternator" in branches_of(chargers, needs, 24.0)) is does
    assert "alternator" not in branches_of(chargers, needs, 12.0)


@pytest.mark.parametrize("volts", FEEDS)
def test_each_branch_begins_at_the_positive_of_the_bank_and_ends_behind_the_shunt(
    guide: Guide, case: MakeCase, volts: float
) -> None:
    """From source to fuse, over a switch where it feeds circuits, and back; a converter's output
    and a starter battery have ends of their own, without a lug of this list."""
    needs = case(f"{COOKING} bank=24V {SOURCES}").needs
    for name, each in branches_of(guide, needs, volts).items():
        pieces = list(branch_conductors((each,), "source", "back", 0.4))
        at_bank = each.fused and name != "starter"
        holder = each.holder.stud if each.holder else ""
        switch = each.switch.stud if each.switch else ""
        ends = {piece.label: piece.studs for piece in pieces}
        expected = {"back": ("", "back" if at_bank else "")}
        if each.fused:
            expected["to-its-fuse"] = ("source" if at_bank else "", holder)
        if name == "house":
            expected["to-its-switch"] = (holder, switch)
            expected["from-its-switch"] = (switch, "")
        else:
            expected["there"] = (holder, "")
        assert ends == expected, name
        assert bool(switch) is (name in ("house", "solar")), name
