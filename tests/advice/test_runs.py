"""What runs together on battery: each limit is used to its end and not beyond."""

from dataclasses import replace
from typing import Any

import pytest

from engine.advice.judge.runs import Trial, _Side, runs_of
from engine.model.result import Design
from engine.sizing.inverter import input_w, surge_for
from tests.advice.conftest import TWO_AIRCONS, VAN, Case, MakeCase

HEATER = f"{VAN} loads=heater:1200W:1h"
STOVE = f"{TWO_AIRCONS} loads=stove:2400W:1h:legs"


def runs(found: Case, design: Design, name: str) -> bool:
    return name in runs_of(found.guide, found.needs, design).alone


def with_supply(design: Design, **limits: Any) -> Design:
    return replace(design, supply=replace(design.supply, **limits))


@pytest.mark.parametrize(
    ("limit", "asked"),
    [("continuous_w", 1200.0), ("apparent_va", 1200.0)],
)
def test_a_resistive_load_runs_up_to_the_limit(case: MakeCase, limit: str, asked: float) -> None:
    """A heater's watts are its volt-amperes; the margin is the shop's own."""
    found = case(HEATER)
    if limit == "continuous_w":
        asked *= found.guide.planning.load_margin
    for more, expected in ((0.01, True), (-1.0, False)):
        design = with_supply(found.design, **{limit: asked + more})
        assert runs(found, design, "heater") is expected


def test_half_of_a_240_v_load_is_on_either_leg(case: MakeCase) -> None:
    found = case(STOVE)
    half_w = 1200.0 * found.guide.planning.load_margin
    for more, expected in ((0.01, True), (-1.0, False)):
        design = with_supply(found.design, continuous_w=half_w + more)
        assert runs(found, design, "stove") is expected


def test_a_start_may_take_all_of_the_surge(case: MakeCase) -> None:
    """A resistive load starts as it runs: 1,200 VA."""
    found = case(HEATER)
    unit = found.candidate.inverter
    own_va = surge_for(unit.surge, 0.0) * found.candidate.units_per_leg
    share = 1200.0 / own_va
    for scale, expected in ((1.0001, True), (0.99, False)):
        surge = tuple((seconds, va * share * scale) for seconds, va in unit.surge)
        inverter = replace(unit, surge=surge)
        candidate = replace(found.candidate, inverter=inverter)
        assert runs(found, replace(found.design, candidate=candidate), "heater") is expected


def test_at_once_runs_what_the_inverter_is_asked_for_and_nothing_that_stays_dead(
    case: MakeCase,
) -> None:
    found = case(STOVE)
    assert "stove" in runs_of(found.guide, found.needs, found.design).at_once
    one_leg = replace(found.design, candidate=replace(found.candidate, legs=1))
    told = runs_of(found.guide, found.needs, one_leg)
    assert "stove" in told.dead
    assert "stove" not in told.at_once


@pytest.mark.parametrize("first", [True, False])
def test_the_bank_gives_all_that_runs_on_both_legs_and_the_one_hardest_start(
    case: MakeCase, first: bool
) -> None:
    """By hand: 1,000 VA and 500 VA run, and 2,000 VA more start on one leg: 3,500 VA in all."""
    found = case(TWO_AIRCONS)
    design, units = found.design, found.candidate.units
    asked_w = units * input_w(design.supply.curve, 3500.0 / units) + design.bank.house_w
    peak_a = asked_w / design.dc.low_v / design.bank.parallel
    sides = (_Side(1000.0, 1000.0, 2000.0, 0.5), _Side(500.0, 500.0, 0.0, 0.0))
    for share, holds in ((1.001, True), (0.999, False)):
        battery = replace(
            design.bank.battery,
            continuous_current=peak_a * 0.9,
            peak_current=peak_a * share,
            peak_time=10.0,
        )
        bank = replace(design.bank, battery=battery)
        trial = Trial(found.guide, found.needs, replace(design, bank=bank))
        assert trial._holds(sides if first else sides[::-1]) is holds
