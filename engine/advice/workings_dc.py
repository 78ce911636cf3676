"""Workings of the DC side: current, cable, voltage left at the unit, fuse, switch, bond."""

from engine.advice.working_step import FITTED, OHM, PRACTICE, step
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design, Working
from engine.sizing.conductors import CIRCULAR_MIL_K, circular_mil_drop_v
from engine.sizing.inverter import constant_power_current_a
from engine.sizing.protection import disconnect_minimum_a
from engine.standards import awg
from engine.standards.ampacity_dc import AMBIENT_C, column
from engine.standards.overcurrent import CONTINUOUS_FACTOR

METRES_A_FOOT = 0.3048


def dc_steps(guide: Guide, needs: Needs, design: Design) -> list[Working]:
    """Every step from the unit's full output to cable, fuse and switch."""
    return [
        *_current(design),
        *_cable(guide, needs, design),
        *_voltage(design),
        *_protection(guide, design),
    ]


def _current(design: Design) -> list[Working]:
    dc, curve = design.dc, design.supply.curve
    return [
        step(
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
            FITTED,
        ),
        step(
            "cable",
            "DC current of one unit at a low battery",
            "I = P_dc / U_low",
            "{p} / {u}",
            {"p": (dc.unit_dc_w, "W"), "u": (dc.low_v, "V")},
            (dc.current_a, "A"),
            "Joule's law; voltage at which the unit stops, its maker's figure",
        ),
    ]


def _cable(guide: Guide, needs: Needs, design: Design) -> list[Working]:
    dc, cable = design.dc, design.dc.cable
    insulation_c = guide.planning.cable_insulation_c
    table_a = column(insulation_c)[cable.size]
    return [
        step(
            "cable",
            f"What {cable.runs} × {cable.size} AWG carries at this temperature",
            "I_cable = runs · I_table · √((T_ins − T) / (T_ins − 30 °C))",
            "{n} * {i} * min(1, ({m} - {t}) / ({m} - {b}))**0.5",
            {
                "n": (cable.runs, ""),
                "i": (table_a, "A"),
                "m": (float(insulation_c), "°C"),
                "t": (needs.ambient_c, "°C"),
                "b": (AMBIENT_C, "°C"),
            },
            (cable.ampacity_a, "A"),
            f"33 CFR 183.425 Table 5, {insulation_c} °C, on its {AMBIENT_C:.0f} °C basis",
        ),
        step(
            "cable",
            "Temperature of the conductor at that current",
            "T_c = T + (T_ins − T) · (I / I_cable)²",
            "{t} + ({m} - {t}) * ({i} / {c})**2",
            {
                "t": (needs.ambient_c, "°C"),
                "m": (float(insulation_c), "°C"),
                "i": (dc.current_a, "A"),
                "c": (cable.ampacity_a, "A"),
            },
            (cable.temperature_c, "°C"),
            "heating goes with the square of the current",
        ),
        step(
            "cable",
            "Voltage lost on the way there and back, in the hot cable",
            "U = 2 · I · l · r / runs",
            "2 * {i} * {l} * {r} / {n}",
            {
                "i": (dc.current_a, "A"),
                "l": (dc.cable_m, "m"),
                "r": (cable.resistance_ohm_per_m, "Ω/m"),
                "n": (cable.runs, ""),
            },
            (cable.drop_v, "V"),
            f"{OHM}; NEC chapter 9 table 8, moved to the conductor's temperature",
        ),
        step(
            "cable",
            "The same by the circular-mil formula, as a check (copper at about 29 °C, so less)",
            "E = K · I · L / (CM · runs)",
            "{k} * {i} * 2 * {l} / {f} / ({c} * {n})",
            {
                "k": (CIRCULAR_MIL_K, ""),
                "i": (dc.current_a, "A"),
                "l": (dc.cable_m, "m"),
                "f": (METRES_A_FOOT, "m/ft"),
                "c": (awg.circular_mils(cable.size), "cmil"),
                "n": (cable.runs, ""),
            },
            (circular_mil_drop_v(dc.current_a, dc.cable_m, cable.size) / cable.runs, "V"),
            "ABYC E-11 11.14.2.6 (quoted in the trade)",
        ),
        step(
            "cable",
            "Loss in the hot cable as a share of the bank's voltage",
            "U / U_bank",
            "{d} / {u} * 100",
            {"d": (cable.drop_v, "V"), "u": (design.candidate.inverter.dc_nominal, "V")},
            (cable.drop_fraction * 100, "%"),
            "limit for feeders: ABYC E-11 (quoted in the trade)",
        ),
    ]


