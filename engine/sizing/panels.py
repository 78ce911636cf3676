"""How solar panels are joined, so that a controller can use them and is not destroyed by them."""

from engine.sizing.guard import positive

# Source: NEC Table 690.7(A), open-circuit voltage of silicon panels at −36 to −40 °C over that at
# 25 °C, from memory (1.12 at −10 °C … 1.25); the coldest row is taken, since a rig travels.
COLD_OVER_RATED = 1.25
# Voltage at the working point over open circuit of a silicon panel: from memory, 0.8 … 0.83.
WORKING_OVER_OPEN = 0.8
# Share of the working voltage that a hot panel on a roof keeps: a cell at 75 °C loses
# 50 K × 0.3 %/K, the loss a kelvin from memory.
HOT_OVER_RATED = 0.85
# What a step-down controller wants above the battery while it charges: common practice, no source.
CONTROLLER_HEADROOM_V = 1.0
# Short-circuit current over working current of a silicon panel: from memory.
SHORT_OVER_WORKING = 1.06
# Rating over short-circuit current: 1.25 for bright days and 1.25 for hours on end, NEC 690.8 and
# 690.9, from memory.
SWITCH_FACTOR = 1.25 * 1.25


def cold_open_circuit_v(open_circuit_v: float, series: int) -> float:
    """Highest voltage that panels in series give on a cold, bright morning.

    U = 1.25 · n · U_oc

    Parameters
    ----------
    open_circuit_v : open-circuit voltage of one panel at 25 °C [V]
    series : panels in series, at least 1

    Returns
    -------
    Voltage that the controller must bear [V].

    Raises
    ------
    ValueError : if the voltage is not above zero or there is no panel.

    Source: NEC Table 690.7(A), from memory.

    >>> cold_open_circuit_v(37.2, 2)
    93.0
    """
    positive(open_circuit_v=open_circuit_v, series=series)
    return COLD_OVER_RATED * series * open_circuit_v


def panels_in_series(open_circuit_v: float, battery_v: float, largest_input_v: float) -> int | None:
    """Fewest panels in series that still charge a battery when hot, within the controller's limit.

    0.8 · 0.85 · n · U_oc ≥ U_battery + 1 V,  1.25 · n · U_oc ≤ U_controller

    Parameters
    ----------
    open_circuit_v : open-circuit voltage of one panel at 25 °C [V]
    battery_v : voltage of the battery at the end of the charge [V]
    largest_input_v : highest voltage that the controller bears [V]

    Returns
    -------
    Panels in series; None when no number suits both.

    Raises
    ------
    ValueError : if a voltage is not above zero.

    Source: arithmetic on the factors of this module, each with its own source.

    >>> panels_in_series(22.5, 14.4, 100.0), panels_in_series(37.2, 57.6, 150.0)
    (2, 3)
    >>> panels_in_series(37.2, 57.6, 100.0) is None
    True
    """
    positive(open_circuit_v=open_circuit_v, battery_v=battery_v, largest_input_v=largest_input_v)
    working_v = WORKING_OVER_OPEN * HOT_OVER_RATED * open_circuit_v
    series = -int(-(battery_v + CONTROLLER_HEADROOM_V) // working_v)
    return series if cold_open_circuit_v(open_circuit_v, series) <= largest_input_v else None


def panel_switch_a(rated_w: float, open_circuit_v: float, strings: int) -> float:
    """Least rating of the switch between panels and their controller.

    I ≥ 1.25² · n · 1.06 · P / (0.8 · U_oc)

    Parameters
    ----------
    rated_w : power of one panel at standard test conditions [W]
    open_circuit_v : its open-circuit voltage [V]
    strings : strings in parallel [–]

    Returns
    -------
    Least continuous rating [A].

    Raises
    ------
    ValueError : if a value is not above zero.

    Source: 1.25 twice over the short-circuit current, NEC 690.8 and 690.9, from memory; short
    circuit 1.06 of the working current, usual silicon panels, from memory.

    >>> round(panel_switch_a(400.0, 37.2, 1), 1)
    22.3
    """
    positive(rated_w=rated_w, open_circuit_v=open_circuit_v, strings=strings)
    working_a = rated_w / (WORKING_OVER_OPEN * open_circuit_v)
    return SWITCH_FACTOR * strings * SHORT_OVER_WORKING * working_a
