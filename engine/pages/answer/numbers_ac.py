"""The numbers of the AC side: loads, shore service, the unit, its terminals."""

from collections.abc import Iterator
from typing import get_args

from engine.pages import words
from engine.pages.answer.number_rows import Number, Rows, amps, volts
from engine.pages.answer.other_units import TERMINALS
from engine.sizing.inverter import efficiency
from engine.sizing.loads import daily_energy_wh, running_current_a
from engine.sizing.shore import neutral_current_split_a
from engine.sizing.terminals import (
    SIDES,
    Function,
    Refusal,
    ferrule_area_mm2,
    ferrule_refusal,
    strip_length_m,
)
from engine.standards.locked_rotor import START_REDUCTIONS, StartReduction
from engine.units import show
from engine.wording.sentences import Sentences
from engine.wording.tongue import all_of, plain


def loads(rows: Rows) -> Iterator[Number]:
    """What runs in a day, one row an appliance, and what that comes to."""
    total_wh = 0.0
    for load in rows.needs.loads:
        each_wh = daily_energy_wh(load.running_w, load.hours, load.duty)
        total_wh += load.count * each_wh
        duty = rows.say("load-duty", duty=show(load.duty, "share")) if load.duty < 1 else ""
        name = load.name
        if load.count > 1:
            name = rows.say("load-name", count=plain(load.count), name=load.name)
        yield Number(
            name,
            rows.say(
                "load-line",
                watts=show(load.running_w, "W"),
                hours=rows.count("count-hours", load.hours, 1),
                duty=duty,
                energy=show(load.count * each_wh, "Wh"),
            ),
        )
    yield rows.row("day-total", show(total_wh, "Wh"))
    yield rows.row("day-battery", show(rows.design.bank.energy.total_wh / rows.needs.nights, "Wh"))


def service(rows: Rows) -> Iterator[Number]:
    """The cord, the pedestal, breakers, wires, and what all at once draws through them."""
    needs, ac, shore = rows.needs, rows.design.ac, rows.advice.charging.shore
    legs = rows.count("count-legs", needs.service.legs)
    yield rows.row(
        "service",
        rows.say(
            "service-line",
            amps=amps(needs.service.amps),
            volts=volts(needs.service.volts),
            legs=legs,
        ),
    )
    if needs.shore_legs < needs.service.legs:
        yield rows.row("post", rows.say("post-adapter", amps=amps(shore.post_a)))
    elif shore.post_a < needs.service.amps:
        yield rows.row("post", amps(shore.post_a))
    passed = 1 if ac.joint_a else ac.poles * rows.design.candidate.units
    yield rows.row(
        "passed",
        rows.count("passed-line", passed, amps=amps(ac.input_a)),
    )
    yield from _neutral(rows)
    poles = rows.count("count-poles", ac.breaker_poles)
    of = rows.say("both-units" if ac.breakers < rows.design.candidate.units else "each-unit")
    yield rows.row("breaker-in", rows.say("poles", amps=amps(ac.input_a), poles=poles), of=of)
    yield rows.row("breaker-out", rows.say("poles", amps=amps(ac.output_a), poles=poles), of=of)
    if ac.main_a:
        yield rows.row(
            "breaker-main",
            rows.say("poles", amps=amps(ac.main_a), poles=rows.count("count-poles", 1)),
        )
    if ac.joint_a:
        yield rows.row(
            "breaker-joint",
            rows.say("poles", amps=amps(ac.joint_a), poles=rows.count("count-poles", 1)),
        )
    yield rows.row("ac-wires", rows.say("ac-wires-line", size=ac.output_awg, ground=ac.ground_awg))
    yield rows.row("limit", words.limit_text(rows.guide, rows.design, shore))
    facts = {"amps": amps(shore.load_a), "limit": amps(shore.input_limit_a)}
    if shore.overloaded:
        helped = rows.design.candidate.inverter.generator_support
        missing = amps(shore.missing_a)
        said = rows.say("adds-shore" if helped else "over-shore", missing=missing, **facts)
        yield rows.row("at-once-shore", said)
    else:
        yield rows.row("at-once-shore", rows.say("fits-shore", **facts))


def _neutral(rows: Rows) -> Iterator[Number]:
    supply, needs = rows.design.supply, rows.needs
    each = [running_current_a(leg.demand.apparent_va, needs.service.volts) for leg in supply.legs]
    if len(each) == 2:
        yield rows.row("neutral-split", amps(neutral_current_split_a(*each)))
    elif needs.service.legs == 2 and needs.whole:
        yield rows.row("neutral-phase", amps(each[0]))


def unit(rows: Rows) -> Iterator[Number]:
    """What each side carries and starts, and what the unit gives."""
    yield from _legs(rows)
    yield from _gives(rows)


