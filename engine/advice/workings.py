"""The arithmetic of a recommendation, step by step: formula, numbers put in, result, source.

Nothing is sized here: each value was computed by its kernel and is only laid open. The expression
beside it lets anyone (and a test) work the step out again.
"""

from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import ChargingPlan, Design, Working
from engine.sizing.ampacity import dc_ampacity_a
from engine.sizing.cooling import AIR_HEAT_J_PER_KG_K
from engine.standards.atmosphere import air_density_kg_per_m3
from engine.units import significant

Number = tuple[float, str]

OHM = "Ohm's law"
ENERGY = "conservation of energy"
MARGIN = "common practice, no source"


def workings_of(
    guide: Guide, needs: Needs, design: Design, charging: ChargingPlan
) -> tuple[Working, ...]:
    """Every step that leads to the recommendation's numbers."""
    return (
        *_power(guide, needs, design),
        *_battery_current(design),
        *_cable(guide, needs, design),
        *_fuse(guide, design),
        *_bank(guide, design),
        *_cooling(guide, needs, design),
        *_charging(needs, design, charging),
    )


def _step(
    subject: str,
    name: str,
    formula: str,
    pattern: str,
    numbers: dict[str, Number],
    result: Number,
    source: str,
) -> Working:
    """Put the numbers into the pattern: once for reading, once at full precision."""
    shown = {
        key: f"{significant(value, 4)} {unit}".strip() for key, (value, unit) in numbers.items()
    }
    exact = {key: f"({value!r})" for key, (value, _) in numbers.items()}
    readable = pattern.replace("**", "^").replace("*", "·").replace("sqrt", "√")
    return Working(
        subject=subject,
        name=name,
        formula=formula,
        numbers=readable.format_map(shown),
        expression=pattern.format_map(exact),
        value=result[0],
        unit=result[1],
        source=source,
    )


def _sum(values: list[float], unit: str) -> tuple[str, dict[str, Number]]:
    """A pattern that adds the values up, with their names."""
    names = {f"n{index}": (value, unit) for index, value in enumerate(values)}
    return " + ".join(f"{{{name}}}" for name in names) or "0", names


