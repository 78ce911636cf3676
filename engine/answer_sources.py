"""Shore, generator, the week and the batteries that are there, as data."""

import math
from dataclasses import asdict
from typing import Any

from engine.model.sources import ChargingPlan, Reuse
from engine.sizing.energy import Week


def charging_data(plan: ChargingPlan) -> dict[str, Any]:
    """Limits to set, and what each source starts, charges and takes to fill the bank."""
    return {
        "shore": asdict(plan.shore),
        "generator": plan.generator and asdict(plan.generator),
        "absorption_v": plan.absorption_v,
        "float_v": plan.float_v,
        "compensation_v_per_k": plan.compensation_v_per_k,
        "absorption_here_v": plan.absorption_here_v,
        "alternator_a": plan.alternator_a,
        "alternator_hours": plan.alternator_hours,
        "solar_daily_wh": plan.solar_daily_wh,
        "solar_days": plan.solar_days,
    }


def week_data(week: Week) -> dict[str, Any]:
    """The state of charge hour by hour, and what the week comes to."""
    return {
        "state_of_charge": list(week.state),
        "unmet_wh": week.unmet_wh,
        "runs_out_hour": week.runs_out_hour,
        "reserve_h": week.reserve_h if math.isfinite(week.reserve_h) else None,
        "charged_wh": dict(week.charged_wh),
        "direct_wh": dict(week.direct_wh),
        "spilled_wh": week.spilled_wh,
    }


def reuse_data(reuse: Reuse | None) -> dict[str, Any] | None:
    """Whether the batteries that are there can serve, each reason why not, what they change."""
    if reuse is None:
        return None
    return {
        "given": reuse.bank.text,
        "assumed": list(reuse.bank.assumed),
        "serves": reuse.serves,
        "faults": [asdict(fault) for fault in reuse.faults],
        "series": reuse.series,
        "parallel": reuse.parallel,
        "energy_wh": reuse.energy_wh,
        "nights": reuse.nights,
        "charge_limit_a": reuse.charge_limit_a,
        "short_circuit_a": reuse.short_circuit_a,
        "interrupt_a": reuse.interrupt_a,
        "fuse_classes": reuse.fuse_classes,
        "saves": reuse.saves,
        "mass_kg": reuse.mass_kg,
    }
