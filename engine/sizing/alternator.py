"""What a vehicle's alternator can give a house battery, all day, without burning out."""

from engine.sizing import guard

# Trade practice says 50 to 60 %. In print are 75 % when hot (a manual of 2007, seen), and of a hot
# machine 32 % at idle and 82 % at 2,500 rpm of its own (marine data, secondary). The low end of the
# practice is taken: a house bank draws for hours from a hot machine, often near idle.
CONTINUOUS_SHARE = 0.5
IDLE_SHARE = 0.32  # of its rating, hot, at idle (marine data, secondary)
CONVERTER_EFFICIENCY = 0.9  # DC-DC charger; data sheets say 0.85 to 0.95, from memory
RUNNING_V = 14.0  # vehicle's system with the engine running; 13.5 to 14.5 V, from memory


def continuous_a(rated_a: float) -> float:
    """Current that an alternator gives for hours.

    I = 0.5 · I_rated

    Parameters
    ----------
    rated_a : current on the alternator's nameplate [A]

    Returns
    -------
    Continuous current, the vehicle's own loads included [A].

    Raises
    ------
    ValueError : if the rating is negative or not finite.

    Source: 50 … 60 % of the rating in the trade (secondary), the low end. A hot one gives 32 % at
    idle and 82 % at 2,500 rpm of its own (marine data, secondary).

    >>> continuous_a(180.0)
    90.0
    """
    guard.not_negative(rated_a=rated_a)
    return CONTINUOUS_SHARE * rated_a


def converter_input_a(
    charge_a: float,
    battery_v: float,
    alternator_v: float = RUNNING_V,
    efficiency: float = CONVERTER_EFFICIENCY,
) -> float:
    """Current that a DC-DC converter or charger takes at its input.

    I_1 = I_2 · U_2 / (η · U_1)

    Parameters
    ----------
    charge_a : I_2, current at its output, into a house battery or 12 V circuits [A]
    battery_v : U_2, voltage there [V]
    alternator_v : U_1, voltage at its input, as with the engine running [V]
    efficiency : η, efficiency of the converter, above 0 … 1 [–]

    Returns
    -------
    Current at its input [A].

    Raises
    ------
    ValueError : if the current is negative, a voltage or the efficiency not positive, or the
        efficiency above 1.

    Source: conservation of energy.

    >>> round(converter_input_a(30.0, 14.4), 1)
    34.3
    """
    guard.not_negative(charge_a=charge_a)
    guard.positive(battery_v=battery_v, alternator_v=alternator_v, efficiency=efficiency)
    guard.fraction(efficiency=efficiency)
    return charge_a * battery_v / (efficiency * alternator_v)


def converter_current_a(
    *,
    rated_a: float,
    vehicle_load_a: float,
    battery_v: float,
    converter_max_a: float,
    alternator_v: float = RUNNING_V,
    efficiency: float = CONVERTER_EFFICIENCY,
) -> float:
    """Charge current to set on a DC-DC charger, so that the alternator stays within its limit.

    I = min(I_max, max(0, 0.5 · I_rated − I_load) · η · U_alternator / U_battery)

    Parameters
    ----------
    rated_a : I_rated, current on the alternator's nameplate [A]
    vehicle_load_a : I_load, what the engine and the vehicle take themselves [A]
    battery_v : U_battery, voltage of the house battery while it charges [V]
    converter_max_a : I_max, largest current that the DC-DC charger gives [A]
    alternator_v : U_alternator, voltage of the vehicle's system with the engine running [V]
    efficiency : η, efficiency of the DC-DC charger, above 0 … 1 [–]

    Returns
    -------
    Current into the house battery [A].

    Raises
    ------
    ValueError : if a current is negative, a voltage or the efficiency not positive, or the
        efficiency above 1.

    Source: conservation of energy; half of an alternator's rating as `continuous_a` (secondary).

    >>> van = {"rated_a": 180.0, "vehicle_load_a": 30.0, "battery_v": 14.4}
    >>> round(converter_current_a(**van, converter_max_a=100.0), 1)
    52.5
    >>> converter_current_a(**van, converter_max_a=40.0)
    40.0
    """
    guard.not_negative(vehicle_load_a=vehicle_load_a, converter_max_a=converter_max_a)
    guard.positive(battery_v=battery_v, alternator_v=alternator_v, efficiency=efficiency)
    guard.fraction(efficiency=efficiency)
    spare_a = max(continuous_a(rated_a) - vehicle_load_a, 0.0)
    return min(converter_max_a, spare_a * efficiency * alternator_v / battery_v)


def idle_current_a(
    *,
    set_a: float,
    rated_a: float,
    vehicle_load_a: float,
    battery_v: float,
    alternator_v: float = RUNNING_V,
    efficiency: float = CONVERTER_EFFICIENCY,
) -> float:
    """Charge current for which a hot alternator has power left while the engine idles.

    I = min(I_set, max(0, 0.32 · I_rated − I_load) · η · U_alternator / U_battery)

    Parameters
    ----------
    set_a : I_set, charge current that is set on the DC-DC charger [A]
    rated_a : I_rated, current on the alternator's nameplate [A]
    vehicle_load_a : I_load, what the engine and the vehicle take themselves [A]
    battery_v : U_battery, voltage of the house battery while it charges [V]
    alternator_v : U_alternator, voltage of the vehicle's system with the engine running [V]
    efficiency : η, efficiency of the DC-DC charger, above 0 … 1 [–]

    Returns
    -------
    Current into the house battery [A].

    Raises
    ------
    ValueError : if a current is negative, a voltage or the efficiency not positive, or the
        efficiency above 1.

    Source: a hot alternator gives 32 % of its rating at idle (marine data, secondary).

    >>> van = {"rated_a": 180.0, "vehicle_load_a": 40.0, "battery_v": 14.4}
    >>> round(idle_current_a(set_a=40.0, **van), 1), idle_current_a(set_a=10.0, **van)
    (15.4, 10.0)
    """
    guard.not_negative(set_a=set_a, rated_a=rated_a, vehicle_load_a=vehicle_load_a)
    guard.positive(battery_v=battery_v, alternator_v=alternator_v, efficiency=efficiency)
    guard.fraction(efficiency=efficiency)
    spare_a = max(IDLE_SHARE * rated_a - vehicle_load_a, 0.0)
    return min(set_a, spare_a * efficiency * alternator_v / battery_v)


def mean_current_a(moving_a: float, idle_a: float, idle_share: float) -> float:
    """Charge current over the hours with the engine on, the idle ones included.

    I = (1 − k) · I_moving + k · I_idle

    Parameters
    ----------
    moving_a : I_moving, charge current on the road [A]
    idle_a : I_idle, charge current at idle [A]
    idle_share : k, share of the hours in which the engine idles, 0 … 1 [–]

    Returns
    -------
    Mean charge current [A].

    Raises
    ------
    ValueError : if a current is negative or the share not 0 … 1.

    Source: arithmetic mean.

    >>> mean_current_a(40.0, 10.0, 0.2)
    34.0
    """
    guard.not_negative(moving_a=moving_a, idle_a=idle_a)
    guard.fraction(idle_share=idle_share)
    return (1.0 - idle_share) * moving_a + idle_share * idle_a
