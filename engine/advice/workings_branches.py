"""Workings of what hangs on the bank beside the units: current, fuse, voltage lost."""

from collections.abc import Iterator

from engine.advice.plan.branches import alternator_charger
from engine.advice.plan.house import step_down
from engine.advice.working_step import ENERGY, OHM, step
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Branch, Design, Working

NAMES = {
    "solar": "the solar controller",
    "alternator": "the DC-DC charger, battery side",
    "starter": "the DC-DC charger, starter battery's side",
    "step-down": "the converter to 12 V",
    "house": "the 12 V circuits",
}


def branch_steps(guide: Guide, needs: Needs, design: Design) -> list[Working]:
    """Every branch in turn."""
    return [
        step_of
        for branch in design.dc.branches
        for step_of in (*_current(guide, needs, design, branch), *_sized(guide, branch))
    ]


def _current(guide: Guide, needs: Needs, design: Design, branch: Branch) -> Iterator[Working]:
    """Where it is not the device's own figure."""
    bank_v, low_v = design.candidate.inverter.dc_nominal, design.dc.low_v
    name = f"Current of {NAMES[branch.id]}"
    converter = step_down(guide, needs, bank_v)
    charger = alternator_charger(guide, needs, bank_v)
    if branch.id == "step-down" and converter:
        yield step(
            "fuse",
            name,
            "I = U_out · I_out / (η · U_low)",
            "{v} * {i} / ({e} * {u})",
            {
                "v": (converter.output, "V"),
                "i": (converter.current, "A"),
                "e": (converter.efficiency, ""),
                "u": (low_v, "V"),
            },
            (branch.current_a, "A"),
            ENERGY,
        )
    if branch.id == "starter" and charger:
        yield step(
            "fuse",
            name,
            "I = U_out · I_out / (η · U_in)",
            "{v} * {i} / ({e} * {u})",
            {
                "v": (charger.output, "V"),
                "i": (charger.current, "A"),
                "e": (charger.efficiency, ""),
                "u": (charger.input, "V"),
            },
            (branch.current_a, "A"),
            ENERGY,
        )


def _sized(guide: Guide, branch: Branch) -> Iterator[Working]:
    if branch.fused:
        yield step(
            "fuse",
            f"Smallest fuse of {NAMES[branch.id]}",
            "I_f ≥ k · I",
            "{k} * {i}",
            {"k": (guide.planning.fuse_factor, ""), "i": (branch.current_a, "A")},
            (branch.least_a, "A"),
            "trade practice after NEC 210.20(A)",
        )
    if branch.cable:
        yield step(
            "cable",
            f"Voltage lost on the way to {NAMES[branch.id]} and back",
            "U = 2 · I · l · r / runs",
            "2 * {i} * {l} * {r} / {n}",
            {
                "i": (branch.current_a, "A"),
                "l": (branch.length_m, "m"),
                "r": (branch.cable.resistance_ohm_per_m, "Ω/m"),
                "n": (branch.cable.runs, ""),
            },
            (branch.cable.drop_v, "V"),
            OHM,
        )
