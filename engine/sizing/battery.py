"""How large a bank must be: energy of the nights away, what of the bank is usable, its make-up."""

import math
from dataclasses import dataclass

from engine.sizing.guard import finite, fraction, not_negative, positive
from engine.sizing.inverter import LossCurve
from engine.sizing.loads import HOURS_A_DAY
from engine.standards.battery_chemistry import chemistry_of
from engine.trace import step

# A 12.8 V battery serves a 12 V system: nominal voltages of one class differ by up to 7 %.
CLASS_TOLERANCE = 0.08
FROST_MARGIN_K = 5.0


@dataclass(frozen=True, slots=True)
class EnergyNeed:
    """Energy the battery must give between charges, by what takes it [Wh].

    ac_wh reaches AC loads, dc_wh reaches DC loads, conversion_wh is lost with the AC load,
    idle_wh is what the inverter takes just for being on.
    """

    ac_wh: float
    dc_wh: float
    conversion_wh: float
    idle_wh: float
    total_wh: float


def energy_needed_wh(
    daily_ac_wh: tuple[float, ...],
    daily_dc_wh: tuple[float, ...],
    nights: float,
    *,
    curve: LossCurve,
    idle_hours: float,
    typical_ac_w: float,
) -> EnergyNeed:
    """Energy at the battery's terminals for the nights away, by what takes it.

    Energies are those of `days_energy_wh` and `energy_at_battery_wh`.

    Parameters
    ----------
    daily_ac_wh : energy of each AC load a day [Wh]
    daily_dc_wh : energy of each DC load a day [Wh]
    nights : nights between charges [days]
    curve : loss curve of the inverter
    idle_hours : hours a day the inverter is on, loaded or not, 0 … 24 [h]
    typical_ac_w : output at which most of the AC energy is drawn [W]

    Returns
    -------
    Energy by what takes it, and its total [Wh].

    Raises
    ------
    ValueError : if a value is negative or not finite, the hours exceed a day, or AC energy is asked
        of an inverter that is never on or at no power.

    Source: conservation of energy on the loss curve.

    >>> curve = LossCurve(20.0, 0.05, 0.0)
    >>> energy_needed_wh((1000.0,), (500.0,), 2.0, curve=curve, idle_hours=24.0, typical_ac_w=500.0)
    EnergyNeed(ac_wh=2000.0, dc_wh=1000.0, conversion_wh=100.0, idle_wh=960.0, total_wh=4060.0)
    """
    not_negative(
        daily_ac_wh=sum(daily_ac_wh),
        daily_dc_wh=sum(daily_dc_wh),
        nights=nights,
        idle_hours=idle_hours,
        typical_ac_w=typical_ac_w,
    )
    if idle_hours > HOURS_A_DAY:
        raise ValueError(f"idle_hours must be at most {HOURS_A_DAY:g} a day, got {idle_hours!r}")
    if any(daily_ac_wh):
        positive(idle_hours=idle_hours, typical_ac_w=typical_ac_w)
    ac_wh = step(".ac", days_energy_wh, daily_ac_wh, nights)
    dc_wh = step(".dc", days_energy_wh, daily_dc_wh, nights)
    conversion_wh = ac_wh * (curve.proportional + curve.quadratic_per_w * typical_ac_w)
    idle_wh = curve.idle_w * idle_hours * nights
    total_wh = step("", energy_at_battery_wh, ac_wh, dc_wh, conversion_wh, idle_wh)
    return EnergyNeed(ac_wh, dc_wh, conversion_wh, idle_wh, total_wh)


def days_energy_wh(daily_wh: tuple[float, ...], nights: float) -> float:
    """Energy of several loads over the days between charges.

    E = n · Σ(E_i)

    Parameters
    ----------
    daily_wh : E_i, energy of each load a day, for as many as there are [Wh]
    nights : n, nights between charges [–]

    Returns
    -------
    Energy [Wh].

    Source: conservation of energy.

    >>> days_energy_wh((1200.0, 300.0), 2.0)
    3000.0
    """
    return nights * sum(daily_wh)


