"""What a shore service gives, what the charger takes of it, and what the neutral carries."""

from engine.sizing.guard import fraction, not_negative, positive
from engine.standards.services import CONTINUOUS_SHARE


def pass_through_va(amps: float, volts: float, legs: int) -> float:
    """Apparent power a service, or a transfer relay of its rating, passes at most.

    S = I · U · n

    Parameters
    ----------
    amps : rating of each leg [A]
    volts : voltage from each leg to neutral [V]
    legs : number of legs, 1 or 2

    Returns
    -------
    Apparent power over all legs [VA].

    Raises
    ------
    ValueError : if a rating is not above zero or the legs are neither 1 nor 2.

    Source: arithmetic; 50 A 120/240 V is 12,000 VA (NEC 551.73(A), secondary).

    >>> pass_through_va(50.0, 120.0, 2)
    12000.0
    """
    positive(amps=amps, volts=volts)
    if legs not in {1, 2}:
        raise ValueError(f"legs must be 1 or 2, got {legs!r}")
    return amps * volts * legs


def planning_current_a(amps: float) -> float:
    """Current planned on a breaker for hours on end.

    I = 0.8 · I_n

    Parameters
    ----------
    amps : rating of the breaker [A]

    Returns
    -------
    Continuous current [A].

    Raises
    ------
    ValueError : if the rating is not above zero.

    Source: NEC 210.20(A), a device at 1.25 × the continuous load.

    >>> planning_current_a(30.0)
    24.0
    """
    positive(amps=amps)
    return amps * CONTINUOUS_SHARE


