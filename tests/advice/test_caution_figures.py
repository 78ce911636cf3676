"""The figures of cautions, each worked out by hand from what was asked and what was chosen."""

from dataclasses import replace
from typing import Any

import pytest

from engine.advice.judge.cautions import RULES
from engine.advice.plan.charging import driving_a
from engine.advice.plan.shore import plan_generator
from engine.advice.plan.supply import unsoftened_va
from engine.model.result import Design
from tests.advice.conftest import COOKING, VAN, Case, MakeCase

BIG_BANK = f"{COOKING} bank=12V nights=4"


def told(found: Case, rule: str, design: Design | None = None, **needs: Any) -> dict[str, str]:
    """What a rule tells of a design, perhaps of another or for other needs; {} without it."""
    facts = RULES[rule](found.guide, replace(found.needs, **needs), design or found.design)
    return {"": "met", **facts} if facts is not None else {}


def figure(text: str) -> float:
    return float(text.split(maxsplit=1)[0].replace(",", ""))


def with_fuses(design: Design, interrupt_a: float) -> Design:
    """The same design with fuses at the bank that stop so much."""
    dc = design.dc
    weaker = {
        name: replace(fuse, interrupt=interrupt_a)
        for name in ("fuse", "battery_fuse")
        if (fuse := getattr(dc, name))
    }
    return replace(design, dc=replace(dc, **weaker))


@pytest.mark.parametrize(
    ("short_a", "rated_a", "short_ka", "rated_ka"),
    [
        (10_060.0, 20_000.0, "10.1 kA", "20 kA"),
        (24_840.0, 19_999.0, "24.8 kA", "19.9 kA"),
        (24_840.0, 19_940.0, "24.8 kA", "19.9 kA"),
        (74_400.0, 19_260.0, "74.4 kA", "19.2 kA"),
    ],
)
def test_short_circuit_and_fuse_are_told_in_tenths_of_a_kiloampere(
    case: MakeCase, short_a: float, rated_a: float, short_ka: str, rated_ka: str
) -> None:
    """1 kA is 1,000 A; a tenth is less than the estimate is good for, and no rating grows by it."""
    found = case(BIG_BANK)
    design = with_fuses(found.design, rated_a)
    design = replace(design, bank=replace(design.bank, short_circuit_a=short_a))
    facts = told(found, "high-short-circuit", design)
    assert (facts["short_ka"], facts["rated_ka"]) == (short_ka, rated_ka)


@pytest.mark.parametrize(
    ("short_a", "met"), [(9_999.0, False), (10_000.0, False), (10_001.0, True)]
)
def test_a_short_circuit_counts_as_high_above_10_ka(
    case: MakeCase, short_a: float, met: bool
) -> None:
    """ABYC E-11 11.10.1.2, as quoted in the trade: 20 kA where a bank gives more than 10 kA."""
    found = case(BIG_BANK)
    bank = replace(found.design.bank, short_circuit_a=short_a)
    assert bool(told(found, "high-short-circuit", replace(found.design, bank=bank))) is met


@pytest.mark.parametrize(("above", "met"), [(-1.0, False), (0.0, False), (1.0, True)])
def test_a_fitted_soft_starter_is_spoken_of_where_the_unit_cannot_start_without_it(
    case: MakeCase, above: float, met: bool
) -> None:
    """A unit that just gives the full start needs none."""
    found = case("rig=rig-30 scope=whole heavy=1 biggest=aircon-15k softstart=yes")
    assert found.candidate.soft_starters == 0
    full_va = unsoftened_va(found.needs.running, found.candidate.legs)
    design = replace(found.design, supply=replace(found.design.supply, surge_va=full_va - above))
    assert bool(told(found, "soft-starter-needed", design, soft_start_fitted=True)) is met
    assert not told(found, "soft-starter-needed", design, soft_start_fitted=False)


def test_a_start_on_a_generator_asks_for_what_runs_along_and_for_the_start(case: MakeCase) -> None:
    """By hand, from what runs along and the locked-rotor current at 120 V; the generator gives
    its rating at sea level and mild air."""
    text = "rig=van scope=whole heavy=0 loads=fridge-residential,lights,tv gen=500W altitude=7000ft"
    found = case(text)
    plan = plan_generator(found.guide, found.needs, found.design)
    assert plan is not None
    fridge = next(load for load in found.needs.running if load.name == plan.starter)
    along = [load for load in found.needs.light if load.bus.legs and load is not fridge]
    along_va = sum(load.running_w / load.power_factor for load in along)
    facts = told(found, "generator-start")
    assert along_va > 12.0
    assert figure(facts["asks_va"]) == pytest.approx(
        along_va + fridge.locked_rotor_a * 120.0, rel=0.005
    )
    assert figure(facts["gives_va"]) < figure(facts["asks_va"])


