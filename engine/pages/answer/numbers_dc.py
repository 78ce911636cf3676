"""The numbers of the battery side: bank, batteries that are there, cable and fuse, place."""

from collections import Counter
from collections.abc import Iterator
from typing import get_args

from engine.advice.plan.bank import LEAD_ACID_RATE_H
from engine.advice.plan.branches import BRANCHES
from engine.pages import words
from engine.pages.answer.number_rows import Number, Rows, amps, volts
from engine.pages.answer.numbers_house import house
from engine.sizing.conductors import circular_mil_drop_v
from engine.sizing.metric import metric_equal_mm2
from engine.sizing.terminals import CrimperKind, crimper_kind
from engine.sizing.weight import payload_percent
from engine.standards import awg, overcurrent
from engine.units import show
from engine.wording.tongue import plain


def battery(rows: Rows) -> Iterator[Number]:
    """Bank, need, currents, and what decided how many."""
    bank, needs = rows.design.bank, rows.needs
    yield rows.row(
        "bank",
        rows.say(
            "bank-line",
            volts=volts(bank.nominal_v),
            capacity=f"{plain(bank.capacity_ah)} Ah",
            energy=show(bank.energy_wh, "Wh"),
        ),
    )
    yield rows.row("bank-gives", show(bank.usable_wh, "Wh"))
    lasting = bank.lasting_days(needs.nights)
    yield rows.row("lasts", rows.say("lasts-line", time=words.lasting(rows.numbers, lasting)))
    each = bank.battery
    yield rows.row("charge-from", show(each.lowest_charge_temperature, "degC"))
    yield rows.row("need", show(bank.need_wh, "Wh"))
    if bank.battery.kind.family.by_peukert:
        yield rows.row(
            "string-lead",
            rows.say(
                "string-lead-line",
                capacity=f"{plain(bank.string_ah)} Ah",
                current=amps(bank.mean_a / bank.parallel),
                rated=f"{plain(bank.battery.capacity)} Ah",
                hours=rows.count("count-hours", LEAD_ACID_RATE_H, 1),
            ),
        )
    yield from _currents(rows)


def _currents(rows: Rows) -> Iterator[Number]:
    bank, each = rows.design.bank, rows.design.bank.battery
    yield rows.row(
        "current",
        rows.say(
            "current-line",
            amps=amps(bank.continuous_a, 0),
            limit=amps(each.continuous_current * bank.parallel, 0),
        ),
    )
    yield rows.row(
        "start",
        rows.say(
            "start-line",
            amps=amps(bank.surge_a, 0),
            seconds=show(bank.surge_s, "s"),
            limit=amps(each.peak_current * bank.parallel, 0),
            held=show(each.peak_time, "s"),
        ),
    )
    yield rows.row(
        "strings",
        rows.say(
            "strings-line",
            energy=plain(bank.for_energy),
            current=plain(bank.for_current),
            start=plain(bank.for_surge),
            voltage=plain(bank.for_voltage),
        ),
    )
    yield rows.row("charge-limit", amps(bank.charge_limit_a, 0))


FUSE_PLACES = ("battery", "bars", "units")
"""Where the main fuse is: at the one battery, behind the busbars, or behind the switch."""
CRIMPERS = get_args(CrimperKind)


def cable(rows: Rows) -> Iterator[Number]:
    """Cable, what is lost and left, fuse, switch, links, bond, joint to the frame, lugs."""
    dc = rows.design.dc
    yield from _long_cable(rows)
    yield from _left_volts(rows)
    yield from _short_circuit(rows)
    yield rows.row("switch", amps(dc.disconnect.rating, 0))
    yield from _links(rows)
    yield rows.row("bond", rows.say("bond-line", size=dc.bond_awg))
    yield rows.row("frame", words.frame_name(rows.design))
    yield rows.row("lugs", "; ".join(_lugs(rows)))
    yield from _branches(rows)
    yield from house(rows)
    yield rows.row("lug-tool", rows.one_of("crimper-", crimper_kind(dc.cable.size), CRIMPERS))
    yield rows.row("precharge", rows.say("precharge-yes" if dc.precharge else "precharge-no"))


def _long_cable(rows: Rows) -> Iterator[Number]:
    dc = rows.design.dc
    run = dc.cable
    yield rows.row("cable", words.cable_name(rows.guide, rows.design))
    yield rows.row("length", show(dc.cable_m, "m"))
    at = "units" if rows.design.candidate.units > 1 else "bars" if dc.shared else "battery"
    text = rows.say(
        "fuse-line",
        amps=amps(dc.fuse.rating, 0),
        family=words.family_name(rows.guide, dc.fuse.family),
        interrupt=_kiloamps(dc.fuse.interrupt),
    )
    yield Number(rows.one_of("fuse-at-", at, FUSE_PLACES), text)
    yield rows.row("full-current", amps(dc.current_a, 0))
    yield rows.row("hot-current", amps(dc.hot_a, 0))
    yield rows.row("metric", f"{plain(metric_equal_mm2(run.size), 1)} mm²")
    yield rows.row("carries", amps(run.ampacity_a, 0))
    yield rows.row("conductor-heat", show(run.temperature_c, "degC"))
    share = f"{plain(run.drop_fraction * 100, 1)} %"
    yield rows.row("lost", rows.say("lost-line", volts=volts(run.drop_v, 2), share=share))
    mils = awg.circular_mils(run.size)
    by_mils_v = circular_mil_drop_v(dc.current_a, dc.cable_m, mils, run.runs)
    yield rows.row("lost-cmil", volts(by_mils_v, 2))