def energy_at_battery_wh(ac_wh: float, dc_wh: float, conversion_wh: float, idle_wh: float) -> float:
    """Energy at the battery's terminals, of all that takes it.

    E = E_ac + E_dc + E_conversion + E_idle

    Parameters
    ----------
    ac_wh : E_ac, energy that reaches loads on AC [Wh]
    dc_wh : E_dc, energy that reaches loads on DC [Wh]
    conversion_wh : E_conversion, energy lost with the former in the inverter [Wh]
    idle_wh : E_idle, energy that the inverter takes just for being on [Wh]

    Returns
    -------
    Energy [Wh].

    Source: conservation of energy; loss curve fitted to the maker's efficiency points.

    >>> energy_at_battery_wh(2000.0, 1000.0, 100.0, 960.0)
    4060.0
    """
    return ac_wh + dc_wh + conversion_wh + idle_wh


def usable_wh(
    nominal_v: float,
    capacity_ah: float,
    depth: float,
    temperature_factor: float,
    ageing_factor: float,
) -> float:
    """Energy of a battery or bank that is planned on.

    E = U · C · d · k_temp · k_age

    Parameters
    ----------
    nominal_v : U, nominal voltage [V]
    capacity_ah : C, capacity that is counted on [Ah]
    depth : d, share of the capacity that is drawn [–]
    temperature_factor : k_temp, share of the capacity left at its temperature [–]
    ageing_factor : k_age, share of the capacity left at the end of its life [–]

    Returns
    -------
    Energy [Wh].

    Raises
    ------
    ValueError : if the voltage or capacity is not above zero, or a factor is outside 0 … 1.

    Source: definition; depth 80–90 % for lithium, 50 % for lead (secondary); 80 % left at the end
    of life: a handbook of storage battery maintenance (copy seen).

    >>> round(usable_wh(12.8, 100.0, 0.8, 1.0, 0.9), 1)
    921.6
    """
    positive(nominal_v=nominal_v, capacity_ah=capacity_ah)
    fraction(depth=depth, temperature_factor=temperature_factor, ageing_factor=ageing_factor)
    return nominal_v * capacity_ah * depth * temperature_factor * ageing_factor


def bank_energy_wh(
    need_wh: float, depth: float, temperature_factor: float, ageing_factor: float
) -> float:
    """Nominal energy of the bank that gives a need: the inverse of ``usable_wh``.

    E_bank = E / (depth · k_T · k_age)

    Parameters
    ----------
    need_wh : energy at the terminals [Wh]
    depth : share of the capacity that is drawn [–]
    temperature_factor : share of the capacity left at its temperature [–]
    ageing_factor : share of the capacity left at the end of its life [–]

    Returns
    -------
    Nominal energy [Wh].

    Raises
    ------
    ValueError : if the need is negative, or a factor is not above 0 and up to 1.

    Source: definition.

    >>> round(bank_energy_wh(921.6, 0.8, 1.0, 0.9), 1)
    1280.0
    """
    not_negative(need_wh=need_wh)
    positive(depth=depth, temperature_factor=temperature_factor, ageing_factor=ageing_factor)
    fraction(depth=depth, temperature_factor=temperature_factor, ageing_factor=ageing_factor)
    return need_wh / (depth * temperature_factor * ageing_factor)


def batteries_in_series(system_v: float, battery_v: float) -> int:
    """Number of batteries in series that makes a system voltage.

    n = U_system / U_battery, whole within a voltage class

    Parameters
    ----------
    system_v : nominal voltage of the system [V]
    battery_v : nominal voltage of a battery; 12.8 V counts as 12 V [V]

    Returns
    -------
    Batteries in series.

    Raises
    ------
    ValueError : if a voltage is not above zero or no whole number of batteries makes the system.

    Source: voltages in series add; 12.8, 25.6 and 51.2 V lithium are the 12, 24 and 48 V classes
    (secondary).

    >>> batteries_in_series(48.0, 12.8), batteries_in_series(51.2, 25.6)
    (4, 2)
    """
    positive(system_v=system_v, battery_v=battery_v)
    ratio = system_v / battery_v
    whole = round(ratio)
    if whole < 1 or abs(ratio / whole - 1) > CLASS_TOLERANCE:
        raise ValueError(
            f"no whole number of {battery_v:g} V batteries makes a {system_v:g} V system"
        )
    return whole


def parallel_for_energy(need_wh: float, usable_each_string_wh: float) -> int:
    """Strings in parallel that hold an energy.

    n = max(1, ⌈E / E_string⌉)

    Parameters
    ----------
    need_wh : E, energy at the terminals [Wh]
    usable_each_string_wh : E_string, usable energy of one string [Wh]

    Returns
    -------
    Strings in parallel.

    Raises
    ------
    ValueError : if the need is negative or a string holds nothing.

    Source: conservation of energy.

    >>> parallel_for_energy(4060.0, 921.6)
    5
    """
    not_negative(need_wh=need_wh)
    positive(usable_each_string_wh=usable_each_string_wh)
    return _ceiling(need_wh / usable_each_string_wh)


