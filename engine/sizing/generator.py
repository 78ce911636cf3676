"""What a generator gives where it stands, and what it can start and charge meanwhile."""

from engine.sizing.guard import finite, not_negative, positive
from engine.sizing.shore import largest_charge_a
from engine.trace import step

FOOT_M = 0.3048

# Two altitude rules are printed: 3.5 % each 1,000 ft from sea level, and 3 % each 500 m above
# 1,000 m (both secondary; formal rule ISO 3046-1, from memory). Chosen is the first: it is the
# stricter, and it follows the air pressure of the standard atmosphere, as an engine without a
# turbocharger does: to a tenth of a point up to 2,000 ft, then four points lower by 10,000 ft.
ALTITUDE_LOSS_PER_M = 0.035 / (1000 * FOOT_M)
# Two temperature rules are printed: 2 % each 10 °F above 85 °F (a portable set's manual of 2008,
# secondary), and 3 % each 5 °C above 40 °C (secondary). The first begins where trips begin; the
# second is the stricter from 55 °C on. At each temperature the larger loss counts.
KELVIN_PER_DEGF = 5 / 9
HEAT_RULES = (
    ((85.0 - 32.0) * KELVIN_PER_DEGF, 0.02 / (10 * KELVIN_PER_DEGF)),
    (40.0, 0.03 / 5),
)
"""Air temperature from which a rule counts [°C], and the share lost for each kelvin above it."""


# Source: sets sold as 2,000 W give 1,600–1,800 W for hours and 30–40 A at 120 V for a fraction of a
# second (secondary): 2.0 to 3.0 times. The least, 30 A over 1,800 W, is taken. The installation
# manual of one air conditioner is content with a 3.5 kW set for one unit and 5.0 kW for two
# (secondary), since a generator's voltage sags and the motor then asks for less; the stricter
# figure is chosen, as a sag trips electronics.
START_FACTOR = 2.0


def derated_w(rated_w: float, altitude_m: float, ambient_c: float) -> float:
    """Continuous power of an engine-driven generator at its altitude and temperature.

    The losses are those of `heat_loss` and `at_altitude_w`.

    Parameters
    ----------
    rated_w : continuous rating at sea level, not the peak [W]
    altitude_m : height above the sea; below it nothing is gained [m]
    ambient_c : air temperature at the generator [°C]

    Returns
    -------
    Continuous power there [W].

    Raises
    ------
    ValueError : if the rating is negative or another value not finite.

    Source: 3.5 % each 1,000 ft, 2 % each 10 °F above 85 °F and 3 % each 5 °C above 40 °C,
    generator manuals (secondary); the losses of height and heat are multiplied, as the manuals say
    that they are cumulative.

    >>> round(derated_w(2800.0, 7000 * 0.3048, 20.0))
    2114
    """
    not_negative(rated_w=rated_w)
    finite(altitude_m=altitude_m, ambient_c=ambient_c)
    lost = step("", heat_loss, ambient_c)
    return step("", at_altitude_w, rated_w, altitude_m, lost)


def at_altitude_w(rated_w: float, altitude_m: float, heat_loss: float) -> float:
    """Continuous power of an engine-driven generator at its altitude, less what hot air takes.

    P = P_rated · min(1, max(0, 1 − 0.035 · h / 304.8)) · (1 − k_heat)

    Parameters
    ----------
    rated_w : P_rated, continuous rating at sea level, not the peak [W]
    altitude_m : h, height above the sea; below it nothing is gained [m]
    heat_loss : k_heat, share of the power lost in hot air [–]

    Returns
    -------
    Continuous power there [W].

    Source: 3.5 % each 1,000 ft, generator manuals (secondary). The losses of height and heat are
    multiplied, as the manuals say that they are cumulative.

    >>> round(at_altitude_w(2800.0, 7000 * 0.3048, 0.0))
    2114
    """
    return rated_w * min(1.0, max(0.0, 1 - ALTITUDE_LOSS_PER_M * altitude_m)) * (1 - heat_loss)


def heat_loss(ambient_c: float) -> float:
    """Share of its power that a generator loses in hot air.

    k = min(1, max(0, 0.02 · (1.8 · T + 32 − 85) / 10, 0.03 · (T − 40) / 5))

    The first rule is in degrees Fahrenheit, 2 % each 10 °F above 85 °F.

    Parameters
    ----------
    ambient_c : T, air temperature at the generator [°C]

    Returns
    -------
    Share of the power lost [–].

    Raises
    ------
    ValueError : if the temperature is not finite.

    Source: two generator manuals (secondary); the larger loss counts.

    >>> round(heat_loss(35.0), 3), heat_loss(20.0)
    (0.02, 0.0)
    """
    finite(ambient_c=ambient_c)
    return min(1.0, max(0.0, *(loss * (ambient_c - from_c) for from_c, loss in HEAT_RULES)))


