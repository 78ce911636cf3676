"""How a battery chemistry takes charge: cell voltages, rates and the fall of the current.

Sources. Lithium iron phosphate (LiFePO4) cell: 3.2 V nominal, 3.65 V most, a four-cell battery
charged at 14.2 … 14.6 V and floated at 13.5 … 13.6 V or not at all, usual charge rate 0.2 … 0.5 C:
makers' published guidance, the middle of the range taken. Lead-acid voltages and their temperature
compensation: from memory; flooded batteries are equalized at 2.58 V a cell, 15.5 V of a 12 V one,
and AGM are not (from memory). Lead-acid rates: flooded C/5 between 10 and 85 % of charge, some AGM
0.4 C: trade press.

The fall of the current (`Acceptance`) is this project's fit, not a published curve. Lead-acid: an
instrumented test in the trade press reached the absorption voltage at 77 % of charge with 0.2 C
and at 63 % with 0.4 C, and the power law through those two points is taken; the last, slow current
is set so that 50 to 100 % takes its 5.5 h (AGM at 0.2 C) and 7 h (flooded, 130 Ah at 0.15 C).
LiFePO4: constant current to 95 % at 0.5 C and a fall of about 20 min, from memory (20 to 30).
"""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Acceptance:
    """Rate that a battery takes at its charge voltage: k · (1 − state)^p, never below a last rate.

    Rates are in capacities an hour: 0.2 means 20 A into 100 Ah.
    """

    factor_per_h: float
    exponent: float
    last_per_h: float


@dataclass(frozen=True, slots=True)
class ChargeProfile:
    """What a charger is set to for one chemistry, by cell, at 25 °C."""

    nominal_cell_v: float
    absorption_cell_v: float
    float_cell_v: float
    compensation_v_per_k: float
    usual_rate_per_h: float
    acceptance: Acceptance


LIFEPO4: Final = ChargeProfile(3.2, 3.60, 3.375, 0.0, 0.5, Acceptance(10.0, 1.0, 0.05))
AGM: Final = ChargeProfile(2.0, 2.42, 2.27, -0.004, 0.4, Acceptance(1.7044, 1.4580, 0.03))
FLOODED: Final = ChargeProfile(2.0, 2.45, 2.22, -0.005, 0.2, Acceptance(1.7044, 1.4580, 0.02))
