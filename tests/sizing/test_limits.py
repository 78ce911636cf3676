"""A quantity may take the last value of its range; the next one is refused in words."""

from collections.abc import Callable

import pytest

from engine.sizing import bank, battery, inverter, loads, protection, solar, sun
from engine.standards.locked_rotor import MOST_SOFT_START_REDUCTION

RANGES: dict[str, tuple[Callable[[float], object], tuple[float, ...], tuple[float, ...]]] = {
    "Peukert's exponent": (
        lambda it: battery.peukert_hours(100.0, 20.0, 5.0, it),
        (1.0, 2.0),
        (0.999, 2.001),
    ),
    "peak of a battery": (
        lambda it: bank.protection_holds(
            90.0, 1.0, continuous_each_a=100.0, peak_each_a=it, peak_s=3.0, parallel=1
        ),
        (100.0,),
        (99.9,),
    ),
    "margin on a load": (
        lambda it: inverter.continuous_needed_w(2000.0, it),
        (1.0, 1.5),
        (0.999,),
    ),
    "factor on a fuse": (lambda it: protection.fuse_minimum_a(100.0, it), (1.0,), (0.999,)),
    "what a soft starter takes off": (
        lambda it: loads.start_va(8160.0, it),
        (0.0, MOST_SOFT_START_REDUCTION),
        (-0.001, MOST_SOFT_START_REDUCTION + 0.001),
    ),
    "hours of a day": (lambda it: loads.daily_energy_wh(100.0, it), (0.0, 24.0), (24.01, -0.01)),
    "temperature coefficient": (
        lambda it: solar.dc_power_w(900.0, 400.0, it, 60.0),
        (-0.01, 0.0),
        (-0.0101, 0.0001),
    ),
    "losses in per cent": (
        lambda it: solar.loss_factor({"soiling": it}),
        (0.0, 100.0),
        (-0.1, 100.1),
    ),
    "longitude": (
        lambda it: sun.solar_noon_clock_h(it, 43, -7.0),
        (-180.0, 180.0),
        (-180.1, 180.1),
    ),
    "latitude": (
        lambda it: sun.plane_angles(it, 44, 45.0, 180.0),
        (-90.0, 90.0),
        (-90.1, 90.1),
    ),
    "tilt": (lambda it: sun.plane_angles(43.0, 44, it, 180.0), (0.0, 90.0), (-0.1, 90.1)),
    "day of the year": (
        lambda it: sun.plane_angles(43.0, int(it), 45.0, 180.0),
        (1.0, 366.0),
        (0.0, 367.0),
    ),
}


@pytest.mark.parametrize("name", RANGES)
def test_the_ends_of_a_range_are_in_it_and_what_lies_beyond_is_refused(name: str) -> None:
    calculate, inside, outside = RANGES[name]
    for value in inside:
        assert calculate(value) is not None
    for value in outside:
        with pytest.raises(ValueError, match=r"must|at most|between"):
            calculate(value)