def _voltage(design: Design) -> list[Working]:
    dc, bank = design.dc, design.bank
    current_a = constant_power_current_a(bank.dc_w, bank.nominal_v, dc.loop_ohm)
    if current_a is None:
        raise ValueError("a design that passed its checks can be fed")
    return [
        step(
            "cable",
            "Resistance of bank and cable",
            "R = R_string / strings + 2 · l · r / (runs · units)",
            "{s} / {p} + 2 * {l} * {r} / ({n} * {u})",
            {
                "s": (bank.string_ohm, "Ω"),
                "p": (bank.parallel, ""),
                "l": (dc.cable_m, "m"),
                "r": (dc.cable.resistance_ohm_per_m, "Ω/m"),
                "n": (dc.cable.runs, ""),
                "u": (design.candidate.units, ""),
            },
            (dc.loop_ohm, "Ω"),
            f"{OHM}; maker's figure for one battery",
        ),
        step(
            "cable",
            "Current at which bank and cable deliver that power",
            "I = 2 · P / (U_0 + √(U_0² − 4 · R · P))",
            "2 * {p} / ({u} + ({u}**2 - 4 * {r} * {p})**0.5)",
            {"p": (bank.dc_w, "W"), "u": (bank.nominal_v, "V"), "r": (dc.loop_ohm, "Ω")},
            (current_a, "A"),
            f"{OHM}; a unit draws more as its voltage falls",
        ),
        step(
            "cable",
            "Voltage left at the unit while everything runs",
            "U = U_0 − R · I",
            "{u} - {r} * {i}",
            {"u": (bank.nominal_v, "V"), "r": (dc.loop_ohm, "Ω"), "i": (current_a, "A")},
            (dc.terminal_v, "V"),
            f"{OHM}; nominal voltage taken as that of a low battery at rest, {PRACTICE}",
        ),
    ]


def _protection(guide: Guide, design: Design) -> list[Working]:
    dc, bank = design.dc, design.bank
    factor = guide.planning.fuse_factor
    steps = [
        step(
            "fuse",
            "Smallest fuse that carries the current for hours",
            "I_f ≥ k · I",
            "{k} * {i}",
            {"k": (factor, ""), "i": (dc.current_a, "A")},
            (factor * dc.current_a, "A"),
            "trade practice after NEC 210.20(A)",
        ),
        step(
            "fuse",
            "Short-circuit current that the fuse must stop",
            "I_k = n · I_k1",
            "{n} * {i}",
            {"n": (bank.parallel, ""), "i": (bank.short_circuit_a / bank.parallel, "A")},
            (bank.short_circuit_a, "A"),
            "strings in parallel add; maker's figure for one, lithium at least 62 A an Ah",
        ),
        step(
            "fuse",
            "Smallest battery switch and busbars",
            "I_s ≥ 1.25 · (units · I + I_dc)",
            "{k} * {i}",
            {"k": (CONTINUOUS_FACTOR, ""), "i": (dc.bank_a, "A")},
            (disconnect_minimum_a(dc.bank_a), "A"),
            PRACTICE,
        ),
    ]
    if dc.battery_fuse:
        steps.append(
            step(
                "fuse",
                "Smallest fuse of each battery",
                "I_f1 ≥ k · max(I_bank / n, min(I_battery, I_bank))",
                "{k} * max({i} / {n}, min({b}, {i}))",
                {
                    "n": (bank.parallel, ""),
                    "k": (factor, ""),
                    "b": (bank.battery.continuous_current, "A"),
                    "i": (dc.bank_a, "A"),
                },
                (factor * dc.string_a, "A"),
                "a fuse for each battery: ABYC E-11, July 2025, parallel banks above 500 Ah; "
                f"smaller banks: {PRACTICE}",
            )
        )
    return steps
