"""What the rig must be able to do, in the engine's units, with what of it was assumed."""

from dataclasses import dataclass, fields

from engine.model.answers import Bay, ExistingBank
from engine.model.buses import LEGS, Bus
from engine.model.guide import Rig
from engine.standards.services import LARGEST_HOUSEHOLD_A, Service


@dataclass(frozen=True, slots=True)
class Load:
    """One appliance (or several alike) as this visitor uses it.

    at_once: whether it runs along with whatever else runs
    said: whether the visitor's list says that it runs together with others; None where it is silent
    """

    id: str
    name: str
    count: int
    bus: Bus
    running_w: float
    power_factor: float
    hours: float
    duty: float
    heavy: bool
    at_once: bool
    locked_rotor_a: float
    start_s: float
    soft_startable: bool
    hour_of_day: int
    caution: str
    said: bool | None = None
    follows: str = ""

    def __hash__(self) -> int:
        """By what tells loads apart; equal ones have equal hashes, and few others do."""
        return hash((self.id, self.name, self.count, self.running_w, self.hours))

    @property
    def volts(self) -> float:
        """Voltage that it is made for."""
        return self.bus.volts


@dataclass(frozen=True, slots=True)
class Weather:
    """The weather of a climate and month that is planned on.

    clearness : light on the level over that above the air, the month's mean
    mean_c : mean air of the month [°C]
    hot_c, hot_day_c : air outside on a hot afternoon, and the mean of that day [°C]
    coldest_c : coldest air at the battery, by which it may be charged or not [°C]
    bank_c : temperature by which its capacity is planned [°C]
    """

    climate: str
    clearness: float
    mean_c: float
    hot_c: float
    hot_day_c: float
    coldest_c: float
    bank_c: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PowerNeeds:
    """What decides whether a unit can power the rig and has its place in it.

    running: one entry an appliance (count 1) of what runs at the same time on battery, through
        the inverter or past it
    service: what the rig's own cord, inlet and panel are made for
    """

    service: Service
    whole: bool
    running: tuple[Load, ...]
    soft_start_fitted: bool
    bay: Bay | None
    gap_m: float | None
    mount: str
    bank_v: float | None
    ambient_c: float

    @property
    def needs_240(self) -> bool:
        """Whether something on 240 V must run on battery."""
        return any(load.bus is LEGS for load in self.running)

    @property
    def bare(self) -> bool:
        """Whether the rig, with a household cord, may have neither inlet nor panel yet.

        Source: common practice, no source.
        """
        return self.service.amps <= LARGEST_HOUSEHOLD_A

    @property
    def panel_there(self) -> bool:
        """Whether the units feed the panel of the rig, made for its service; else a new one."""
        return self.whole and not self.bare

    @property
    def power(self) -> "PowerNeeds":
        """Only this part, the same for all needs that differ in the rest."""
        return PowerNeeds(**{field.name: getattr(self, field.name) for field in fields(PowerNeeds)})


@dataclass(frozen=True, slots=True, kw_only=True)
class Needs(PowerNeeds):
    """Everything that sizing reads.

    loads: all that is used in a day, with counts, as it draws and runs in the weather
    listed: the same as the list of loads has it
    service_id: the service by its name
    shore_a, shore_legs: what the campsite's post gives through it, each leg [A]; one leg through
        an adapter
    house_v: voltage of the rig's own system that is there, for lights, pump, motors; 0 for none
    waits: heavy loads that were asked to run at once and must wait: the rig's panel carries no more
    budget: most that the parts may cost; None for any price
    aim: what is asked for in place of the shop's own choice, by its id; "" for that one
    reserve: how many times the energy for the nights away a full bank must hold
    assumed: ids of the questions that were not answered
    """

    rig: Rig
    service_id: str
    heavy_count: int
    loads: tuple[Load, ...]
    listed: tuple[Load, ...]
    weather: Weather
    tools: str
    nights: float
    cable_m: float
    chemistry: str
    house_v: float
    waits: tuple[Load, ...]
    existing: ExistingBank | None
    shore_a: float
    shore_legs: int
    generator_w: float
    altitude_m: float
    alternator_a: float
    drive_h: float
    solar_w: float
    latitude_deg: float
    month: int
    payload_kg: float | None
    budget: float | None
    aim: str
    reserve: float
    assumed: tuple[str, ...]

    def keeps_house(self, bank_v: float) -> bool:
        """Whether the rig's own system keeps a battery, as this bank cannot feed it."""
        return self.house_v not in (0.0, bank_v)

    @property
    def light(self) -> tuple[Load, ...]:
        """What runs along with anything, of the loads at once."""
        return tuple(load for load in self.running if not load.heavy and load.bus is not LEGS)
