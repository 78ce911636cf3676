"""What is taken along: on paper link and code, settings to enter, two lists to tick; and files."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from markupsafe import Markup

from engine.advice.judge.cautions import RULES, Rule
from engine.advice.judge.ranking import labor_h
from engine.advice.plan.branches import BRANCHES, on_bank
from engine.advice.plan.layouts import TWO_LEG
from engine.answer import Advice
from engine.model.guide import Guide, SheetLine
from engine.model.needs import Needs
from engine.model.products import Product
from engine.model.result import BankPlan, Design
from engine.pages import words
from engine.pages.answer.number_rows import Number, amps, volts
from engine.pages.print.qr import qr_svg
from engine.standards.services import LOW_SHORE_V
from engine.units import show
from engine.wording.tongue import plain

ONE_LIFTS_KG = 23.0
"""Most that one person lifts in the best posture, NIOSH lifting equation, from memory: 51 lb."""


def _two_hots(_guide: Guide, needs: Needs, design: Design) -> Mapping[str, str] | None:
    both = design.candidate.legs == 2 or design.candidate.layout == TWO_LEG
    return {} if both and needs.service.legs == 2 else None


def _bond_relay(_guide: Guide, _needs: Needs, design: Design) -> Mapping[str, str] | None:
    return {} if design.candidate.inverter.bond_relay else None


def _house_switch(_guide: Guide, _needs: Needs, design: Design) -> Mapping[str, str] | None:
    return {} if any(each.id == "house" for each in design.dc.branches) else None


def _busbars(_guide: Guide, _needs: Needs, design: Design) -> Mapping[str, str] | None:
    return {} if design.dc.shared else None


def _no_busbars(_guide: Guide, _needs: Needs, design: Design) -> Mapping[str, str] | None:
    return None if design.dc.shared else {}


def _own_fuses(_guide: Guide, _needs: Needs, design: Design) -> Mapping[str, str] | None:
    return {} if design.dc.battery_fuse else None


def _no_own_fuses(_guide: Guide, _needs: Needs, design: Design) -> Mapping[str, str] | None:
    return None if design.dc.battery_fuse else {}


def _heavy_lift(_guide: Guide, _needs: Needs, design: Design) -> Mapping[str, str] | None:
    return {} if _heavy(design) else None


def _heavy(design: Design) -> list[Product]:
    """What one person should not lift."""
    both = (design.candidate.inverter, design.bank.battery)
    return [each for each in both if each.mass > ONE_LIFTS_KG]


SHEET_RULES: dict[str, Rule] = {
    **RULES,
    "two-hots": _two_hots,
    "bond-relay": _bond_relay,
    "house-switch": _house_switch,
    "busbars": _busbars,
    "no-busbars": _no_busbars,
    "own-fuses": _own_fuses,
    "no-own-fuses": _no_own_fuses,
    "heavy-lift": _heavy_lift,
}
"""When a line is printed: as the cautions', and some that no caution needs."""


