"""What the engine found: candidates, checks, designs, parts, cautions, and the answer they make."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from engine.model.answers import Answers, ExistingBank
from engine.model.guide import Caution, Choice, Priority, Question
from engine.model.needs import Needs
from engine.model.parts import OrderLine, PartLine, orders_of, price_of
from engine.model.products import (
    Battery,
    Busbar,
    Disconnect,
    Fan,
    Fuse,
    FuseHolder,
    InverterCharger,
    Monitor,
    SoftStarter,
    StepDown,
)
from engine.sizing.bank import ReuseFault
from engine.sizing.battery import EnergyNeed
from engine.sizing.conductors import CableChoice
from engine.sizing.fit import FitResult
from engine.sizing.inverter import LossCurve
from engine.sizing.loads import Demand, Running
from engine.sizing.terminals import ConductorEnd
from engine.units import significant

NEAR_MISS = 0.1
"""Up to this share of its limit, what misses it is said to be just not enough.

Source: common practice, no source.
"""
Input = tuple[float | tuple[float, ...], str]
"""A number with its unit, or the members of a sum with theirs."""


class Check(NamedTuple):
    """One comparison of a value with its limit; a yes-or-no matter has the unit "yes".

    accepted : it misses its limit and practice accepts that; said each time, never passed silently
    """

    id: str
    value: float
    limit: float
    unit: str
    at_most: bool
    accepted: bool = False

    @property
    def kept(self) -> bool:
        """Whether the value keeps the limit."""
        return self.value <= self.limit if self.at_most else self.value >= self.limit

    @property
    def passed(self) -> bool:
        """Whether it is no reason to refuse: the limit is kept, or missing it is accepted."""
        if self.at_most:
            return self.value <= self.limit or self.accepted
        return self.value >= self.limit or self.accepted

    @property
    def nearly(self) -> bool:
        """Whether it fails by so little that the figure is worth a second look."""
        if self.unit == "degC":
            return not self.passed and self.margin >= -NEAR_MISS
        return self.short is not None and 0 < self.short <= NEAR_MISS

    @property
    def short(self) -> float | None:
        """How much more is needed than there is, as a share of what there is.

        None where nothing is missing, where there is nothing, or where it is no matter of how much.
        """
        has, needed = (self.limit, self.value) if self.at_most else (self.value, self.limit)
        if self.passed or self.unit in ("yes", "degC") or has <= 0:
            return None
        return needed / has - 1

    @property
    def margin(self) -> float:
        """Room left as a share of the limit; negative for a failed check, −1 for a plain "no"."""
        if self.unit == "yes":
            return 0.0 if self.passed else -1.0
        room = self.limit - self.value if self.at_most else self.value - self.limit
        if self.unit == "degC":  # the zero of the scale means nothing: a share of 100 K
            return room / 100.0
        if not self.limit:
            return -1.0 if self.value > 0 and self.at_most else self.value
        return room / abs(self.limit)


def all_passed(checks: Iterable[Check]) -> bool:
    """Whether none of them is a reason to refuse."""
    for check in checks:  # noqa: SIM110 - all() takes three times as long, for each candidate
        if not check.passed:
            return False
    return True


@dataclass(frozen=True, slots=True)
class Candidate:
    """A wiring layout with one kind of inverter-charger, perhaps with soft starters added."""

    layout: str
    inverter: InverterCharger
    units: int
    soft_starters: int
    legs: int
    units_per_leg: float


@dataclass(frozen=True, slots=True)
class LegDemand:
    """What runs on one leg of the inverter's output, and the start that is hardest there.

    lasting_va, short_va : apparent power of what runs for three hours or more, and of the rest
    """

    running: tuple[Running, ...]
    demand: Demand
    start_s: float
    lasting_va: float
    short_va: float

    @property
    def loads(self) -> tuple[str, ...]:
        """Names of what runs on it."""
        return tuple(each.name for each in self.running)


@dataclass(frozen=True, slots=True)
class Supply:
    """The AC side of a candidate: demand and ability on each leg, on battery.

    planned_w : real power of the busiest leg with the planning margin
    heaviest_va, worst_va : apparent power of the busiest leg, and at the hardest start on any
    feeder_a : breaker ahead of the panel
    """

    legs: tuple[LegDemand, ...]
    planned_w: float
    heaviest_va: float
    worst_va: float
    feeder_a: float
    continuous_w: float
    apparent_va: float
    surge_va: float
    curve: LossCurve
    total_w: float
    total_worst_va: float
    heat_w: float
    fit: FitResult | None


@dataclass(frozen=True, slots=True)
class BankPlan:
    """The battery bank: what it must give, and what was chosen for it.

    house_w, house_efficiency : what runs on 12 V at once, as the bank feels it, and the efficiency
        of the converter between; 1 where there is none
    dc_w, start_dc_w : what everything at once draws from it, with margin, and at the hardest start
    mean_a : current at which it is mostly emptied, the mean weighted by energy; Peukert's basis
    string_ah : capacity that one string gives at its share of that current
    for_… : strings in parallel that each demand asks for
    kept : batteries of the bank that are in the rig already and are not bought
    yours : what those are called; "" without any
    """

    battery: Battery
    series: int
    parallel: int
    energy: EnergyNeed
    usable_each_wh: float
    need_wh: float
    mean_a: float
    string_ah: float
    house_efficiency: float
    house_w: float
    dc_w: float
    start_dc_w: float
    continuous_a: float
    surge_a: float
    surge_s: float
    for_energy: int
    for_current: int
    for_surge: int
    for_voltage: int
    short_circuit_a: float
    charge_limit_a: float
    kept: int = 0
    yours: str = ""

    def lasting_days(self, nights: float) -> float:
        """How long a full bank lasts with nothing to charge it; it was sized for these nights."""
        return self.times_held * nights

    @property
    def times_held(self) -> float:
        """How many times the energy for the nights away a full bank holds."""
        return self.usable_wh / self.need_wh

    @property
    def nominal_v(self) -> float:
        """Voltage of the bank [V]."""
        return self.battery.nominal * self.series

    @property
    def string_ohm(self) -> float:
        """Resistance of one string [Ω]."""
        return self.battery.resistance * self.series

    @property
    def count(self) -> int:
        """Number of batteries."""
        return self.series * self.parallel

    @property
    def capacity_ah(self) -> float:
        """Capacity of the bank at its voltage [Ah]."""
        return self.battery.capacity * self.parallel

    @property
    def usable_wh(self) -> float:
        """Energy that is planned on: cold, age, depth and Peukert taken off [Wh]."""
        return self.usable_each_wh * self.parallel

    @property
    def energy_wh(self) -> float:
        """Rated energy of the bank [Wh]."""
        return self.battery.nominal * self.battery.capacity * self.count


class DcConductor(NamedTuple):
    """Equal DC conductors: where they run, how many, their size, and the stud at either end.

    sheathed : it is fed by more than it carries, up to the next fuse, so it lies in a sheath
    """

    group: str
    label: str
    quantity: int
    size: str
    length_m: float
    studs: tuple[str, str]
    sheathed: bool = False


class Branch(NamedTuple):
    """What hangs on the bank beside the units, with the fuse and the cable of its own.

    current_a : most that it carries for long · length_m : one way, between fuse and device
    least_a : least rating of its fuse · fused : whether it needs one
    fuse, holder, cable : None where the shelf has none that will do
    cut_a, cut_v : what a switch that cuts it for work must carry and bear; 0 without one
    switch : None where the shelf has none that will do, or none is needed
    kept : whether a battery that stays in the rig feeds its far end
    kept_fuse, kept_holder : at that battery; None where the shelf has none that will do
    """

    id: str
    current_a: float
    volts: float
    length_m: float
    least_a: float
    fused: bool
    fuse: Fuse | None
    holder: FuseHolder | None
    cable: CableChoice | None
    cut_a: float = 0.0
    cut_v: float = 0.0
    switch: Disconnect | None = None
    kept: bool = False
    kept_fuse: Fuse | None = None
    kept_holder: FuseHolder | None = None

    @property
    def cut(self) -> bool:
        """Whether a switch of its own cuts it for work."""
        return self.cut_a > 0


@dataclass(frozen=True, slots=True)
class DcPlan:
    """The run between bank and each unit: current, cable, fuse, switch, busbars, bond.

    unit_w, current_a : output on the nameplate of one unit, and its current at a low battery
    hot_w, hot_a : the same in the hottest air, where it gives less
    highest_v : what a charger puts on the bank at most
    bank_a : current of all units and of what runs on DC, at a low battery
    shared, bar_pairs : whether busbars join what would crowd a stud, and how many pairs of them
    load_bar : whether the negatives behind the shunt have a bar, since its stud would be crowded
    string_a : most that one string ever carries
    trunk : short cable between the busbars or battery and the switch, for all units together
    link : cable of each string
    battery_fuse : fuse of each string, where each needs its own
    fed_a : all of these fuses together, which feed the busbars; 0 without them
    unfused_m : longest way from a battery or busbar to the next fuse, in a sheath
    frame_awg : each lead from the negative to the frame; as many as the trunk has
    loop_ohm : resistance of bank and cables
    terminal_v, start_v : voltage left at the units while everything runs, and at the hardest start
    """

    low_v: float
    unit_w: float
    unit_dc_w: float
    current_a: float
    hot_w: float
    hot_a: float
    highest_v: float
    bank_a: float
    cable: CableChoice
    cable_m: float
    fuse: Fuse
    holder: FuseHolder
    disconnect: Disconnect
    monitor: Monitor | None
    busbar: Busbar | None
    shared: bool
    load_bar: bool
    bar_pairs: int
    trunk: CableChoice
    string_a: float
    link: CableChoice
    battery_fuse: Fuse | None
    battery_holder: FuseHolder | None
    battery_fuses: int
    fed_a: float
    unfused_m: float
    bond_awg: str
    frame_awg: str
    precharge: bool
    loop_ohm: float
    terminal_v: float
    start_v: float | None
    conductors: tuple[DcConductor, ...]
    branches: tuple[Branch, ...]


@dataclass(frozen=True, slots=True)
class AcPlan:
    """The AC conductors of each unit: input and output breakers, sizes, conductor ends.

    poles : hot wires of each unit, in as out
    breakers, breaker_poles : on each side; two units 180° apart have one for both
    joint_a : breaker between two units on one leg, where they meet, and the panel; 0 without [A]
    main_a : breaker at the cord's rating ahead of both of them; 0 without [A]
    """

    input_a: float
    output_a: float
    poles: int
    input_awg: str
    output_awg: str
    ground_awg: str
    ends_per_unit: tuple[ConductorEnd, ...]
    breakers: int
    breaker_poles: int
    joint_a: float
    main_a: float

    def __hash__(self) -> int:
        """By what tells plans apart; equal ones have equal hashes, and few others do."""
        return hash((self.output_a, self.poles, self.input_awg, self.breakers, self.joint_a))


@dataclass(frozen=True, slots=True)
class CoolingPlan:
    """How the heat leaves: by itself, or by a fan."""

    heat_w: float
    airflow_m3_per_h: float
    vent_area_m2: float
    fan: Fan | None
    fans: int
    why: str


class HouseSide(NamedTuple):
    """The rig's own 12 V system.

    hangs : what hangs on it · running_a, motor_a : what runs there at once, and its largest motor
    battery, batteries, charger : what stays or is added beside a bank of another voltage; None and
        0 where the bank itself feeds it, or where the shelf has none that will do
    charge_a : what the charger is set to at most
    isolator : whether the tow vehicle's charge line comes to that battery
    there : whether that battery is in the rig already, of those that the visitor named
    """

    hangs: tuple[str, ...]
    running_a: float
    motor_a: float
    battery: Battery | None
    batteries: int
    charger: StepDown | None
    charge_a: float
    isolator: bool
    there: bool = False


@dataclass(frozen=True, slots=True)
class Design:
    """A candidate that was sized through: all its plans, and what each use of a part takes.

    house : the rig's own 12 V system; None where it has none
    """

    candidate: Candidate
    supply: Supply
    bank: BankPlan
    dc: DcPlan
    ac: AcPlan
    cooling: CoolingPlan
    soft_starter: SoftStarter | None
    house: HouseSide | None
    parts: tuple[PartLine, ...]
    parts_price: float = field(init=False)
    """Sum of the parts list."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "parts_price", price_of(self.parts))

    @property
    def orders(self) -> tuple[OrderLine, ...]:
        """The parts list as it is bought, each article once."""
        return orders_of(self.parts)

    @property
    def mass_kg(self) -> float:
        """Weight of everything on the parts list that stays in the rig [kg]."""
        return sum([line.quantity * line.mass_each_kg for line in self.parts])