def _left_volts(rows: Rows) -> Iterator[Number]:
    dc = rows.design.dc
    stops = volts(rows.design.candidate.inverter.low_voltage_cutoff)
    yield rows.row("terminal", rows.say("terminal-line", volts=volts(dc.terminal_v), stops=stops))
    yield rows.row(
        "start-voltage",
        rows.say("start-none") if dc.start_v is None else volts(dc.start_v),
    )


def _short_circuit(rows: Rows) -> Iterator[Number]:
    yield rows.row("short", _kiloamps(rows.design.bank.short_circuit_a))
    yield rows.row("short-basis", _short_basis(rows))
    yield rows.row(
        "fuse-place",
        rows.say(
            "fuse-place-line",
            vehicle=show(overcurrent.FUSE_PLACE_VEHICLE_M, "m"),
            bare=show(overcurrent.FUSE_PLACE_M, "m"),
            sheathed=show(overcurrent.FUSE_PLACE_SHEATHED_M, "m"),
        ),
    )


def _short_basis(rows: Rows) -> str:
    """Which figure is planned on, and why: the higher of an estimate and of the battery's data."""
    bank = rows.design.bank
    per_ah = f"{plain(bank.battery.kind.family.short_a_per_ah)} A"
    stated_a = bank.battery.short_circuit * bank.parallel
    if bank.kept:
        return rows.say("short-basis-theirs", per_ah=per_ah)
    if stated_a < bank.short_circuit_a:
        return rows.say("short-basis-estimate", per_ah=per_ah, stated=_kiloamps(stated_a))
    return rows.say("short-basis-stated")


def _links(rows: Rows) -> Iterator[Number]:
    dc, bank = rows.design.dc, rows.design.bank
    if bank.count == 1 and dc.battery_fuse is None:
        return
    runs = f"{plain(dc.link.runs)} × " if dc.link.runs > 1 else ""
    carries = amps(dc.link.ampacity_a, 0)
    yield rows.row(
        "links",
        rows.say(
            "links-line",
            runs=runs,
            size=dc.link.size,
            amps=amps(dc.string_a, 0),
            carries=carries,
        ),
    )
    if dc.battery_fuse:
        text = rows.say(
            "fuse-line",
            amps=amps(dc.battery_fuse.rating, 0),
            family=words.family_name(rows.guide, dc.battery_fuse.family),
            interrupt=_kiloamps(dc.battery_fuse.interrupt),
        )
        yield rows.row("battery-fuse", text)


def _branches(rows: Rows) -> Iterator[Number]:
    """Cable and fuse of each charger, of the converter and of the 12 V circuits."""
    for branch in rows.design.dc.branches:
        text = rows.say("branch-none")
        if branch.cable:
            text = rows.say(
                "branch-line",
                amps=amps(branch.current_a),
                cable=words.runs_name(branch.cable),
                length=show(branch.length_m, "m"),
                carries=amps(branch.cable.ampacity_a, 0),
                share=f"{plain(branch.cable.drop_fraction * 100, 1)} %",
            )
        fuse = rows.say("branch-unfused")
        if branch.fuse:
            fuse = rows.say(
                "branch-fuse",
                amps=amps(branch.fuse.rating, 0),
                family=words.family_name(rows.guide, branch.fuse.family),
            )
        elif branch.fused:
            fuse = rows.say("branch-none")
        yield Number(rows.one_of("branch-", branch.id, BRANCHES), f"{text}; {fuse}")


def _lugs(rows: Rows) -> Iterator[str]:
    counts: Counter[tuple[str, str]] = Counter()
    for each in rows.design.dc.conductors:
        for stud in filter(None, each.studs):
            counts[each.size, stud] += each.quantity
    for size, stud in sorted(counts, key=lambda key: (awg.rank(key[0]), key[1])):
        yield rows.say("lugs-line", count=plain(counts[size, stud]), size=size, stud=stud)


def _kiloamps(value_a: float) -> str:
    return f"{plain(value_a / 1000, 1)} kA"


def space(rows: Rows) -> Iterator[Number]:
    """How it hangs, its heat and air, and its weight."""
    design, needs = rows.design, rows.needs
    cooling, asked = design.cooling, design.candidate.inverter.clearances
    yield rows.row("mounted", rows.guide.question("mount").choice(needs.mount).label)
    yield rows.row("clearance", words.clearance_text(rows.guide, asked))
    yield rows.row("heat", show(cooling.heat_w, "W"))
    yield rows.row("air", show(cooling.airflow_m3_per_h, "m^3/h"))
    yield rows.row("vents", words.vent_text(cooling.vent_area_m2))
    if cooling.fan:
        fans = rows.say("fan-line", count=plain(cooling.fans), name=cooling.fan.name)
        yield rows.row("fan", fans)
    else:
        yield rows.row("fan", rows.say("fan-lacking" if cooling.fans else "fan-none"))
    mass = show(design.mass_kg, "kg")
    if needs.payload_kg:
        share = show(payload_percent(design.mass_kg, needs.payload_kg) / 100, "share")
        yield rows.row("weight", rows.say("weight-share", mass=mass, share=share))
    else:
        yield rows.row("weight", mass)
