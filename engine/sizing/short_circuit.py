"""What a battery bank can deliver into a fault, and what a fuse can stop."""

from engine.sizing import guard
from engine.standards import interrupt
from engine.standards.battery_chemistry import chemistry_of


def bank_short_circuit_a(battery_short_a: float, parallel: int) -> float:
    """Short-circuit current of a bank of equal batteries.

    I_k = n · I_battery

    Strings in parallel add. Batteries in series do not: voltage and resistance grow alike.

    Parameters
    ----------
    battery_short_a : I_battery, short-circuit current of one battery [A]
    parallel : n, strings in parallel [–]

    Returns
    -------
    Short-circuit current at the bus bars [A].

    Raises
    ------
    ValueError : if the current is negative or `parallel` is below 1.

    Source: Kirchhoff's law, ABYC E-11 11.10.1.2 says the same; the maker's figure for one.

    >>> bank_short_circuit_a(4000.0, 3)
    12000.0
    """
    guard.not_negative(battery_short_a=battery_short_a)
    guard.positive(parallel=parallel)
    return battery_short_a * parallel


def short_circuit_from_resistance_a(open_circuit_v: float, resistance_ohm: float) -> float:
    """Short-circuit current of a battery whose inner resistance is known.

    Ik = U0 / R

    Parameters
    ----------
    open_circuit_v : voltage at rest [V]
    resistance_ohm : inner resistance, with the links up to the fault [Ω]

    Returns
    -------
    Short-circuit current of the first instant [A].

    Raises
    ------
    ValueError : if the voltage is negative, or the resistance not above zero.

    Source: Ohm's law.

    >>> round(short_circuit_from_resistance_a(13.3, 0.0025))
    5320
    """
    guard.not_negative(open_circuit_v=open_circuit_v)
    guard.positive(resistance_ohm=resistance_ohm)
    return open_circuit_v / resistance_ohm


def planned_short_circuit_a(capacity_ah: float, chemistry: str) -> float:
    """Planning figure for the short-circuit current of a battery whose maker states none.

    Ik = k · C, with k = 62 A/Ah for lithium and 40 A/Ah for lead-acid

    The electronics of a lithium pack may cut off sooner, but a fuse must not rely on that.

    Parameters
    ----------
    capacity_ah : rated capacity [Ah]
    chemistry : a key of CHEMISTRIES

    Returns
    -------
    High estimate, for choosing what a fuse must be able to stop [A].

    Raises
    ------
    ValueError : if the capacity is negative or not finite, or the chemistry is unknown.

    Source: lithium, a 60 Ah pack worked out from its cells' data sheet, 3,733 A (forum calculation,
    seen); lead-acid: trade pages give about 1 … 2 kA, up to 4 kA, for a 12 V battery of 100 Ah, and
    the highest is taken.

    >>> planned_short_circuit_a(100.0, "lifepo4"), planned_short_circuit_a(100.0, "agm")
    (6200.0, 4000.0)
    """
    guard.not_negative(capacity_ah=capacity_ah)
    return capacity_ah * chemistry_of(chemistry).family.short_a_per_ah


def stated_short_circuit_a(stated_a: float, capacity_ah: float, chemistry: str) -> float:
    """Short-circuit current planned on for a battery whose maker states one.

    Ik = max(I_stated, k · C), with k = 62 A/Ah for lithium and none for lead-acid

    Parameters
    ----------
    stated_a : the maker's figure [A]
    capacity_ah : rated capacity [Ah]
    chemistry : a key of CHEMISTRIES

    Returns
    -------
    Current for choosing what a fuse must be able to stop [A].

    Raises
    ------
    ValueError : if the current or the capacity is negative or not finite, or the chemistry unknown.

    Source: as `planned_short_circuit_a`; published packs come out above many stated figures.

    >>> stated_short_circuit_a(4900.0, 300.0, "lifepo4"), stated_short_circuit_a(2e3, 100.0, "agm")
    (18600.0, 2000.0)
    """
    guard.not_negative(stated_a=stated_a, capacity_ah=capacity_ah)
    return max(stated_a, capacity_ah * chemistry_of(chemistry).family.short_floor_a_per_ah)


def interrupt_sufficient(fuse_interrupt_a: float, short_circuit_a: float) -> bool:
    """Whether a fuse can stop a short-circuit current.

    Parameters
    ----------
    fuse_interrupt_a : direct-current interrupt rating at the system's voltage [A]
    short_circuit_a : short-circuit current that it must stop [A]

    Returns
    -------
    True if the rating reaches the current.

    Raises
    ------
    ValueError : if a current is negative or not finite.

    Source: definition of the interrupt rating; ABYC E-11 11.10.1.2.

    >>> interrupt_sufficient(20_000.0, 12_000.0), interrupt_sufficient(2000.0, 12_000.0)
    (True, False)
    """
    guard.not_negative(fuse_interrupt_a=fuse_interrupt_a, short_circuit_a=short_circuit_a)
    return fuse_interrupt_a >= short_circuit_a