def parallel_for_current(need_a: float, limit_each_a: float) -> int:
    """Strings in parallel that carry a current, if they share it evenly.

    n = max(1, ⌈I / I_each⌉)

    Parameters
    ----------
    need_a : I, current of the bank [A]
    limit_each_a : I_each, what one battery carries for as long [A]

    Returns
    -------
    Strings in parallel.

    Raises
    ------
    ValueError : if the need is negative or a string carries nothing.

    Source: Kirchhoff's current law, the maker's limit for one battery. Even sharing wants equal
    cable lengths and diagonal take-off (secondary).

    >>> parallel_for_current(300.0, 100.0), parallel_for_current(301.0, 100.0)
    (3, 4)
    """
    not_negative(need_a=need_a)
    positive(limit_each_a=limit_each_a)
    return _ceiling(need_a / limit_each_a)


def strings_in_parallel(for_energy: int, for_current: int, for_surge: int, for_voltage: int) -> int:
    """Strings in parallel that meet every demand on the bank.

    n = max(n_energy, n_current, n_surge, n_voltage)

    Parameters
    ----------
    for_energy : n_energy, strings that hold the energy [–]
    for_current : n_current, strings that carry what runs at once [–]
    for_surge : n_surge, strings that carry the hardest start [–]
    for_voltage : n_voltage, strings that keep the voltage at the units [–]

    Returns
    -------
    Strings in parallel.

    Source: each limit by itself.

    >>> strings_in_parallel(2, 3, 1, 1)
    3
    """
    return max(for_energy, for_current, for_surge, for_voltage)


def with_reserve_wh(need_wh: float, times: float) -> float:
    """Energy that a bank must hold so that it lasts so many times as long.

    E = k · E_need

    Parameters
    ----------
    need_wh : E_need, energy at the terminals for the days between charges [Wh]
    times : k, how many times as long it must last [–]

    Returns
    -------
    Energy [Wh].

    Raises
    ------
    ValueError : if the need is negative or the factor is not positive.

    Source: conservation of energy.

    >>> with_reserve_wh(4060.0, 1.5)
    6090.0
    """
    not_negative(need_wh=need_wh)
    positive(times=times)
    return need_wh * times


def strings_hold_wh(usable_each_string_wh: float, strings: int) -> float:
    """Usable energy of several strings.

    E = n · E_string

    Parameters
    ----------
    usable_each_string_wh : E_string, usable energy of one string at its share of the current [Wh]
    strings : n, strings in parallel [–]

    Returns
    -------
    Energy [Wh].

    Source: conservation of energy.

    >>> strings_hold_wh(900.0, 3)
    2700.0
    """
    return usable_each_string_wh * strings


def mean_draw_a(draw_w: tuple[float, ...], energy_wh: tuple[float, ...], system_v: float) -> float:
    """Current at which a bank is mostly emptied: the mean of the draws, weighted by energy.

    I = Σ(P_i · E_i) / (Σ(E_i) · U)

    The mean over time would be far below it, and Peukert's law would then never bite.

    Parameters
    ----------
    draw_w : P_i, power of each draw at the battery [W]
    energy_wh : E_i, energy of each over the days between charges [Wh]
    system_v : U, nominal voltage of the bank [V]

    Returns
    -------
    Current [A].

    Source: common practice, no source.

    >>> mean_draw_a((1000.0, 100.0), (500.0, 500.0), 10.0)
    55.0
    """
    weighted = sum(watts * wh for watts, wh in zip(draw_w, energy_wh, strict=True))
    return weighted / sum(energy_wh) / system_v


def peukert_hours(
    capacity_ah: float, rate_hours: float, current_a: float, exponent: float
) -> float:
    """Hours until a lead-acid battery is empty at a current.

    t = H · (C / (I·H))^k

    The capacity is the one stated for H hours, usually 20; some worked examples take it at 1 A,
    which gives other hours.

    Parameters
    ----------
    capacity_ah : capacity at the rate of rate_hours [Ah]
    rate_hours : hours of that rate, usually 20 [h]
    current_a : steady current [A]
    exponent : Peukert's, 1 … 2 [–]

    Returns
    -------
    Hours to empty [h].

    Raises
    ------
    ValueError : if a value is not above zero or the exponent is outside 1 … 2.

    Source: W. Peukert, 1897 (from memory), in the form of a stated rate (secondary).

    >>> round(peukert_hours(100.0, 20.0, 25.0, 1.2), 2)
    2.9
    """
    positive(capacity_ah=capacity_ah, rate_hours=rate_hours, current_a=current_a)
    if not 1 <= exponent <= 2:
        raise ValueError(f"exponent must be between 1 and 2, got {exponent!r}")
    hours: float = rate_hours * (capacity_ah / (current_a * rate_hours)) ** exponent
    return hours