def input_limit_a(breaker_a: float, sharing: int = 1) -> float:
    """Setting of the AC input limit for a breaker, in whole amperes of each hot wire behind it.

    I_set = ⌊0.8 · I_breaker / n⌋

    Parameters
    ----------
    breaker_a : I_breaker, rating of the shore breaker, each leg [A]
    sharing : n, hot wires that draw through one leg: 2 for two units on one leg, or for two legs
        behind an adapter [–]

    Returns
    -------
    Input limit of each hot wire [A].

    Raises
    ------
    ValueError : if the rating is not above zero, or `sharing` below 1.

    Source: NEC 210.20(A). 15 → 12, 20 → 16, 30 → 24, 50 → 40 A as settings are from memory.

    >>> [input_limit_a(breaker) for breaker in (15.0, 20.0, 30.0, 50.0)]
    [12.0, 16.0, 24.0, 40.0]
    >>> input_limit_a(30.0, sharing=2)
    12.0
    """
    positive(sharing=sharing)
    # Without the allowance a product a hair under a whole ampere would lose that ampere.
    return float((planning_current_a(breaker_a) / sharing + 1e-9) // 1)


def charger_ac_current_a(
    battery_v: float,
    charge_a: float,
    efficiency: float,
    power_factor: float,
    volts: float,
    legs: int = 1,
) -> float:
    """Current a charger takes of each leg that it sits on.

    I_ac = U_battery · I_charge / (n · η · PF · U)

    Parameters
    ----------
    battery_v : U_battery, battery voltage while it charges [V]
    charge_a : I_charge, charge current [A]
    efficiency : η, of the charger, above 0, up to 1 [–]
    power_factor : PF, of its input, above 0, up to 1 [–]
    volts : U, AC voltage [V]
    legs : n, legs that the charger sits on [–]

    Returns
    -------
    AC current [A].

    Raises
    ------
    ValueError : if a voltage is not above zero, the current negative or a factor outside its range.

    Source: conservation of energy.

    >>> round(charger_ac_current_a(14.2, 100.0, 0.85, 1.0, 120.0), 1)
    13.9
    """
    not_negative(charge_a=charge_a)
    gain = _dc_w_per_ac_a(battery_v, efficiency, power_factor, volts)
    return battery_v * (charge_a / legs) / gain


def left_for_loads_a(limit_a: float, charger_a: float) -> float:
    """Current that the charger leaves for the loads.

    I_left = max(0, I_limit − I_charger)

    Parameters
    ----------
    limit_a : I_limit, input limit [A]
    charger_a : I_charger, AC current of the charger [A]

    Returns
    -------
    Current left [A].

    Raises
    ------
    ValueError : if either current is negative or not finite.

    Source: Kirchhoff's current law.

    >>> round(left_for_loads_a(24.0, 13.9), 1)
    10.1
    """
    not_negative(limit_a=limit_a, charger_a=charger_a)
    return max(0.0, limit_a - charger_a)


def largest_charge_a(
    limit_a: float,
    loads_a: float,
    *,
    battery_v: float,
    efficiency: float,
    power_factor: float,
    volts: float,
    maximum_a: float,
    legs: int = 1,
) -> float:
    """Largest charge current that keeps the AC input within its limit.

    I = min(I_max, n · max(0, I_limit − I_loads) · U · η · PF / U_battery)

    Parameters
    ----------
    limit_a : I_limit, input limit [A]
    loads_a : I_loads, AC current of the loads that run meanwhile [A]
    battery_v : U_battery, battery voltage while it charges [V]
    efficiency : η, of the charger, above 0, up to 1 [–]
    power_factor : PF, of its input, above 0, up to 1 [–]
    volts : U, AC voltage [V]
    maximum_a : I_max, largest charge current of charger and bank [A]
    legs : n, legs that the charger sits on; limit and loads are of each [–]

    Returns
    -------
    Charge current [A].

    Raises
    ------
    ValueError : if a current is negative, a voltage not above zero or a factor outside its range.

    Source: conservation of energy.

    >>> charger = {"battery_v": 14.2, "efficiency": 0.85, "power_factor": 1.0, "volts": 120.0}
    >>> round(largest_charge_a(12.0, 2.0, **charger, maximum_a=100.0), 1)
    71.8
    """
    not_negative(loads_a=loads_a, maximum_a=maximum_a)
    spare_a = left_for_loads_a(limit_a, loads_a)
    gain = _dc_w_per_ac_a(battery_v, efficiency, power_factor, volts) / battery_v
    return min(maximum_a, legs * (spare_a * gain))


def neutral_current_in_phase_a(leg1_a: float, leg2_a: float) -> float:
    """Neutral current when both legs carry the same phase: it adds.

    I_N = I_1 + I_2

    Parameters
    ----------
    leg1_a : current of leg 1 [A]
    leg2_a : current of leg 2 [A]

    Returns
    -------
    Neutral current [A].

    Raises
    ------
    ValueError : if either current is negative or not finite.

    Source: Kirchhoff's current law; 15 A and 15 A make 30 A on a neutral of 14 AWG (secondary,
    an owner's manual on shared neutrals; NEC 210.4).

    >>> neutral_current_in_phase_a(15.0, 15.0)
    30.0
    """
    not_negative(leg1_a=leg1_a, leg2_a=leg2_a)
    return leg1_a + leg2_a


def neutral_current_split_a(leg1_a: float, leg2_a: float) -> float:
    """Neutral current when the legs are 180° apart and the loads resistive: the difference.

    I_N = |I_1 − I_2|

    Parameters
    ----------
    leg1_a : I_1, current of leg 1 [A]
    leg2_a : I_2, current of leg 2 [A]

    Returns
    -------
    Neutral current [A].

    Raises
    ------
    ValueError : if either current is negative or not finite.

    Source: Kirchhoff's current law, loads taken as resistive. 20 A and 15 A leave 5 A (secondary).

    >>> neutral_current_split_a(20.0, 15.0)
    5.0
    """
    not_negative(leg1_a=leg1_a, leg2_a=leg2_a)
    return abs(leg1_a - leg2_a)


def _dc_w_per_ac_a(battery_v: float, efficiency: float, power_factor: float, volts: float) -> float:
    """DC watts that one ampere of AC input delivers through the charger."""
    positive(battery_v=battery_v, efficiency=efficiency, power_factor=power_factor, volts=volts)
    fraction(efficiency=efficiency, power_factor=power_factor)
    return efficiency * power_factor * volts
