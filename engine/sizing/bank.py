"""Whether a bank stands what is asked of it: charge, surge, inrush, and use of an existing one."""

from dataclasses import dataclass

from engine.sizing.battery import CLASS_TOLERANCE
from engine.sizing.guard import not_negative, positive
from engine.standards.battery_chemistry import chemistry_of
from engine.standards.overcurrent import CONTINUOUS_FACTOR

# A capacitor is charged to within 1 % after five time constants: arithmetic.
TIME_CONSTANTS_TO_FULL = 5.0


@dataclass(frozen=True, slots=True)
class ExistingBank:
    """A bank that the owner has: age [years], nominal voltage of the bank [V], batteries alike or
    mixed, current each string carries [A], strings in parallel."""

    chemistry: str
    age_years: float
    nominal_v: float
    alike: bool
    continuous_each_a: float
    parallel: int


@dataclass(frozen=True, slots=True)
class ReuseFault:
    """Why a bank cannot be used again: a code, what it has, and what would be needed."""

    code: str
    has: float | str
    needs: float | str


def string_current_a(battery_a: float, bank_a: float, parallel: int) -> float:
    """Current that one string carries at most: what its maker allows, or its even share.

    I = max(I_bank / n, min(I_battery, I_bank))

    Parameters
    ----------
    battery_a : I_battery, what its maker allows, since the other strings may drop out [A]
    bank_a : I_bank, current of the whole bank [A]
    parallel : n, strings in parallel, at least 1 [–]

    Returns
    -------
    Current [A].

    Source: Kirchhoff's current law; the maker's limit for one battery.

    >>> string_current_a(100.0, 280.0, 3), string_current_a(100.0, 480.0, 3)
    (100.0, 160.0)
    """
    return max(bank_a / parallel, min(battery_a, bank_a))


def charge_limit_a(limit_each_a: float, parallel: int) -> float:
    """Charge current that a bank takes.

    I = I_each · n

    Parameters
    ----------
    limit_each_a : charge current one battery takes [A]
    parallel : strings in parallel, at least 1

    Returns
    -------
    Charge current of the bank [A].

    Raises
    ------
    ValueError : if the current is negative or there is no string.

    Source: Kirchhoff's current law.

    >>> charge_limit_a(50.0, 3)
    150.0
    """
    not_negative(limit_each_a=limit_each_a)
    positive(parallel=parallel)
    return limit_each_a * parallel


def continuous_wanted_a(full_a: float) -> float:
    """Continuous current of a bank that one appliance more does not open.

    I_bank ≥ 1.25 · I

    Parameters
    ----------
    full_a : current of the units at full output and of what runs on DC, at a low battery [A]

    Returns
    -------
    Continuous current that leaves room [A].

    Raises
    ------
    ValueError : if the current is negative or not finite.

    Source: trade pages, 1.25 times the current at low voltage (secondary).

    >>> continuous_wanted_a(240.0)
    300.0
    """
    not_negative(full_a=full_a)
    return CONTINUOUS_FACTOR * full_a


def protection_holds(
    surge_a: float,
    surge_s: float,
    *,
    continuous_each_a: float,
    peak_each_a: float,
    peak_s: float,
    parallel: int,
) -> bool:
    """Whether the batteries' own protection stays closed through a surge.

    I ≤ n·I_continuous, or I ≤ n·I_peak and t ≤ t_peak

    Parameters
    ----------
    surge_a : current of the surge at the bank [A]
    surge_s : how long it lasts [s]
    continuous_each_a : what one battery carries without end [A]
    peak_each_a : what one battery carries for peak_s [A]
    peak_s : how long it carries that [s]
    parallel : strings in parallel, at least 1

    Returns
    -------
    True when it stays closed.

    Raises
    ------
    ValueError : if a value is negative, there is no string, or the peak is below the continuous
        current.

    Source: definition; an air conditioner's start of about 500 A at 12 V trips batteries with
    protection at 200–250 A (secondary).

    >>> battery = {"continuous_each_a": 100.0, "peak_each_a": 250.0, "peak_s": 3.0}
    >>> protection_holds(500.0, 0.1, **battery, parallel=1)
    False
    >>> protection_holds(500.0, 0.1, **battery, parallel=2)
    True
    """
    not_negative(
        surge_a=surge_a,
        surge_s=surge_s,
        continuous_each_a=continuous_each_a,
        peak_each_a=peak_each_a,
        peak_s=peak_s,
    )
    positive(parallel=parallel)
    if peak_each_a < continuous_each_a:
        raise ValueError(
            f"peak_each_a ({peak_each_a!r}) must not be below continuous_each_a "
            f"({continuous_each_a!r})"
        )
    if surge_a <= continuous_each_a * parallel:
        return True
    return surge_a <= peak_each_a * parallel and surge_s <= peak_s


