"""Air that a warm unit needs, and the vents and fans that bring it."""

from bisect import bisect_left
from itertools import pairwise
from math import ceil

from engine.sizing import guard
from engine.standards.atmosphere import air_density_kg_per_m3
from engine.trace import step

AIR_HEAT_J_PER_KG_K = 1005.0  # dry air, constant pressure, near 20 °C; from memory
SECONDS_PER_HOUR = 3600.0
UPRIGHT = "upright"


def airflow_m3_per_h(heat_w: float, rise_k: float, altitude_m: float, ambient_c: float) -> float:
    """Air to carry a heat away at a chosen rise of its temperature.

    The air that comes in has the density of its height and temperature.

    Parameters
    ----------
    heat_w : heat to carry away [W]
    rise_k : temperature rise of the air through the compartment [K]
    altitude_m : height above the sea [m]
    ambient_c : temperature of the air that comes in [°C]

    Returns
    -------
    Airflow [m³/h].

    Raises
    ------
    ValueError : if the heat is negative, the rise not positive, or the air out of the atmosphere's
        table.

    Source: sensible heat; density of the standard atmosphere (engine.standards.atmosphere).

    >>> round(airflow_m3_per_h(333.0, 11.1, 0.0, 20.0), 1) # 52.6 ft³/min in the trade's rule
    89.2
    """
    guard.not_negative(heat_w=heat_w)
    guard.positive(rise_k=rise_k)
    density = air_density_kg_per_m3(altitude_m, ambient_c)
    return step("", airflow_at_density_m3_per_h, heat_w, rise_k, density)


def airflow_at_density_m3_per_h(heat_w: float, rise_k: float, density_kg_per_m3: float) -> float:
    """Air of a density to carry a heat away at a chosen rise of its temperature.

    Q = 3600 · P / (ρ · 1005 · ΔT)

    1005 J/(kg·K) is the heat of dry air at constant pressure.

    Parameters
    ----------
    heat_w : P, heat to carry away [W]
    rise_k : ΔT, temperature rise of the air through the compartment [K]
    density_kg_per_m3 : ρ, density of the air that comes in [kg/m³]

    Returns
    -------
    Airflow [m³/h].

    Source: sensible heat of dry air.

    >>> round(airflow_at_density_m3_per_h(333.0, 11.1, 1.204), 1)
    89.3
    """
    return SECONDS_PER_HOUR * heat_w / (density_kg_per_m3 * AIR_HEAT_J_PER_KG_K * rise_k)


def temperature_rise_k(
    heat_w: float, airflow_m3_per_h: float, altitude_m: float, ambient_c: float
) -> float:
    """Temperature rise of the air that carries a heat away; the inverse of `airflow_m3_per_h`.

    ΔT = 3600 · P / (ρ · c_p · Q)

    Parameters
    ----------
    heat_w : heat to carry away [W]
    airflow_m3_per_h : air through the compartment [m³/h]
    altitude_m : height above the sea [m]
    ambient_c : temperature of the air that comes in [°C]

    Returns
    -------
    Temperature rise [K].

    Raises
    ------
    ValueError : if the heat is negative, the airflow not positive, or the air out of the
        atmosphere's table.

    Source: sensible heat.

    >>> round(temperature_rise_k(333.0, 89.2, 0.0, 20.0), 1)
    11.1
    """
    guard.not_negative(heat_w=heat_w)
    guard.positive(airflow_m3_per_h=airflow_m3_per_h)
    density = air_density_kg_per_m3(altitude_m, ambient_c)
    return SECONDS_PER_HOUR * heat_w / (density * AIR_HEAT_J_PER_KG_K * airflow_m3_per_h)


def vent_area_m2(airflow_m3_per_h: float, velocity_m_per_s: float) -> float:
    """Free area of a vent that passes an airflow at a face velocity.

    A = Q / (3600 · v)

    It is the area between the bars; one for the air in and one for the air out.

    Parameters
    ----------
    airflow_m3_per_h : Q, airflow through the vent [m³/h]
    velocity_m_per_s : v, velocity in the free area [m/s]

    Returns
    -------
    Free area of one vent [m²].

    Raises
    ------
    ValueError : if the airflow is negative or the velocity not positive.

    Source: continuity. Velocity: some 0.5 m/s with no fan (from memory), 3 m/s and 5 at most behind
    a fan (a handbook of plant rooms, seen).

    >>> round(vent_area_m2(90.0, 2.0), 4)
    0.0125
    """
    guard.not_negative(airflow_m3_per_h=airflow_m3_per_h)
    guard.positive(velocity_m_per_s=velocity_m_per_s)
    return airflow_m3_per_h / (SECONDS_PER_HOUR * velocity_m_per_s)


