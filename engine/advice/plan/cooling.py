"""How the unit's heat leaves the compartment: by itself, or with a fan from the shelf."""

from engine.advice.plan.shelf import waits
from engine.advice.plan.supply import clearance_free
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Fan
from engine.model.result import Candidate, CoolingPlan, Supply
from engine.sizing import cooling
from engine.trace import step

# Free-area velocity. In print: some 0.5 m/s with no fan (from memory), and 3 m/s, at most 5, behind
# a fan (a handbook of plant rooms, seen). Between them, since vents here serve both.
VENT_VELOCITY_M_PER_S = 1.0


def plan_cooling(guide: Guide, needs: Needs, candidate: Candidate, supply: Supply) -> CoolingPlan:
    """Airflow for the allowed rise; a fan unless the unit hangs upright with its clearance."""
    planning = guide.planning
    rise_k, altitude_m, ambient_c = planning.allowed_rise_k, needs.altitude_m, needs.ambient_c
    airflow = step(
        "cooling.air", cooling.airflow_m3_per_h, supply.heat_w, rise_k, altitude_m, ambient_c
    )
    vent = step("cooling.air", cooling.vent_area_m2, airflow, VENT_VELOCITY_M_PER_S)
    free = clearance_free(needs, candidate.inverter)
    if not cooling.fan_needed(needs.mount, free):
        return CoolingPlan(supply.heat_w, airflow, vent, None, 0, "upright-and-free")
    fan, count = _fan(guide, candidate.inverter.dc_nominal, airflow)
    why = "tight" if needs.mount == "upright" else "not-upright"
    return CoolingPlan(supply.heat_w, airflow, vent, fan, count, why)


def _fan(guide: Guide, bank_v: float, airflow_m3_per_h: float) -> tuple[Fan | None, int]:
    """The cheapest set of equal fans for the airflow, on the bank's voltage where there are any."""
    planning = guide.planning
    kept = 1 / planning.fan_factor
    able: list[tuple[bool, float, str, Fan, float]] = []
    for fan in guide.catalogue.fans:
        each = cooling.fan_flow_at_pressure(fan.flow, planning.fan_pressure_pa)
        if fan.volts in (bank_v, 120.0) and each > 0:
            count = cooling.fans_for(airflow_m3_per_h, each, kept)
            able.append((waits(fan), count * fan.price, fan.id, fan, each))
    if not able:
        return None, 1
    *_, fan, each = min(able, key=lambda entry: entry[:3])
    return fan, step("cooling.air", cooling.fans_for, airflow_m3_per_h, each, kept)
