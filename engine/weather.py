"""Climate, month and what was told of the air -> the weather that is planned on; loads in it."""

from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

from engine.model.answers import Quantity, Value
from engine.model.needs import Load, Weather
from engine.sizing.weather import (
    CABINET_K,
    air_conditioner_duty,
    air_conditioner_w,
    furnace_duty,
    hot_outside_c,
    refrigerator_duty,
)
from engine.standards.air import AIR
from engine.standards.clearness import USUAL_CLIMATE, typical_clearness
from engine.trace import step, told

USUAL_MONTH = 6
HALF_A_YEAR = 6
MONTHS_A_YEAR = 12


def weather_of(values: dict[str, Value]) -> Weather:
    """The weather of these answers; what is not among them is taken as usual.

    South of the equator the seasons are half a year apart from those of the tables.
    """
    climate = str(values.get("climate", USUAL_CLIMATE))
    month, latitude_deg = int(_number(values, "month", USUAL_MONTH)), _number(values, "lat", 0.0)
    if latitude_deg < 0:
        month = (month + HALF_A_YEAR - 1) % MONTHS_A_YEAR + 1
    air = AIR[climate]
    mean_c = air.mean_c[month - 1]
    at_unit_c = _number(values, "ambient", mean_c)
    hot_c = hot_outside_c(mean_c + air.half_range_k, at_unit_c, CABINET_K)
    return Weather(
        climate=climate,
        clearness=typical_clearness(month, climate),
        mean_c=mean_c,
        hot_c=hot_c,
        hot_day_c=hot_c - air.half_range_k,
        # No colder than the coldest that was told, nor warmer than the hottest.
        coldest_c=_number(values, "coldest", min(mean_c - air.half_range_k, at_unit_c)),
        # A battery inside the rig follows day and night slowly, and so stays near their mean.
        bank_c=_number(values, "coldest", min(mean_c, at_unit_c)),
    )


def _number(values: dict[str, Value], name: str, usual: float) -> float:
    value = values.get(name)
    return value.value if isinstance(value, Quantity) else usual


class _InWeather(NamedTuple):
    """How a kind of load follows the weather: each formula, and the air that it is put."""

    watts: tuple[Callable[[float, float], float], str] | None
    duty: tuple[Callable[[float, float], float], str]


KINDS: dict[str, _InWeather] = {
    "air-conditioner": _InWeather(
        (air_conditioner_w, "hot_c"),
        (air_conditioner_duty, "hot_c"),
    ),
    "refrigerator": _InWeather(None, (refrigerator_duty, "hot_day_c")),
    "furnace": _InWeather(None, (furnace_duty, "coldest_c")),
}
"""Every kind of appliance whose power or hours follow the weather."""


def in_weather(load: Load, weather: Weather) -> Load:
    """A load of the list as it draws and runs in this weather."""
    kind = KINDS.get(load.follows)
    if kind is None:
        return load
    role = told("power.weather", name=load.name)
    watts, duty = load.running_w, load.duty
    if kind.watts:
        formula, air = kind.watts
        watts = step(role, formula, watts, getattr(weather, air))
    formula, air = kind.duty
    duty = step(role, formula, duty, getattr(weather, air))
    return replace(load, running_w=watts, duty=duty)
