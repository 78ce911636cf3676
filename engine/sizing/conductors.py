"""Cables: what they lose, and which one to take.

The door to all that concerns conductors: what they carry (`ampacity`), what grounds them
(`grounding`) and their metric equals (`metric`) can be had from here.
"""

from dataclasses import dataclass

from engine.sizing import guard
from engine.sizing.ampacity import (
    ac_ampacity_a,
    ac_conductor,
    conductor_temperature_c,
    dc_ampacity_a,
    dc_temperature_factor,
    run_ampacity_a,
)
from engine.sizing.grounding import chassis_bond, equipment_ground, negative_to_frame
from engine.sizing.metric import metric_equal_mm2, metric_resistance_ohm_per_m
from engine.standards import ampacity_ac, ampacity_dc, awg, copper
from engine.trace import step, told

__all__ = [
    "CableChoice",
    "ac_ampacity_a",
    "ac_conductor",
    "chassis_bond",
    "choose_dc_cable",
    "circular_mil_drop_v",
    "conductor_temperature_c",
    "dc_ampacity_a",
    "dc_temperature_factor",
    "drop_percent",
    "equipment_ground",
    "insulated_mass_kg_per_m",
    "metric_equal_mm2",
    "metric_resistance_ohm_per_m",
    "negative_to_frame",
    "resistance_ohm_per_m",
    "run_ampacity_a",
    "voltage_drop_v",
]

CIRCULAR_MIL_K = 10.75
"""Constant of the circular-mil formula [Ω·cmil/ft], ABYC E-11 11.14.2.6.

It is copper at about 29 °C; at 75 °C it would be 12.61, so the formula reads some 17 % below the
loss in a hot conductor. It stands beside the working figure as a check only.
"""

INSULATED_OVER_BARE = 1.3
"""Mass of an insulated battery cable over its bare copper [–]; 1.2 … 1.4, from memory."""

_METRES_A_FOOT = 0.3048


@dataclass(frozen=True, slots=True)
class CableChoice:
    """A cable that carries the current within the permitted voltage drop.

    `runs` counts parallel conductors a pole; the resistance is that of one of them.
    """

    size: str
    runs: int
    ampacity_a: float
    drop_v: float
    drop_fraction: float
    temperature_c: float
    resistance_ohm_per_m: float
    governed_by: str


def resistance_ohm_per_m(size: str, temperature_c: float) -> float:
    """Resistance of a stranded uncoated copper conductor at its temperature.

    r = r75 · [1 + α20 · (T − 20)] / [1 + α20 · (75 − 20)]

    Parameters
    ----------
    size : trade size [AWG]
    temperature_c : temperature of the conductor [°C]

    Returns
    -------
    Resistance of one conductor [Ω/m].

    Raises
    ------
    ValueError : if the size is unknown or the temperature outside −100 … 250 °C.

    Source: NEC chapter 9 table 8 at 75 °C (2/0 AWG 0.0967 Ω per 1000 ft); coefficient from NBS
    Handbook 100 (1966).

    >>> round(resistance_ohm_per_m("2/0", 75.0), 7)
    0.0003173
    """
    try:
        known = awg.STRANDED_OHM_PER_M_75C[size]
    except KeyError:
        raise awg.unknown(size) from None
    return known * copper.resistance_factor(75.0, temperature_c)


def voltage_drop_v(
    current_a: float, one_way_m: float, resistance_ohm_per_m: float, runs: int = 1
) -> float:
    """Voltage lost in a two-conductor run, there and back.

    U = 2 · I · l · r / n

    Parameters
    ----------
    current_a : I, current in the run, all parallel conductors together [A]
    one_way_m : l, length one way; the return is counted here [m]
    resistance_ohm_per_m : r, resistance of one conductor at its working temperature [Ω/m]
    runs : n, equal conductors in parallel a pole [–]

    Returns
    -------
    Voltage drop over both poles [V].

    Raises
    ------
    ValueError : if a quantity is negative or not finite, or `runs` is below 1.

    Source: Ohm's law; NEC chapter 9 table 8, moved to the conductor's temperature.

    >>> round(voltage_drop_v(200.0, 1.524, 0.0003173), 3)
    0.193
    """
    guard.not_negative(
        current_a=current_a, one_way_m=one_way_m, resistance_ohm_per_m=resistance_ohm_per_m
    )
    guard.positive(runs=runs)
    return 2 * current_a * one_way_m * resistance_ohm_per_m / runs


def circular_mil_drop_v(
    current_a: float, one_way_m: float, circular_mils: float, runs: int = 1
) -> float:
    """Voltage drop by the trade's circular-mil formula, as a check beside the working figure.

    E = 10.75 · I · 2 · l / 0.3048 / (CM · n)

    10.75 is for copper of about 29 °C, and 0.3048 m make a foot.

    Parameters
    ----------
    current_a : I, current in the run [A]
    one_way_m : l, length one way; the return is counted here [m]
    circular_mils : CM, cross-section of one conductor [cmil]
    runs : n, equal conductors in parallel a pole [–]

    Returns
    -------
    Voltage drop over both poles, for copper of about 29 °C [V].

    Raises
    ------
    ValueError : if a length or current is negative or not finite, or the section or `runs` is
        not above zero.

    Source: ABYC E-11 11.14.2.6, from the clause as quoted in the trade. A drop of 0.36 V at
    200 A over 10 ft asks for 59,722 cmil; 2 AWG has 66,371.

    >>> round(circular_mil_drop_v(200.0, 1.524, 66_371), 3)
    0.324
    """
    guard.not_negative(current_a=current_a, one_way_m=one_way_m)
    guard.positive(circular_mils=circular_mils, runs=runs)
    there_and_back_ft = 2 * one_way_m / _METRES_A_FOOT
    return CIRCULAR_MIL_K * current_a * there_and_back_ft / (circular_mils * runs)


