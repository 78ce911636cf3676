"""What an inverter gives at its temperature and for how long, loses as heat, and draws from DC."""

import math
from dataclasses import dataclass

from engine.sizing.guard import finite, fraction, not_negative, positive
from engine.trace import step

Points = tuple[tuple[float, float], ...]

# Source: inverters of the 12 V class alarm near 10.7 V and stop near 10.0 V (secondary). 11.0 V is
# between that alarm and the 12.1 V of a resting lead-acid battery half empty (from memory).
PLANNING_V_OF_12_V_CLASS = 11.0
# A class of 12 V counts from lead-acid 12.0 V to lithium 12.8 V; 12.4 V halves the difference, so
# that four of the latter (51.2 V) and four of the former (48 V) both count as four.
MIDDLE_OF_12_V_CLASS = 12.4
# Source: planning by 1.2–1.3 times the simultaneous load (secondary); the middle is chosen.
LOAD_MARGIN = 1.25


@dataclass(frozen=True, slots=True)
class LossCurve:
    """Loss of an inverter against its output P: idle + a·P + b·P² [W, –, 1/W]."""

    idle_w: float
    proportional: float
    quadratic_per_w: float

    def __post_init__(self) -> None:
        """Refuse a curve on which more output would lose less."""
        not_negative(
            idle_w=self.idle_w,
            proportional=self.proportional,
            quadratic_per_w=self.quadratic_per_w,
        )


def continuous_at(points_c_w: Points, ambient_c: float) -> float | None:
    """Continuous output at an air temperature, on the product's own points.

    Linear between points. Below the first point nothing is gained; above the last the maker says
    nothing, so nothing may be planned.

    Parameters
    ----------
    points_c_w : (air temperature [°C], continuous output [W]), temperatures rising
    ambient_c : air temperature at the unit [°C]

    Returns
    -------
    Continuous output [W], or None above the last point.

    Raises
    ------
    ValueError : if there is no point, their temperatures do not rise, or a number is not finite.

    Source: linear interpolation; 100 % at 25 °C and about 80 % at 40 °C are common ratings (from
    memory), and the maker's points govern.

    >>> continuous_at(((25.0, 3000.0), (40.0, 2400.0)), 30.0)
    2800.0
    >>> continuous_at(((25.0, 3000.0), (40.0, 2400.0)), 41.0) is None
    True
    """
    finite(ambient_c=ambient_c)
    _rising(points_c_w, "points_c_w")
    before_c, before_w = points_c_w[0]
    if ambient_c <= before_c:
        return before_w
    for at_c, at_w in points_c_w[1:]:
        if ambient_c <= at_c:
            return step("", output_between_w, ambient_c, before_c, before_w, at_c, at_w)
        before_c, before_w = at_c, at_w
    return None


def nameplate_w(points_c_w: Points) -> float:
    """Most that a unit gives for long at any air temperature: what its nameplate says.

    P_plate = max P(T)

    A unit that is derated on the hottest day gives all of it on a cool morning, so current, fuse,
    switch and shunt follow from this; only what a cable carries follows from the hottest air.

    Parameters
    ----------
    points_c_w : (air temperature [°C], continuous output [W]), temperatures rising

    Returns
    -------
    Continuous output at the coolest [W].

    Raises
    ------
    ValueError : if there is no point, their temperatures do not rise, or a number is not finite.

    Source: definition.

    >>> nameplate_w(((25.0, 3000.0), (40.0, 2400.0)))
    3000.0
    """
    _rising(points_c_w, "points_c_w")
    return max(output_w for _, output_w in points_c_w)


def output_between_w(
    ambient_c: float, before_c: float, before_w: float, after_c: float, after_w: float
) -> float:
    """Continuous output between two points of the maker, on the line that joins them.

    P = P_before + (P_after − P_before) · (T − T_before) / (T_after − T_before)

    Parameters
    ----------
    ambient_c : T, air temperature at the unit [°C]
    before_c : T_before, temperature of the cooler point [°C]
    before_w : P_before, output there [W]
    after_c : T_after, temperature of the warmer point, above the cooler one [°C]
    after_w : P_after, output there [W]

    Returns
    -------
    Continuous output [W].

    Source: linear interpolation between the maker's points.

    >>> output_between_w(30.0, 25.0, 3000.0, 40.0, 2400.0)
    2800.0
    """
    return before_w + (after_w - before_w) * (ambient_c - before_c) / (after_c - before_c)


