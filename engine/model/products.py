"""The catalogue: what the shop sells, each thing with the limits that checks use."""

from dataclasses import dataclass
from typing import Literal

from engine.model.fields import (
    AmpereHours,
    Amperes,
    Celsius,
    ChemistryId,
    EfficiencyByLoad,
    Farads,
    FlowByPressure,
    Kilograms,
    KilogramsPerMetre,
    Meters,
    Money,
    MoneyPerMetre,
    Ohms,
    Seconds,
    Share,
    VoltAmperes,
    VoltAmperesByDuration,
    Volts,
    Watts,
    WattsByTemperature,
)
from engine.standards.battery_chemistry import Chemistry, chemistry_of

Mount = Literal["upright", "sideways", "flat"]
TerminalKind = Literal["screw", "push-in"]
Pairing = Literal["parallel", "split-phase"]
HardwareUse = Literal[
    "breaker-lock",
    "charge-isolator",
    "clamp",
    "comm-cable",
    "gfci",
    "grommet",
    "heat-shrink",
    "labels",
    "remote-panel",
    "sheath",
    "small-fuse",
    "strain-relief",
    "tow-end",
]
Stock = Literal["in-stock", "out-of-stock", "discontinued"]


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenBox:
    """Opened ones sold for less: their condition in plain words, the price of one, how many."""

    condition: str
    price: Money
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Article:
    """What is said of everything on the shelf, and whether it can be had.

    delivery: how long it takes to come, in words, where that is worth saying
    successor: id of the article that took the place of a discontinued one
    as_of: date of its price and stock, where they are not those of the whole shop
    """

    id: str
    name: str
    maker: str
    stock: Stock = "in-stock"
    delivery: str = ""
    successor: str = ""
    as_of: str = ""

    @property
    def sold(self) -> bool:
        """Whether new ones can be ordered at all."""
        return self.stock != "discontinued"


@dataclass(frozen=True, slots=True, kw_only=True)
class Product(Article):
    """An article by the piece: its price, its size and weight, and opened ones."""

    price: Money
    open_box: tuple[OpenBox, ...] = ()
    height: Meters
    width: Meters
    depth: Meters
    mass: Kilograms


@dataclass(frozen=True, slots=True, kw_only=True)
class Terminals:
    """The AC terminals of a unit and the conductors they take."""

    kind: TerminalKind
    smallest_awg: str
    largest_awg: str
    conductor_depth: Meters


@dataclass(frozen=True, slots=True, kw_only=True)
class Clearances:
    """Free space the maker asks for around the unit."""

    top: Meters
    bottom: Meters
    sides: Meters
    front: Meters


@dataclass(frozen=True, slots=True, kw_only=True)
class InverterCharger(Product):
    """One inverter-charger. Output is "one-leg" (120 V) or "split-phase" (120/240 V)."""

    dc_nominal: Volts
    output: Literal["one-leg", "split-phase"]
    legs_passed: int
    pass_through: Amperes
    pairs: tuple[Pairing, ...]
    continuous: WattsByTemperature
    apparent: VoltAmperes
    surge: VoltAmperesByDuration
    efficiency: EfficiencyByLoad
    idle: Watts
    search: Watts
    low_voltage_cutoff: Volts
    charge_current: Amperes
    charge_efficiency: Share
    charge_power_factor: Share
    input_capacitance: Farads
    terminals: Terminals
    dc_stud: str
    dc_largest_awg: str
    dc_lugs_per_stud: int
    clearances: Clearances
    mounts: tuple[Mount, ...]
    bond_relay: bool
    generator_support: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Battery(Product):
    """One battery, with the currents its maker allows."""

    chemistry: ChemistryId
    nominal: Volts
    capacity: AmpereHours
    continuous_current: Amperes
    peak_current: Amperes
    peak_time: Seconds
    charge_current: Amperes
    short_circuit: Amperes
    resistance: Ohms
    usable: Share
    peukert: float
    lowest_charge_temperature: Celsius
    most_in_series: int
    most_in_parallel: int
    stud: str
    vented: bool

    @property
    def kind(self) -> Chemistry:
        """The record of its chemistry."""
        return chemistry_of(self.chemistry)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fuse(Product):
    """A DC fuse; family names an entry of engine.standards.interrupt."""

    family: str
    rating: Amperes
    interrupt: Amperes
    volts: Volts


@dataclass(frozen=True, slots=True, kw_only=True)
class FuseHolder(Product):
    """A holder for one fuse family up to a rating."""

    family: str
    largest: Amperes
    volts: Volts
    stud: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Disconnect(Product):
    """A DC battery switch."""

    rating: Amperes
    volts: Volts
    stud: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Busbar(Product):
    """A pair of busbars, positive and negative."""

    rating: Amperes
    volts: Volts
    studs: int
    stud: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cable(Article):
    """Cable by the meter: fine-strand DC cable, or AC conductors of one size."""

    use: Literal["dc", "ac", "ground"]
    awg: str
    conductors: int
    insulation_c: int
    price: MoneyPerMetre
    mass: KilogramsPerMetre