def fan_flow_at_pressure(
    points_pa_m3h: tuple[tuple[float, float], ...], pressure_pa: float
) -> float:
    """Airflow of a fan against a back pressure, on the maker's own curve.

    Straight lines between the points; nothing beyond the last one

    Parameters
    ----------
    points_pa_m3h : the fan's curve, pairs of static pressure [Pa] and airflow [m³/h], by rising
        pressure
    pressure_pa : static pressure of grilles and ducts [Pa]

    Returns
    -------
    Airflow [m³/h]; 0 above the last pressure of the curve; below the first, the first airflow.

    Raises
    ------
    ValueError : if the curve is empty, does not rise in pressure or rises in flow, or a value is
        negative or not finite.

    Source: linear interpolation; a fan moves its rated air only where nothing resists it.

    >>> fan_flow_at_pressure(((0.0, 180.0), (20.0, 120.0), (50.0, 0.0)), 10.0)
    150.0
    """
    guard.not_negative(pressure_pa=pressure_pa)
    if not points_pa_m3h:
        raise ValueError("points_pa_m3h must hold at least one point of the fan's curve")
    for point_pa, point_m3h in points_pa_m3h:
        guard.not_negative(point_pa=point_pa, point_m3h=point_m3h)
    if any(here[0] >= after[0] or here[1] < after[1] for here, after in pairwise(points_pa_m3h)):
        raise ValueError(
            "points_pa_m3h must rise in pressure and never rise in flow, "
            f"got {points_pa_m3h!r}: put the points in order of pressure"
        )
    after = bisect_left(points_pa_m3h, pressure_pa, key=lambda point: point[0])
    if after == len(points_pa_m3h):
        return 0.0
    if after == 0:
        return points_pa_m3h[0][1]
    (low_pa, low_m3h), (high_pa, high_m3h) = points_pa_m3h[after - 1], points_pa_m3h[after]
    share = (pressure_pa - low_pa) / (high_pa - low_pa)
    return low_m3h + share * (high_m3h - low_m3h)


def fan_needed(orientation: str, clearance_ok: bool) -> bool:
    """Whether a unit needs a fan of its own in its compartment.

    No fan when it hangs upright with its clearance on all sides; a fan in every other case

    Parameters
    ----------
    orientation : as `engine.sizing.fit.fits` names it: upright, sideways, flat or flat-turned
    clearance_ok : whether the clearance is free on all sides, and the air can get out

    Returns
    -------
    True when a fan is needed.

    Raises
    ------
    ValueError : if the orientation is unknown.

    Source: common practice, no source: warm air rises through an upright unit by itself.

    >>> fan_needed("upright", True), fan_needed("sideways", True), fan_needed("upright", False)
    (False, True, True)
    """
    known = (UPRIGHT, "sideways", "flat", "flat-turned")
    if orientation not in known:
        raise ValueError(f"orientation must be one of {', '.join(known)}, got {orientation!r}")
    return not (orientation == UPRIGHT and clearance_ok)


def fans_for(
    airflow_m3_per_h: float, flow_each_m3_per_h: float, installed_factor: float = 0.7
) -> int:
    """Number of equal fans for an airflow.

    n = ⌈Q / (f · Q_each)⌉

    Parameters
    ----------
    airflow_m3_per_h : Q, air that is needed [m³/h]
    flow_each_m3_per_h : Q_each, airflow of one fan [m³/h]
    installed_factor : f, share of its airflow that a fan keeps behind grilles and ducts; 1 where
        the flow was read at the real pressure [–]

    Returns
    -------
    Number of fans; 0 when no air is needed.

    Raises
    ------
    ValueError : if the airflow is negative, or a fan's flow or the factor not above zero, or the
        factor above 1.

    Source: from memory. 30 … 50 % is added for grille and duct loss, so the factor is 0.77 … 0.67.

    >>> fans_for(90.0, 120.0), fans_for(90.0, 120.0, 1.0)
    (2, 1)
    """
    guard.not_negative(airflow_m3_per_h=airflow_m3_per_h)
    guard.positive(flow_each_m3_per_h=flow_each_m3_per_h, installed_factor=installed_factor)
    guard.fraction(installed_factor=installed_factor)
    # The allowance keeps a rounding in the last places from asking for one fan more.
    return ceil(airflow_m3_per_h / (flow_each_m3_per_h * installed_factor) - 1e-9)