def leg_output_w(unit_w: float, units_per_leg: float) -> float:
    """Continuous output on one leg.

    P = n · P_unit

    Parameters
    ----------
    unit_w : P_unit, continuous output of one unit at this temperature [W]
    units_per_leg : n, units on one leg; a half where one unit feeds two legs [–]

    Returns
    -------
    Continuous output on the leg [W].

    Source: the maker's points; units on one leg add, and a unit on two legs halves.

    >>> leg_output_w(2800.0, 2)
    5600.0
    """
    return unit_w * units_per_leg


def leg_surge_va(unit_va: float, units_per_leg: float) -> float:
    """Apparent power that a leg has for a start.

    S = n · S_unit

    Parameters
    ----------
    unit_va : S_unit, what one unit holds for the time of the start [VA]
    units_per_leg : n, units on one leg; a half where one unit feeds two legs [–]

    Returns
    -------
    Apparent power held on the leg [VA].

    Source: the maker's figure; units on one leg add, and a unit on two legs halves.

    >>> leg_surge_va(6000.0, 2)
    12000.0
    """
    return unit_va * units_per_leg


def surge_for(points_s_va: Points, seconds: float) -> float:
    """Apparent power a unit holds for at least a time, on the product's own points.

    The value of the shortest listed duration that is not shorter than the time; a surge is never
    interpolated, since a unit trips in steps.

    Parameters
    ----------
    points_s_va : (duration [s], apparent power [VA]), durations rising, power never rising
    seconds : how long the surge lasts [s]

    Returns
    -------
    Apparent power held [VA]; 0 when the surge outlasts the longest listed duration.

    Raises
    ------
    ValueError : if there is no point, durations do not rise, power rises with duration, or a
        number is not finite.

    Source: definition; twice the rating for seconds is usual with low-frequency transformers
    (secondary).

    >>> surge_for(((0.1, 9000.0), (5.0, 6000.0), (1800.0, 3300.0)), 0.5)
    6000.0
    """
    not_negative(seconds=seconds)
    _rising(points_s_va, "points_s_va")
    held_va = 0.0
    for duration_s, power_va in reversed(points_s_va):
        if power_va < held_va:
            raise ValueError(f"points_s_va must not rise in power with duration: {points_s_va!r}")
        if duration_s < seconds:
            break
        held_va = power_va
    return held_va


def fit_losses(points_w_eff: Points, idle_w: float) -> LossCurve:
    """Loss curve through a product's efficiency points, by least squares.

    P·(1/η − 1) − idle ≈ a·P + b·P², a ≥ 0, b ≥ 0

    With a single point the loss beyond idle is taken as proportional.

    Parameters
    ----------
    points_w_eff : (output [W], efficiency there [–])
    idle_w : draw with no load [W]

    Returns
    -------
    Loss curve.

    Raises
    ------
    ValueError : if there is no point, an output is not above zero, or an efficiency is outside
        0 … 1.

    Source: constrained least squares in two unknowns, solved exactly by its four cases.

    >>> curve = fit_losses(((1000.0, 1000 / 1090), (3000.0, 3000 / 3330)), 30.0)
    >>> round(curve.proportional, 6), round(curve.quadratic_per_w, 9)
    (0.04, 2e-05)
    """
    if not points_w_eff:
        raise ValueError("points_w_eff must hold at least one point")
    # Sums of the normal equations: columns P and P², right side the loss beyond idle.
    p2 = p3 = p4 = lp = lp2 = 0.0
    for output_w, eff in points_w_eff:
        positive(output_w=output_w, efficiency=eff)
        fraction(efficiency=eff)
        beyond_idle_w = output_w * (1 / eff - 1) - idle_w
        p2 += output_w**2
        p3 += output_w**3
        p4 += output_w**4
        lp += beyond_idle_w * output_w
        lp2 += beyond_idle_w * output_w**2
    determinant = p2 * p4 - p3 * p3
    if determinant > 1e-12 * p2 * p4:
        a = (lp * p4 - lp2 * p3) / determinant
        b = (p2 * lp2 - p3 * lp) / determinant
        if a >= 0 and b >= 0:
            return LossCurve(idle_w, a, b)
    only_a = max(0.0, lp / p2)
    only_b = max(0.0, lp2 / p4)
    # On an edge of the region the least squares fall by lp·a or lp2·b below those of a = b = 0.
    if lp * only_a >= lp2 * only_b:
        return LossCurve(idle_w, only_a, 0.0)
    return LossCurve(idle_w, 0.0, only_b)