def inrush_needs_precharge(
    source_v: float, loop_resistance_ohm: float, peak_each_a: float, parallel: int
) -> bool:
    """Whether an inverter's empty capacitors would open the batteries' protection.

    U / R > n · I_peak

    At the first instant empty capacitors are a short circuit; only resistance limits the current.

    Parameters
    ----------
    source_v : voltage of the bank [V]
    loop_resistance_ohm : battery, cable both ways, fuse and joints [Ω]
    peak_each_a : what one battery carries for moments [A]
    parallel : strings in parallel, at least 1

    Returns
    -------
    True when the capacitors must be charged through a resistor first.

    Raises
    ------
    ValueError : if a voltage, resistance or the strings are not above zero, or the peak negative.

    Source: Ohm's law; that inrush may open a protection is common practice (secondary).

    >>> inrush_needs_precharge(13.3, 0.004, 250.0, 2)
    True
    """
    positive(source_v=source_v, loop_resistance_ohm=loop_resistance_ohm, parallel=parallel)
    not_negative(peak_each_a=peak_each_a)
    return source_v / loop_resistance_ohm > peak_each_a * parallel


def precharge_s(resistor_ohm: float, capacitance_f: float) -> float:
    """Time for which a resistor must charge an inverter's capacitors.

    t = 5 · R · C

    Parameters
    ----------
    resistor_ohm : resistor of the pre-charge [Ω]
    capacitance_f : input capacitance of the inverter [F]

    Returns
    -------
    Time to within 1 % of the battery's voltage [s].

    Raises
    ------
    ValueError : if a value is not above zero.

    Source: exponential charge of a capacitor, 1 − e⁻⁵ = 0.993.

    >>> round(precharge_s(25.0, 0.02), 6)
    2.5
    """
    positive(resistor_ohm=resistor_ohm, capacitance_f=capacitance_f)
    return TIME_CONSTANTS_TO_FULL * resistor_ohm * capacitance_f


def reuse_verdict(
    bank: ExistingBank, chemistry: str, system_v: float, needed_a: float
) -> tuple[ReuseFault, ...]:
    """Every reason why a bank the owner has cannot serve the new setup.

    Codes, in this order: ``chemistry`` (another than the chargers are set for), ``mixed`` (its
    batteries are not alike), ``age`` [years], ``voltage`` [V], ``current`` [A].

    Parameters
    ----------
    bank : the bank that is there
    chemistry : chemistry the setup is for, a key of CHEMISTRIES
    system_v : nominal voltage of the setup [V]
    needed_a : continuous current the setup draws at a low battery [A]

    Returns
    -------
    Faults, none when the bank serves.

    Raises
    ------
    ValueError : if a chemistry is not known, a voltage or the strings are not above zero, or
        another value is negative.

    Source: one model and one age in parallel (secondary); the ages: from memory.

    >>> reuse_verdict(ExistingBank("agm", 6.0, 12.0, True, 100.0, 2), "agm", 12.0, 300.0)
    (ReuseFault(code='age', has=6.0, needs=5.0), ReuseFault(code='current', has=200.0, needs=300.0))
    """
    not_negative(
        age_years=bank.age_years, continuous_each_a=bank.continuous_each_a, needed_a=needed_a
    )
    positive(nominal_v=bank.nominal_v, system_v=system_v, parallel=bank.parallel)
    chemistry_of(chemistry)
    life_years = chemistry_of(bank.chemistry).life_years
    carries_a = bank.continuous_each_a * bank.parallel
    faults = []
    if bank.chemistry != chemistry:
        faults.append(ReuseFault("chemistry", bank.chemistry, chemistry))
    if not bank.alike:
        faults.append(ReuseFault("mixed", "mixed", "alike"))
    if bank.age_years >= life_years:
        faults.append(ReuseFault("age", bank.age_years, life_years))
    if abs(bank.nominal_v / system_v - 1) > CLASS_TOLERANCE:
        faults.append(ReuseFault("voltage", bank.nominal_v, system_v))
    if carries_a < needed_a:
        faults.append(ReuseFault("current", carries_a, needed_a))
    return tuple(faults)
