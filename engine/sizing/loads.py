"""What the loads ask of a source: power, current, the start of a motor, energy a day."""

from dataclasses import dataclass

from engine.sizing.guard import fraction, not_negative, positive
from engine.standards.locked_rotor import KVA_PER_HORSEPOWER, MOST_SOFT_START_REDUCTION
from engine.standards.overcurrent import CONTINUOUS_FACTOR
from engine.trace import step

# Source: international table BTU, 1055.05585262 J (from memory; 1 W = 3.412 BTU/h seen).
JOULES_PER_BTU = 1055.05585262
HOURS_A_DAY = 24.0


@dataclass(frozen=True, slots=True)
class Running:
    """A load that runs: real power [W], apparent power [VA], and what it asks as it starts [VA].

    A load with no motor has ``start_va`` equal to ``apparent_va``.
    """

    name: str
    real_w: float
    apparent_va: float
    start_va: float

    def __post_init__(self) -> None:
        """Refuse a load that no circuit can have."""
        not_negative(real_w=self.real_w, apparent_va=self.apparent_va, start_va=self.start_va)
        if self.real_w > self.apparent_va * (1 + 1e-9):
            raise ValueError(
                f"{self.name}: real_w ({self.real_w!r}) must not exceed apparent_va "
                f"({self.apparent_va!r})"
            )
        if self.start_va < self.apparent_va * (1 - 1e-9):
            raise ValueError(
                f"{self.name}: start_va ({self.start_va!r}) must not be below apparent_va "
                f"({self.apparent_va!r})"
            )


@dataclass(frozen=True, slots=True)
class Demand:
    """What loads that run together ask: steady [W], [VA], and in the worst moment [VA].

    ``starter`` names the load whose start makes that moment; it is empty when none surges.
    """

    real_w: float
    apparent_va: float
    worst_va: float
    starter: str


def apparent_power_va(real_w: float, power_factor: float) -> float:
    """Apparent power of a load from its real power.

    S = P / PF

    Parameters
    ----------
    real_w : real power [W]
    power_factor : above 0, up to 1 [–]

    Returns
    -------
    Apparent power [VA].

    Raises
    ------
    ValueError : if the power is negative or the factor outside its range.

    Source: definition of power factor.

    >>> apparent_power_va(1200.0, 0.8)
    1500.0
    """
    not_negative(real_w=real_w)
    fraction(power_factor=power_factor)
    positive(power_factor=power_factor)
    return real_w / power_factor


def running_current_a(apparent_va: float, volts: float) -> float:
    """Current of a load that runs.

    I = S / U

    Parameters
    ----------
    apparent_va : S, apparent power [VA]
    volts : U, voltage across the load [V]

    Returns
    -------
    Current [A].

    Raises
    ------
    ValueError : if the power is negative or the voltage not above zero.

    Source: definition of apparent power.

    >>> running_current_a(1500.0, 120.0)
    12.5
    """
    not_negative(apparent_va=apparent_va)
    positive(volts=volts)
    return apparent_va / volts


def locked_rotor_va(locked_rotor_a: float, volts: float) -> float:
    """Apparent power of a motor that has not yet turned.

    S = I_locked · U

    Parameters
    ----------
    locked_rotor_a : I_locked, locked-rotor current from the nameplate [A]
    volts : U, rated voltage [V]

    Returns
    -------
    Apparent power [VA].

    Raises
    ------
    ValueError : if the current is negative or the voltage not above zero.

    Source: definition; locked-rotor current on the compressor's plate. 68 A is the compressor of a
    13,500 BTU/h unit in a published unit-data table (secondary copy).

    >>> locked_rotor_va(68.0, 120.0)
    8160.0
    """
    not_negative(locked_rotor_a=locked_rotor_a)
    positive(volts=volts)
    return locked_rotor_a * volts