def test_what_waits_is_told_in_amperes_of_the_busier_leg(case: MakeCase) -> None:
    """P = U · I at 120 V: all that runs at once asks for more than the panel's rating."""
    found = case("rig=rig-30 scope=whole heavy=3 biggest=cooking")
    needs = found.needs
    loads = (*needs.running, *needs.waits)
    asked_a = sum(load.running_w / load.power_factor for load in loads if load.bus.legs) / 120.0
    facts = told(found, "must-wait")
    assert figure(facts["asked_a"]) == pytest.approx(asked_a, abs=0.5)
    assert figure(facts["panel_a"]) == 30.0 < asked_a


@pytest.mark.parametrize("cord", ["15A", "20A"])
@pytest.mark.parametrize("input_a", [10.0, 25.0, 60.0])
def test_a_cord_brings_no_more_than_cord_input_and_bank_bear(
    case: MakeCase, cord: str, input_a: float
) -> None:
    """80 % of a breaker for what lasts: NEC 210.20(A)."""
    found = case(f"rig=van scope=whole heavy=0 cord={cord}")
    design = replace(found.design, ac=replace(found.design.ac, input_a=input_a))
    facts = told(found, "shore-limit", design)
    least_a = min(float(cord[:-1]), input_a)
    assert figure(facts["shore_a"]) == least_a
    assert figure(facts["limit_a"]) == pytest.approx(0.8 * least_a, abs=0.5)


@pytest.mark.parametrize("more", ["", " solar=800W", " alt=180A drive=2h", " solar=800W alt=180A"])
def test_what_charges_at_once_is_the_larger_of_road_and_cord_each_with_the_sun(
    case: MakeCase, more: str
) -> None:
    """Kirchhoff's current law; where both are the same the road is named."""
    found = case(f"{VAN}{more}")
    page = found.guide.wording.page
    inverter = found.candidate.inverter
    for cord_a in (1.0, 500.0):
        unit = replace(inverter, charge_current=cord_a)
        design = replace(
            found.design,
            candidate=replace(found.candidate, inverter=unit),
            bank=replace(found.design.bank, charge_limit_a=20.0),
        )
        road_a, sun_a = driving_a(found.guide, found.needs, design)
        driven_a, plugged_a = road_a + sun_a, min(cord_a, 20.0) + sun_a
        facts = told(found, "sources-sum", design)
        assert bool(facts) is (max(driven_a, plugged_a) > 20.0)
        if facts:
            assert figure(facts["sum_a"]) == pytest.approx(max(driven_a, plugged_a), abs=0.5)
            assert facts["which"] == page["sum-drive" if driven_a >= plugged_a else "sum-shore"]
            assert figure(facts["limit_a"]) == 20.0


@pytest.mark.parametrize(
    ("kept", "count", "rule"),
    [(0, 1, ""), (1, 1, "kept-alone"), (2, 2, "kept-alone"), (1, 2, "kept-joined"), (0, 2, "")],
)
def test_theirs_are_alone_joined_or_gone(case: MakeCase, kept: int, count: int, rule: str) -> None:
    found = case(VAN)
    bank = replace(found.design.bank, series=1, parallel=count, kept=kept)
    design = replace(found.design, bank=bank)
    met = [each for each in ("kept-alone", "kept-joined") if told(found, each, design)]
    assert met == [rule] * bool(rule)
    if rule == "kept-joined":
        assert told(found, rule, design)["count"] == f"{count - kept}"


@pytest.mark.parametrize(("share", "met"), [(0.999, True), (1.0, False), (1.001, False)])
def test_a_bank_that_just_gives_all_that_the_units_may_draw_has_no_limit_to_tell(
    case: MakeCase, share: float, met: bool
) -> None:
    """A quarter more than the full draw is wanted: 1.25, common practice, no source."""
    found = case(COOKING)
    bank = found.design.bank
    each_a = 1.25 * found.design.dc.bank_a / bank.parallel * share
    battery = replace(bank.battery, continuous_current=each_a)
    design = replace(found.design, bank=replace(bank, battery=battery))
    assert bool(told(found, "bank-limit", design)) is met


def test_the_smallest_panels_and_alternator_have_their_cautions(case: MakeCase) -> None:
    found = case(VAN)
    for rule, of in (("solar", "solar_w"), ("alternator", "alternator_a")):
        for amount, met in ((0.0, False), (1.0, True)):
            needs = replace(found.needs, **{of: amount})  # type: ignore[arg-type]
            facts = RULES[rule](found.guide, needs, found.design)
            assert (facts is not None) is met


def test_a_brake_is_on_a_lithium_bank_only_where_that_feeds_the_rigs_own_12_v(
    case: MakeCase,
) -> None:
    found = case(f"{COOKING} bank=12V")
    assert found.needs.house_v and told(found, "brake-on-lithium")
    for text in (f"{COOKING} bank=24V", f"{COOKING} bank=12V chemistry=agm", VAN):
        assert not told(case(text), "brake-on-lithium")
    assert not told(found, "brake-on-lithium", house_v=0.0)
