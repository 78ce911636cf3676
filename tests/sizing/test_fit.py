"""Whether a unit fits: by measuring it in by hand, and by what must hold."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing.fit import MOUNTS, Box, Clearances, fits, gap_margin_m, gap_ok, wall_area_m2

LENGTH = st.floats(0.05, 2.0)
BOXES = st.builds(Box, LENGTH, LENGTH, LENGTH)
GAP = st.floats(0.0, 0.3)
CLEARANCES = st.builds(Clearances, GAP, GAP, GAP, GAP)
MOUNT = st.sampled_from(MOUNTS)

UNIT = Box(height_m=0.50, width_m=0.30, depth_m=0.20)
FREE = Clearances(top_m=0.10, bottom_m=0.08, side_m=0.05, front_m=0.04)


def test_upright_takes_its_height_with_top_and_bottom() -> None:
    # 0.50 + 0.10 + 0.08; 0.30 + 2 x 0.05; 0.20 + 0.04, by hand
    result = fits(UNIT, Box(0.70, 0.50, 0.25), FREE, "upright")
    assert result.fits
    assert (result.orientation, result.tight_side) == ("upright", "depth")
    assert result.margin_m == pytest.approx(0.01)


def test_sideways_turns_its_clearances_with_it() -> None:
    # across the bay 0.68, up the bay 0.40, by hand
    result = fits(UNIT, Box(0.39, 0.68, 0.30), FREE, "sideways")
    assert not result.fits
    assert (result.orientation, result.tight_side) == ("sideways", "height")
    assert result.margin_m == pytest.approx(-0.01)
    assert fits(UNIT, Box(0.40, 0.68, 0.24), FREE, "sideways").fits


def test_flat_lies_on_its_back_with_its_front_up() -> None:
    result = fits(UNIT, Box(0.30, 0.50, 0.70), FREE, "flat")
    assert result.fits
    assert (result.orientation, result.tight_side) == ("flat", "depth")
    assert result.margin_m == pytest.approx(0.02)


def test_flat_is_turned_when_only_that_way_goes_in() -> None:
    result = fits(UNIT, Box(0.30, 0.70, 0.45), FREE, "flat")
    assert result.fits
    assert result.orientation == "flat-turned"


def test_a_bay_that_is_exactly_right_fits_in_spite_of_rounding() -> None:
    for tenths in range(1, 30):
        size = tenths / 10
        unit = Box(size, size, size)
        bay = Box(size + 0.1 + 0.2, size + 0.6, size + 0.7)
        assert fits(unit, bay, Clearances(0.1, 0.2, 0.3, 0.7), "upright").fits


@given(unit=BOXES, bay=BOXES, free=CLEARANCES, mount=MOUNT, more=st.floats(0.0, 1.0))
@settings(max_examples=100)
def test_a_larger_bay_never_has_less_margin(
    unit: Box, bay: Box, free: Clearances, mount: str, more: float
) -> None:
    larger = Box(bay.height_m + more, bay.width_m + more, bay.depth_m + more)
    before, after = fits(unit, bay, free, mount), fits(unit, larger, free, mount)
    assert after.margin_m >= before.margin_m - 1e-12
    assert after.fits or not before.fits


@given(unit=BOXES, bay=BOXES, free=CLEARANCES, mount=MOUNT, more=st.floats(0.0, 0.5))
@settings(max_examples=100)
def test_more_clearance_never_fits_better(
    unit: Box, bay: Box, free: Clearances, mount: str, more: float
) -> None:
    wider = replace(free, side_m=free.side_m + more, front_m=free.front_m + more)
    assert fits(unit, bay, wider, mount).margin_m <= fits(unit, bay, free, mount).margin_m + 1e-12


@given(unit=BOXES, bay=BOXES, mount=MOUNT)
@settings(max_examples=100)
def test_the_tight_side_is_where_the_margin_is_missing(unit: Box, bay: Box, mount: str) -> None:
    result = fits(unit, bay, Clearances(), mount)
    side = f"{result.tight_side}_m"
    grown = replace(bay, **{side: getattr(bay, side) + max(-result.margin_m, 0.0)})
    assert fits(unit, grown, Clearances(), mount).margin_m >= result.margin_m
    smaller = replace(bay, **{side: getattr(bay, side) + 0.01})
    assert fits(unit, smaller, Clearances(), mount) != result


@given(unit=BOXES, free=CLEARANCES)
def test_turning_a_unit_on_the_wall_takes_the_same_area(unit: Box, free: Clearances) -> None:
    upright, sideways, flat = (wall_area_m2(unit, mount, free) for mount in MOUNTS)
    assert upright == pytest.approx(sideways) == pytest.approx(flat)
    assert wall_area_m2(unit, "upright") <= upright


def test_area_counts_free_space_only_where_it_is_asked_for() -> None:
    assert wall_area_m2(UNIT, "upright") == pytest.approx(0.50 * 0.30)
    assert wall_area_m2(UNIT, "sideways", FREE) == pytest.approx(0.68 * 0.40)


@given(gap=GAP, free=CLEARANCES)
def test_a_gap_is_enough_only_when_it_meets_every_clearance(gap: float, free: Clearances) -> None:
    asked = (free.top_m, free.bottom_m, free.side_m, free.front_m)
    assert gap_ok(gap, free) is all(gap >= each - 1e-4 for each in asked)
    assert gap_margin_m(gap, free) == min(gap - each for each in asked)


def test_numbers_off_the_scale_are_refused_in_words() -> None:
    with pytest.raises(ValueError, match="width_m must be more than zero"):
        fits(Box(0.5, 0.0, 0.2), Box(1, 1, 1), FREE, "upright")
    with pytest.raises(ValueError, match="depth_m must be more than zero and finite, got nan"):
        fits(UNIT, Box(1, 1, float("nan")), FREE, "upright")
    with pytest.raises(ValueError, match="side_m must be zero or more"):
        fits(UNIT, Box(1, 1, 1), Clearances(side_m=-0.01), "upright")
    with pytest.raises(ValueError, match="mount must be one of upright, sideways, flat, got 'on'"):
        fits(UNIT, Box(1, 1, 1), FREE, "on")
    with pytest.raises(ValueError, match="mount must be one of"):
        wall_area_m2(UNIT, "ceiling")
    with pytest.raises(ValueError, match="gap_m must be zero or more"):
        gap_ok(-0.1, FREE)
