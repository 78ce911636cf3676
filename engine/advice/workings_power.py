"""Workings of the AC side: what runs, what starts, what the unit gives, and its heat."""

from engine.advice.plan.cooling import VENT_VELOCITY_M_PER_S
from engine.advice.plan.supply import reduction_of
from engine.advice.working_step import ENERGY, FITTED, KIRCHHOFF, PRACTICE, step, sum_of
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design, Working
from engine.sizing.cooling import AIR_HEAT_J_PER_KG_K, fan_flow_at_pressure
from engine.sizing.shore import neutral_current_split_a
from engine.standards.atmosphere import air_density_kg_per_m3


def power_steps(guide: Guide, needs: Needs, design: Design) -> list[Working]:
    """What each leg carries and starts, against what the unit gives."""
    supply, inverter = design.supply, design.candidate.inverter
    heaviest = max(supply.legs, key=lambda leg: leg.demand.real_w)
    hardest = max(supply.legs, key=lambda leg: leg.demand.worst_va)
    pattern, numbers = sum_of([each.real_w for each in heaviest.running], "W")
    steps = [
        step(
            "power",
            "What runs at once on the busiest leg",
            "P = ΣP_i",
            pattern,
            numbers,
            (heaviest.demand.real_w, "W"),
            ENERGY,
        ),
        step(
            "power",
            "The same with the planning margin",
            "P_plan = m · P",
            "{m} * {p}",
            {"m": (guide.planning.load_margin, ""), "p": (heaviest.demand.real_w, "W")},
            (heaviest.demand.real_w * guide.planning.load_margin, "W"),
            PRACTICE,
        ),
        _able(design, needs),
    ]
    step_va = hardest.demand.worst_va - hardest.demand.apparent_va
    pattern, numbers = sum_of([each.apparent_va for each in hardest.running], "VA")
    numbers["step"] = (step_va, "VA")
    starter = hardest.demand.starter
    steps.append(
        step(
            "power",
            f"Everything runs and one motor starts{f' ({starter})' if starter else ''}",
            "S = ΣS_i + (S_start − S_run)",
            pattern + " + {step}",
            numbers,
            (hardest.demand.worst_va, "VA"),
            "locked-rotor current of the motor, see loads",
        )
    )
    if starter:
        steps.append(_start(guide, needs, design, starter))
    steps.append(
        step(
            "power",
            "What the unit's leg gives for a start of this length",
            "S_surge = S_maker · units per leg",
            "{s} * {n}",
            {
                "s": (supply.surge_va / design.candidate.units_per_leg, "VA"),
                "n": (design.candidate.units_per_leg, ""),
            },
            (supply.surge_va, "VA"),
            f"maker's figure for {inverter.name}",
        )
    )
    return steps


def ac_steps(needs: Needs, design: Design) -> list[Working]:
    """Breaker of the feed, and what the neutral carries off the battery."""
    supply, ac, volts = design.supply, design.ac, needs.service.volts
    steps = []
    if not needs.panel_there:
        feeder_va = max(leg.feeder_va for leg in supply.legs)
        steps.append(
            step(
                "service",
                "Current that the breaker of these circuits must be good for",
                "I_b ≥ (1.25 · S_lasting + S_short) / U",
                "{s} / {u}",
                {"s": (feeder_va, "VA"), "u": (volts, "V")},
                (feeder_va / volts, "A"),
                f"NEC 210.20(A) and 240.6(A); the breaker has {ac.output_a:.0f} A",
            )
        )
    if design.candidate.legs == 1 and needs.service.legs == 2 and needs.whole:
        running_va = supply.legs[0].demand.apparent_va
        steps.append(
            step(
                "service",
                "Neutral current off the battery, both sides of the panel in phase",
                "I_N = I_1 + I_2 = S / U",
                "{s} / {u}",
                {"s": (running_va, "VA"), "u": (volts, "V")},
                (running_va / volts, "A"),
                KIRCHHOFF,
            )
        )
    elif len(supply.legs) == 2:
        first_a, second_a = (leg.demand.apparent_va / volts for leg in supply.legs)
        steps.append(
            step(
                "service",
                "Neutral current off the battery, the two sides half a turn apart",
                "I_N = |I_1 − I_2|",
                "abs({a} - {b})",
                {"a": (first_a, "A"), "b": (second_a, "A")},
                (neutral_current_split_a(first_a, second_a), "A"),
                f"{KIRCHHOFF}, loads taken as resistive",
            )
        )
    return steps


