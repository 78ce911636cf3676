"""Conductors: what they carry, what they lose, and which one is taken."""

from itertools import product
from math import inf, nan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import conductors
from engine.standards import awg
from tests.reader import published

SIZES = st.sampled_from(awg.SIZES)
CURRENTS = st.floats(0.1, 1500)
LENGTHS = st.floats(0.05, 20)
LIMITS = st.floats(0.002, 0.1)
PAIR_OF_SIZES = st.lists(SIZES, min_size=2, max_size=2).map(lambda two: sorted(two, key=awg.rank))
OFFERED = ("6", "4", "2", "1/0", "2/0", "4/0")

few = settings(max_examples=100)


def order(choice: conductors.CableChoice | None) -> float:
    """How far down the list of singles, pairs and so on a choice lies."""
    return inf if choice is None else choice.runs * len(awg.SIZES) + awg.rank(choice.size)


def choose(
    current_a: float = 200.0,
    one_way_m: float = 1.5,
    drop_limit_fraction: float = 0.03,
    ambient_c: float = 40.0,
    *,
    sizes: tuple[str, ...] = OFFERED,
    max_runs: int = 3,
    protect_a: float = 0.0,
) -> conductors.CableChoice | None:
    return conductors.choose_dc_cable(
        current_a, one_way_m, 12.0, drop_limit_fraction, 105, ambient_c, sizes, max_runs, protect_a
    )


@given(PAIR_OF_SIZES, st.floats(-40, 200))
@few
def test_a_thicker_conductor_never_resists_more(sizes: list[str], at_c: float) -> None:
    thin, thick = (conductors.resistance_ohm_per_m(size, at_c) for size in sizes)
    assert thick <= thin


@given(SIZES, st.floats(-40, 199), st.floats(0.1, 50))
@few
def test_a_hotter_conductor_resists_more(size: str, at_c: float, more_k: float) -> None:
    cold = conductors.resistance_ohm_per_m(size, at_c)
    assert conductors.resistance_ohm_per_m(size, at_c + more_k) > cold


@given(PAIR_OF_SIZES, CURRENTS, LENGTHS)
@few
def test_a_thicker_conductor_never_drops_more(
    sizes: list[str], current_a: float, one_way_m: float
) -> None:
    thin, thick = (
        conductors.circular_mil_drop_v(current_a, one_way_m, awg.circular_mils(size))
        for size in sizes
    )
    assert thick <= thin


@pytest.mark.parametrize("size", awg.SIZES)
def test_circular_mil_formula_is_stranded_copper_between_20_and_35_c(size: str) -> None:
    # ABYC E-11 K = 10.75 is solid copper at about 29 °C; stranding adds some 2 % to table 8
    formula = conductors.circular_mil_drop_v(100.0, 3.0, awg.circular_mils(size))
    cool = conductors.voltage_drop_v(100.0, 3.0, conductors.resistance_ohm_per_m(size, 15.0))
    warm = conductors.voltage_drop_v(100.0, 3.0, conductors.resistance_ohm_per_m(size, 35.0))
    assert cool < formula < warm


def test_circular_mil_formula_reads_some_17_per_cent_below_a_conductor_at_75_c() -> None:
    # K at 75 °C is 12.61 (copper of NBS Handbook 100), so 12.61 / 10.75 - 1, and 2 % of stranding
    formula = conductors.circular_mil_drop_v(200.0, 1.524, awg.circular_mils("2/0"))
    hot = conductors.voltage_drop_v(200.0, 1.524, conductors.resistance_ohm_per_m("2/0", 75.0))
    assert hot / formula - 1 == pytest.approx(0.17, abs=0.03)


@given(
    st.tuples(CURRENTS, st.floats(0, 800)), LENGTHS, LIMITS, st.floats(-20, 100), st.integers(1, 3)
)
@few
def test_the_chosen_cable_is_the_first_that_passes_every_limit(
    load: tuple[float, float], one_way_m: float, limit: float, ambient_c: float, runs: int
) -> None:
    current_a, fuse_a = load
    found = choose(current_a, one_way_m, limit, ambient_c, max_runs=runs, protect_a=fuse_a)
    passing = []
    for n, size in product(range(1, runs + 1), OFFERED):
        carries_a = n * conductors.dc_ampacity_a(size, 105, ambient_c)
        if (n > 1 and size in {"6", "4", "2"}) or carries_a < max(current_a, fuse_a):
            continue
        warm_c = conductors.conductor_temperature_c(current_a, carries_a, 105, ambient_c)
        ohm_per_m = conductors.resistance_ohm_per_m(size, warm_c)
        if 2 * current_a * one_way_m * ohm_per_m / n <= limit * 12.0:
            passing.append((size, n))
    assert (found and (found.size, found.runs)) == (passing[0] if passing else None)


@given(CURRENTS, LENGTHS, LIMITS, st.floats(0, 90), st.floats(1, 2))
@few
def test_more_load_length_heat_or_strictness_never_needs_a_smaller_cable(
    current_a: float, one_way_m: float, limit: float, ambient_c: float, more: float
) -> None:
    base = order(choose(current_a, one_way_m, limit, ambient_c))
    assert order(choose(current_a * more, one_way_m, limit, ambient_c)) >= base
    assert order(choose(current_a, one_way_m * more, limit, ambient_c)) >= base
    assert order(choose(current_a, one_way_m, limit / more, ambient_c)) >= base
    assert order(choose(current_a, one_way_m, limit, ambient_c * more)) >= base
    assert order(choose(current_a, one_way_m, limit, ambient_c, protect_a=current_a * more)) >= base


