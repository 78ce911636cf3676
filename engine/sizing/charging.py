"""How fast a battery takes charge: constant current, then the fall at constant voltage."""

from math import exp, inf, log

from engine.sizing import guard
from engine.standards.battery_chemistry import chemistry_of
from engine.standards.charge_profiles import Acceptance


def usual_charge_a(capacity_ah: float, chemistry: str) -> float:
    """Charge current that is usual for a bank whose maker states no limit.

    I = r · C, r = 0.5 (LiFePO4), 0.4 (AGM), 0.2 (flooded)

    Parameters
    ----------
    capacity_ah : capacity of the bank [Ah]
    chemistry : a key of CHEMISTRIES

    Returns
    -------
    Charge current [A].

    Raises
    ------
    ValueError : if the capacity is not positive or the chemistry is unknown.

    Source: trade press (0.5 C LiFePO4, 0.4 C some AGM, C/5 flooded); the maker's limit governs.

    >>> usual_charge_a(200.0, "lifepo4"), usual_charge_a(200.0, "flooded")
    (100.0, 40.0)
    """
    guard.positive(capacity_ah=capacity_ah)
    return chemistry_of(chemistry).profile.usual_rate_per_h * capacity_ah


def usable_source_a(
    *,
    source_w: float,
    load_w: float,
    battery_v: float,
    efficiency: float,
    charger_max_a: float,
    battery_limit_a: float,
) -> float:
    """Charge current that a source really gives: the least of source, charger and battery.

    I = min((P − P_load) · η / U, I_charger, I_battery), not below zero

    Parameters
    ----------
    source_w : power that the source can give without stopping [W]
    load_w : what the rig takes from the same source first [W]
    battery_v : voltage of the bank while it charges [V]
    efficiency : efficiency of the charger, 0 … 1
    charger_max_a : most that the charger gives [A]
    battery_limit_a : most that the bank may take [A]

    Returns
    -------
    Charge current [A].

    Raises
    ------
    ValueError : if a value is negative or not finite, the voltage is zero, or the efficiency is
        not a fraction.

    Source: energy balance.

    >>> pedestal = {"load_w": 600.0, "battery_v": 14.4, "efficiency": 0.85}
    >>> limits = {"charger_max_a": 100.0, "battery_limit_a": 200.0}
    >>> round(usable_source_a(source_w=1800.0, **pedestal, **limits), 1) # the source's limit
    70.8
    >>> usable_source_a(source_w=3600.0, **pedestal, **limits) # the charger's
    100.0
    """
    guard.not_negative(
        source_w=source_w,
        load_w=load_w,
        charger_max_a=charger_max_a,
        battery_limit_a=battery_limit_a,
    )
    guard.positive(battery_v=battery_v)
    guard.fraction(efficiency=efficiency)
    left_a = max(source_w - load_w, 0.0) * efficiency / battery_v
    return min(left_a, charger_max_a, battery_limit_a)


def days_to_fill(
    usable_wh: float, efficiency: float, sun_wh: float, load_wh: float
) -> float | None:
    """Days of sun that fill an empty bank while the loads run.

    t = E_usable / (η · E_sun − E_load)

    Parameters
    ----------
    usable_wh : E_usable, usable energy of the bank [Wh]
    efficiency : η, energy out of the battery over energy into it [–]
    sun_wh : E_sun, yield of a mean day of the month [Wh]
    load_wh : E_load, energy of a day's loads at the battery [Wh]

    Returns
    -------
    Days [days]; None where it never gets there.

    Source: conservation of energy; sun of the month from its mean clearness.

    >>> days_to_fill(3000.0, 0.9, 2000.0, 800.0)
    3.0
    """
    gain_wh = sun_wh * efficiency - load_wh
    return usable_wh / gain_wh if gain_wh > 0 else None


def charge_current_a(state: float, max_a: float, capacity_ah: float, chemistry: str) -> float:
    """Current into a battery at a state of charge: constant current, then constant voltage.

    I = min(I_max, C · max(k · (1 − s)^p, r_last)), zero when full

    Parameters
    ----------
    state : state of charge, 0 … 1
    max_a : current of the charger, its constant-current limit [A]
    capacity_ah : capacity of the bank [Ah]
    chemistry : a key of CHEMISTRIES

    Returns
    -------
    Charge current [A].

    Raises
    ------
    ValueError : if the state is not a fraction, the current negative, the capacity not positive
        or the chemistry unknown.

    Source: k, p and r_last fitted in engine.standards.charge_profiles to an instrumented test
    (lead-acid) and to common practice (LiFePO4).

    >>> charge_current_a(0.5, 60.0, 100.0, "lifepo4")
    60.0
    >>> round(charge_current_a(0.77, 100.0, 100.0, "agm"), 1) # 0.2 C at 77 %, as tested
    20.0
    """
    guard.fraction(state=state)
    guard.not_negative(max_a=max_a)
    guard.positive(capacity_ah=capacity_ah)
    taken = chemistry_of(chemistry).profile.acceptance
    if state >= 1.0:
        return 0.0
    falling_per_h: float = taken.factor_per_h * (1.0 - state) ** taken.exponent
    return min(max_a, capacity_ah * max(falling_per_h, taken.last_per_h))


