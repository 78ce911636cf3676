"""Shore, generator, the week and the batteries that are there, as data."""

import math
from dataclasses import asdict
from typing import Any

from engine.model.result import Outcome
from engine.model.sources import ChargingPlan
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


def existing_data(outcome: Outcome) -> dict[str, Any] | None:
    """What becomes of the batteries that are there, and each reason why not more."""
    keeping, best = outcome.keeping, outcome.best
    if keeping is None or best is None or best.design is None:
        return None
    bank, other = best.design.bank, keeping.other
    return {
        "given": keeping.bank.text,
        "assumed": list(keeping.bank.assumed),
        "way": keeping.way,
        "kept": bank.kept,
        "added": bank.count - bank.kept if bank.kept else 0,
        "faults": [asdict(fault) for fault in keeping.faults],
        "joining_faults": [asdict(fault) for fault in keeping.joining],
        "other_parts_price": other.design.parts_price if other and other.design else None,
    }