def drop_percent(drop_v: float, system_v: float) -> float:
    """Voltage drop as a share of the nominal voltage.

    u = 100 · U_drop / U

    Parameters
    ----------
    drop_v : U_drop, voltage lost there and back [V]
    system_v : U, nominal voltage of the system [V]

    Returns
    -------
    Share [%].

    Source: arithmetic; limit for feeders: ABYC E-11 (quoted in the trade).

    >>> round(drop_percent(0.36, 12.0), 6)
    3.0
    """
    return 100 * drop_v / system_v


def insulated_mass_kg_per_m(size: str) -> float:
    """Mass of one insulated battery cable.

    m = 1.3 · A · ρ

    Parameters
    ----------
    size : trade size [AWG]

    Returns
    -------
    Mass of one meter of one conductor [kg/m].

    Raises
    ------
    ValueError : if the size is unknown.

    Source: copper 8890 kg/m³, NBS Handbook 100 (1966); 1.2 … 1.4 times bare, from memory.

    >>> round(insulated_mass_kg_per_m("2/0"), 2)
    0.78
    """
    return INSULATED_OVER_BARE * awg.area_m2(size) * copper.DENSITY_KG_PER_M3


def choose_dc_cable(
    current_a: float,
    one_way_m: float,
    system_v: float,
    drop_limit_fraction: float,
    insulation_c: int,
    ambient_c: float,
    sizes: tuple[str, ...],
    max_runs: int,
    protect_a: float = 0.0,
) -> CableChoice | None:
    """Smallest offered cable that carries the current and keeps the voltage drop.

    n · Iamp ≥ I,  n · Iamp ≥ Ifuse,  2 · I · l · r(T) / n ≤ u · U

    Singles come first, then two in parallel, and so on, each from thin to thick. Parallel
    conductors are 1/0 AWG or thicker, of equal length, and clamped apart.

    Parameters
    ----------
    current_a : greatest lasting current [A]
    one_way_m : length one way [m]
    system_v : nominal voltage of the system [V]
    drop_limit_fraction : voltage drop allowed, as a share of the system voltage [–]
    insulation_c : temperature rating of the insulation [°C]
    ambient_c : temperature around the cable [°C]
    sizes : sizes that are offered [AWG]
    max_runs : most conductors in parallel a pole [–]
    protect_a : rating of the fuse that must protect it; 0 when there is none yet [A]

    Returns
    -------
    The choice, governed by "drop" when a smaller one could have carried the current and else by
    "ampacity"; None when nothing offered will do.

    Raises
    ------
    ValueError : if a quantity is out of its range, or a size or insulation is not in the table.

    Source: 33 CFR 183.425 Table 5; NEC chapter 9 table 8; fuse never above the corrected
    ampacity: NEC 240.4, from memory (the law for boats allows 150 %, 33 CFR 183.455(c)(1));
    parallel from 1/0 AWG: NEC 310.10(G), from memory.

    >>> c = choose_dc_cable(250.0, 1.5, 12.0, 0.03, 105, 40.0, ("2", "1/0", "2/0", "4/0"), 2, 300.0)
    >>> c.size, c.runs, round(c.ampacity_a, 1), round(c.drop_v, 3), c.governed_by
    ('2/0', 1, 307.2, 0.244, 'ampacity')
    """
    guard.not_negative(current_a=current_a, one_way_m=one_way_m, protect_a=protect_a)
    guard.positive(system_v=system_v, max_runs=max_runs)
    guard.fraction(drop_limit_fraction=drop_limit_fraction)
    offered = sorted(sizes, key=awg.rank)
    column = ampacity_dc.column(insulation_c)
    factor = dc_temperature_factor(insulation_c, ambient_c)
    needed_a = max(current_a, protect_a)
    governed_by = "ampacity"
    for runs in range(1, max_runs + 1):
        for size in offered:
            if factor == 0.0 or column[size] * factor * runs < needed_a:
                continue
            if not may_run(size, runs):
                continue
            carries = told("", size=size, runs=runs)
            ampacity_a = step(carries, run_ampacity_a, column[size], insulation_c, ambient_c, runs)
            warm_c = step(
                "", conductor_temperature_c, current_a, ampacity_a, insulation_c, ambient_c
            )
            warm_ohm_per_m = resistance_ohm_per_m(size, warm_c)
            drop_v = step("", voltage_drop_v, current_a, one_way_m, warm_ohm_per_m, runs)
            if drop_v <= drop_limit_fraction * system_v:
                step("", drop_percent, drop_v, system_v)
                return CableChoice(
                    size, runs, ampacity_a, drop_v, drop_v / system_v, warm_c, warm_ohm_per_m,
                    governed_by,
                )  # fmt: skip
            governed_by = "drop"
    return None


def may_run(size: str, runs: int) -> bool:
    """Whether so many conductors of a size may carry one current together.

    Parameters
    ----------
    size : AWG size, such as "2/0"
    runs : number of equal conductors in parallel [–]

    Returns
    -------
    True for a single one, and for any number from 1/0 AWG on.

    Source: NEC 310.10(G), from memory.

    >>> may_run("2", 2), may_run("2/0", 2)
    (False, True)
    """
    return runs == 1 or awg.rank(size) >= awg.rank(ampacity_ac.PARALLEL_SMALLEST)
