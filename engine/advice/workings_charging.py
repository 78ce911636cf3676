"""Workings of what comes in: shore, generator, alternator, sun."""

from engine.advice.plan.shore import charger_legs_of, charger_of
from engine.advice.working_step import ENERGY, PRACTICE, Number, step
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design, Working
from engine.model.sources import ChargingPlan, GeneratorPlan
from engine.sizing.alternator import CONTINUOUS_SHARE as ALTERNATOR_SHARE
from engine.sizing.alternator import RUNNING_V
from engine.sizing.generator import (
    ALTITUDE_LOSS_PER_M,
    START_FACTOR,
    heat_loss,
)
from engine.standards.services import CONTINUOUS_SHARE


def charging_steps(
    guide: Guide, needs: Needs, design: Design, charging: ChargingPlan
) -> list[Working]:
    """Every source that is there."""
    return [
        *_shore(needs, design, charging),
        *(_generator(needs, design, charging.generator) if charging.generator else []),
        *_alternator(guide, needs, design, charging),
        *_sun(design, charging),
    ]


def _shore(needs: Needs, design: Design, charging: ChargingPlan) -> list[Working]:
    shore, charger = charging.shore, charger_of(needs, design)
    # A charge current over two legs takes half of it from each.
    legs = charger.ac_a(shore.charge_a) / shore.charger_ac_a if shore.charger_ac_a else 1.0
    charge: dict[str, Number] = {
        "u": (charger.charge_v, "V"),
        "i": (shore.charge_a, "A"),
        "e": (charger.efficiency, ""),
        "f": (charger.power_factor, ""),
        "v": (charger.volts, "V"),
        "n": (round(legs), ""),
    }
    return [
        step(
            "charging",
            "Input limit to set, whole amperes on each leg",
            "I_set = ⌊0.8 · I_breaker / n⌋",
            "({k} * {i} / {n} + 1e-9) // 1",
            {
                "k": (CONTINUOUS_SHARE, ""),
                "i": (shore.breaker_a, "A"),
                "n": (round(shore.input_limit_a / shore.setting_a) if shore.setting_a else 1, ""),
            },
            (shore.setting_a, "A"),
            "NEC 210.20(A)",
        ),
        step(
            "charging",
            "Charge current that fits beside what runs along",
            "I = min(I_max, legs · (I_set − I_loads) · U_ac · η · PF / U)",
            "min({m}, {n} * max(0, {l} - {o}) * {v} * {e} * {f} / {u})",
            {
                **{key: charge[key] for key in ("u", "e", "f", "v", "n")},
                "m": (charger.most_a, "A"),
                "l": (shore.input_limit_a, "A"),
                "o": (shore.light_a, "A"),
            },
            (shore.charge_a, "A"),
            ENERGY,
        ),
        step(
            "charging",
            "What the charger then takes of each leg it sits on",
            "I_ac = U · I / (legs · η · PF · U_ac)",
            "{u} * {i} / ({n} * {e} * {f} * {v})",
            charge,
            (shore.charger_ac_a, "A"),
            ENERGY,
        ),
        step(
            "charging",
            "Left for loads on that leg",
            "I_left = max(0, I_set − I_ac)",
            "max(0, {l} - {c})",
            {"l": (shore.input_limit_a, "A"), "c": (shore.charger_ac_a, "A")},
            (shore.left_a, "A"),
            "Kirchhoff's current law",
        ),
    ]