def _facts(guide: Guide, advice: Advice, design: Design) -> dict[str, str]:
    needs, unit, bank = advice.outcome.needs, design.candidate.inverter, design.bank
    dc, ac, charging = design.dc, design.ac, advice.charging
    numbers, volts_ac = guide.wording.numbers, needs.service.volts
    legs = numbers.count("count-legs", needs.service.legs)
    starts = max(leg.demand.worst_va for leg in design.supply.legs)
    return {
        "service": f"{amps(needs.service.amps)}, {volts(volts_ac)}, {legs}",
        "unit": _size(unit),
        "units": plain(design.candidate.units),
        "unit_mass": show(unit.mass * design.candidate.units, "kg"),
        "clear": words.clearance_text(guide, unit.clearances),
        "vents": words.vent_text(design.cooling.vent_area_m2),
        "ambient": show(needs.ambient_c, "degC"),
        "bank": words.bank_name(guide, design),
        "battery": _battery_size(guide, bank),
        "bank_v": volts(bank.nominal_v),
        "cable_m": show(dc.cable_m, "m"),
        "cable": words.cable_name(guide, design),
        "fuse": "; ".join(_fuses(guide, design)),
        "own_fuse": words.fuse_name(guide, dc.battery_fuse) if dc.battery_fuse else "",
        "unfused": show(dc.unfused_m, "m"),
        "bond": f"{dc.bond_awg} AWG",
        "frame": words.frame_name(design),
        "terminal": volts(dc.terminal_v),
        "load": show(design.supply.total_w, "W"),
        "start": show(starts, "VA"),
        "wires": f"{ac.input_awg} AWG",
        "breaker": amps(ac.input_a),
        "volts": volts(volts_ac),
        "between": volts(2 * volts_ac if design.candidate.legs == 2 else 0.0),
        "input": words.limit_text(guide, design, charging.shore),
        "charge": amps(charging.shore.charge_a, 0),
        "absorption": volts(charging.absorption_v),
        "alternator": amps(charging.alternator_a, 0),
        "cable_heat": show(dc.cable.temperature_c, "degC"),
        "lift": "; ".join(f"{each.name}: {show(each.mass, 'kg')}" for each in _heavy(design)),
        "park_low": volts(LOW_SHORE_V, 0),
        "mass": show(design.mass_kg, "kg"),
    }


def _battery_size(guide: Guide, bank: BankPlan) -> str:
    """Size and weight of one; those that are there are measured."""
    return guide.wording.page["measure-yours"] if bank.kept == bank.count else _size(bank.battery)


def _fuses(guide: Guide, design: Design) -> Iterator[str]:
    """The main fuse, then each fuse beside it with the circuit that it guards."""
    yield words.fuse_name(guide, design.dc.fuse)
    for branch in design.dc.branches:
        if branch.fuse and on_bank(branch):
            circuit = guide.wording.numbers.one_of("branch-", branch.id, BRANCHES)
            yield f"{circuit}: {words.fuse_name(guide, branch.fuse)}"


def _size(product: Product) -> str:
    return " × ".join(show(side, "m") for side in (product.height, product.width, product.depth))


@dataclass(frozen=True, slots=True)
class SheetRow:
    """A line as it is printed; `caution` is a title, "" for none."""

    do: str
    planned: str
    who: str
    caution: str


