"""The battery circuit as a whole: battery and cable feed a load that takes a constant power."""

import math

from engine.sizing.guard import fraction, not_negative, positive
from engine.sizing.inverter import constant_power_current_a
from engine.trace import step


def loop_resistance_ohm(
    string_ohm: float,
    parallel: int,
    cable_ohm_per_m: float,
    one_way_m: float,
    runs: int = 1,
    units: int = 1,
) -> float:
    """Resistance that the current of a whole setup meets on its way around.

    R = R_string / n_parallel + 2 · l · r / (n_runs · n_units)

    Parameters
    ----------
    string_ohm : R_string, resistance of one string of batteries [Ω]
    parallel : n_parallel, strings in parallel, at least 1 [–]
    cable_ohm_per_m : r, resistance of one conductor at its working temperature [Ω/m]
    one_way_m : l, length one way; the return is counted here [m]
    runs : n_runs, equal conductors in parallel a pole, at least 1 [–]
    units : n_units, equal units that share the current, each on its own cable, at least 1 [–]

    Returns
    -------
    Resistance of the loop [Ω].

    Raises
    ------
    ValueError : if a resistance or length is negative, or a count below 1.

    Source: Kirchhoff's and Ohm's laws; the maker's figure for one battery.

    >>> round(loop_resistance_ohm(0.005, 2, 0.0003173, 1.524), 6)
    0.003467
    """
    not_negative(string_ohm=string_ohm, cable_ohm_per_m=cable_ohm_per_m, one_way_m=one_way_m)
    positive(parallel=parallel, runs=runs, units=units)
    return string_ohm / parallel + 2 * one_way_m * cable_ohm_per_m / (runs * units)


def terminal_voltage_v(dc_w: float, source_v: float, loop_ohm: float) -> float | None:
    """Voltage left at the terminals of a load that takes a constant power.

    The current is that of `constant_power_current_a`, the voltage that of `voltage_left_v`.

    Parameters
    ----------
    dc_w : power at the load's terminals [W]
    source_v : voltage of the battery at rest [V]
    loop_ohm : resistance of battery, cable and joints [Ω]

    Returns
    -------
    Voltage at the terminals [V]; None when the source cannot deliver the power at all.

    Raises
    ------
    ValueError : if the power or resistance is negative or the voltage not above zero.

    Source: Ohm's law; the same circuit against a root finder in the tests.

    >>> round(terminal_voltage_v(3300.0, 12.8, 0.004), 2)
    11.67
    >>> terminal_voltage_v(12000.0, 12.0, 0.004) is None
    True
    """
    current_a = step("", constant_power_current_a, dc_w, source_v, loop_ohm)
    return None if current_a is None else step("", voltage_left_v, source_v, loop_ohm, current_a)


def voltage_left_v(source_v: float, loop_ohm: float, current_a: float) -> float:
    """Voltage left of a source behind a resistance at a current.

    U = U_0 − R · I

    Parameters
    ----------
    source_v : U_0, voltage of the battery at rest [V]
    loop_ohm : R, resistance of battery, cable and joints [Ω]
    current_a : I, current in the loop [A]

    Returns
    -------
    Voltage at the load [V].

    Source: Ohm's law; nominal voltage as that of a low battery at rest: a lead-acid one half
    empty has 12.1 V, a lithium one down to a fifth 12.9 V (secondary, in part from memory).

    >>> round(voltage_left_v(12.8, 0.004, 282.8), 2)
    11.67
    """
    return source_v - current_a * loop_ohm


def bank_current_a(unit_a: float, units: int, dc_loads_a: float) -> float:
    """Current of a bank at the full output of its units.

    I_bank = n · I_unit + I_dc

    Parameters
    ----------
    unit_a : I_unit, DC current of one unit at its full output [A]
    units : n, equal units on the bank [–]
    dc_loads_a : I_dc, current of what runs straight from the bank [A]

    Returns
    -------
    Current [A].

    Source: Kirchhoff's current law.

    >>> bank_current_a(280.0, 2, 10.0)
    570.0
    """
    return unit_a * units + dc_loads_a


def strings_for_voltage(
    current_a: float, source_v: float, lowest_v: float, string_ohm: float, cable_ohm: float
) -> int | None:
    """Strings in parallel that keep the voltage at the load's terminals above a limit.

    n = ⌈R_string / ((U0 − U_min) / I − R_cable)⌉, at least 1, I = P / U_min

    Parameters
    ----------
    current_a : current of the load at the lowest voltage [A]
    source_v : voltage of the battery at rest [V]
    lowest_v : voltage below which the load stops [V]
    string_ohm : resistance of one string of batteries [Ω]
    cable_ohm : resistance of the cable, there and back [Ω]

    Returns
    -------
    Strings in parallel; None when the cable alone loses too much.

    Raises
    ------
    ValueError : if a quantity is negative or a voltage not above zero.

    Source: Ohm's law.

    >>> strings_for_voltage(250.0, 12.8, 11.0, 0.012, 0.0016)
    3
    >>> strings_for_voltage(250.0, 12.8, 11.0, 0.012, 0.008) is None
    True
    """
    not_negative(current_a=current_a, string_ohm=string_ohm, cable_ohm=cable_ohm)
    positive(source_v=source_v, lowest_v=lowest_v)
    if current_a == 0:
        return 1
    left_ohm = (source_v - lowest_v) / current_a - cable_ohm
    if left_ohm <= 0:
        return None
    return max(1, math.ceil(string_ohm / left_ohm - 1e-9))


def behind_converter_w(load_w: float, efficiency: float) -> float:
    """Power that a DC-DC converter draws from the bank for what runs behind it.

    P = P_load / η

    Parameters
    ----------
    load_w : power of the loads behind the converter [W]
    efficiency : of the converter, above 0, up to 1; 1 where there is none [–]

    Returns
    -------
    Power at the bank [W].

    Raises
    ------
    ValueError : if the power is negative or the efficiency outside its range.

    Source: conservation of energy.

    >>> behind_converter_w(230.0, 0.92)
    250.0
    """
    not_negative(load_w=load_w)
    positive(efficiency=efficiency)
    fraction(efficiency=efficiency)
    return load_w / efficiency
