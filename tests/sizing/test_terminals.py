"""Terminals: ferrules, lugs, and what a terminal takes."""

from dataclasses import FrozenInstanceError
from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import terminals
from engine.standards import awg, ferrules

SIZES = st.sampled_from(awg.SIZES)
FERRULED = tuple(ferrules.AREA_FOR_AWG_MM2)

few = settings(max_examples=100)


@given(st.floats(0.001, 0.05))
@few
def test_a_collar_wants_two_millimetres_more_stripped(barrel_m: float) -> None:
    bare = terminals.strip_length_m(barrel_m, insulated=False)
    assert bare == barrel_m
    assert terminals.strip_length_m(barrel_m, insulated=True) - bare == pytest.approx(0.002)


def test_thicker_conductors_never_take_smaller_ferrules() -> None:
    areas = [terminals.ferrule_area_mm2(size) for size in FERRULED]
    assert areas == sorted(areas)
    assert awg.SIZES[: len(FERRULED)] == FERRULED


@pytest.mark.parametrize("size", ["16", "14", "12", "10", "8", "6", "4", "2"])
def test_the_bare_ferrule_of_a_push_in_terminal_is_made_for_the_usual_gauges(size: str) -> None:
    # DIN 46228-1, from memory
    assert terminals.PUSH_IN_BARREL_M in terminals.ferrule_barrels_m(size, insulated=False)


def test_a_deep_push_in_terminal_takes_bare_ferrules_only() -> None:
    # common practice, no source
    depth_m = terminals.PUSH_IN_BARREL_M
    assert terminals.ferrule_refusal(False, terminals.PUSH_IN_BARREL_M, depth_m) is None
    for size in FERRULED:
        for barrel_m in terminals.ferrule_barrels_m(size, insulated=True):
            assert terminals.ferrule_refusal(True, barrel_m, depth_m) == "collar"


def test_a_barrel_must_fit_the_depth_within_a_millimetre() -> None:
    assert terminals.ferrule_refusal(False, 0.011, 0.012) is None
    assert terminals.ferrule_refusal(False, 0.013, 0.012) is None
    assert terminals.ferrule_refusal(False, 0.010, 0.012) == "short"
    assert terminals.ferrule_refusal(False, 0.015, 0.012) == "long"


@given(SIZES, SIZES, SIZES)
@few
def test_a_terminal_takes_exactly_its_range(size: str, one: str, other: str) -> None:
    low, high = sorted((one, other), key=awg.rank)
    inside = awg.SIZES[awg.rank(low) : awg.rank(high) + 1]
    assert terminals.terminal_accepts(size, low, high) == (size in inside)


def test_hydraulic_tools_begin_at_4_awg() -> None:
    # trade pages
    kinds = {size: terminals.crimper_kind(size) for size in awg.SIZES}
    assert {size for size, kind in kinds.items() if kind == "ratchet"} == set(awg.SIZES[:7])
    assert kinds["6"] == "ratchet"
    assert kinds["4"] == "hydraulic"


def test_a_conductor_end_is_a_fixed_record() -> None:
    end = terminals.ConductorEnd("input", "6", "hot-1")
    assert (end.side, end.awg, end.function) == ("input", "6", "hot-1")
    with pytest.raises(FrozenInstanceError):
        end.awg = "8"  # type: ignore[misc]


@pytest.mark.parametrize("bad", [0.0, -0.001, nan, inf])
def test_impossible_lengths_are_refused_by_name(bad: float) -> None:
    with pytest.raises(ValueError, match="barrel_m must be more than zero"):
        terminals.strip_length_m(bad, insulated=True)
    with pytest.raises(ValueError, match="barrel_m must be more than zero"):
        terminals.ferrule_refusal(False, bad, 0.018)
    with pytest.raises(ValueError, match="terminal_depth_m must be more than zero"):
        terminals.ferrule_refusal(False, 0.018, bad)


def test_what_no_table_holds_is_refused_with_what_it_holds() -> None:
    with pytest.raises(ValueError, match=r"size must be one of 18, .*, 1/0 AWG, got '2/0'"):
        terminals.ferrule_area_mm2("2/0")
    with pytest.raises(ValueError, match=r"size must be one of 18, .*, 1/0 AWG, got '2/0'"):
        terminals.ferrule_barrels_m("2/0", insulated=False)
    with pytest.raises(ValueError, match="size must be one of"):
        terminals.crimper_kind("5")
    with pytest.raises(ValueError, match="smallest_awg must not be thicker than largest_awg"):
        terminals.terminal_accepts("10", "6", "14")


@pytest.mark.parametrize(("more_m", "refused"), [(0.0, None), (2e-7, "long"), (-2e-7, "short")])
def test_a_millimetre_is_not_more_than_a_millimetre(more_m: float, refused: str | None) -> None:
    """Either way, whatever rounding does to the twelfth digit."""
    way = -1.0 if more_m < 0 else 1.0
    barrel_m = 0.012 + way * terminals.BARREL_TOLERANCE_M + more_m
    assert terminals.ferrule_refusal(False, barrel_m, 0.012) == refused


@pytest.mark.parametrize(("depth_m", "refused"), [(0.0150, None), (0.0155, "collar")])
def test_a_collar_stops_short_of_a_clamp_deeper_than_15_millimetres(
    depth_m: float, refused: str | None
) -> None:
    """Common practice, no source."""
    assert terminals.ferrule_refusal(True, depth_m, depth_m) == refused