def _generator(needs: Needs, design: Design, plan: GeneratorPlan) -> list[Working]:
    charger = charger_of(needs, design)
    steps = [
        step(
            "charging",
            "Generator at this height and heat",
            "P = P_plate · (1 − 0.035 · h / 304.8 m) · (1 − L)",
            "{p} * min(1, max(0, 1 - {a} * {h})) * (1 - {l})",
            {
                "p": (plan.rated_w, "W"),
                "a": (ALTITUDE_LOSS_PER_M, "1/m"),
                "h": (needs.altitude_m, "m"),
                "l": (heat_loss(needs.ambient_c), ""),
            },
            (plan.derated_w, "W"),
            "generator manuals (secondary)",
        ),
        step(
            "charging",
            "What it gives for the start of a motor",
            "S = 2 · P",
            "{k} * {p}",
            {"k": (START_FACTOR, ""), "p": (plan.derated_w, "W")},
            (plan.start_limit_va, "VA"),
            "30 to 40 A of a set of 1,600 to 1,800 W (secondary), the low end",
        ),
        step(
            "charging",
            "Charge current on the generator beside what runs along",
            "I = η · PF / U · min((P − S_loads), legs · U_ac · (I_leg − I_loads)), at most I_max",
            "min({m}, max(0, {p} - {o}) * {e} * {f} / {u},"
            " {n} * max(0, {l} - {b}) * {v} * {e} * {f} / {u})",
            {
                "n": (charger_legs_of(design, plan.legs), ""),
                "l": (plan.input_limit_a, "A"),
                "b": (plan.light_a, "A"),
                "v": (charger.volts, "V"),
                "m": (charger.most_a, "A"),
                "p": (plan.derated_w, "W"),
                "o": (plan.light_va, "VA"),
                "e": (charger.efficiency, ""),
                "f": (charger.power_factor, ""),
                "u": (charger.charge_v, "V"),
            },
            (plan.charge_free_a, "A"),
            ENERGY,
        ),
    ]
    if plan.starter:
        steps.append(
            step(
                "charging",
                f"Start of {plan.starter} on the generator, beside what runs along",
                "S = S_loads + S_start",
                "{o} + {s}",
                {"o": (plan.light_va, "VA"), "s": (plan.start_va, "VA")},
                (plan.light_va + plan.start_va, "VA"),
                ENERGY,
            )
        )
    return steps


def _alternator(
    guide: Guide, needs: Needs, design: Design, charging: ChargingPlan
) -> list[Working]:
    ids = {line.product for line in design.parts if line.group == "alternator-charger"}
    chosen = [each for each in guide.catalogue.alternator_chargers if each.id in ids]
    if not chosen:
        return []
    return [
        step(
            "charging",
            "Charge current to set on the DC-DC charger",
            "I = min(I_charger, I_bank, (0.5 · I_alt − I_vehicle) · η · U_alt / U)",
            "min({m}, {b}, max(0, {k} * {a} - {v}) * {e} * {w} / {u})",
            {
                "m": (chosen[0].current, "A"),
                "b": (design.bank.charge_limit_a, "A"),
                "k": (ALTERNATOR_SHARE, ""),
                "a": (needs.alternator_a, "A"),
                "v": (guide.planning.vehicle_load, "A"),
                "e": (chosen[0].efficiency, ""),
                "w": (RUNNING_V, "V"),
                "u": (charging.absorption_v, "V"),
            },
            (charging.alternator_a, "A"),
            f"half of an alternator's rating: {PRACTICE}",
        )
    ]


def _sun(design: Design, charging: ChargingPlan) -> list[Working]:
    if charging.solar_days is None or not charging.solar_daily_wh:
        return []
    bank = design.bank
    efficiency = bank.battery.kind.efficiency
    load_wh = charging.solar_daily_wh * efficiency - bank.usable_wh / charging.solar_days
    return [
        step(
            "charging",
            "Days of sun from empty to full while the loads run",
            "t = E_usable / (η · E_sun − E_loads)",
            "{e} / ({k} * {s} - {l})",
            {
                "e": (bank.usable_wh, "Wh"),
                "k": (efficiency, ""),
                "s": (charging.solar_daily_wh, "Wh"),
                "l": (load_wh, "Wh"),
            },
            (charging.solar_days, "days"),
            f"{ENERGY}; sun of the month from its mean clearness",
        )
    ]