@dataclass(frozen=True, slots=True, kw_only=True)
class Lug(Product):
    """A pack of crimp lugs for one cable size and one stud."""

    awg: str
    stud: str
    pack: int = 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Ferrule(Product):
    """A pack of ferrules for one conductor size."""

    awg: str
    barrel: Meters
    insulated: bool
    pack: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Crimper(Product):
    """A crimping tool for ferrules or for lugs, from thin to thick."""

    makes: Literal["ferrule", "lug"]
    smallest_awg: str
    largest_awg: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Breaker(Product):
    """An AC circuit breaker."""

    rating: Amperes
    poles: int
    interrupt: Amperes


@dataclass(frozen=True, slots=True, kw_only=True)
class SubPanel(Product):
    """A small distribution panel with a neutral bar kept apart from the ground bar."""

    rating: Amperes
    spaces: int
    legs: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Fan(Product):
    """A ventilation fan with its flow at each back pressure."""

    flow: FlowByPressure
    power: Watts
    volts: Volts


@dataclass(frozen=True, slots=True, kw_only=True)
class SoftStarter(Product):
    """A soft starter for one compressor: the share that it takes off the locked-rotor current."""

    reduction: Share
    largest_running: Amperes


@dataclass(frozen=True, slots=True, kw_only=True)
class Monitor(Product):
    """A shunt with a display that counts charge in and out."""

    rating: Amperes
    volts: Volts
    stud: str


@dataclass(frozen=True, slots=True, kw_only=True)
class AlternatorCharger(Product):
    """A DC-DC charger between the vehicle's alternator and the bank."""

    input: Volts
    output: Volts
    current: Amperes
    efficiency: Share

    @property
    def input_a(self) -> float:
        """Current that it takes from the alternator at full output [A]."""
        return self.current * self.output / (self.input * self.efficiency)


@dataclass(frozen=True, slots=True, kw_only=True)
class StepDown(Product):
    """A DC-DC converter from a 24 or 48 V bank to the rig's 12 V circuits.

    charges: whether it charges a battery at its output, with a profile and a limit that can be set;
    it is isolated then, so that no fault on one side reaches the other
    """

    input: Volts
    output: Volts
    current: Amperes
    efficiency: Share
    charges: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Buffer(Product):
    """A battery or capacitors behind such a converter, which give a motor its start."""

    volts: Volts
    current: Amperes
    time: Seconds


@dataclass(frozen=True, slots=True, kw_only=True)
class SolarController(Product):
    """A maximum-power-point solar charge controller."""

    current: Amperes
    largest_input: Volts
    efficiency: Share


@dataclass(frozen=True, slots=True, kw_only=True)
class SolarPanel(Product):
    """A solar panel at standard test conditions."""

    rated: Watts
    open_circuit: Volts
    power_coefficient: float


@dataclass(frozen=True, slots=True, kw_only=True)
class InputLead(Product):
    """A shore lead or inlet set for one service."""

    service: str
    awg: str
    length: Meters


@dataclass(frozen=True, slots=True, kw_only=True)
class PreCharge(Product):
    """A resistor or module that fills a unit's input capacitors gently."""

    volts: Volts


@dataclass(frozen=True, slots=True, kw_only=True)
class TemperatureSensor(Product):
    """A sensor on a battery, by which a charger corrects its voltages."""

    stud: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Hardware(Product):
    """A pack of what holds, seals, marks or connects, for cables from thin to thick."""

    use: HardwareUse
    pack: int = 1
    smallest_awg: str = "18"
    largest_awg: str = "4/0"


@dataclass(frozen=True, slots=True, kw_only=True)
class CordGuard(Product):
    """What watches shore power ahead of the unit: surge protector or energy management system."""

    service: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Catalogue:
    """Everything on the shelf, by kind."""

    inverters: tuple[InverterCharger, ...]
    batteries: tuple[Battery, ...]
    fuses: tuple[Fuse, ...]
    fuse_holders: tuple[FuseHolder, ...]
    disconnects: tuple[Disconnect, ...]
    busbars: tuple[Busbar, ...]
    cables: tuple[Cable, ...]
    lugs: tuple[Lug, ...]
    ferrules: tuple[Ferrule, ...]
    crimpers: tuple[Crimper, ...]
    breakers: tuple[Breaker, ...]
    sub_panels: tuple[SubPanel, ...]
    fans: tuple[Fan, ...]
    soft_starters: tuple[SoftStarter, ...]
    monitors: tuple[Monitor, ...]
    alternator_chargers: tuple[AlternatorCharger, ...]
    step_downs: tuple[StepDown, ...]
    buffers: tuple[Buffer, ...]
    solar_controllers: tuple[SolarController, ...]
    solar_panels: tuple[SolarPanel, ...]
    input_leads: tuple[InputLead, ...]
    precharges: tuple[PreCharge, ...]
    temperature_sensors: tuple[TemperatureSensor, ...]
    hardware: tuple[Hardware, ...]
    cord_guards: tuple[CordGuard, ...]