@given(CURRENTS, LENGTHS, st.permutations(OFFERED))
@few
def test_the_order_of_the_offer_does_not_matter(
    current_a: float, one_way_m: float, sizes: list[str]
) -> None:
    assert choose(current_a, one_way_m, sizes=tuple(sizes)) == choose(current_a, one_way_m)


def test_a_choice_says_how_it_was_reached() -> None:
    found = choose(250.0, 1.5, 0.03, 40.0, protect_a=350.0)
    assert found is not None
    assert (found.size, found.runs, found.governed_by) == ("4/0", 1, "ampacity")
    assert found.drop_fraction == found.drop_v / 12.0
    assert found.drop_v == conductors.voltage_drop_v(250.0, 1.5, found.resistance_ohm_per_m)
    assert found.resistance_ohm_per_m == conductors.resistance_ohm_per_m("4/0", found.temperature_c)
    assert 40.0 < found.temperature_c < 105.0
    assert found.ampacity_a >= 350.0


def test_drop_governs_a_long_run_of_little_current() -> None:
    found = choose(60.0, 6.0, 0.03)
    assert found is not None
    # 6 AWG would carry 112 A here; by hand 2 AWG loses 0.417 V, 1/0 0.259 V, of 0.36 V allowed
    assert (found.size, found.governed_by) == ("1/0", "drop")
    smaller = choose(60.0, 6.0, 0.1)
    assert smaller is not None
    assert (smaller.size, smaller.governed_by) == ("6", "ampacity")


def test_a_cable_may_lose_all_of_what_may_be_lost() -> None:
    """Of 1 V the share that may be lost is the loss itself; without the last hair of it, none."""

    def at_most(share: float) -> conductors.CableChoice | None:
        return conductors.choose_dc_cable(20.0, 1.5, 1.0, share, 105, 40.0, ("2",), 1)

    found = at_most(0.5)
    assert found is not None and 0.0 < found.drop_v < 0.5
    assert at_most(found.drop_v) == found
    assert at_most(found.drop_v * 0.999999) is None


def test_nothing_is_guarded_unless_a_fuse_is_named() -> None:
    """Near the limit of its insulation a 6 AWG carries little: enough for 0.1 A, not for 1 A."""
    near_c = 104.9999
    carries_a = conductors.dc_ampacity_a("6", 105, near_c)
    assert 0.1 < carries_a < 1.0
    asked = (0.1, 0.1, 12.0, 0.03, 105, near_c, ("6",), 1)
    assert conductors.choose_dc_cable(*asked) is not None
    assert conductors.choose_dc_cable(*asked, protect_a=1.0) is None


def test_parallel_conductors_are_1_0_awg_or_thicker() -> None:
    # NEC 310.10(G), from memory
    assert choose(250.0, sizes=("4", "2")) is None
    paired = choose(300.0, sizes=("4", "2", "1/0"))
    assert paired is not None
    assert (paired.size, paired.runs) == ("1/0", 2)


def test_no_cable_is_chosen_where_none_can_do() -> None:
    assert choose(5000.0) is None
    assert choose(drop_limit_fraction=0.0) is None
    assert choose(ambient_c=105.0) is None
    assert choose(sizes=()) is None


def test_cable_is_heavier_than_its_copper() -> None:
    for size, row in published("awg_astm_b258")["sizes"].items():
        bare_kg_per_m = row[-1] / 1000
        ratio = conductors.insulated_mass_kg_per_m(size) / bare_kg_per_m
        assert 1.2 < ratio < 1.4  # from memory


@pytest.mark.parametrize("bad", [-1.0, nan, inf])
def test_impossible_quantities_are_refused_by_name(bad: float) -> None:
    with pytest.raises(ValueError, match="current_a must be zero or more"):
        conductors.voltage_drop_v(bad, 1.0, 0.001)
    with pytest.raises(ValueError, match="one_way_m must be zero or more"):
        conductors.voltage_drop_v(1.0, bad, 0.001)
    with pytest.raises(ValueError, match="resistance_ohm_per_m must be zero or more"):
        conductors.voltage_drop_v(1.0, 1.0, bad)
    with pytest.raises(ValueError, match="current_a must be zero or more"):
        conductors.circular_mil_drop_v(bad, 1.0, 66_371)
    with pytest.raises(ValueError, match="current_a must be zero or more"):
        choose(current_a=bad)
    with pytest.raises(ValueError, match="protect_a must be zero or more"):
        choose(protect_a=bad)
    with pytest.raises(ValueError, match="drop_limit_fraction must be between 0 and 1"):
        choose(drop_limit_fraction=bad)


@pytest.mark.parametrize("bad", [nan, inf, -inf])
def test_an_ambient_that_is_no_temperature_is_refused(bad: float) -> None:
    with pytest.raises(ValueError, match="ambient_c must be finite"):
        choose(ambient_c=bad)


def test_counts_below_one_are_refused() -> None:
    with pytest.raises(ValueError, match="runs must be more than zero"):
        conductors.voltage_drop_v(1.0, 1.0, 0.001, runs=0)
    with pytest.raises(ValueError, match="max_runs must be more than zero"):
        choose(max_runs=0)


def test_what_no_table_holds_is_refused_with_what_it_holds() -> None:
    with pytest.raises(ValueError, match=r"size must be one of 18, .* AWG, got '7'"):
        conductors.resistance_ohm_per_m("7", 20.0)
    with pytest.raises(ValueError, match=r"size must be one of 18, .* AWG, got '7'"):
        choose(sizes=("4", "7"))
