"""Flexible metric copper conductors, class 5.

Source: IEC 60228, class 5, greatest resistance at 20 °C. 1.5 … 120 mm² as transcribed by four
public tables that agree; 0.5, 0.75 and 1 mm² are from memory. Class 5 is not thinner or
thicker than class 2 throughout (50 mm² is below it), so classes are never compared here.
"""

from typing import Final

PLAIN_OHM_PER_KM_20C: Final = {
    0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98, 4.0: 4.95, 6.0: 3.30, 10.0: 1.91,
    16.0: 1.21, 25.0: 0.780, 35.0: 0.554, 50.0: 0.386, 70.0: 0.272, 95.0: 0.206, 120.0: 0.161,
}  # fmt: skip
"""Plain copper, by nominal cross-section [mm²] [Ω/km at 20 °C]."""

TINNED_OHM_PER_KM_20C: Final = {
    0.5: 40.1, 0.75: 26.7, 1.0: 20.0, 1.5: 13.7, 2.5: 8.21, 4.0: 5.09, 6.0: 3.39, 10.0: 1.95,
    16.0: 1.24, 25.0: 0.795, 35.0: 0.565, 50.0: 0.393, 70.0: 0.277, 95.0: 0.210, 120.0: 0.164,
}  # fmt: skip
"""Tinned copper, by nominal cross-section [mm²] [Ω/km at 20 °C]."""

AREAS_MM2: Final = tuple(PLAIN_OHM_PER_KM_20C)
"""Nominal cross-sections, thin to thick [mm²]."""
