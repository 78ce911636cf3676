"""Loads shared between two legs: proved the best by brute force and by an integer programme."""

import math
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import (
    Bounds,
    LinearConstraint,
    milp,
)

from engine.sizing.legs import LegAssignment, assign_legs

WHOLE_VA = st.integers(0, 3000).map(float)


def leg_sums(loads_va: tuple[float, ...], legs: tuple[int, ...]) -> tuple[float, float]:
    pairs = list(zip(loads_va, legs, strict=True))
    return sum(va for va, leg in pairs if leg == 1), sum(va for va, leg in pairs if leg == 2)


def test_no_load_leaves_both_legs_empty() -> None:
    assert assign_legs(()) == LegAssignment((), 0.0, 0.0)


def test_single_load_goes_to_leg_one() -> None:
    assert assign_legs((1500.0,)) == LegAssignment((1,), 1500.0, 0.0)


def test_two_air_conditioners_go_to_two_legs() -> None:
    assert assign_legs((1800.0, 1800.0)).legs == (1, 2)


def test_load_on_240_v_puts_half_on_each_leg() -> None:
    assert assign_legs((), (4800.0, 1200.0)) == LegAssignment((), 3000.0, 3000.0)


def test_placing_the_largest_first_on_the_lighter_leg_would_not_be_enough() -> None:
    # Greedy gives 3300 against 2700; 1500 + 1500 against 1200 + 900 + 900 is even.
    loads_va = (1500.0, 1500.0, 1200.0, 900.0, 900.0)
    found = assign_legs(loads_va)
    assert (found.leg1_va, found.leg2_va) == (3000.0, 3000.0)


def test_of_equal_splits_earlier_loads_go_to_leg_one() -> None:
    assert assign_legs((600.0, 600.0, 600.0, 600.0)).legs == (1, 1, 2, 2)
    assert assign_legs((0.0, 0.0)).legs == (1, 1)


@settings(max_examples=80)
@given(st.lists(WHOLE_VA, max_size=9), st.lists(WHOLE_VA, max_size=2))
def test_split_is_the_best_and_the_first_of_the_best_by_brute_force(
    loads: list[float], two_leg: list[float]
) -> None:
    loads_va = tuple(loads)
    found = assign_legs(loads_va, tuple(two_leg))
    tried = list(product((1, 2), repeat=len(loads_va)))
    best = min(max(leg_sums(loads_va, legs)) for legs in tried)
    first = next(legs for legs in tried if max(leg_sums(loads_va, legs)) == best)
    assert found.legs == first
    one_va, two_va = leg_sums(loads_va, first)
    assert found.leg1_va == pytest.approx(one_va + sum(two_leg) / 2)
    assert found.leg2_va == pytest.approx(two_va + sum(two_leg) / 2)


@settings(max_examples=25)
@given(st.lists(st.integers(1, 300).map(lambda tens: tens * 10.0), min_size=2, max_size=16))
def test_split_is_the_best_by_an_integer_programme(loads: list[float]) -> None:
    found = assign_legs(tuple(loads))
    count, total = len(loads), sum(loads)
    # Unknowns: 1 for each load on leg 1, and the heavier leg, which is made least.
    on_leg_1 = np.array([*loads, -1.0])
    on_leg_2 = np.array([*(-va for va in loads), -1.0])
    solved = milp(
        c=np.array([0.0] * count + [1.0]),
        integrality=np.array([1] * count + [0]),
        bounds=Bounds(np.zeros(count + 1), np.array([1.0] * count + [total])),
        constraints=LinearConstraint(np.vstack((on_leg_1, on_leg_2)), ub=np.array([0.0, -total])),
        options={"mip_rel_gap": 0.0},
    )
    assert solved.success
    assert max(found.leg1_va, found.leg2_va) == pytest.approx(solved.fun, abs=1e-3)


@settings(max_examples=60)
@given(st.lists(st.floats(0, 3000), max_size=8))
def test_broken_numbers_come_within_the_step_of_the_best(loads: list[float]) -> None:
    loads_va = tuple(loads)
    found = assign_legs(loads_va)
    best = min(max(leg_sums(loads_va, legs)) for legs in product((1, 2), repeat=len(loads_va)))
    assert max(found.leg1_va, found.leg2_va) <= best + 0.1 * len(loads_va) + 1e-9
    assert found.leg1_va + found.leg2_va == pytest.approx(sum(loads_va))


@settings(max_examples=60)
@given(st.lists(WHOLE_VA, max_size=8), WHOLE_VA)
def test_one_load_more_never_lightens_the_heavier_leg(loads: list[float], more: float) -> None:
    before = assign_legs(tuple(loads))
    after = assign_legs((*loads, more))
    assert max(after.leg1_va, after.leg2_va) >= max(before.leg1_va, before.leg2_va)


@pytest.mark.parametrize("bad", [-1.0, math.nan, math.inf])
def test_impossible_loads_are_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="load_va must be zero or more"):
        assign_legs((100.0, bad))
    with pytest.raises(ValueError, match="two_leg_va must be zero or more"):
        assign_legs((100.0,), (bad,))