def locked_rotor_a_from_code(code_letter: str, horsepower: float, volts: float) -> float:
    """Locked-rotor current of a single-phase motor from its code letter, upper edge of the band.

    I_LR = k · hp · 1000 / U

    Parameters
    ----------
    code_letter : letter on the nameplate, A … U
    horsepower : rated output [hp]
    volts : rated voltage [V]

    Returns
    -------
    Largest locked-rotor current the letter allows [A].

    Raises
    ------
    ValueError : if the letter is not in the table, or is V, whose band has no upper edge.

    Source: NEC Table 430.7(B) (secondary copies).

    >>> round(locked_rotor_a_from_code("G", 1.5, 120.0), 1)
    78.6
    """
    positive(horsepower=horsepower, volts=volts)
    band = KVA_PER_HORSEPOWER.get(code_letter.upper())
    if band is None:
        accepted = " ".join(KVA_PER_HORSEPOWER)
        raise ValueError(f"code_letter must be one of {accepted}, got {code_letter!r}")
    highest = band[1]
    if highest is None:
        raise ValueError(
            f"code_letter {code_letter!r} has no upper edge; use the locked-rotor current "
            "from the nameplate"
        )
    return highest * horsepower * 1000 / volts


def start_va(locked_rotor_va: float, reduction: float) -> float:
    """What a motor asks as it starts, with or without a soft starter.

    S = S_locked · (1 − k)

    Parameters
    ----------
    locked_rotor_va : S_locked, apparent power with locked rotor [VA]
    reduction : k, share of that which a soft starter takes away, 0 (none) … 0.8; a share of a
        measured peak is another [–]

    Returns
    -------
    Apparent power at the start [VA].

    Raises
    ------
    ValueError : if the power is negative or the reduction outside its range.

    Source: definition. In print are 52 to 63 % logged, and 65 to 75 % of a trailer magazine
    (secondary); above 80 % nothing is planned.

    >>> start_va(8160.0, 0.5)
    4080.0
    """
    not_negative(locked_rotor_va=locked_rotor_va)
    if not 0 <= reduction <= MOST_SOFT_START_REDUCTION:
        raise ValueError(
            f"reduction must be between 0 and {MOST_SOFT_START_REDUCTION}, got {reduction!r}"
        )
    return locked_rotor_va * (1 - reduction)


def together_w(each_w: tuple[float, ...]) -> float:
    """Real power of loads that run together.

    P = ΣP_i

    Parameters
    ----------
    each_w : P_i, real power of each, for as many as there are [W]

    Returns
    -------
    Real power [W].

    Source: conservation of energy.

    >>> together_w((1500.0, 1400.0))
    2900.0
    """
    return sum(each_w)


def with_start_va(each_va: tuple[float, ...], starting_va: float, running_va: float) -> float:
    """Apparent power while loads run together and one of them starts.

    S = ΣS_i + (S_starting − S_running)

    Parameters
    ----------
    each_va : S_i, apparent power of each as it runs, for as many as there are [VA]
    starting_va : S_starting, what the one that is hardest to start draws as it starts [VA]
    running_va : S_running, what that one draws as it runs [VA]

    Returns
    -------
    Apparent power in the worst moment [VA].

    Source: arithmetic; one motor starting at a time: NEC 430.62(A), from memory, reckons
    the largest beside the running current of the others.

    >>> with_start_va((1500.0, 1650.0), 8160.0, 1650.0)
    9660.0
    """
    return sum(each_va) + (starting_va - running_va)


def feeder_current_a(lasting_va: float, short_va: float, volts: float) -> float:
    """Current that the breaker of a feeder must be good for.

    I ≥ (1.25 · S_lasting + S_short) / U

    Parameters
    ----------
    lasting_va : S_lasting, apparent power of what runs for three hours or more [VA]
    short_va : S_short, apparent power of the rest [VA]
    volts : U, voltage across the loads [V]

    Returns
    -------
    Current [A].

    Source: NEC 210.20(A) and 240.6(A).

    >>> feeder_current_a(1200.0, 900.0, 120.0)
    20.0
    """
    return (CONTINUOUS_FACTOR * lasting_va + short_va) / volts


