"""What the fuses at a bank can stop: the weakest of them counts, and practice accepts 20 kA."""

from dataclasses import replace

import pytest

from engine.advice.plan.interrupt import interrupt_check, weakest_fuse_a
from engine.model.result import DcPlan
from tests.advice.conftest import COOKING, MakeCase

BIG_BANK = f"{COOKING} bank=24V alt=180A drive=2h solar=400W nights=3"


def with_interrupts(dc: DcPlan, main_a: float, strings_a: float, **branches_a: float) -> DcPlan:
    """The same DC side with fuses that stop so much; branches that are not named stop 50 kA."""
    assert dc.battery_fuse is not None
    branches = tuple(
        each._replace(
            fuse=each.fuse
            and replace(each.fuse, interrupt=branches_a.get(each.id.replace("-", "_"), 50_000.0))
        )
        for each in dc.branches
    )
    return replace(
        dc,
        fuse=replace(dc.fuse, interrupt=main_a),
        battery_fuse=replace(dc.battery_fuse, interrupt=strings_a),
        branches=branches,
    )


@pytest.mark.parametrize(
    ("main_a", "strings_a", "branches_a", "weakest_a"),
    [
        (20_000.0, 30_000.0, {}, 20_000.0),
        (30_000.0, 20_000.0, {}, 20_000.0),
        (30_000.0, 20_000.0, {"solar": 5_000.0}, 5_000.0),
        (30_000.0, 20_000.0, {"alternator": 2_000.0, "solar": 5_000.0}, 2_000.0),
        (30_000.0, 20_000.0, {"step_down": 1_000.0}, 1_000.0),
        (30_000.0, 20_000.0, {"starter": 1_000.0}, 20_000.0),
    ],
)
def test_a_short_circuit_at_a_bank_meets_the_weakest_fuse_that_hangs_on_it(
    case: MakeCase,
    main_a: float,
    strings_a: float,
    branches_a: dict[str, float],
    weakest_a: float,
) -> None:
    """By hand. That at the starter battery sees the short circuit of this one, not of the bank."""
    dc = case(BIG_BANK).design.dc
    assert {each.id for each in dc.branches} == {
        *("solar", "alternator", "starter", "step-down", "house")
    }
    found = with_interrupts(dc, main_a, strings_a, **branches_a)
    assert weakest_fuse_a(found) == weakest_a
    check = interrupt_check(found, 24_000.0)
    assert (check.value, check.limit) == (24_000.0, weakest_a)
    assert check.passed is (weakest_a >= 20_000.0)


@pytest.mark.parametrize(
    ("short_a", "fuse_a", "stops", "accepted"),
    [
        (8_000.0, 10_000.0, True, False),
        (10_000.0, 10_000.0, True, False),
        (10_001.0, 10_000.0, False, False),
        (20_000.0, 20_000.0, True, False),
        (20_001.0, 20_000.0, False, True),
        (90_000.0, 20_000.0, False, True),
        (90_000.0, 19_999.0, False, False),
    ],
)
def test_what_a_fuse_stops_needs_no_practice_to_accept_it(
    case: MakeCase, short_a: float, fuse_a: float, stops: bool, accepted: bool
) -> None:
    """ABYC E-11 11.10.1.2, as quoted in the trade: 20 kA above 10 kA, whatever the estimate."""
    dc = with_interrupts(case(BIG_BANK).design.dc, fuse_a, 50_000.0)
    check = interrupt_check(dc, short_a)
    assert check.accepted is accepted
    assert check.passed is (stops or accepted)
