"""What a charger is set to for a bank of a chemistry and a voltage."""

from dataclasses import dataclass

from engine.sizing import guard
from engine.standards.battery_chemistry import chemistry_of

REFERENCE_C = 25.0
# A battery that is charged is planned to get as cold as this, since a charger that reads its
# temperature then raises the voltage. Source: common practice, no source.
COLDEST_CHARGED_C = 0.0


@dataclass(frozen=True, slots=True)
class ChargeVoltages:
    """Voltages to set on a charger for a whole bank [V]."""

    absorption_v: float
    float_v: float


def cells_in_series(nominal_v: float, chemistry: str) -> int:
    """Cells in series in a bank of the 12, 24 or 48 V class.

    n = U / U_cell, to the nearest whole cell: 12.8 V of LiFePO4 is four cells, and so is "12 V"

    Parameters
    ----------
    nominal_v : nominal voltage of the bank [V]
    chemistry : a key of CHEMISTRIES

    Returns
    -------
    Number of cells in series.

    Raises
    ------
    ValueError : if the voltage is not positive or less than one cell, or the chemistry is unknown.

    Source: nominal cell voltages 3.2 V (LiFePO4) and 2.0 V (lead-acid), common practice.

    >>> cells_in_series(12.0, "lifepo4"), cells_in_series(51.2, "lifepo4")
    (4, 16)
    >>> cells_in_series(12.0, "agm")
    6
    """
    guard.positive(nominal_v=nominal_v)
    # Four LiFePO4 cells make one block of the 12 V class, six lead-acid cells another.
    cell_v = chemistry_of(chemistry).profile.nominal_cell_v
    cells_per_block = round(12.0 / cell_v)
    blocks = round(nominal_v / (cell_v * cells_per_block))
    cells = blocks * cells_per_block
    if cells < 1:
        raise ValueError(f"nominal_v must be of the 12, 24 or 48 V class, got {nominal_v!r}")
    return cells


def charge_voltages(cells: int, chemistry: str, battery_c: float = REFERENCE_C) -> ChargeVoltages:
    """Absorption and float voltage to set on a charger.

    U = n · (U_cell + c · (T − 25 °C)), with c = 0 for LiFePO4

    Parameters
    ----------
    cells : cells in series
    chemistry : a key of CHEMISTRIES
    battery_c : temperature of the battery [°C]

    Returns
    -------
    Absorption and float voltage of the bank [V].

    Raises
    ------
    ValueError : if there is no cell, a value is not finite or the chemistry is unknown.

    Source: engine.standards.charge_profiles (makers' ranges for LiFePO4; lead-acid from memory).

    >>> charge_voltages(4, "lifepo4")
    ChargeVoltages(absorption_v=14.4, float_v=13.5)
    >>> round(charge_voltages(6, "agm", battery_c=5.0).absorption_v, 2)
    15.0
    """
    guard.positive(cells=cells)
    guard.finite(battery_c=battery_c)
    profile = chemistry_of(chemistry).profile
    shift_v = profile.compensation_v_per_k * (battery_c - REFERENCE_C)
    return ChargeVoltages(
        absorption_v=cells * (profile.absorption_cell_v + shift_v),
        float_v=cells * (profile.float_cell_v + shift_v),
    )


def compensation_v_per_k(cells: int, chemistry: str) -> float:
    """What a charger adds to its voltages for each degree of the battery above 25 °C.

    c_bank = n · c

    Parameters
    ----------
    cells : cells in series
    chemistry : a key of CHEMISTRIES

    Returns
    -------
    Correction of the bank's charge voltages, negative for lead-acid, 0 for LiFePO4 [V/K].

    Raises
    ------
    ValueError : if there is no cell or the chemistry is unknown.

    Source: −3 … −5 mV a cell and °C for lead-acid, from memory; engine.standards.charge_profiles.

    >>> round(compensation_v_per_k(6, "agm"), 3), compensation_v_per_k(4, "lifepo4")
    (-0.024, 0.0)
    """
    guard.positive(cells=cells)
    return cells * chemistry_of(chemistry).profile.compensation_v_per_k


def highest_charge_v(cells: int, chemistry: str, coldest_c: float = COLDEST_CHARGED_C) -> float:
    """Highest voltage that a charger puts on a bank: at most, equalizing, or corrected for cold.

    U = n · max(U_most, U_absorption + c · (T − 25 °C))

    Parameters
    ----------
    cells : cells in series
    chemistry : a key of CHEMISTRIES
    coldest_c : lowest temperature at which the bank is charged [°C]

    Returns
    -------
    Voltage that fuses, switches and busbars must bear [V].

    Raises
    ------
    ValueError : if there is no cell, the temperature is not finite or the chemistry is unknown.

    Source: engine.standards.charge_profiles.

    >>> highest_charge_v(16, "lifepo4")
    58.4
    >>> round(highest_charge_v(24, "flooded"), 2)
    61.92
    """
    absorption_v = charge_voltages(cells, chemistry, coldest_c).absorption_v
    return max(cells * chemistry_of(chemistry).highest_cell_v, absorption_v)
