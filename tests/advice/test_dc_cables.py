"""Every DC conductor by count, size and stud, worked out by hand for each way to join things."""

from collections import Counter

import pytest

from engine.advice.plan.dc_cables import FRAME, LINK, MAIN, Chain, conductors_of
from engine.sizing.conductors import CableChoice


def cable(size: str, runs: int = 1) -> CableChoice:
    return CableChoice(size, runs, 300.0, 0.1, 0.01, 60.0, 0.0003, "ampacity")


def chain(
    units: int = 1,
    series: int = 1,
    parallel: int = 1,
    *,
    runs: int = 1,
    fused: bool = False,
    load_bar: bool = False,
) -> Chain:
    shared = units > 1 or parallel > 1 or load_bar
    return Chain(
        units=units,
        series=series,
        parallel=parallel,
        trunk=cable("4/0") if units > 1 else cable("2/0", runs),
        cable=cable("2/0", runs),
        cable_m=2.0,
        link=cable("1/0"),
        link_m=0.4,
        frame_size="4/0" if units > 1 else "2/0",
        frame_m=1.5,
        unit_stud="M10",
        battery_stud="M8",
        holder_stud="M8h",
        switch_stud="M10s",
        shunt_stud="M10m",
        bar_stud="M10b" if shared else "",
        load_bar=load_bar,
        battery_holder_stud="M8f" if fused else "",
    )


def tally(made: Chain) -> tuple[Counter[tuple[str, str]], Counter[tuple[str, str]]]:
    """Conductors by group and size, lugs by size and stud."""
    pieces: Counter[tuple[str, str]] = Counter()
    lugs: Counter[tuple[str, str]] = Counter()
    for each in conductors_of(made):
        pieces[each.group, each.size] += each.quantity
        for stud in each.studs:
            lugs[each.size, stud] += each.quantity
    return pieces, lugs


def test_one_unit_on_one_battery() -> None:
    """Battery – fuse – switch – unit, unit – shunt – battery and frame: six pieces, 12 lugs."""
    pieces, lugs = tally(chain())
    assert pieces == {(MAIN, "2/0"): 2, (LINK, "2/0"): 3, (FRAME, "2/0"): 1}
    assert lugs == {
        ("2/0", "M8"): 2,
        ("2/0", "M8h"): 2,
        ("2/0", "M10s"): 2,
        ("2/0", "M10"): 2,
        ("2/0", "M10m"): 4,  # shunt, and the frame's bolt of the same size
    }


def test_two_cables_in_parallel_double_every_piece_of_the_run() -> None:
    pieces, lugs = tally(chain(runs=2))
    assert pieces == {(MAIN, "2/0"): 4, (LINK, "2/0"): 6, (FRAME, "2/0"): 2}
    assert sum(lugs.values()) == 24


def test_four_batteries_in_series_have_three_links_between_them() -> None:
    pieces, lugs = tally(chain(series=4))
    assert pieces == {
        (MAIN, "2/0"): 2,
        (LINK, "2/0"): 3,
        (LINK, "1/0"): 3,
        (FRAME, "2/0"): 1,
    }
    assert lugs["1/0", "M8"] == 6


def test_three_batteries_side_by_side_meet_on_the_busbars() -> None:
    pieces, lugs = tally(chain(parallel=3))
    assert pieces == {
        (MAIN, "2/0"): 2,
        (LINK, "2/0"): 3,
        (LINK, "1/0"): 6,
        (FRAME, "2/0"): 1,
    }
    assert lugs["1/0", "M8"] == lugs["1/0", "M10b"] == 6
    assert ("2/0", "M8") not in lugs


def test_a_fuse_for_each_battery_adds_a_piece_in_its_positive() -> None:
    pieces, lugs = tally(chain(parallel=3, fused=True))
    assert pieces[LINK, "1/0"] == 9
    assert lugs["1/0", "M8f"] == 6


def test_where_the_stud_behind_the_shunt_would_be_crowded_a_bar_takes_the_negatives() -> None:
    """One string: its negative goes to the shunt, the unit's comes to the bar."""
    pieces, lugs = tally(chain(load_bar=True))
    assert pieces[LINK, "2/0"] == 4  # bank to fuse, fuse to switch, bank to shunt, shunt to bar
    assert pieces[LINK, "1/0"] == 1  # battery to the positive bar
    assert lugs["2/0", "M10m"] == 4  # shunt twice, and the frame's two ends
    assert lugs["2/0", "M10b"] == 3


def test_two_units_share_switch_and_shunt_over_a_thicker_piece() -> None:
    pieces, lugs = tally(chain(units=2, parallel=2))
    assert pieces == {
        (MAIN, "2/0"): 4,
        (LINK, "2/0"): 2,  # from the switch to the fuse of each unit
        (LINK, "4/0"): 2,  # busbar to switch, busbar to shunt
        (LINK, "1/0"): 4,
        (FRAME, "4/0"): 1,
    }
    assert lugs["2/0", "M10"] == 4
    assert lugs["4/0", "M10b"] == 2


def test_two_units_on_one_battery_have_busbars_too() -> None:
    pieces, _ = tally(chain(units=2))
    assert pieces[LINK, "1/0"] == 2


def test_long_runs_are_as_long_as_was_said_and_short_ones_as_planned() -> None:
    lengths = {(each.group, each.length_m) for each in conductors_of(chain(parallel=2))}
    assert lengths == {(MAIN, 2.0), (LINK, 0.4), (FRAME, 1.5)}


def test_every_conductor_has_two_ends_and_a_name() -> None:
    found = conductors_of(chain(units=2, series=2, parallel=2, runs=2, fused=True))
    assert all(each.label and each.quantity > 0 and len(each.studs) == 2 for each in found)
    assert len({each.label for each in found}) == len(found)


@pytest.mark.parametrize("parallel", [1, 2, 3])
@pytest.mark.parametrize("load_bar", [True, False])
def test_every_negative_has_a_way_to_the_shunt(parallel: int, *, load_bar: bool) -> None:
    """One string goes straight there where the bar is the loads'; several meet on the bar first."""
    found = {
        each.label: each for each in conductors_of(chain(parallel=parallel, load_bar=load_bar))
    }
    several = parallel > 1
    assert ("battery-to-busbar-negative" in found) is several
    start, end = found["bank-to-shunt-negative"].studs
    assert (start, end) == ("M10b" if several else "M8", "M10m")
    assert ("shunt-to-busbar-negative" in found) is load_bar