def microwave_input_w(cooking_w: float, efficiency: float) -> float:
    """Power a microwave draws, from the cooking power on its door.

    P_in = P_cook / η

    Parameters
    ----------
    cooking_w : cooking power [W]
    efficiency : cooking power over input, above 0, up to 1 [–]

    Returns
    -------
    Input power [W].

    Raises
    ------
    ValueError : if the power is negative or the efficiency outside its range.

    Source: definition; input is about 1.5 × cooking power in a modern oven (secondary), so an
    efficiency of about 0.67.

    >>> microwave_input_w(1000.0, 0.625)
    1600.0
    """
    not_negative(cooking_w=cooking_w)
    fraction(efficiency=efficiency)
    positive(efficiency=efficiency)
    return cooking_w / efficiency


def btu_per_h_to_w(btu_per_h: float) -> float:
    """Heat flow in watts. The cooling of an air conditioner is not the power it draws.

    Q = q · 1055.056 / 3600

    Parameters
    ----------
    btu_per_h : heat flow [BTU/h]

    Returns
    -------
    Heat flow [W].

    Raises
    ------
    ValueError : if the heat flow is negative or not finite.

    Source: international table BTU (from memory); 1 W = 3.412 BTU/h (trade press).

    >>> round(btu_per_h_to_w(13500.0))
    3956
    """
    not_negative(btu_per_h=btu_per_h)
    return btu_per_h * JOULES_PER_BTU / 3600


def daily_energy_wh(running_w: float, hours: float, duty: float = 1.0) -> float:
    """Energy of a load in a day.

    E = P · h · d

    Parameters
    ----------
    running_w : power while it runs [W]
    hours : hours a day it is switched on, 0 … 24 [h]
    duty : share of those hours in which it runs, 0 … 1 [–]

    Returns
    -------
    Energy a day [Wh].

    Raises
    ------
    ValueError : if the power is negative, the hours exceed a day or the duty is outside 0 … 1.

    Source: definition; a refrigerator runs about a third of its hours (US Department of Energy,
    estimating appliance energy use).

    >>> daily_energy_wh(150.0, 24.0, 1 / 3)
    1200.0
    """
    not_negative(running_w=running_w, hours=hours)
    fraction(duty=duty)
    if hours > HOURS_A_DAY:
        raise ValueError(f"hours must be at most {HOURS_A_DAY:g} a day, got {hours!r}")
    return running_w * hours * duty


def demand(running: tuple[Running, ...]) -> Demand:
    """What loads that run together ask, at rest and when the hardest of them starts.

    Powers are those of `together_w` and `with_start_va`.

    Apparent powers are added as numbers, not as vectors: loads with different power factors ask
    a little less than this, never more. Of loads that surge equally the first listed is named.

    Parameters
    ----------
    running : the loads that run at the same time

    Returns
    -------
    Real and apparent power of all [W, VA], the worst moment [VA] and the load that makes it.

    Source: arithmetic; one motor starting at a time: NEC 430.62(A), from memory, reckons
    the largest beside the running current of the others.

    >>> demand((Running("kettle", 1500.0, 1500.0, 1500.0), Running("cooler", 1400.0, 1650.0, 8e3)))
    Demand(real_w=2900.0, apparent_va=3150.0, worst_va=9500.0, starter='cooler')
    """
    real_w = step("", together_w, tuple(load.real_w for load in running))
    each_va = tuple(load.apparent_va for load in running)
    hardest = max(running, key=lambda load: load.start_va - load.apparent_va, default=None)
    if hardest is None or hardest.start_va <= hardest.apparent_va:
        return Demand(real_w, sum(each_va), sum(each_va), "")
    worst_va = step("", with_start_va, each_va, hardest.start_va, hardest.apparent_va)
    return Demand(real_w, sum(each_va), worst_va, hardest.name)
