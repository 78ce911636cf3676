"""What heat and cold do to loads: what cools draws more and rests less, and so does a furnace."""

from engine.sizing import guard

# The list of loads holds for a mild summer afternoon of 85 °F: common practice, no source.
LISTED_AIR_C = 29.4
# 14 A at 70 °F and a quarter more at 96 °F (trade column, secondary); nothing is known below 70 °F.
MILD_C = 21.1
NOTHING_AT_C = -36.7  # where the straight line through both would meet zero
NO_PAUSE_C = 37.8  # above 100 °F it runs without pause (trade column, secondary)
REFRIGERATOR_FROM_C, REFRIGERATOR_PER_K = 25.0, 0.02  # 10 % each 5 °C (club magazine, secondary)
CABINET_K = 5.6  # 10 °F, the low end of 10 to 20 °F: common practice, no source
FURNACE_LISTED_C, ROOM_C = 0.0, 20.0  # common practice, no source


def hot_outside_c(afternoon_c: float, at_unit_c: float, cabinet_k: float) -> float:
    """Hottest air outside that is planned on.

    T = max(T_afternoon, T_unit − ΔT)

    Parameters
    ----------
    afternoon_c : T_afternoon, mean afternoon of the month and climate [°C]
    at_unit_c : T_unit, hottest air at the unit [°C]
    cabinet_k : ΔT, how much hotter a cabinet is than the air outside [K]

    Returns
    -------
    Air outside [°C].

    Raises
    ------
    ValueError : if a temperature is not finite or the difference negative.

    Source: a cabinet in a parked rig is 10 to 20 °F hotter than the outside air, common practice,
    no source.

    >>> hot_outside_c(27.0, 45.0, 5.0)
    40.0
    """
    guard.finite(afternoon_c=afternoon_c, at_unit_c=at_unit_c)
    guard.not_negative(cabinet_k=cabinet_k)
    return max(afternoon_c, at_unit_c - cabinet_k)


def air_conditioner_w(listed_w: float, outside_c: float) -> float:
    """Running power of an air conditioner in the heat.

    P = P_list · (max(T, 21.1) + 36.7) / 66.1

    The list holds for 29.4 °C (85 °F). The line is that of 14 A at 70 °F, a quarter more at 96 °F.

    Parameters
    ----------
    listed_w : P_list, running power in the list of loads [W]
    outside_c : T, hottest air outside [°C]

    Returns
    -------
    Running power [W].

    Raises
    ------
    ValueError : if the power is negative or the temperature not finite.

    Source: current of a 13,500 BTU/h rooftop unit at 70 and 96 °F (trade column, secondary); owners
    measured 1,200 W in milder air (secondary).

    >>> round(air_conditioner_w(1480.0, 37.8)), round(air_conditioner_w(1480.0, 21.1))
    (1668, 1294)
    >>> round(air_conditioner_w(1000.0, 35.6) / air_conditioner_w(1000.0, 21.1), 2)
    1.25
    """
    guard.not_negative(listed_w=listed_w)
    guard.finite(outside_c=outside_c)
    now_k = max(outside_c, MILD_C) - NOTHING_AT_C
    return listed_w * (now_k / (LISTED_AIR_C - NOTHING_AT_C))


def air_conditioner_duty(listed_duty: float, outside_c: float) -> float:
    """Share of its hours in which an air conditioner runs, in the heat.

    d = max(0, min(1, d_list + (1 − d_list) · (max(T, 21.1) − 29.4) / 8.4))

    The list holds for 29.4 °C (85 °F); above 37.8 °C (100 °F) it runs without pause.

    Parameters
    ----------
    listed_duty : d_list, share in the list of loads, 0 … 1 [–]
    outside_c : T, hottest air outside [°C]

    Returns
    -------
    Share of its hours, 0 … 1 [–].

    Raises
    ------
    ValueError : if the share is not 0 … 1 or the temperature not finite.

    Source: above 100 °F it runs without pause (trade column, secondary); a straight line from the
    list to there, common practice, no source.

    >>> round(air_conditioner_duty(0.6, 37.8), 3), round(air_conditioner_duty(0.6, 21.1), 3)
    (1.0, 0.205)
    """
    guard.fraction(listed_duty=listed_duty)
    guard.finite(outside_c=outside_c)
    above_k = max(outside_c, MILD_C) - LISTED_AIR_C
    rise = (1.0 - listed_duty) * (above_k / (NO_PAUSE_C - LISTED_AIR_C))
    return min(1.0, max(0.0, listed_duty + rise))


def refrigerator_duty(listed_duty: float, air_c: float) -> float:
    """Share of its hours in which a refrigerator runs, in warm air.

    d = min(1, d_list · (1 + 0.02 · max(0, T − 25)))

    Parameters
    ----------
    listed_duty : d_list, share in the list of loads, 0 … 1 [–]
    air_c : T, mean air of a hot day [°C]

    Returns
    -------
    Share of its hours, 0 … 1 [–].

    Raises
    ------
    ValueError : if the share is not 0 … 1 or the temperature not finite.

    Source: about 10 % more energy for every 5 °C above 25 °C (motorhome club magazine, secondary).

    >>> round(refrigerator_duty(0.4, 35.0), 3), refrigerator_duty(0.4, 20.0)
    (0.48, 0.4)
    """
    guard.fraction(listed_duty=listed_duty)
    guard.finite(air_c=air_c)
    return min(
        1.0, listed_duty * (1.0 + REFRIGERATOR_PER_K * max(0.0, air_c - REFRIGERATOR_FROM_C))
    )


def furnace_duty(listed_duty: float, night_c: float) -> float:
    """Share of its hours in which a furnace runs, in the cold.

    d = min(1, d_list · (20 − min(0, T)) / 20)

    The list holds down to freezing; the heat that a rig loses grows with the difference to 20 °C.

    Parameters
    ----------
    listed_duty : d_list, share in the list of loads, 0 … 1 [–]
    night_c : T, cold night of the month [°C]

    Returns
    -------
    Share of its hours, 0 … 1 [–].

    Raises
    ------
    ValueError : if the share is not 0 … 1 or the temperature not finite.

    Source: heat lost by conduction; 25 to 50 % of its hours in the cold, trade pages (secondary).

    >>> round(furnace_duty(0.35, -10.0), 3), furnace_duty(0.35, 10.0)
    (0.525, 0.35)
    """
    guard.fraction(listed_duty=listed_duty)
    guard.finite(night_c=night_c)
    colder_k = ROOM_C - min(FURNACE_LISTED_C, night_c)
    return min(1.0, listed_duty * (colder_k / (ROOM_C - FURNACE_LISTED_C)))
