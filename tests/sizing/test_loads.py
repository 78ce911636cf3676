"""What loads ask: power, starts, energy a day, and the worst moment of several together."""

import math
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.sizing import generator, loads
from engine.sizing.loads import Demand, Running
from engine.standards.locked_rotor import KVA_PER_HORSEPOWER
from tests.guide.shops import demo

NAN = math.nan
POWERS = st.floats(0, 20_000)

KETTLE = Running("kettle", 1500.0, 1500.0, 1500.0)
COOLER = Running("cooler", 1400.0, 1650.0, 8160.0)
PUMP = Running("pump", 300.0, 400.0, 1600.0)


@st.composite
def running_load(draw: st.DrawFn) -> Running:
    real_w = draw(st.floats(0, 5000))
    apparent_va = real_w / draw(st.floats(0.5, 1.0))
    return Running(draw(st.text(max_size=4)), real_w, apparent_va, apparent_va + draw(POWERS))


def test_nothing_running_asks_nothing() -> None:
    assert loads.demand(()) == Demand(0.0, 0.0, 0.0, "")


def test_heat_loads_have_no_worse_moment() -> None:
    assert loads.demand((KETTLE, KETTLE)) == Demand(3000.0, 3000.0, 3000.0, "")


def test_only_the_hardest_motor_starts_while_the_others_run() -> None:
    # 1500 + 1650 + 400, and 8160 - 1650 more while the cooler starts.
    assert loads.demand((KETTLE, PUMP, COOLER)) == Demand(3200.0, 3550.0, 10_060.0, "cooler")


def test_hardest_is_judged_by_what_the_start_adds_not_by_its_height() -> None:
    big = Running("big", 5000.0, 5000.0, 5600.0)
    assert loads.demand((big, PUMP)).starter == "pump"


def test_of_equal_motors_the_first_listed_is_named() -> None:
    twin = Running("second cooler", 1400.0, 1650.0, 8160.0)
    assert loads.demand((COOLER, twin)).starter == "cooler"
    assert loads.demand((twin, COOLER)).starter == "second cooler"


def test_order_changes_no_number() -> None:
    results = {
        (found.real_w, found.apparent_va, found.worst_va)
        for order in permutations((KETTLE, COOLER, PUMP))
        for found in [loads.demand(order)]
    }
    assert len(results) == 1


@settings(max_examples=100)
@given(st.lists(running_load(), max_size=8), running_load())
def test_one_load_more_never_asks_less(some: list[Running], more: Running) -> None:
    before = loads.demand(tuple(some))
    after = loads.demand((*some, more))
    assert after.real_w >= before.real_w
    assert after.apparent_va >= before.apparent_va
    assert after.worst_va >= before.worst_va * (1 - 1e-12)


@settings(max_examples=100)
@given(st.lists(running_load(), min_size=1, max_size=8))
def test_worst_moment_is_the_greatest_over_every_single_start(some: list[Running]) -> None:
    found = loads.demand(tuple(some))
    every = [
        sum(other.apparent_va for other in some[:index] + some[index + 1 :]) + load.start_va
        for index, load in enumerate(some)
    ]
    assert found.worst_va == pytest.approx(max(every))
    assert found.real_w <= found.apparent_va * (1 + 1e-9)


def test_running_load_with_more_watts_than_volt_amperes_is_refused() -> None:
    with pytest.raises(ValueError, match=r"kettle: real_w \(1500.0\) must not exceed apparent_va"):
        Running("kettle", 1500.0, 1400.0, 1500.0)


def test_running_load_that_starts_below_its_running_draw_is_refused() -> None:
    with pytest.raises(ValueError, match=r"pump: start_va \(100.0\) must not be below"):
        Running("pump", 300.0, 400.0, 100.0)


def test_every_letter_with_an_upper_edge_gives_a_current_and_each_a_greater_one() -> None:
    letters = [letter for letter, (_, high) in KVA_PER_HORSEPOWER.items() if high is not None]
    currents = [loads.locked_rotor_a_from_code(letter, 0.5, 120.0) for letter in letters]
    assert len(letters) == 18
    assert currents == sorted(currents)
    assert len(set(currents)) == len(currents)


def test_small_letter_is_read_as_its_capital() -> None:
    assert loads.locked_rotor_a_from_code("g", 1.5, 120.0) == loads.locked_rotor_a_from_code(
        "G", 1.5, 120.0
    )


def test_letter_with_no_upper_edge_sends_the_reader_to_the_nameplate() -> None:
    with pytest.raises(ValueError, match="no upper edge; use the locked-rotor current"):
        loads.locked_rotor_a_from_code("V", 1.0, 120.0)


@pytest.mark.parametrize("letter", ["I", "O", "Q", "W", "", "GG", "5"])
def test_letter_out_of_the_table_is_refused_with_those_in_it(letter: str) -> None:
    with pytest.raises(ValueError, match="must be one of A B C D E F G H J K L M N P R S T U V"):
        loads.locked_rotor_a_from_code(letter, 1.0, 120.0)