@dataclass(frozen=True, slots=True)
class Considered:
    """A candidate and what became of it: its checks, and its design where all passed.

    score: what it counts by the shop's priorities; the lowest is recommended
    """

    candidate: Candidate
    checks: tuple[Check, ...]
    design: Design | None
    score: float
    contributions: tuple[tuple[Priority, float], ...] = ()

    @property
    def failed(self) -> tuple[Check, ...]:
        """The checks that it failed."""
        return tuple([check for check in self.checks if not check.passed])


@dataclass(frozen=True, slots=True)
class Only:
    """The battery that a bank is to be made of, where that is settled.

    kept, yours : how many of them are in the rig already, and what those are called
    use : all of those, as few as will do, or all with equal new ones where more are needed
    """

    battery: Battery
    kept: int = 0
    yours: str = ""
    use: Literal["all", "fewest", "more"] = "all"


KeptWay = Literal["alone", "joined", "house", "replaced"]


@dataclass(frozen=True, slots=True)
class Keeping:
    """What becomes of the batteries that are in the rig already, and why.

    way : they are the bank; they are in it with equal new ones; they stay for the 12 V circuits
        beside a new bank; or new ones take their place
    faults : why they are not the whole bank; none where they could be and lose by price alone
    joining : why equal new ones do not help; none where they would
    other : the best setup of new batteries where theirs are in the bank, else the best with theirs
    """

    bank: ExistingBank
    way: KeptWay
    faults: tuple[ReuseFault, ...]
    joining: tuple[ReuseFault, ...]
    other: Considered | None