def _power(guide: Guide, needs: Needs, design: Design) -> list[Working]:
    supply, inverter = design.supply, design.candidate.inverter
    heaviest = max(supply.legs, key=lambda leg: leg.demand.real_w)
    hardest = max(supply.legs, key=lambda leg: leg.demand.worst_va)
    by_name = {load.name: load for load in needs.running}
    halves = {load.name: 0.5 if load.volts == 240 else 1.0 for load in needs.running}
    watts = [by_name[name].running_w * halves[name] for name in heaviest.loads]
    pattern, numbers = _sum(watts, "W")
    steps = [
        _step(
            "power",
            "What runs at once on the busiest leg",
            "P = ΣP_i",
            pattern,
            numbers,
            (heaviest.demand.real_w, "W"),
            ENERGY,
        ),
        _step(
            "power",
            "The same with the planning margin",
            "P_plan = m · P",
            "{m} * {p}",
            {"m": (guide.planning.load_margin, ""), "p": (heaviest.demand.real_w, "W")},
            (heaviest.demand.real_w * guide.planning.load_margin, "W"),
            MARGIN,
        ),
        _able(design, needs),
    ]
    running_va = [
        by_name[name].running_w * halves[name] / by_name[name].power_factor
        for name in hardest.loads
    ]
    step_va = hardest.demand.worst_va - hardest.demand.apparent_va
    pattern, numbers = _sum(running_va, "VA")
    numbers["step"] = (step_va, "VA")
    starter = hardest.demand.starter
    steps.append(
        _step(
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
        _step(
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


def _able(design: Design, needs: Needs) -> Working:
    """The interpolation between the maker's two points around the air temperature."""
    supply, points = design.supply, design.candidate.inverter.continuous
    share = design.candidate.units_per_leg
    ambient = needs.ambient_c
    source = "linear between the maker's points"
    above = next((index for index, point in enumerate(points) if point[0] >= ambient), 0)
    if above == 0:
        return _step(
            "power",
            "What the unit's leg gives at this temperature",
            "P_unit = P_1 · units per leg",
            "{p} * {n}",
            {"p": (points[0][1], "W"), "n": (share, "")},
            (supply.continuous_w, "W"),
            source,
        )
    (cool_c, cool_w), (hot_c, hot_w) = points[above - 1], points[above]
    return _step(
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
    load = next(each for each in needs.running if each.name == starter)
    softened = needs.soft_start_fitted or design.candidate.soft_starters > 0
    reduction = guide.planning.soft_start_reduction if softened and load.soft_startable else 0.0
    value = load.locked_rotor_a * load.volts * (1 - reduction)
    return _step(
        "power",
        f"Start of {starter}",
        "S_start = I_LR · U · (1 − soft-start reduction)",
        "{i} * {u} * (1 - {k})",
        {"i": (load.locked_rotor_a, "A"), "u": (load.volts, "V"), "k": (reduction, "")},
        (value, "VA"),
        "locked-rotor current on the compressor's plate",
    )


def _battery_current(design: Design) -> list[Working]:
    dc, curve = design.dc, design.supply.curve
    return [
        _step(
            "cable",
            "DC power of one unit at its full output",
            "P_dc = P + idle + a · P + b · P²",
            "{p} + {i} + {a} * {p} + {b} * {p}**2",
            {
                "p": (dc.unit_w, "W"),
                "i": (curve.idle_w, "W"),
                "a": (curve.proportional, ""),
                "b": (curve.quadratic_per_w, "1/W"),
            },
            (dc.unit_dc_w, "W"),
            "loss curve fitted to the maker's efficiency points",
        ),
        _step(
            "cable",
            "DC current of one unit at a low battery",
            "I = P_dc / U_low",
            "{p} / {u}",
            {"p": (dc.unit_dc_w, "W"), "u": (dc.low_v, "V")},
            (dc.current_a, "A"),
            "Joule's law; voltage: common practice, no source",
        ),
    ]


def _cable(guide: Guide, needs: Needs, design: Design) -> list[Working]:
    dc, cable = design.dc, design.dc.cable
    insulation_c = guide.planning.cable_insulation_c
    each_a = dc_ampacity_a(cable.size, insulation_c, needs.ambient_c)
    return [
        _step(
            "cable",
            f"What {cable.runs} × {cable.size} AWG carries at this temperature",
            "I_cable = runs · I_table · √((T_ins − T) / (T_ins − 30))",
            "{n} * {i}",
            {"n": (cable.runs, ""), "i": (each_a, "A")},
            (cable.ampacity_a, "A"),
            "33 CFR 183.425 Table 5, temperature equation",
        ),
        _step(
            "cable",
            "Voltage lost on the way there and back",
            "U = 2 · I · l · r / runs",
            "2 * {i} * {l} * {r} / {n}",
            {
                "i": (dc.current_a, "A"),
                "l": (dc.cable_m, "m"),
                "r": (cable.resistance_ohm_per_m, "Ω/m"),
                "n": (cable.runs, ""),
            },
            (cable.drop_v, "V"),
            f"{OHM}; NEC chapter 9 table 8",
        ),
        _step(
            "cable",
            "The same as a share of the bank's voltage",
            "U / U_bank",
            "{d} / {u} * 100",
            {"d": (cable.drop_v, "V"), "u": (design.candidate.inverter.dc_nominal, "V")},
            (cable.drop_fraction * 100, "%"),
            "limit for feeders: ABYC E-11 (quoted in the trade)",
        ),
    ]


def _fuse(guide: Guide, design: Design) -> list[Working]:
    dc, bank = design.dc, design.bank
    factor = guide.planning.fuse_factor
    return [
        _step(
            "fuse",
            "Smallest fuse that carries the current for hours",
            "I_f ≥ k · I",
            "{k} * {i}",
            {"k": (factor, ""), "i": (dc.current_a, "A")},
            (factor * dc.current_a, "A"),
            "trade practice after NEC 210.20(A)",
        ),
        _step(
            "fuse",
            "Short-circuit current that the fuse must stop",
            "I_k = n · I_k1",
            "{n} * {i}",
            {"n": (bank.parallel, ""), "i": (bank.battery.short_circuit, "A")},
            (bank.short_circuit_a, "A"),
            "strings in parallel add; maker's figure for one",
        ),
    ]


def _bank(guide: Guide, design: Design) -> list[Working]:
    bank = design.bank
    need = bank.energy
    battery = bank.battery
    return [
        _step(
            "battery",
            "Energy for the nights away, at the battery",
            "E = E_ac + conversion loss + idle + E_dc",
            "{a} + {c} + {i} + {d}",
            {
                "a": (need.ac_wh, "Wh"),
                "c": (need.conversion_wh, "Wh"),
                "i": (need.idle_wh, "Wh"),
                "d": (need.dc_wh, "Wh"),
            },
            (need.total_wh, "Wh"),
            ENERGY,
        ),
        _step(
            "battery",
            "What one string gives",
            "E_1 = capacity as planned · share that may be used · ageing",
            "{e} * {u} * {k}",
            {
                "e": (bank.usable_each_wh / (battery.usable * guide.planning.ageing), "Wh"),
                "u": (battery.usable, ""),
                "k": (guide.planning.ageing, ""),
            },
            (bank.usable_each_wh, "Wh"),
            "maker's usable share; ageing: common practice, no source",
        ),
        Working(
            "battery",
            "Strings in parallel",
            "the most of: for energy, for current, for starts",
            f"most of {bank.for_energy}, {bank.for_current}, {bank.for_surge}, 1",
            f"max({bank.for_energy}, {bank.for_current}, {bank.for_surge}, 1)",
            float(bank.parallel),
            "",
            "maker's limits for one battery",
        ),
        _step(
            "battery",
            "Battery current for what runs at once, with margin",
            "what the bank allows, for comparison: n · I_1",
            "{n} * {i}",
            {"n": (bank.parallel, ""), "i": (battery.continuous_current, "A")},
            (bank.parallel * battery.continuous_current, "A"),
            "maker's limit for one battery",
        ),
    ]


def _cooling(guide: Guide, needs: Needs, design: Design) -> list[Working]:
    supply = design.supply
    units = design.candidate.units
    curve = supply.curve
    each_w = supply.total_w / units
    return [
        _step(
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
            "loss curve fitted to the maker's efficiency points",
        ),
        _step(
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
    ]


def _charging(needs: Needs, design: Design, charging: ChargingPlan) -> list[Working]:
    inverter = design.candidate.inverter
    return [
        _step(
            "charging",
            "AC current of the charger at the charge rate to set",
            "I_ac = U · I / (η · PF · U_ac)",
            "{u} * {i} / ({e} * {f} * {v})",
            {
                "u": (charging.absorption_v, "V"),
                "i": (charging.charge_a, "A"),
                "e": (inverter.charge_efficiency, ""),
                "f": (inverter.charge_power_factor, ""),
                "v": (needs.service.volts, "V"),
            },
            (charging.charger_ac_a, "A"),
            ENERGY,
        ),
    ]