def peukert_capacity_ah(
    capacity_ah: float, rate_hours: float, current_a: float, exponent: float
) -> float:
    """Capacity that a lead-acid battery gives at a current, never more than its rating.

    C_I = min(C, I · H · (C / (I · H))^k)

    Parameters
    ----------
    capacity_ah : C, capacity at the rate of rate_hours [Ah]
    rate_hours : H, hours of that rate, usually 20 [h]
    current_a : I, steady current [A]
    exponent : k, Peukert's, 1 … 2 [–]

    Returns
    -------
    Capacity [Ah].

    Raises
    ------
    ValueError : if a value is not above zero or the exponent is outside 1 … 2.

    Source: W. Peukert, 1897 (from memory), as in ``peukert_hours``; the maker's exponent; never
    above the rating on the label.

    >>> round(peukert_capacity_ah(200.0, 20.0, 100.0, 1.15))
    142
    """
    return min(capacity_ah, current_a * peukert_hours(capacity_ah, rate_hours, current_a, exponent))


def cold_capacity_factor(chemistry: str, temperature_c: float) -> float:
    """Share of its rated capacity that a chemistry gives in the cold.

    Linear between the points of the chemistry; 1 above the last, 0 below the first, since no
    figure is known there.

    Parameters
    ----------
    chemistry : a key of CHEMISTRIES
    temperature_c : temperature of the battery [°C]

    Returns
    -------
    Share [–].

    Raises
    ------
    ValueError : if the chemistry is not known or the temperature not finite.

    Source: engine.standards.battery_chemistry (lithium: sellers' claims; lead: from memory).

    >>> cold_capacity_factor("lifepo4", 0.0), cold_capacity_factor("agm", -30.0)
    (0.8, 0.0)
    """
    finite(temperature_c=temperature_c)
    points = chemistry_of(chemistry).cold_points
    before_c, before = points[0]
    if temperature_c < before_c:
        return 0.0
    for at_c, share in points[1:]:
        if temperature_c <= at_c:
            return before + (share - before) * (temperature_c - before_c) / (at_c - before_c)
        before_c, before = at_c, share
    return before


def frost_near(chemistry: str, coldest_c: float) -> bool:
    """Whether a colder night than was planned on may stop the charging.

    T < T_charge + 5 K

    Parameters
    ----------
    chemistry : name of a battery chemistry
    coldest_c : coldest air at the battery [°C]

    Returns
    -------
    Whether every charger must be told how cold the battery is.

    Raises
    ------
    ValueError : if the chemistry is unknown.

    Source: lithium cells from 0 °C (data sheets, secondary); the margin is common practice, no
    source.

    >>> frost_near("lifepo4", 4.0), frost_near("lifepo4", 10.0), frost_near("agm", -10.0)
    (True, False, False)
    """
    return coldest_c < chemistry_of(chemistry).charge_c[0] + FROST_MARGIN_K


def charge_allowed(chemistry: str, temperature_c: float) -> bool:
    """Whether a chemistry may be charged at a temperature; lithium cells plate below freezing.

    Parameters
    ----------
    chemistry : a key of CHEMISTRIES
    temperature_c : temperature of the battery [°C]

    Returns
    -------
    True when it may be charged.

    Raises
    ------
    ValueError : if the chemistry is not known or the temperature not finite.

    Source: engine.standards.battery_chemistry (lithium 0–60 °C, cell sheets; lead from memory).

    >>> charge_allowed("lifepo4", -1.0), charge_allowed("agm", -1.0)
    (False, True)
    """
    finite(temperature_c=temperature_c)
    lowest_c, highest_c = chemistry_of(chemistry).charge_c
    return lowest_c <= temperature_c <= highest_c


def _ceiling(ratio: float) -> int:
    """Whole number not below a ratio, at least 1, blind to rounding in the last places."""
    return max(1, math.ceil(ratio - 1e-9))