def heat_w(curve: LossCurve, output_w: float, units: int = 1) -> float:
    """Heat that equal inverters give off, each at an output.

    P_heat = n · (P_0 + a · P + b · P²)

    Parameters
    ----------
    curve : loss curve of the unit
    curve.idle_w : P_0, draw with no load [W]
    curve.proportional : a, loss in proportion to the output [–]
    curve.quadratic_per_w : b, loss with its square [1/W]
    output_w : P, real AC output of one unit [W]
    units : n, units that share the load alike [–]

    Returns
    -------
    Heat [W].

    Raises
    ------
    ValueError : if the output is negative or not finite.

    Source: loss curve fitted to the maker's efficiency points.

    >>> round(heat_w(LossCurve(30.0, 0.04, 2e-5), 3000.0), 6)
    330.0
    """
    not_negative(output_w=output_w)
    each_w = curve.idle_w + (curve.proportional + curve.quadratic_per_w * output_w) * output_w
    return units * each_w


def input_w(curve: LossCurve, output_w: float) -> float:
    """DC power an inverter draws at an output.

    P_dc = P + P_0 + a · P + b · P²

    Parameters
    ----------
    curve : loss curve of the unit
    curve.idle_w : P_0, draw with no load [W]
    curve.proportional : a, loss in proportion to the output [–]
    curve.quadratic_per_w : b, loss with its square [1/W]
    output_w : P, real AC output [W]

    Returns
    -------
    DC power [W].

    Raises
    ------
    ValueError : if the output is negative or not finite.

    Source: conservation of energy; loss curve fitted to the maker's efficiency points.

    >>> round(input_w(LossCurve(30.0, 0.04, 2e-5), 3000.0), 6)
    3330.0
    """
    return output_w + heat_w(curve, output_w)


def bank_input_w(curve: LossCurve, output_w: float, units: int, dc_loads_w: float) -> float:
    """Power that equal inverters and what runs on DC draw from the bank.

    P_bank = n · (P + P_0 + a · P + b · P²) + P_dc

    Parameters
    ----------
    curve : loss curve of the unit
    curve.idle_w : P_0, draw with no load [W]
    curve.proportional : a, loss in proportion to the output [–]
    curve.quadratic_per_w : b, loss with its square [1/W]
    output_w : P, real AC output of one unit; of a start its volt-amperes, which errs high [W]
    units : n, units that share the load alike [–]
    dc_loads_w : P_dc, what runs straight from the bank at the same time [W]

    Returns
    -------
    DC power [W].

    Raises
    ------
    ValueError : if the output is negative or not finite.

    Source: conservation of energy; loss curve fitted to the maker's efficiency points;
    volt-amperes of a start stand for watts, which are never more.

    >>> round(bank_input_w(LossCurve(30.0, 0.04, 2e-5), 3000.0, 2, 40.0), 6)
    6700.0
    """
    return units * input_w(curve, output_w) + dc_loads_w


def hardest_start_w(ac_start_w: float, running_w: float, dc_step_w: float) -> float:
    """Power that the bank feeds at the hardest start, on AC or on DC, while all else runs.

    P = max(P_start, P_running + P_step)

    Parameters
    ----------
    ac_start_w : P_start, power of the bank at the hardest start on AC [W]
    running_w : P_running, power of the bank for what runs at once [W]
    dc_step_w : P_step, what the hardest motor on DC draws more at its start than running [W]

    Returns
    -------
    DC power [W].

    Source: one motor starting at a time: NEC 430.62(A), from memory, reckons
    the largest beside the running current of the others.

    >>> hardest_start_w(3000.0, 2000.0, 1200.0)
    3200.0
    """
    return max(ac_start_w, running_w + dc_step_w)


def efficiency(curve: LossCurve, output_w: float) -> float:
    """Share of the DC power that arrives as AC.

    η = P / (P + P_loss)

    Parameters
    ----------
    curve : loss curve of the unit
    output_w : real AC output [W]

    Returns
    -------
    Efficiency, 0 with no output [–].

    Raises
    ------
    ValueError : if the output is negative or not finite.

    Source: definition.

    >>> round(efficiency(LossCurve(30.0, 0.04, 2e-5), 1000.0), 3)
    0.917
    """
    # With neither output nor loss the ratio has no value; a unit that does nothing gives nothing.
    return output_w / input_w(curve, output_w) if output_w else 0.0


def continuous_needed_w(load_w: float, margin: float = LOAD_MARGIN) -> float:
    """Continuous output to look for, so that the unit does not live at its limit.

    P = m · P_load

    Parameters
    ----------
    load_w : P_load, loads that run at the same time [W]
    margin : m, at least 1 [–]

    Returns
    -------
    Continuous output [W].

    Raises
    ------
    ValueError : if the load is negative or the margin below 1.

    Source: trade pages take 1.2 to 1.3 times the simultaneous load (secondary).

    >>> continuous_needed_w(2000.0)
    2500.0
    """
    not_negative(load_w=load_w)
    finite(margin=margin)
    if margin < 1:
        raise ValueError(f"margin must be 1 or more, got {margin!r}")
    return load_w * margin


