"""Batteries that are there: whether they serve, each reason why not, and what they would change."""

from dataclasses import replace

import pytest

from engine.advice.judge.cautions import cautions_of
from engine.advice.plan.existing import reuse_of, weakest_fuse_a
from engine.model.sources import Reuse
from tests.advice.conftest import AIRCON, COOKING, VAN, MakeCase

SMALL = "rig=van scope=some heavy=0 bank=12V"


def reuse(case: MakeCase, text: str) -> Reuse:
    found = case(text)
    verdict = reuse_of(found.guide, found.needs, found.design)
    assert verdict is not None
    return verdict


def test_where_there_are_none_nothing_is_said(case: MakeCase) -> None:
    found = case(VAN)
    assert reuse_of(found.guide, found.needs, found.design) is None


def test_good_batteries_serve_and_save_the_new_ones(case: MakeCase) -> None:
    found = case(f"{VAN} have=1x200Ah-12V-lifepo4-2y")
    verdict = reuse(case, f"{VAN} have=1x200Ah-12V-lifepo4-2y")
    bank = found.design.bank
    assert verdict.serves
    assert verdict.saves == bank.count * bank.battery.price
    assert verdict.mass_kg == bank.count * bank.battery.mass
    assert (verdict.series, verdict.parallel) == (1, 1)
    assert verdict.nights == pytest.approx(verdict.energy_wh / bank.need_wh)


def test_the_new_bank_is_planned_all_the_same(case: MakeCase) -> None:
    with_old, without = case(f"{VAN} have=1x200Ah-12V-lifepo4-2y"), case(VAN)
    assert with_old.design == without.design


@pytest.mark.parametrize(
    ("text", "codes"),
    [
        (f"{VAN} have=2x100Ah-12V-agm-1y", ["chemistry"]),
        (f"{VAN} have=2x100Ah-12V-lifepo4-10y", ["age"]),
        (f"{VAN} have=2x100Ah-12V-lifepo4-9y", []),
        (f"{VAN} chemistry=agm have=2x100Ah-12V-agm-5y", ["age"]),
        (f"{VAN} chemistry=flooded have=4x225Ah-6V-flooded-3y", []),
        (f"{VAN} have=2x100Ah-24V-lifepo4-1y", ["voltage"]),
        (f"{COOKING} bank=24V have=3x100Ah-12V-lifepo4-1y", ["whole"]),
        (f"{COOKING} bank=24V have=2x200Ah-12V-lifepo4-1y", []),
        (f"{COOKING} bank=12V have=1x100Ah-12V-lifepo4-1y", ["current"]),
        (f"{AIRCON} bank=12V have=2x120Ah-12V-lifepo4-1y", ["start"]),
        (f"{VAN} ambient=-10C have=2x200Ah-12V-lifepo4-1y", ["cold"]),
        (f"{VAN} have=1x50Ah-12V-agm-9y bank=12V coldest=-19C", ["chemistry", "age"]),
    ],
)
def test_each_reason_why_not_is_found(case: MakeCase, text: str, codes: list[str]) -> None:
    verdict = reuse(case, text)
    assert [fault.code for fault in verdict.faults] == codes
    assert verdict.serves == (not codes)


def test_a_reason_says_what_they_have_and_what_is_needed(case: MakeCase) -> None:
    """1 C for lithium is from memory; two to three times that for a start, the low end."""
    current = reuse(case, f"{COOKING} bank=12V have=1x100Ah-12V-lifepo4-1y").faults[0]
    assert current.has == 100.0
    assert isinstance(current.needs, float)
    assert current.needs > 100.0
    start = reuse(case, f"{AIRCON} bank=12V have=2x120Ah-12V-lifepo4-1y").faults[0]
    assert start.has == 2 * 2 * 120.0


def test_energy_counts_depth_and_age_and_lead_by_peukert(case: MakeCase) -> None:
    """Depth 0.8 for lithium, 0.5 for lead (secondary); ageing 0.9 (planning)."""
    lithium = reuse(case, f"{VAN} coldest=25C have=1x200Ah-12V-lifepo4-2y")
    assert lithium.energy_wh == pytest.approx(12.0 * 200.0 * 0.8 * 0.9)
    text = f"{VAN} chemistry=agm coldest=25C loads=kettle:2h have=2x100Ah-12V-agm-1y"
    each_a = case(text).design.bank.mean_a  # at 24 V the two stand in series
    held_ah = each_a * 20.0 * (100.0 / (each_a * 20.0)) ** 1.15  # k of an old AGM, from memory
    assert held_ah < 90.0
    assert reuse(case, text).energy_wh == pytest.approx(24.0 * held_ah * 0.5 * 0.9)


def test_their_short_circuit_is_planned_high(case: MakeCase) -> None:
    """Lead: up to 4 kA for 100 Ah (secondary); lithium 62 A/Ah, worked out from cells."""
    assert reuse(case, f"{VAN} have=2x100Ah-12V-agm-1y").short_circuit_a == 8000.0
    assert reuse(case, f"{VAN} have=1x200Ah-12V-lifepo4-2y").short_circuit_a == 12_400.0


@pytest.mark.parametrize(
    ("have", "short_a", "interrupt_a", "classes"),
    [
        ("1x150Ah", 9300.0, 20_000.0, ()),
        ("4x100Ah", 24_800.0, 20_000.0, ()),
        ("1x300Ah", 18_600.0, 20_000.0, ()),
    ],
)
def test_fuses_that_cannot_stop_them_are_told_with_the_class_that_can(
    case: MakeCase, have: str, short_a: float, interrupt_a: float, classes: tuple[str, ...]
) -> None:
    """62 A/Ah, a pack worked out; above 10 kA one of 20 kA, ABYC E-11 11.10.1.2 (secondary)."""
    text = f"{SMALL} have={have}-12V-lifepo4-1y"
    found, verdict = case(text), reuse(case, text)
    assert weakest_fuse_a(found.design) == 20_000.0
    assert (verdict.short_circuit_a, verdict.interrupt_a) == (short_a, interrupt_a)
    assert verdict.fuse_classes == classes
    notes = cautions_of(found.guide, found.needs, found.design)
    told = "high-short-circuit" in {note.caution.rule for note in notes}
    assert told == (max(short_a, found.design.bank.short_circuit_a) > 10_000.0)


def test_lead_batteries_that_a_strip_fuse_cannot_stop_are_told_with_the_class_that_can(
    case: MakeCase,
) -> None:
    """40 A/Ah, trade pages (secondary): 16 kA ask for a fuse of 20 kA."""
    text = f"{SMALL} chemistry=agm loads=lights,phones have=4x100Ah-12V-agm-1y"
    found, verdict = case(text), reuse(case, text)
    assert weakest_fuse_a(found.design) < 20_000.0
    assert (verdict.short_circuit_a, verdict.interrupt_a) == (16_000.0, 20_000.0)
    assert verdict.fuse_classes == ("Class T",)


def test_the_weakest_fuse_is_looked_for_in_every_place(case: MakeCase) -> None:
    design = case(f"{COOKING} bank=12V nights=4").design
    dc = design.dc
    assert dc.battery_fuse is not None
    weak = replace(dc, battery_fuse=replace(dc.battery_fuse, interrupt=2000.0))
    assert weakest_fuse_a(replace(design, dc=weak)) == 2000.0


def test_what_cannot_be_joined_gives_nothing(case: MakeCase) -> None:
    verdict = reuse(case, f"{COOKING} bank=24V have=3x100Ah-12V-lifepo4-1y")
    assert verdict.parallel == 0
    assert verdict.energy_wh == verdict.charge_limit_a == verdict.nights == 0.0
