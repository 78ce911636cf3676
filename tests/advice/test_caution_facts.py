"""The figures that cautions tell are those of the plan beside which they stand."""

from dataclasses import replace

import pytest

from engine.advice.judge.cautions import RULES
from engine.advice.plan.charging import driving_a
from engine.model.buses import LEG, LEGS
from tests.advice.conftest import COACH, COOKING, TWO_AIRCONS, VAN, MakeCase

JOINED = "rig=van scope=whole heavy=1 biggest=cooking have=2x100Ah-12V-lifepo4-1y"


def facts(case: MakeCase, rule: str, text: str) -> dict[str, str]:
    found = case(text)
    told = RULES[rule](found.guide, found.needs, found.design)
    assert told is not None
    return dict(told)


def figure(text: str) -> float:
    return float(text.split(maxsplit=1)[0].replace(",", ""))


def test_the_short_circuit_is_that_of_the_bank_and_of_the_weakest_fuse(case: MakeCase) -> None:
    """1 kA is 1,000 A."""
    text = f"{COOKING} bank=12V nights=4"
    told, design = facts(case, "high-short-circuit", text), case(text).design
    assert figure(told["short_ka"]) == pytest.approx(design.bank.short_circuit_a / 1000, abs=0.05)
    own = (design.dc.fuse, design.dc.battery_fuse, *(each.fuse for each in design.dc.branches))
    rated_ka = {each.interrupt / 1000 for each in own if each}
    assert min(rated_ka) <= figure(told["rated_ka"]) <= design.dc.fuse.interrupt / 1000
    assert figure(told["rated_ka"]) in rated_ka


def test_new_batteries_are_counted_beside_those_that_stay(case: MakeCase) -> None:
    bank = case(JOINED).design.bank
    assert facts(case, "kept-joined", JOINED)["count"] == f"{bank.count - 2}"


LIVE = ("house", "dc48", "converter", "charger", "solar")


@pytest.mark.parametrize(
    ("text", "live", "order"),
    [
        (VAN, "house", "house"),
        (f"{VAN} solar=400W", "house solar", "house solar"),
        (f"{VAN} alt=180A", "house charger", "house engine"),
        (f"{VAN} gen=2000W", "house", "house generator"),
        (f"{COOKING} bank=12V", "house", "house"),
        (f"{COOKING} bank=24V", "house converter", "house"),
        (f"{COACH} bank=48V solar=400W", "house converter solar", "house solar"),
        (
            f"{COOKING} bank=48V loads=lights,heat:600W:3h:dc48",
            "house converter dc48",
            "house dc48",
        ),
    ],
)
def test_what_is_shut_down_and_what_stays_live_is_what_is_there(
    case: MakeCase, text: str, live: str, order: str
) -> None:
    told, page = facts(case, "shut-down", text), case(text).guide.wording.page
    assert {each for each in LIVE if page[f"live-{each}"] in told["live"]} == set(live.split())
    sources = ("solar", "engine", "generator", "house", "dc48")
    assert {each for each in sources if page[f"shut-{each}"] in told["order"]} == set(order.split())
    assert page["live-battery"] in told["live"]


def test_what_runs_on_240_v_is_named_theirs_first(case: MakeCase) -> None:
    """Without any of theirs, what the guide knows that would stay dead."""
    guide = case(COACH).guide
    own = f"{COACH} loads=lights,kiln:2000W:1h:legs"
    known = {each.name for each in guide.appliances if each.bus is LEGS}
    told = facts(case, "no-240-off-battery", COACH)["loads_240"]
    assert {name for name in known if name in told} == known
    assert not {each.name for each in guide.appliances if each.bus is LEG and each.name in told}
    needs = case(own).needs
    assert [load.name for load in needs.loads if load.bus is LEGS] == ["kiln"]
    rule = RULES["no-240-off-battery"](guide, needs, case(COACH).design)
    assert rule == {"loads_240": "kiln"}


def test_the_limit_on_shore_is_that_of_the_smaller_breaker(case: MakeCase) -> None:
    """Arithmetic: 15 A of a post are less than the input breaker of a rig with a 30 A cord."""
    whole, little = (facts(case, "shore-limit", f"{COOKING} shore={a}") for a in ("30A", "15A"))
    assert figure(little["limit_a"]) <= 15.0 < figure(whole["limit_a"]) <= 30.0


def test_busbars_that_carry_all_that_feeds_them_are_no_cause_for_a_caution(case: MakeCase) -> None:
    found = case(f"{VAN} chemistry=agm")
    dc = found.design.dc
    for fed_a, told in ((dc.trunk.ampacity_a, False), (dc.trunk.ampacity_a + 1.0, True)):
        design = replace(found.design, dc=replace(dc, fed_a=fed_a))
        rule = RULES["busbars-fed"](found.guide, found.needs, design)
        assert (rule is not None) is told


def test_what_charges_together_is_told_only_above_what_the_bank_accepts(case: MakeCase) -> None:
    """The charger alone is set to no more than that; sun on top of it is more."""
    for more, told in (("", False), (" solar=400W", True)):
        found = case(f"{VAN}{more}")
        bank = replace(found.design.bank, charge_limit_a=5.0)
        design = replace(found.design, bank=bank)
        facts = RULES["sources-sum"](found.guide, found.needs, design)
        assert (facts is not None) is told


def test_every_unit_charges(case: MakeCase) -> None:
    """As far as the bank accepts it, and sun on top."""
    found = case(f"{TWO_AIRCONS} solar=400W")
    each_a = found.candidate.inverter.charge_current
    assert found.candidate.units == 2
    for limit_a, plugged_a in ((1.5 * each_a, 1.5 * each_a), (2.0 * each_a, 2.0 * each_a)):
        bank = replace(found.design.bank, charge_limit_a=limit_a)
        design = replace(found.design, bank=bank)
        _, solar_a = driving_a(found.guide, found.needs, design)
        facts = RULES["sources-sum"](found.guide, found.needs, design)
        assert facts is not None and solar_a > 0.0
        assert facts["sum_a"] == f"{plugged_a + solar_a:.0f} A"