def _legs(rows: Rows) -> Iterator[Number]:
    supply = rows.design.supply
    for index, leg in enumerate(supply.legs, start=1):
        name = rows.say("leg", number=plain(index)) if len(supply.legs) > 1 else ""
        name = name or rows.say("leg-only")
        runs = all_of(leg.loads) or rows.say("nothing")
        yield rows.row("leg-runs", runs, leg=name)
        yield rows.row(
            "leg-load",
            rows.say(
                "leg-load-line",
                watts=show(leg.demand.real_w, "W"),
                va=show(leg.demand.apparent_va, "VA"),
            ),
            leg=name,
        )
        if leg.demand.starter:
            worst = show(leg.demand.worst_va, "VA")
            yield rows.row("leg-start", worst, leg=name, name=leg.demand.starter)


def _gives(rows: Rows) -> Iterator[Number]:
    supply, candidate = rows.design.supply, rows.design.candidate
    inverter = candidate.inverter
    yield rows.row("gives", show(supply.continuous_w, "W"))
    yield rows.row("gives-va", show(supply.apparent_va, "VA"))
    yield rows.row("gives-start", show(supply.surge_va, "VA"))
    each_w = supply.total_w / candidate.units
    yield rows.row("efficiency", show(efficiency(supply.curve, each_w), "share"))
    yield rows.row(
        "idle",
        rows.say("idle-line", idle=show(inverter.idle, "W"), search=show(inverter.search, "W")),
    )
    yield rows.row("stops-at", volts(inverter.low_voltage_cutoff))
    if candidate.soft_starters or rows.needs.soft_start_fitted:
        planned = rows.guide.planning.soft_start_reduction
        yield rows.row(
            "soft-range",
            rows.say(
                "soft-range-line",
                share=show(planned, "share"),
                rated=_from_to(START_REDUCTIONS["locked-rotor"]),
                logged=_from_to(START_REDUCTIONS["measured-peak"]),
            ),
        )
    sides = (inverter.height, inverter.width, inverter.depth)
    yield rows.row("unit-size", " × ".join(show(side, "m") for side in sides))
    yield rows.row("unit-weight", show(inverter.mass, "kg"))


def _from_to(found: StartReduction) -> str:
    return f"{show(found.least, 'share')} – {show(found.most, 'share')}"


WIRES = tuple(f"{side}-{function}" for side in SIDES for function in get_args(Function))
REFUSALS = get_args(Refusal)


def refusal_text(numbers: Sentences, refusal: Refusal, barrel_m: float, depth_m: float) -> str:
    """Why a ferrule does not suit a push-in terminal."""
    facts = {"barrel": f"{plain(barrel_m * 1000)} mm", "depth": f"{plain(depth_m * 1000)} mm"}
    return numbers.one_of("ferrule-", refusal, REFUSALS, **facts)


def terminals(rows: Rows) -> Iterator[Number]:
    """Every conductor end of a unit: wire, strip length, ferrule; then tools and torque."""
    candidate, ends = rows.design.candidate, rows.design.ac.ends_per_unit
    terminal = candidate.inverter.terminals
    yield rows.row(
        "ac-terminals",
        rows.say(
            "ac-terminals-line",
            kind=rows.one_of("terminals-are-", terminal.kind, TERMINALS),
            smallest=terminal.smallest_awg,
            largest=terminal.largest_awg,
        ),
    )
    count = plain(len(ends) * candidate.units)
    yield rows.row(
        "ends",
        rows.say(
            "ends-line",
            count=count,
            each=plain(len(ends)),
            units=rows.count("count-units", candidate.units),
        ),
    )
    yield from _ends(rows)
    if terminal.kind == "push-in":
        depth_m = terminal.conductor_depth
        barrel = f"{plain(depth_m * 1000)} mm"
        yield rows.row("ferrules", rows.say("ferrules-line", count=count, barrel=barrel))
        refusal = ferrule_refusal(True, depth_m, depth_m)
        if refusal:
            yield rows.row("insulated", refusal_text(rows.numbers, refusal, depth_m, depth_m))
    else:
        yield rows.row("ferrules", rows.say("no-ferrules"))
    yield rows.row("tools-ac", rows.one_of("tools-", terminal.kind, TERMINALS))
    yield rows.row("torque", rows.say("torque-line"))


def _ends(rows: Rows) -> Iterator[Number]:
    terminal = rows.design.candidate.inverter.terminals
    depth_m = terminal.conductor_depth
    strip = show(strip_length_m(depth_m, insulated=False), "m")
    for end in rows.design.ac.ends_per_unit:
        facts = {"size": end.awg, "strip": strip}
        if terminal.kind == "push-in":
            area = f"{plain(ferrule_area_mm2(end.awg), 1)} mm²"
            barrel = f"{plain(depth_m * 1000)} mm"
            text = rows.say("end-push-in", area=area, barrel=barrel, **facts)
        else:
            text = rows.say("end-screw", **facts)
        yield Number(rows.one_of("wire-", f"{end.side}-{end.function}", WIRES), text)
