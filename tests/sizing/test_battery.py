"""Banks: energy for the nights away, what is usable, how many batteries, Peukert, cold."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import battery
from engine.sizing.battery import EnergyNeed
from engine.sizing.inverter import LossCurve, input_w
from engine.standards.battery_chemistry import CHEMISTRIES

NAN = math.nan
CURVE = LossCurve(25.0, 0.04, 0.00002)
ENERGIES = st.floats(0, 20_000)
FACTORS = st.floats(0.05, 1)
CHEMISTRY = st.sampled_from(sorted(CHEMISTRIES))


def need(ac_wh: float, dc_wh: float, nights: float = 1.0, hours: float = 24.0) -> EnergyNeed:
    return battery.energy_needed_wh(
        (ac_wh,), (dc_wh,), nights, curve=CURVE, idle_hours=hours, typical_ac_w=1000.0
    )


def test_two_days_with_the_inverter_left_on_by_hand() -> None:
    # Two days of 1200 Wh AC, 600 Wh DC, 1200 x (0.04 + 0.00002 x 1000) = 72 Wh, 25 W x 24 h.
    found = need(1200.0, 600.0, nights=2.0)
    assert found.ac_wh == 2400.0
    assert found.dc_wh == 1200.0
    assert found.conversion_wh == pytest.approx(144.0)
    assert found.idle_wh == 1200.0
    assert found.total_wh == pytest.approx(4944.0)


def test_inverter_left_on_with_no_load_empties_a_bank_by_its_idle_alone() -> None:
    assert need(0.0, 0.0, nights=3.0).total_wh == 25.0 * 72


def test_energy_agrees_with_the_loss_curve_run_hour_by_hour() -> None:
    # 1000 W for 1.2 h and nothing for 22.8 h, through the curve itself.
    expected = input_w(CURVE, 1000.0) * 1.2 + input_w(CURVE, 0.0) * 22.8
    assert need(1200.0, 0.0).total_wh == pytest.approx(expected)


@settings(max_examples=80)
@given(ENERGIES, ENERGIES, ENERGIES, st.floats(0, 14), st.floats(0, 14))
def test_more_load_or_more_nights_never_need_less(
    ac_wh: float, dc_wh: float, more_wh: float, one: float, other: float
) -> None:
    fewer, nights = sorted((one, other))
    found = need(ac_wh, dc_wh, nights)
    assert found.total_wh <= need(ac_wh + more_wh, dc_wh, nights).total_wh + 1e-6
    assert found.total_wh <= need(ac_wh, dc_wh + more_wh, nights).total_wh + 1e-6
    assert need(ac_wh, dc_wh, fewer).total_wh <= found.total_wh + 1e-6
    parts = found.ac_wh + found.dc_wh + found.conversion_wh + found.idle_wh
    assert found.total_wh == pytest.approx(parts)


def test_ac_energy_from_an_inverter_that_is_off_is_refused() -> None:
    with pytest.raises(ValueError, match="idle_hours must be more than zero"):
        need(100.0, 0.0, hours=0.0)
    assert need(0.0, 100.0, hours=0.0).total_wh == 100.0


@settings(max_examples=80)
@given(ENERGIES, FACTORS, FACTORS, FACTORS)
def test_bank_energy_and_usable_energy_are_inverse(
    need_wh: float, depth: float, cold: float, age: float
) -> None:
    bank_wh = battery.bank_energy_wh(need_wh, depth, cold, age)
    assert bank_wh >= need_wh
    if bank_wh > 0:
        assert battery.usable_wh(1.0, bank_wh, depth, cold, age) == pytest.approx(need_wh)


@pytest.mark.parametrize(
    ("system_v", "battery_v", "count"),
    [
        (12.0, 12.0, 1),
        (12.0, 12.8, 1),
        (24.0, 12.8, 2),
        (24.0, 25.6, 1),
        (48.0, 12.0, 4),
        (48.0, 12.8, 4),
        (48.0, 24.0, 2),
        (48.0, 51.2, 1),
        (51.2, 12.8, 4),
        (12.0, 6.0, 2),
        (48.0, 6.0, 8),
        (36.0, 12.8, 3),
    ],
)
def test_series_makes_the_class_of_the_system(
    system_v: float, battery_v: float, count: int
) -> None:
    assert battery.batteries_in_series(system_v, battery_v) == count


@pytest.mark.parametrize(
    ("system_v", "battery_v"), [(12.0, 24.0), (12.0, 51.2), (36.0, 24.0), (48.0, 36.0), (12.0, 8.0)]
)
def test_series_that_is_not_whole_is_refused(system_v: float, battery_v: float) -> None:
    with pytest.raises(ValueError, match=f"no whole number of {battery_v:g} V batteries makes"):
        battery.batteries_in_series(system_v, battery_v)


@settings(max_examples=100)
@given(ENERGIES, st.floats(50, 5000))
def test_strings_for_energy_are_enough_and_one_less_is_not(need_wh: float, each_wh: float) -> None:
    count = battery.parallel_for_energy(need_wh, each_wh)
    assert count * each_wh >= need_wh * (1 - 1e-6)
    assert count == 1 or (count - 1) * each_wh < need_wh


def test_third_of_a_bank_three_times_is_a_whole_bank() -> None:
    # 0.3 / 0.1 is a hair above 3 in binary; a fourth battery would be sold for nothing.
    assert battery.parallel_for_energy(0.3, 0.1) == 3
    assert battery.parallel_for_current(0.3, 0.1) == 3


@settings(max_examples=80)
@given(st.floats(0, 2000), st.floats(0, 2000), st.floats(20, 500))
def test_more_current_never_needs_fewer_strings(
    one_a: float, other_a: float, each_a: float
) -> None:
    low_a, high_a = sorted((one_a, other_a))
    few = battery.parallel_for_current(low_a, each_a)
    assert 1 <= few <= battery.parallel_for_current(high_a, each_a)


@settings(max_examples=80)
@given(st.floats(20, 800), st.floats(1, 2))
def test_at_its_own_rate_a_battery_gives_its_rating(capacity_ah: float, exponent: float) -> None:
    hours = battery.peukert_hours(capacity_ah, 20.0, capacity_ah / 20, exponent)
    assert hours == pytest.approx(20.0)


@settings(max_examples=80)
@given(st.floats(1, 300), st.floats(1, 300), st.floats(1, 2), st.floats(1, 2))
def test_more_current_or_a_worse_exponent_never_give_more(
    one_a: float, other_a: float, one_k: float, other_k: float
) -> None:
    low_a, high_a = sorted((one_a, other_a))
    good_k, bad_k = sorted((one_k, other_k))
    best_ah = battery.peukert_capacity_ah(100.0, 20.0, low_a, good_k)
    slack = best_ah * 1e-9
    assert battery.peukert_capacity_ah(100.0, 20.0, high_a, good_k) <= best_ah + slack
    assert battery.peukert_capacity_ah(100.0, 20.0, low_a, bad_k) <= best_ah + slack
    assert best_ah <= 100.0


def test_the_same_figures_on_another_basis_give_other_hours() -> None:
    # Source: a trade page's 14.5 h (secondary) takes 100 Ah at 1 A; at the 20-hour rate it is 20 h.
    at_one_ampere = battery.peukert_hours(100.0, 100.0, 5.0, 1.2)
    at_twenty_hours = battery.peukert_hours(100.0, 20.0, 5.0, 1.2)
    assert at_one_ampere == pytest.approx(14.5, abs=0.05)
    assert at_twenty_hours == pytest.approx(20.0)


@settings(max_examples=80)
@given(CHEMISTRY, st.floats(-50, 60), st.floats(-50, 60))
def test_colder_never_gives_more(chemistry: str, one_c: float, other_c: float) -> None:
    cold_c, warm_c = sorted((one_c, other_c))
    cold = battery.cold_capacity_factor(chemistry, cold_c)
    assert 0 <= cold <= battery.cold_capacity_factor(chemistry, warm_c) <= 1


@pytest.mark.parametrize("chemistry", sorted(CHEMISTRIES))
def test_cold_factor_meets_its_points_and_nothing_is_promised_below_them(chemistry: str) -> None:
    points = CHEMISTRIES[chemistry].cold_points
    for celsius, share in points:
        assert battery.cold_capacity_factor(chemistry, celsius) == pytest.approx(share)
    assert battery.cold_capacity_factor(chemistry, points[0][0] - 0.1) == 0.0
    assert battery.cold_capacity_factor(chemistry, 40.0) == 1.0


@pytest.mark.parametrize(
    ("chemistry", "celsius", "allowed"),
    [
        ("lifepo4", -0.1, False),
        ("lifepo4", 0.0, True),
        ("lifepo4", 60.0, True),
        ("lifepo4", 60.1, False),
        ("agm", -10.0, True),
        ("agm", -20.1, False),
        ("flooded", 50.1, False),
    ],
)
def test_charging_is_allowed_only_within_the_chemistry_s_range(
    chemistry: str, celsius: float, *, allowed: bool
) -> None:
    assert battery.charge_allowed(chemistry, celsius) is allowed


@pytest.mark.parametrize(
    ("call", "fault"),
    [
        (lambda: need(-1.0, 0.0), "daily_ac_wh must be zero or more"),
        (lambda: need(1.0, NAN), "daily_dc_wh must be zero or more"),
        (lambda: need(1.0, 1.0, nights=-1.0), "nights must be zero or more"),
        (lambda: need(1.0, 1.0, hours=25.0), "idle_hours must be at most 24 a day"),
        (lambda: battery.usable_wh(0.0, 1.0, 1.0, 1.0, 1.0), "nominal_v must be more than zero"),
        (lambda: battery.usable_wh(12.0, 1.0, 1.1, 1.0, 1.0), "depth must be between 0 and 1"),
        (lambda: battery.bank_energy_wh(1.0, 0.0, 1.0, 1.0), "depth must be more than zero"),
        (lambda: battery.bank_energy_wh(1.0, 1.0, 0.0, 1.0), "temperature_factor must be more"),
        (lambda: battery.bank_energy_wh(1.0, 1.0, 1.0, 1.5), "ageing_factor must be between"),
        (lambda: battery.batteries_in_series(0.0, 12.0), "system_v must be more than zero"),
        (lambda: battery.parallel_for_energy(1.0, 0.0), "usable_each_string_wh must be more"),
        (lambda: battery.parallel_for_energy(math.inf, 1.0), "need_wh must be zero or more"),
        (lambda: battery.parallel_for_current(-1.0, 1.0), "need_a must be zero or more"),
        (lambda: battery.parallel_for_current(1.0, 0.0), "limit_each_a must be more than zero"),
        (lambda: battery.peukert_hours(100.0, 20.0, 0.0, 1.2), "current_a must be more than zero"),
        (lambda: battery.peukert_hours(100.0, 20.0, 5.0, 0.9), "exponent must be between 1 and 2"),
        (lambda: battery.peukert_capacity_ah(100.0, 20.0, 5.0, NAN), "exponent must be between"),
        (lambda: battery.cold_capacity_factor("agm", NAN), "temperature_c must be finite"),
        (lambda: battery.cold_capacity_factor("gel", 0.0), "chemistry must be one of"),
        (lambda: battery.charge_allowed("gel", 0.0), "chemistry must be one of"),
    ],
)
def test_numbers_no_bank_can_have_are_refused(call: object, fault: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=fault):
        call()


@pytest.mark.parametrize(("coldest_c", "near"), [(4.9, True), (5.0, False), (5.2, False)])
def test_frost_is_near_within_five_degrees_of_what_a_chemistry_may_be_charged_at(
    coldest_c: float, near: bool
) -> None:
    """LiFePO4 not below 0 °C (data sheets, secondary); the margin: common practice, no source."""
    assert battery.frost_near("lifepo4", coldest_c) is near


@pytest.mark.parametrize("daily_ac_wh", [(0.0, 500.0), (500.0,), (500.0, 0.0)])
@pytest.mark.parametrize(("hours", "watts"), [(0.0, 100.0), (24.0, 0.0)])
def test_ac_energy_is_refused_of_an_inverter_that_is_never_on(
    daily_ac_wh: tuple[float, ...], hours: float, watts: float
) -> None:
    """Beside a load that takes nothing, too; without any AC energy it may stay off."""

    def need(ac_wh: tuple[float, ...], dc_wh: tuple[float, ...]) -> EnergyNeed:
        curve = LossCurve(20.0, 0.05, 0.0)
        return battery.energy_needed_wh(
            ac_wh, dc_wh, 1.0, curve=curve, idle_hours=hours, typical_ac_w=watts
        )

    with pytest.raises(ValueError, match=r"idle_hours|typical_ac_w"):
        need(daily_ac_wh, ())
    assert need((0.0, 0.0), (70.0,)).dc_wh == 70.0