def behind_breaker_w(needed_w: float, breaker_a: float, volts: float) -> float:
    """Continuous output to look for behind a breaker, which passes no more than its rating.

    P = min(P_need, I · U)

    Parameters
    ----------
    needed_w : P_need, output to look for without it [W]
    breaker_a : I, rating of the breaker [A]
    volts : U, voltage behind it [V]

    Returns
    -------
    Continuous output [W].

    Raises
    ------
    ValueError : if a value is negative or not finite.

    Source: definition of power; the breaker's rating.

    >>> behind_breaker_w(3940.0, 30.0, 120.0)
    3600.0
    """
    not_negative(needed_w=needed_w)
    not_negative(breaker_a=breaker_a)
    not_negative(volts=volts)
    return min(needed_w, breaker_a * volts)


def dc_current_a(dc_w: float, battery_v: float) -> float:
    """Current from the battery at a DC power.

    I = P / U

    Parameters
    ----------
    dc_w : P, DC power [W]
    battery_v : U, voltage at the unit [V]

    Returns
    -------
    Current [A].

    Raises
    ------
    ValueError : if the power is negative or the voltage not above zero.

    Source: definition of power. 120 V × 50 A of a start is about 500 A at 12 V (secondary).

    >>> dc_current_a(6000.0, 12.0)
    500.0
    """
    not_negative(dc_w=dc_w)
    positive(battery_v=battery_v)
    return dc_w / battery_v


def low_battery_v(nominal_v: float, cut_off_v: float | None = None) -> float:
    """Lowest battery voltage that DC currents are planned at: there the current is greatest.

    U_low = 11.0 V · n, with n classes of 12 V in series

    Parameters
    ----------
    nominal_v : nominal voltage of the bank; 12.8 V counts as the 12 V class [V]
    cut_off_v : voltage at which the unit stops, when its maker states one [V]

    Returns
    -------
    The stated cut-off, otherwise the planning voltage of the class [V].

    Raises
    ------
    ValueError : if a voltage is not above zero, the cut-off is not below nominal, or nominal is
        less than a class.

    Source: alarm near 10.7 V and stop near 10.0 V for the 12 V class (secondary); 11.0 V lies
    between that alarm and a lead-acid battery at rest, half empty at 12.1 V (from memory).

    >>> low_battery_v(51.2), low_battery_v(12.0, 10.5)
    (44.0, 10.5)
    """
    positive(nominal_v=nominal_v)
    if cut_off_v is not None:
        positive(cut_off_v=cut_off_v)
        if cut_off_v >= nominal_v:
            raise ValueError(
                f"cut_off_v must be below nominal_v ({nominal_v!r}), got {cut_off_v!r}"
            )
        return cut_off_v
    classes = round(nominal_v / MIDDLE_OF_12_V_CLASS)
    if classes < 1:
        raise ValueError(f"nominal_v must be of the 12 V class or above, got {nominal_v!r}")
    return classes * PLANNING_V_OF_12_V_CLASS


def constant_power_current_a(
    dc_w: float, source_v: float, loop_resistance_ohm: float
) -> float | None:
    """Current at which a source behind a resistance delivers a power: an inverter's own case.

    I = 2 · P / (U + √(U² − 4 · R · P))

    As the voltage falls an inverter draws more, not less: the smaller root of R·I² − U·I + P.

    Parameters
    ----------
    dc_w : P, power at the unit's terminals [W]
    source_v : U, open-circuit voltage of the battery [V]
    loop_resistance_ohm : R, battery, cable both ways, fuse and joints [Ω]

    Returns
    -------
    Current [A], or None when the source cannot deliver the power at any current.

    Raises
    ------
    ValueError : if the power or resistance is negative or the voltage not above zero.

    Source: Ohm's law. The limit U²/(4·R) is maximum power transfer.

    >>> round(constant_power_current_a(3300.0, 12.8, 0.004), 1)
    282.8
    >>> constant_power_current_a(12000.0, 12.0, 0.004) is None
    True
    """
    not_negative(dc_w=dc_w, loop_resistance_ohm=loop_resistance_ohm)
    positive(source_v=source_v)
    under_root = source_v * source_v - 4 * loop_resistance_ohm * dc_w
    if under_root < 0:
        return None
    return 2 * dc_w / (source_v + math.sqrt(under_root))


def _rising(points: Points, name: str) -> None:
    """Refuse points that are none, not finite, negative in value, or not in rising order."""
    if not points:
        raise ValueError(f"{name} must hold at least one point")
    before = -math.inf
    for x, y in points:
        if not before < x < math.inf or not 0 <= y < math.inf:
            raise ValueError(f"{name} must rise and hold finite values of 0 or more: {points!r}")
        before = x