def absorption_state(rate_per_h: float, chemistry: str) -> float:
    """State of charge at which constant current ends and the current starts to fall.

    s = 1 − (r / k)^(1/p); 1 when the charger gives less than the last current

    Parameters
    ----------
    rate_per_h : charge rate in capacities an hour, current over capacity [1/h]
    chemistry : a key of CHEMISTRIES

    Returns
    -------
    State of charge, 0 … 1.

    Raises
    ------
    ValueError : if the rate is negative or not finite, or the chemistry is unknown.

    Source: inverse of `charge_current_a`.

    >>> round(absorption_state(0.4, "agm"), 2), round(absorption_state(0.5, "lifepo4"), 2)
    (0.63, 0.95)
    """
    guard.not_negative(rate_per_h=rate_per_h)
    taken = chemistry_of(chemistry).profile.acceptance
    return 1.0 if rate_per_h <= taken.last_per_h else _corner(rate_per_h, taken)


def hours_to_charge(
    from_state: float,
    to_state: float,
    capacity_ah: float,
    charge_a: float,
    load_a: float,
    chemistry: str,
) -> float:
    """Time to charge a bank while a load takes its share of the charger.

    t = ∫ ds / r(s), r(s) = min((I − I_load) / C, rate the battery takes), solved exactly

    Parameters
    ----------
    from_state, to_state : state of charge before and after, 0 … 1
    capacity_ah : capacity of the bank [Ah]
    charge_a : current of all the chargers together [A]
    load_a : current that loads take meanwhile [A]
    chemistry : a key of CHEMISTRIES

    Returns
    -------
    Time [h]; 0 when already there, infinite when the load takes all that the charger gives.

    Raises
    ------
    ValueError : if a state is not a fraction, a current negative, the capacity not positive or
        the chemistry unknown.

    Source: arithmetic on `charge_current_a`; its check is in engine.standards.charge_profiles.

    >>> round(hours_to_charge(0.2, 0.8, 200.0, 60.0, 10.0, "lifepo4"), 6) # 120 Ah at 50 A
    2.4
    >>> round(hours_to_charge(0.5, 1.0, 100.0, 20.0, 0.0, "agm"), 1) # tested: about 5.5 h
    5.5
    """
    guard.fraction(from_state=from_state, to_state=to_state)
    guard.positive(capacity_ah=capacity_ah)
    guard.not_negative(charge_a=charge_a, load_a=load_a)
    taken = chemistry_of(chemistry).profile.acceptance
    if to_state <= from_state:
        return 0.0
    rate_per_h = (charge_a - load_a) / capacity_ah
    if rate_per_h <= 0.0:
        return inf
    if rate_per_h <= taken.last_per_h:
        return (to_state - from_state) / rate_per_h
    falls, last = _corner(rate_per_h, taken), _corner(taken.last_per_h, taken)
    hours = max(min(to_state, falls) - from_state, 0.0) / rate_per_h
    start, end = max(from_state, falls), min(to_state, last)
    if end > start:
        hours += _falling_hours(start, end, taken)
    return hours + max(to_state - max(from_state, last), 0.0) / taken.last_per_h


def state_after_charge(from_state: float, hours: float, rate_per_h: float, chemistry: str) -> float:
    """State of charge after a time on a charger; the inverse of `hours_to_charge`.

    Parameters
    ----------
    from_state : state of charge before, 0 … 1
    hours : time on the charger [h]
    rate_per_h : net charge rate in capacities an hour, current over capacity [1/h]
    chemistry : a key of CHEMISTRIES

    Returns
    -------
    State of charge, 0 … 1.

    Raises
    ------
    ValueError : if the state is not a fraction, a value is negative or not finite, or the
        chemistry is unknown.

    Source: arithmetic on `charge_current_a`.

    >>> round(state_after_charge(0.2, 2.4, 0.25, "lifepo4"), 9)
    0.8
    """
    guard.fraction(from_state=from_state)
    guard.not_negative(hours=hours, rate_per_h=rate_per_h)
    taken = chemistry_of(chemistry).profile.acceptance
    if rate_per_h <= taken.last_per_h:
        return min(from_state + hours * rate_per_h, 1.0)
    state = from_state
    falls = _corner(rate_per_h, taken)
    if state < falls:
        needed = (falls - state) / rate_per_h
        if hours <= needed:
            return state + hours * rate_per_h
        state, hours = falls, hours - needed
    last = _corner(taken.last_per_h, taken)
    if state < last:
        needed = _falling_hours(state, last, taken)
        if hours <= needed:
            return _after_falling(state, hours, taken)
        state, hours = last, hours - needed
    return min(state + hours * taken.last_per_h, 1.0)


def _corner(rate_per_h: float, taken: Acceptance) -> float:
    if rate_per_h >= taken.factor_per_h:
        return 0.0
    left: float = (rate_per_h / taken.factor_per_h) ** (1.0 / taken.exponent)
    return 1.0 - left


def _falling_hours(start: float, end: float, taken: Acceptance) -> float:
    over = taken.exponent - 1.0
    if over == 0.0:
        return log((1.0 - start) / (1.0 - end)) / taken.factor_per_h
    grown: float = (1.0 - end) ** -over - (1.0 - start) ** -over
    return grown / (over * taken.factor_per_h)


def _after_falling(start: float, hours: float, taken: Acceptance) -> float:
    over = taken.exponent - 1.0
    if over == 0.0:
        return 1.0 - (1.0 - start) * exp(-taken.factor_per_h * hours)
    grown: float = (1.0 - start) ** -over + over * taken.factor_per_h * hours
    left: float = grown ** (-1.0 / over)
    return 1.0 - left