def input_limit_a(continuous_w: float, volts: float, sharing: int = 1) -> float:
    """Setting of the AC input limit for a generator, in whole amperes of each hot wire behind it.

    I_set = ⌊P / (n · U)⌋

    Parameters
    ----------
    continuous_w : continuous power where it stands [W]
    volts : voltage of a leg [V]
    sharing : hot wires of the units that draw from it, on whichever leg [–]

    Returns
    -------
    Input limit of each hot wire [A].

    Raises
    ------
    ValueError : if the power is negative, the voltage not above zero, or `sharing` below 1.

    Source: conservation of energy, the load taken as resistive.

    >>> input_limit_a(1738.0, 120.0), input_limit_a(1738.0, 120.0, sharing=2)
    (14.0, 7.0)
    """
    not_negative(continuous_w=continuous_w)
    positive(volts=volts, sharing=sharing)
    # Without the allowance a product a hair under a whole ampere would lose that ampere.
    return float((continuous_w / (volts * sharing) + 1e-9) // 1)


def start_limit_va(continuous_w: float) -> float:
    """What an engine-driven generator gives for the start of a motor.

    S = 2 · P

    Parameters
    ----------
    continuous_w : P, continuous power where it stands [W]

    Returns
    -------
    Apparent power for a fraction of a second [VA].

    Raises
    ------
    ValueError : if the power is negative or not finite.

    Source: 30–40 A of a set of 1,600–1,800 W continuous (secondary); the low end is taken.

    >>> start_limit_va(1800.0)
    3600.0
    """
    not_negative(continuous_w=continuous_w)
    return START_FACTOR * continuous_w


def support_w(load_w: float, limit_w: float) -> float:
    """Power the inverter adds from the battery to a source held at its limit.

    P_bat = max(0, P_load − P_limit)

    Parameters
    ----------
    load_w : AC load [W]
    limit_w : limit set for the source [W]

    Returns
    -------
    AC power from the battery [W].

    Raises
    ------
    ValueError : if either power is negative or not finite.

    Source: conservation of energy.

    >>> support_w(3500.0, 2100.0)
    1400.0
    """
    not_negative(load_w=load_w, limit_w=limit_w)
    return max(0.0, load_w - limit_w)


def with_motor_start_va(running_va: float, start_va: float) -> float:
    """Apparent power while a motor starts beside other loads.

    S = S_running + S_start

    Parameters
    ----------
    running_va : S_running, everything that runs at that moment, without this motor [VA]
    start_va : S_start, what the motor draws as it starts [VA]

    Returns
    -------
    Apparent power [VA].

    Source: conservation of energy.

    >>> with_motor_start_va(600.0, 2900.0)
    3500.0
    """
    return running_va + start_va


def starts_motor(
    limit_va: float, running_va: float, start_va: float, support_va: float = 0.0
) -> bool:
    """Whether a source starts a motor while other loads run.

    S_limit + S_support ≥ S_running + S_start

    Parameters
    ----------
    limit_va : what the source gives for the time of the start [VA]
    running_va : everything that runs at that moment, without this motor [VA]
    start_va : what the motor asks as it starts [VA]
    support_va : what an inverter beside the source adds in that time [VA]

    Returns
    -------
    True when it starts.

    Raises
    ------
    ValueError : if any value is negative or not finite.

    Source: conservation of energy.

    >>> starts_motor(2800.0, 600.0, 2900.0), starts_motor(2800.0, 600.0, 2900.0, 1000.0)
    (False, True)
    """
    not_negative(limit_va=limit_va, running_va=running_va, start_va=start_va, support_va=support_va)
    return limit_va + support_va >= step("", with_motor_start_va, running_va, start_va)


def largest_charge_with_start_a(
    limit_a: float,
    loads_a: float,
    start_a: float,
    *,
    battery_v: float,
    efficiency: float,
    power_factor: float,
    volts: float,
    maximum_a: float,
) -> float:
    """Largest charge current with which the source can still start a motor.

    I_chg = min(I_max, max(0, I_limit − I_loads − I_start) · U · η · PF / U_bat)

    Parameters
    ----------
    limit_a : what the source gives [A]
    loads_a : loads that run meanwhile, without this motor [A]
    start_a : what the motor draws as it starts [A]
    battery_v : battery voltage while it charges [V]
    efficiency : of the charger, above 0, up to 1 [–]
    power_factor : of its input, above 0, up to 1 [–]
    volts : AC voltage [V]
    maximum_a : largest charge current of charger and bank [A]

    Returns
    -------
    Charge current [A].

    Raises
    ------
    ValueError : if a current is negative, a voltage not above zero or a factor outside its range.

    Source: conservation of energy.

    >>> charger = {"battery_v": 14.2, "efficiency": 0.85, "power_factor": 1.0, "volts": 120.0}
    >>> round(largest_charge_with_start_a(30.0, 3.0, 20.0, **charger, maximum_a=100.0), 1)
    50.3
    """
    not_negative(start_a=start_a)
    positive(volts=volts)
    return largest_charge_a(
        limit_a,
        loads_a + start_a,
        battery_v=battery_v,
        efficiency=efficiency,
        power_factor=power_factor,
        volts=volts,
        maximum_a=maximum_a,
    )
