"""The arithmetic of a recommendation, step by step: formula, numbers put in, result, source.

Nothing is sized here: each value was computed by its kernel and is only laid open. The expression
beside it lets anyone (and a test) work the step out again.
"""

from engine.advice.workings_bank import bank_steps
from engine.advice.workings_branches import branch_steps
from engine.advice.workings_charging import charging_steps
from engine.advice.workings_dc import dc_steps
from engine.advice.workings_power import ac_steps, cooling_steps, power_steps
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design, Working
from engine.model.sources import ChargingPlan


def workings_of(
    guide: Guide, needs: Needs, design: Design, charging: ChargingPlan
) -> tuple[Working, ...]:
    """Every step that leads to the recommendation's numbers."""
    return (
        *power_steps(guide, needs, design),
        *ac_steps(needs, design),
        *dc_steps(guide, needs, design),
        *branch_steps(guide, needs, design),
        *bank_steps(guide, needs, design),
        *cooling_steps(guide, needs, design),
        *charging_steps(guide, needs, design, charging),
    )
