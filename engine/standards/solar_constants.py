"""Published coefficients of the sun's position, of a clear sky and of a solar panel.

Sources
-------
Solar constant: ASTM E490, 1366.1 W/m².
Longitude, anomaly and distance of the sun: the Astronomical Almanac's low-precision formulas, as in
Michalsky (1988), Solar Energy 40; from memory, good to 0.01°. Chosen over the Fourier series of
Spencer (1971), which is off by half a degree about the equinoxes of this century.
Air mass: Kasten & Young (1989).
Clear sky: Ineichen & Perez (2002), whose coefficients stand in engine.sizing.sky.
Mean daily diffuse share: Erbs, Klein & Duffie (1982); hourly shares of a mean day: Collares-Pereira
& Rabl (1979), Liu & Jordan (1960); average day of each month: Klein (1977). The last four as in
Duffie & Beckman, Solar Engineering of Thermal Processes; from memory.
Cell temperature: King, Boyson & Kratochvil (2004), Sandia photovoltaic array performance model.
Losses: PVWatts version 5 manual, NREL (2014), defaults.
"""

from types import MappingProxyType
from typing import Final, NamedTuple

SOLAR_CONSTANT_W_PER_M2: Final = 1366.1
GROUND_ALBEDO: Final = 0.2  # grass and plain ground, common in handbooks; from memory

# At noon, universal time, of the first of January 2000, and the change a day [°].
MEAN_LONGITUDE_DEG: Final = (280.460, 0.9856474)
MEAN_ANOMALY_DEG: Final = (357.528, 0.9856003)
EQUATION_OF_CENTRE_DEG: Final = (1.915, 0.020)  # of the sine of one and of two anomalies
OBLIQUITY_DEG: Final = 23.439
DISTANCE_AU: Final = (1.00014, -0.01671, -0.00014)  # constant, cosine of one and of two anomalies

# Days from then to the first of January 2026, which lies in the middle of the leap years' swing: it
# stands for every year, and is wrong by three quarters of a day at the most.
FIRST_DAY: Final = 9497

# Day of the year that stands for each month, January first.
AVERAGE_DAY: Final = (17, 47, 75, 105, 135, 162, 198, 228, 258, 288, 318, 344)


class Mounting(NamedTuple):
    """Cell temperature coefficients: T_module = E · exp(a + b · v) + T_air, and ΔT at 1000 W/m²."""

    a: float
    b: float
    cell_above_module_k: float


MOUNTINGS: Final = MappingProxyType(
    {
        "open_rack": Mounting(-3.47, -0.0594, 3.0),
        "close_roof": Mounting(-2.98, -0.0471, 1.0),
        "insulated_back": Mounting(-2.81, -0.0455, 0.0),
    }
)

PVWATTS_LOSSES_PERCENT: Final = MappingProxyType(
    {
        "soiling": 2.0,
        "shading": 3.0,
        "snow": 0.0,
        "mismatch": 2.0,
        "wiring": 2.0,
        "connections": 0.5,
        "light_induced_degradation": 1.5,
        "nameplate": 1.0,
        "age": 0.0,
        "availability": 3.0,
    }
)

# Flat on a vehicle's roof, rain does not wash a panel, and vents, racks and an air conditioner
# shade it. From memory: the trade plans with 0.65 to 0.75 of label times sun hours,
# and that is what comes out (tests/sizing/test_solar.py).
ROOF_LOSSES_PERCENT: Final = MappingProxyType(
    {**PVWATTS_LOSSES_PERCENT, "soiling": 5.0, "shading": 5.0}
)