Part = tuple[str, tuple[SheetRow, ...]]
"""Title of a part of a list, and its lines."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """What is worked through with a pencil: settings to enter, and the three lists to tick.

    fit, commission : by step or part, each with its lines
    hours : planning hours for the fitting
    """

    settings: tuple[Number, ...]
    measure: tuple[SheetRow, ...]
    fit: tuple[Part, ...]
    commission: tuple[Part, ...]
    hours: str

    @property
    def commission_count(self) -> int:
        """Lines of the list for switching on, all its parts together."""
        return sum(len(rows) for _, rows in self.commission)


@dataclass(frozen=True, slots=True)
class Takeaway:
    """What opens the answer again, on paper."""

    link: str
    code: Markup


def takeaway_of(guide: Guide, link: str) -> Takeaway:
    """What goes along with a recommendation whose whole address this is."""
    code = qr_svg(link, guide.wording.page["link-code"], guide.wording.page["no-code"])
    return Takeaway(link, code)


def sheets_of(guide: Guide, advice: Advice) -> Sheets:
    """The sheets of a recommendation."""
    design = advice.best.design
    if design is None:
        raise ValueError("a recommendation has a design")
    lines = list(_ticked(guide, advice, design))
    return Sheets(
        settings=tuple(_settings(guide, advice, design)),
        measure=tuple(row for line, row in lines if line.sheet == "measure"),
        fit=_in_parts(lines, "fit"),
        commission=_in_parts(lines, "commission"),
        hours=guide.wording.numbers.count(
            "count-hours", math.ceil(labor_h(guide, advice.outcome.needs, design))
        ),
    )


def _in_parts(lines: list[tuple[SheetLine, SheetRow]], sheet: str) -> tuple[Part, ...]:
    wanted = ((line.part, row) for line, row in lines if line.sheet == sheet)
    groups = groupby(wanted, lambda pair: pair[0])
    return tuple((part, tuple(row for _, row in group)) for part, group in groups)


def lines_of(guide: Guide, advice: Advice) -> Iterator[tuple[str, str]]:
    """What the sheets say, line by line: what is entered, measured or done, and its figure."""
    design = advice.best.design
    if design is None:
        raise ValueError("a recommendation has a design")
    yield from ((row.label, row.text) for row in _settings(guide, advice, design))
    yield from ((row.do, row.planned) for _, row in _ticked(guide, advice, design))


def _ticked(guide: Guide, advice: Advice, design: Design) -> Iterator[tuple[SheetLine, SheetRow]]:
    """The lines of measuring and commissioning that this setup has."""
    facts = _facts(guide, advice, design)
    titles = {note.caution.id: note.caution.title for note in advice.cautions}
    for line in guide.sheets:
        if SHEET_RULES[line.rule](guide, advice.outcome.needs, design) is not None:
            planned = line.planned.format_map(facts)
            yield line, SheetRow(line.do, planned, line.who, titles.get(line.caution, ""))


def _share(total_a: float, over: int) -> str:
    """Whole amperes of each that share a current."""
    return amps((total_a / over + 1e-9) // 1, 0)


def _settings(guide: Guide, advice: Advice, design: Design) -> Iterator[Number]:
    """What is entered into the unit and what stands beside it, as plain electrical values."""
    page, needs, charging = guide.wording.page, advice.outcome.needs, advice.charging
    unit, units, bank = design.candidate.inverter, design.candidate.units, design.bank
    chemistry = guide.question("chemistry").choice(bank.battery.chemistry).label

    def row(key: str, text: str) -> Number:
        return Number(page[key], text)

    def shared(total_a: float) -> str:
        each = page.say("set-each", amps=_share(total_a, units))
        return amps(total_a, 0) + (f" ({each})" if units > 1 else "")

    yield row("set-output", volts(needs.service.volts))
    if design.candidate.layout.endswith("pair"):
        yield row("set-pair", guide.layout_words(design.candidate.layout).name)
    shore = charging.shore
    yield row("set-input", words.limit_text(guide, design, shore))
    yield row("set-chemistry", chemistry)
    yield row("set-capacity", f"{plain(bank.capacity_ah)} Ah")
    most_a = min(unit.charge_current * units, bank.charge_limit_a)
    yield row("set-charge-most", shared(most_a))
    yield row("set-charge-shore", shared(shore.charge_a))
    if charging.generator:
        yield row("set-input-generator", words.limit_text(guide, design, charging.generator))
        yield row("set-charge-generator", shared(charging.generator.charge_a))
    if charging.alternator_a:
        yield row("set-charge-alternator", amps(charging.alternator_a, 0))
    if charging.solar_a:
        yield row("set-charge-solar", amps(charging.solar_a, 0))
    if charging.alternator_a or charging.solar_a:
        yield row("set-charge-together", amps(bank.charge_limit_a, 0))
    yield row("set-absorption", volts(charging.absorption_v, 2))
    yield row("set-float", volts(charging.float_v, 2))
    if charging.compensation_v_per_k:
        text = page.say(
            "set-compensation-line",
            each=f"{plain(1000 * charging.compensation_v_per_k, 0)} mV/°C",
            ambient=show(needs.ambient_c, "degC"),
            here=volts(charging.absorption_here_v, 2),
        )
        yield row("set-compensation", text)
    yield row("set-charge-from", show(bank.battery.lowest_charge_temperature, "degC"))
    yield row("set-discharge-from", show(bank.battery.kind.discharge_from_c, "degC"))
    yield row("set-cutoff", volts(unit.low_voltage_cutoff, 2))
    yield row("set-lowest", show(1.0 - bank.battery.usable, "share"))
    joins = ("one" if units > 1 else "on") if unit.bond_relay else "none"
    yield row("set-bond", page.one_of("set-bond-", joins, ("one", "on", "none")))
