"""Markers that say which unit a float field holds; the loader reads text like "3000 VA" by them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from engine.standards.battery_chemistry import CHEMISTRIES


@dataclass(frozen=True, slots=True)
class Unit:
    """The unit in which the field holds its number."""

    symbol: str


@dataclass(frozen=True, slots=True)
class Points:
    """A curve written as "VALUE at WHERE" texts, held as (where, value) pairs in rising order."""

    value: str
    where: str


@dataclass(frozen=True, slots=True, eq=False)
class Named:
    """The field holds a key of a table of the engine, such as a chemistry."""

    table: Mapping[str, object]


Watts = Annotated[float, Unit("W")]
VoltAmperes = Annotated[float, Unit("VA")]
Amperes = Annotated[float, Unit("A")]
Volts = Annotated[float, Unit("V")]
AmpereHours = Annotated[float, Unit("Ah")]
Meters = Annotated[float, Unit("m")]
Kilograms = Annotated[float, Unit("kg")]
KilogramsPerMetre = Annotated[float, Unit("kg/m")]
Celsius = Annotated[float, Unit("degC")]
Hours = Annotated[float, Unit("h")]
Seconds = Annotated[float, Unit("s")]
Ohms = Annotated[float, Unit("ohm")]
Farads = Annotated[float, Unit("F")]
Share = Annotated[float, Unit("share")]
Years = Annotated[float, Unit("year")]
Money = Annotated[float, Unit("money")]
MoneyPerMetre = Annotated[float, Unit("money/m")]
MoneyPerHour = Annotated[float, Unit("money/h")]

ChemistryId = Annotated[str, Named(CHEMISTRIES)]

Curve = tuple[tuple[float, float], ...]
WattsByTemperature = Annotated[Curve, Points("W", "degC")]
VoltAmperesByDuration = Annotated[Curve, Points("VA", "s")]
EfficiencyByLoad = Annotated[Curve, Points("share", "W")]
FlowByPressure = Annotated[Curve, Points("m^3/h", "Pa")]