def required_interrupt_a(short_circuit_a: float) -> float:
    """Interrupt rating that a fuse at a bank must have.

    AIC = 1.25 · Ik up to 10 kA; above it, a fuse of 20 kA at 125 V or more is accepted.

    Parameters
    ----------
    short_circuit_a : short-circuit current of the whole bank [A]

    Returns
    -------
    Least interrupt rating [A].

    Raises
    ------
    ValueError : if the current is negative or not finite.

    Source: ABYC E-11 11.10.1.2, banks above 500 Ah, as quoted in the trade, for 20 kA; the margin
    of 1.25 is common practice, no source.

    >>> required_interrupt_a(4000.0), required_interrupt_a(9000.0), required_interrupt_a(24_000.0)
    (5000.0, 20000.0, 20000.0)
    """
    guard.not_negative(short_circuit_a=short_circuit_a)
    with_margin_a = interrupt.INTERRUPT_MARGIN * short_circuit_a
    if with_margin_a <= interrupt.E11_OWN_FIGURE_UP_TO_A:
        return with_margin_a
    return interrupt.E11_LARGE_INTERRUPT_A


def interrupt_accepted(fuse_interrupt_a: float, short_circuit_a: float) -> bool:
    """Whether practice accepts a fuse at a bank, even below the bank's estimated short circuit.

    AIC ≥ min(1.25 · Ik, 20 kA)

    Parameters
    ----------
    fuse_interrupt_a : direct-current interrupt rating at the system's voltage [A]
    short_circuit_a : estimated short-circuit current of the whole bank [A]

    Returns
    -------
    True where the fuse is of the rating that `required_interrupt_a` gives.

    Raises
    ------
    ValueError : if a current is negative or not finite.

    Source: ABYC E-11 11.10.1.2, as quoted in the trade; Class T at lithium banks is accepted
    practice (secondary).

    >>> interrupt_accepted(20_000.0, 49_600.0), interrupt_accepted(10_000.0, 49_600.0)
    (True, False)
    """
    guard.not_negative(fuse_interrupt_a=fuse_interrupt_a)
    return fuse_interrupt_a >= required_interrupt_a(short_circuit_a)


def cranking_interrupt_a(cold_cranking_a: float, branch: bool = False) -> float:
    """Interrupt rating for 12 and 24 V lead-acid banks known by their cranking current.

    Parameters
    ----------
    cold_cranking_a : cold cranking current of all connected batteries, up to 2200 [A]
    branch : True for a branch fuse, False for the main one

    Returns
    -------
    Least interrupt rating [A].

    Raises
    ------
    ValueError : if the cranking current is negative or above 2200 A, where the maker's
        short-circuit figure decides.

    Source: ABYC E-11 Table V-A, as quoted in the trade.

    >>> cranking_interrupt_a(800.0), cranking_interrupt_a(800.0, branch=True)
    (3000.0, 1500.0)
    """
    guard.not_negative(cold_cranking_a=cold_cranking_a)
    for up_to_a, main_a, branch_a in interrupt.E11_CRANKING_ROWS_A:
        if cold_cranking_a <= up_to_a:
            return branch_a if branch else main_a
    raise ValueError(
        "cold_cranking_a must be 2200 A or less, since above it the battery maker's "
        f"short-circuit figure decides, got {cold_cranking_a!r}"
    )


def family_interrupt_a(family: str, system_v: float) -> float:
    """Interrupt rating of a fuse family at a voltage; 0 where it is not made for that voltage.

    Parameters
    ----------
    family : name of the family, as in `engine.standards.interrupt.FUSE_FAMILIES`
    system_v : highest voltage that the system reaches [V]

    Returns
    -------
    Direct-current interrupt rating [A].

    Raises
    ------
    ValueError : if the family is unknown or the voltage not positive.

    Source: engine.standards.interrupt, row by row.

    >>> family_interrupt_a("battery post", 14.0), family_interrupt_a("battery post", 29.2)
    (10000.0, 5000.0)
    """
    guard.positive(system_v=system_v)
    rows = [row for row in interrupt.FUSE_FAMILIES if row.name == family]
    if not rows:
        names = ", ".join(dict.fromkeys(row.name for row in interrupt.FUSE_FAMILIES))
        raise ValueError(f"family must be one of {names}, got {family!r}")
    return max((row.interrupt_a for row in rows if row.volts >= system_v), default=0.0)