@settings(max_examples=60)
@given(POWERS, st.floats(0, 0.8), st.floats(0, 0.8))
def test_a_better_soft_starter_never_asks_more(va: float, one: float, other: float) -> None:
    less, more = sorted((one, other))
    assert loads.start_va(va, more) <= loads.start_va(va, less) <= va


@pytest.mark.parametrize("reduction", [-0.01, 0.81, 1.0, NAN])
def test_soft_starter_that_no_one_sells_is_refused(reduction: float) -> None:
    with pytest.raises(ValueError, match=r"reduction must be between 0 and 0\.8"):
        loads.start_va(8160.0, reduction)


@settings(max_examples=60)
@given(POWERS, st.floats(0, 24), st.floats(0, 1))
def test_energy_a_day_is_never_more_than_running_all_day(
    watts: float, hours: float, duty: float
) -> None:
    assert 0 <= loads.daily_energy_wh(watts, hours, duty) <= watts * 24


def test_day_has_no_25th_hour() -> None:
    with pytest.raises(ValueError, match="hours must be at most 24 a day"):
        loads.daily_energy_wh(100.0, 24.5)


@pytest.mark.parametrize(
    ("call", "fault"),
    [
        (lambda: loads.apparent_power_va(-1.0, 1.0), "real_w must be zero or more"),
        (lambda: loads.apparent_power_va(1.0, 0.0), "power_factor must be more than zero"),
        (lambda: loads.apparent_power_va(1.0, 1.1), "power_factor must be between 0 and 1"),
        (lambda: loads.apparent_power_va(NAN, 1.0), "real_w must be zero or more"),
        (lambda: loads.running_current_a(1.0, 0.0), "volts must be more than zero"),
        (lambda: loads.running_current_a(math.inf, 120.0), "apparent_va must be zero or more"),
        (lambda: loads.locked_rotor_va(-1.0, 120.0), "locked_rotor_a must be zero or more"),
        (lambda: loads.locked_rotor_va(1.0, NAN), "volts must be more than zero"),
        (lambda: loads.locked_rotor_a_from_code("G", 0.0, 120.0), "horsepower must be more"),
        (lambda: loads.start_va(-1.0, 0.0), "locked_rotor_va must be zero or more"),
        (lambda: loads.microwave_input_w(1000.0, 0.0), "efficiency must be more than zero"),
        (lambda: loads.microwave_input_w(1000.0, 1.5), "efficiency must be between 0 and 1"),
        (lambda: loads.btu_per_h_to_w(-1.0), "btu_per_h must be zero or more"),
        (lambda: loads.daily_energy_wh(1.0, 1.0, 1.2), "duty must be between 0 and 1"),
        (lambda: loads.daily_energy_wh(-1.0, 1.0), "running_w must be zero or more"),
        (lambda: Running("x", NAN, 1.0, 1.0), "real_w must be zero or more"),
    ],
)
def test_numbers_no_load_can_have_are_refused(call: object, fault: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=fault):
        call()


def test_a_planned_start_is_above_the_logged_one_of_a_15_000_btu_unit() -> None:
    """Logged by a trade column, 2020: peaks of 50 to 65 A without a soft starter and 24 A with one
    (seen). That reduction is of the measured peak; the plan takes 50 % off locked rotor and fan."""
    planned_va = loads.start_va(72.8 * 120.0, 0.5)
    assert planned_va >= 24.0 * 120.0


def test_the_published_start_on_2_000_w_is_just_missed_with_the_planned_share() -> None:
    """A trailer magazine, 2018: 65 to 75 % off the locked rotor, and 2,000 W start 13,500 BTU/h
    (seen). With the planned 50 % off 70.8 A it asks 4,248 VA of 4,000 VA: just not."""
    limit_va = generator.start_limit_va(2000.0)
    full_va = 70.8 * 120.0
    assert generator.starts_motor(limit_va, 0.0, loads.start_va(full_va, 0.65))
    planned_va = loads.start_va(full_va, 0.5)
    assert not generator.starts_motor(limit_va, 0.0, planned_va)
    assert planned_va / limit_va == pytest.approx(1.06, abs=0.005)


@pytest.mark.parametrize(("name", "measured_w"), [("aircon-13k5", 1200.0), ("aircon-15k", 1350.0)])
def test_a_roof_air_conditioner_is_planned_above_what_owners_measured_in_mild_air(
    name: str, measured_w: float
) -> None:
    """Owners' measurements, 1,200 and 1,350 W (column, 2021, seen)."""
    assert demo().appliance(name).running >= measured_w


def test_the_plan_carries_the_running_current_of_a_mild_day_and_not_that_of_a_hot_one() -> None:
    """A column, 2021 (seen): about 14 A at 70 °F for 13,500 BTU/h, a quarter more at 96 °F.

    With its margin the plan carries 14.3 A: enough for the one, a fifth short of the other.
    """
    guide = demo()
    unit = guide.appliance("aircon-13k5")
    apparent_va = loads.apparent_power_va(unit.running, unit.power_factor)
    planned_a = loads.running_current_a(apparent_va, 120.0) * guide.planning.load_margin
    assert planned_a >= 14.0
    assert planned_a / (1.25 * 14.0) == pytest.approx(0.82, abs=0.01)