@dataclass(frozen=True, slots=True)
class Working:
    """One step of the arithmetic, so that a reader can follow it with a pencil.

    formula: the equation · numbers: the same with its numbers put in
    inputs: what stands for each symbol of the equation; of a sum for each of its members
    """

    id: str
    subject: str
    name: str
    formula: str
    numbers: str
    inputs: dict[str, Input]
    value: float
    unit: str
    source: str

    @property
    def result(self) -> str:
        """The value with its unit."""
        return f"{significant(self.value, 4)} {self.unit}".strip()


@dataclass(frozen=True, slots=True)
class CautionNote:
    """A caution with its numbers filled in."""

    caution: Caution
    text: str
    do: str
    card: str = ""


@dataclass(frozen=True, slots=True)
class Outcome:
    """The result for one set of answers in which nothing is open."""

    answers: Answers
    needs: Needs
    considered: tuple[Considered, ...]
    keeping: Keeping | None = None

    @property
    def best(self) -> Considered | None:
        """What is recommended; None when nothing passes."""
        first = self.considered[0] if self.considered else None
        return first if first and first.design else None


@dataclass(frozen=True, slots=True)
class Taken:
    """A question without a definite answer, and its usual case that is taken instead."""

    question: Question
    choice: Choice


@dataclass(frozen=True, slots=True)
class Holds:
    """In how many of the cases that are open the units and the bank are those of the answer.

    starters_differ: whether some of those take soft starters that others do not
    """

    same: int
    cases: int
    starters_differ: bool = False


@dataclass(frozen=True, slots=True)
class Change:
    """One other answer to one question, the end of the tree it leads to, and what comes out.

    choice: of the question; of one without fixed choices the answer as a person reads it
    best: what is recommended then; None where nothing fits
    without: the name of the load that is left out, where the question is the list of loads
    """

    question: Question
    choice: Choice
    answers: Answers
    best: Considered | None
    without: str = ""
