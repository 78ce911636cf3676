"""The numbers of a recommendation by subject: rows, cautions beside them, workings to open."""

from dataclasses import dataclass

from engine.answer import Advice
from engine.model.guide import Guide
from engine.model.result import CautionNote, Design, Working
from engine.pages import words
from engine.sizing.grounding import equipment_ground
from engine.sizing.metric import metric_equal_mm2
from engine.sizing.terminals import crimper_kind, strip_length_m
from engine.units import plain, show, significant

SUBJECTS = (
    # section id, cautions beside it, subjects of its workings
    ("service", "service", ("charging",)),
    ("unit", "unit", ("power",)),
    ("battery", "battery", ("battery",)),
    ("cable", "cable", ("cable", "fuse")),
    ("terminals", "terminals", ()),
    ("space", "space", ("cooling",)),
    ("charging", "charging", ()),
)


@dataclass(frozen=True, slots=True)
class Number:
    """A label and its figure, as they are read."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class Step:
    """One working as it is read."""

    name: str
    formula: str
    numbers: str
    result: str
    source: str


@dataclass(frozen=True, slots=True)
class Section:
    """One subject of the numbers."""

    id: str
    title: str
    numbers: tuple[Number, ...]
    cautions: tuple[CautionNote, ...]
    steps: tuple[Step, ...]


def sections_of(guide: Guide, advice: Advice) -> tuple[Section, ...]:
    """Every section in reading order."""
    rows = {
        "service": _service,
        "unit": _unit,
        "battery": _battery,
        "cable": _cable,
        "terminals": _terminals,
        "space": _space,
        "charging": _charging,
    }
    return tuple(
        Section(
            id=section,
            title=guide.wording.page[f"section-{section}"],
            numbers=rows[section](advice),
            cautions=tuple(n for n in advice.cautions if n.caution.beside == beside),
            steps=tuple(_step(w) for w in advice.workings if w.subject in subjects),
        )
        for section, beside, subjects in SUBJECTS
    )


def _step(working: Working) -> Step:
    result = f"{significant(working.value, 4)} {working.unit}".strip()
    return Step(working.name, working.formula, working.numbers, result, working.source)


def _design(advice: Advice) -> Design:
    if advice.best.design is None:
        raise ValueError("a recommendation has a design")
    return advice.best.design


def _service(advice: Advice) -> tuple[Number, ...]:
    design, needs = _design(advice), advice.outcome.needs
    legs = "legs" if needs.service.legs > 1 else "leg"
    return (
        Number(
            "Shore service",
            f"{plain(needs.service.amps)} A, {plain(needs.service.volts)} V, "
            f"{needs.service.legs} {legs}",
        ),
        Number(
            "Passed on to the panel while on shore",
            f"{plain(design.ac.input_a)} A on each of {design.ac.poles * design.candidate.units} "
            f"leg{'s' if design.ac.poles * design.candidate.units > 1 else ''}",
        ),
        Number("Input current limit to set", f"{plain(advice.charging.input_limit_a)} A"),
        Number("Breaker before and after each unit", f"{plain(design.ac.input_a)} A"),
        Number(
            "AC conductors",
            f"{design.ac.input_awg} AWG copper, ground {equipment_ground(design.ac.input_a)} AWG",
        ),
    )


def _unit(advice: Advice) -> tuple[Number, ...]:
    design = _design(advice)
    supply, inverter = design.supply, design.candidate.inverter
    rows = []
    for index, leg in enumerate(supply.legs, start=1):
        name = f"Leg {index}" if len(supply.legs) > 1 else "Off the battery"
        rows += [
            Number(f"{name}: runs at once", words.joined(leg.loads) or "nothing"),
            Number(
                f"{name}: load",
                f"{show(leg.demand.real_w, 'W')} ({show(leg.demand.apparent_va, 'VA')})",
            ),
        ]
        if leg.demand.starter:
            rows.append(
                Number(
                    f"{name}: hardest start ({leg.demand.starter})", show(leg.demand.worst_va, "VA")
                )
            )
    return (
        *rows,
        Number("What it gives at this temperature", show(supply.continuous_w, "W")),
        Number("What it gives for that start", show(supply.surge_va, "VA")),
        Number(
            "Size, height × width × depth",
            f"{show(inverter.height, 'm')} × "
            f"{show(inverter.width, 'm')} × {show(inverter.depth, 'm')}",
        ),
        Number("Weight of each unit", show(inverter.mass, "kg")),
    )


def _battery(advice: Advice) -> tuple[Number, ...]:
    bank = _design(advice).bank
    return (
        Number(
            "Bank",
            f"{plain(bank.battery.nominal * bank.series, 1)} V, "
            f"{plain(bank.capacity_ah)} Ah, {show(bank.energy_wh, 'Wh')}",
        ),
        Number("Energy needed between charges", show(bank.need_wh, "Wh")),
        Number("Energy it gives", show(bank.usable_each_wh * bank.parallel, "Wh")),
        Number(
            "Current for what runs at once",
            f"{show(bank.continuous_a, 'A')} of "
            f"{show(bank.battery.continuous_current * bank.parallel, 'A')} allowed",
        ),
        Number(
            "Current at the hardest start",
            f"{show(bank.surge_a, 'A')} for {show(bank.surge_s, 's')}, of "
            f"{show(bank.battery.peak_current * bank.parallel, 'A')} allowed for "
            f"{show(bank.battery.peak_time, 's')}",
        ),
    )


def _cable(advice: Advice) -> tuple[Number, ...]:
    design = _design(advice)
    dc = design.dc
    return (
        Number("Battery cable, each pole", words.cable_name(design)),
        Number("Metric equal", f"{plain(metric_equal_mm2(dc.cable.size), 1)} mm²"),
        Number("Length, one way", show(dc.cable_m, "m")),
        Number("Current at full output, low battery", show(dc.current_a, "A")),
        Number("What the cable carries here", show(dc.cable.ampacity_a, "A")),
        Number(
            "Voltage lost",
            f"{plain(dc.cable.drop_v, 2)} V ({plain(dc.cable.drop_fraction * 100, 1)} %)",
        ),
        Number(
            "Fuse at the battery",
            f"{plain(dc.fuse.rating)} A, stops {plain(dc.fuse.interrupt / 1000, 1)} kA",
        ),
        Number("Short circuit of the bank", f"{plain(design.bank.short_circuit_a / 1000, 1)} kA"),
        Number("Battery switch", f"{plain(dc.disconnect.rating)} A"),
        Number("Case to chassis", f"{dc.bond_awg} AWG copper"),
        Number("Lug tool", crimper_kind(dc.cable.size)),
    )


def _terminals(advice: Advice) -> tuple[Number, ...]:
    design = _design(advice)
    terminals = design.candidate.inverter.terminals
    ends = design.ac.ends_per_unit
    rows = [
        Number(
            "AC terminals",
            f"{terminals.kind}, {terminals.smallest_awg} to {terminals.largest_awg} AWG",
        ),
        Number(
            "Conductor ends",
            f"{len(ends) * design.candidate.units} "
            f"({words.joined([end.label for end in ends])}, each unit)",
        ),
    ]
    if terminals.kind == "push-in":
        depth_m = terminals.conductor_depth
        rows += [
            Number(
                "Ferrules",
                f"{len(ends) * design.candidate.units} uninsulated, "
                f"{plain(depth_m * 1000)} mm, one for every conductor end",
            ),
            Number("Strip length", show(strip_length_m(depth_m, insulated=False), "m")),
        ]
    else:
        rows.append(Number("Ferrules", "none"))
    return tuple(rows)


def _space(advice: Advice) -> tuple[Number, ...]:
    design, needs = _design(advice), advice.outcome.needs
    cooling, asked = design.cooling, design.candidate.inverter.clearances
    rows = [
        Number("Mounted", needs.mount),
        Number(
            "Free space the maker asks for",
            f"above {show(asked.top, 'm')}, below {show(asked.bottom, 'm')}, "
            f"sides {show(asked.sides, 'm')}",
        ),
        Number("Heat while all of this runs", show(cooling.heat_w, "W")),
        Number("Air to carry it away", show(cooling.airflow_m3_per_h, "m^3/h")),
        Number(
            "Free area of each vent",
            f"{plain(cooling.vent_area_m2 * 1e4)} cm² "
            f"({plain(cooling.vent_area_m2 * 1550.0031)} sq in)",
        ),
    ]
    if cooling.fan:
        rows.append(Number("Fan", f"{cooling.fans} × {cooling.fan.name}"))
    elif cooling.fans:
        rows.append(Number("Fan", "needed; none on this shop's shelf moves enough air"))
    else:
        rows.append(Number("Fan", "none: upright, with the maker's clearance"))
    return tuple(rows)


def _charging(advice: Advice) -> tuple[Number, ...]:
    plan = advice.charging
    week = plan.week
    rows = [
        Number("Charge current to set", f"{plain(plan.charge_a)} A"),
        Number(
            "Charge voltage, then float",
            f"{plain(plan.absorption_v, 1)} V, {plain(plan.float_v, 1)} V",
        ),
        Number("Charger's share of the shore current", f"{plain(plan.charger_ac_a, 1)} A"),
        Number("Left for loads on that leg", f"{plain(plan.left_for_loads_a, 1)} A"),
    ]
    if plan.shore_hours is not None:
        rows.append(Number("Empty to full on shore", f"{plain(plan.shore_hours, 1)} hours"))
    if plan.generator_w:
        rows.append(Number("Generator at this height and heat", show(plan.generator_w, "W")))
    if plan.alternator_a:
        rows.append(Number("From the alternator while driving", f"{plain(plan.alternator_a)} A"))
    if plan.solar_daily_wh:
        rows.append(Number("From the sun on an average day", show(plan.solar_daily_wh, "Wh")))
    rows.append(
        Number(
            "Away from shore, starting full",
            "a week and more"
            if week.runs_out_hour is None
            else f"about {plain(week.runs_out_hour / 24, 1)} days",
        )
    )
    return tuple(rows)