def _able(design: Design, needs: Needs) -> Working:
    """The interpolation between the maker's two points around the air temperature."""
    supply, points = design.supply, design.candidate.inverter.continuous
    share = design.candidate.units_per_leg
    ambient = needs.ambient_c
    source = "linear between the maker's points"
    above = next((index for index, point in enumerate(points) if point[0] >= ambient), 0)
    if above == 0:
        return step(
            "power",
            "What the unit's leg gives at this temperature",
            "P_unit = P_1 · units per leg",
            "{p} * {n}",
            {"p": (points[0][1], "W"), "n": (share, "")},
            (supply.continuous_w, "W"),
            source,
        )
    (cool_c, cool_w), (hot_c, hot_w) = points[above - 1], points[above]
    return step(
        "power",
        "What the unit's leg gives at this temperature",
        "P_unit = [P_1 + (P_2 − P_1) · (T − T_1) / (T_2 − T_1)] · units per leg",
        "({p1} + ({p2} - {p1}) * ({t} - {t1}) / ({t2} - {t1})) * {n}",
        {
            "p1": (cool_w, "W"),
            "p2": (hot_w, "W"),
            "t": (ambient, "°C"),
            "t1": (cool_c, "°C"),
            "t2": (hot_c, "°C"),
            "n": (share, ""),
        },
        (supply.continuous_w, "W"),
        source,
    )


def _start(guide: Guide, needs: Needs, design: Design, starter: str) -> Working:
    named = [each for each in needs.running if each.name == starter]
    load = max(named, key=lambda each: each.locked_rotor_a)
    reduction = reduction_of(guide, needs, design.candidate) if load.soft_startable else 0.0
    value = load.locked_rotor_a * load.volts * (1 - reduction)
    return step(
        "power",
        f"Start of {starter}",
        "S_start = I_LR · U · (1 − soft-start reduction)",
        "{i} * {u} * (1 - {k})",
        {"i": (load.locked_rotor_a, "A"), "u": (load.volts, "V"), "k": (reduction, "")},
        (value, "VA"),
        "locked-rotor current on the compressor's plate",
    )


def cooling_steps(guide: Guide, needs: Needs, design: Design) -> list[Working]:
    """Heat of the units, the air that carries it away, and the vents and fans for that air."""
    supply = design.supply
    units = design.candidate.units
    curve = supply.curve
    each_w = supply.total_w / units
    return [
        step(
            "cooling",
            "Heat to carry away while all of this runs",
            "P_heat = units · (idle + a · P + b · P²)",
            "{n} * ({i} + {a} * {p} + {b} * {p}**2)",
            {
                "n": (units, ""),
                "i": (curve.idle_w, "W"),
                "a": (curve.proportional, ""),
                "p": (each_w, "W"),
                "b": (curve.quadratic_per_w, "1/W"),
            },
            (supply.heat_w, "W"),
            FITTED,
        ),
        step(
            "cooling",
            "Air to carry it away",
            "Q = 3600 · P_heat / (ρ · c_p · ΔT)",
            "3600 * {p} / ({d} * {c} * {t})",
            {
                "p": (supply.heat_w, "W"),
                "d": (air_density_kg_per_m3(needs.altitude_m, needs.ambient_c), "kg/m³"),
                "c": (AIR_HEAT_J_PER_KG_K, "J/(kg·K)"),
                "t": (guide.planning.allowed_rise_k, "K"),
            },
            (design.cooling.airflow_m3_per_h, "m³/h"),
            "sensible heat of dry air",
        ),
        step(
            "cooling",
            "Free area of each of the two vents",
            "A = Q / (3600 · v)",
            "{q} / (3600 * {v})",
            {
                "q": (design.cooling.airflow_m3_per_h, "m³/h"),
                "v": (VENT_VELOCITY_M_PER_S, "m/s"),
            },
            (design.cooling.vent_area_m2, "m²"),
            f"continuity; velocity: {PRACTICE}",
        ),
        *_fans(guide, design),
    ]


def _fans(guide: Guide, design: Design) -> list[Working]:
    cooling, planning = design.cooling, guide.planning
    if cooling.fan is None:
        return []
    each = fan_flow_at_pressure(cooling.fan.flow, planning.fan_pressure_pa)
    return [
        step(
            "cooling",
            f"Fans needed ({cooling.fan.name}, at {planning.fan_pressure_pa:.0f} Pa)",
            "n = ⌈k · Q / Q_fan⌉",
            "-(-({k} * {q} / {f} - 1e-9) // 1)",
            {
                "k": (planning.fan_factor, ""),
                "q": (cooling.airflow_m3_per_h, "m³/h"),
                "f": (each, "m³/h"),
            },
            (float(cooling.fans), ""),
            "the fan's own curve; factor for grille and duct from memory",
        )
    ]
