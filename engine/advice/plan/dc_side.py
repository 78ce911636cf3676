"""The DC side of a candidate: current, the run to each unit, busbars, branches, frame joints."""

from collections.abc import Iterable
from typing import NamedTuple, TypeVar

from engine.advice.plan.branches import Branches, branch_conductors, feed_check
from engine.advice.plan.dc_begun import Asked, DcRun, begin_dc, lugs_at_bank
from engine.advice.plan.dc_cables import Chain, conductors_of
from engine.advice.plan.dc_run import MainRun
from engine.advice.plan.interrupt import interrupt_check
from engine.advice.plan.shelf import preference
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Busbar, Monitor
from engine.model.result import (
    BankPlan,
    Branch,
    Candidate,
    Check,
    DcConductor,
    DcPlan,
    Supply,
    all_passed,
)
from engine.sizing import grounding, protection
from engine.sizing.bank import inrush_needs_precharge
from engine.sizing.dc_circuit import loop_resistance_ohm, terminal_voltage_v
from engine.standards.overcurrent import MOST_LUGS_ON_A_STUD
from engine.trace import step

Priced = TypeVar("Priced", Busbar, Monitor)


class _Meeting(NamedTuple):
    """Where the cables meet: busbars where they are many, and the shunt of the monitor.

    load_bar : whether the negatives of the loads have a busbar of their own behind the shunt
    pairs : of busbars · bar_stud : "" where there are no busbars
    """

    shared: bool
    load_bar: bool
    pairs: int
    busbar: Busbar | None
    monitor: Monitor | None
    shunt_stud: str
    bar_stud: str


class _Voltage(NamedTuple):
    """What the way through bank and cables costs, running and at the hardest start."""

    loop_ohm: float
    terminal_v: float
    start_v: float | None
    precharge: bool


def plan_dc(
    candidate: Candidate, supply: Supply, bank: BankPlan, beside: Branches
) -> tuple[DcPlan | None, tuple[Check, ...]]:
    """Fuse and cable for the unit's full output, so that the owner may later use all of it.

    beside: see `begin_dc`
    """
    run, checks = begin_dc(candidate, supply, bank, beside)
    guide, needs = beside.guide, beside.needs
    return finish_dc(guide, needs, candidate, bank, run) if run else (None, checks)


def finish_dc(
    guide: Guide, needs: Needs, candidate: Candidate, bank: BankPlan, run: DcRun
) -> tuple[DcPlan | None, tuple[Check, ...]]:
    """The rest of a DC side whose run has passed its checks, with all of the checks."""
    asked, main, branches = run.asked, run.main, run.branches
    voltage = _voltage(needs, candidate, bank, main, asked.run.highest_v)
    checks = (*run.checks, *feed_check(guide, run.feed, branches))
    if not all_passed(checks):
        return None, checks
    meeting = _meeting(guide, candidate, bank, (main, branches), asked)
    plan = _plan(guide, needs, candidate, bank, (asked, main, voltage, branches, meeting))
    least_a = max(plan.current_a, main.fuse.rating)
    cutoff_v = candidate.inverter.low_voltage_cutoff
    return plan, (
        *checks,
        Check("cable", least_a, main.cable.ampacity_a, "A", True),
        Check("terminal-voltage", voltage.terminal_v, cutoff_v, "V", False),
        interrupt_check(plan, bank.short_circuit_a),
    )


def _voltage(
    needs: Needs, candidate: Candidate, bank: BankPlan, main: MainRun, highest_v: float
) -> _Voltage:
    loop_ohm = step(
        "cable.loop",
        loop_resistance_ohm,
        bank.string_ohm,
        bank.parallel,
        main.cable.resistance_ohm_per_m,
        needs.cable_m,
        main.cable.runs,
        candidate.units,
    )
    terminal_v = step("cable.loop", terminal_voltage_v, bank.dc_w, bank.nominal_v, loop_ohm)
    return _Voltage(
        loop_ohm=loop_ohm,
        terminal_v=terminal_v or 0.0,
        start_v=terminal_voltage_v(bank.start_dc_w, bank.nominal_v, loop_ohm),
        precharge=inrush_needs_precharge(
            highest_v, loop_ohm, bank.battery.peak_current, bank.parallel
        ),
    )


def _meeting(
    guide: Guide,
    candidate: Candidate,
    bank: BankPlan,
    joined: tuple[MainRun, tuple[Branch, ...]],
    asked: Asked,
) -> _Meeting:
    main, branches = joined
    at_bank = lugs_at_bank(branches)
    on_shunt = main.cable.runs * candidate.units + main.trunk.runs + at_bank
    load_bar = on_shunt > MOST_LUGS_ON_A_STUD
    # The battery's post has fewer lugs than the shunt: those of the units are not on it.
    shared = candidate.units > 1 or bank.parallel > 1 or load_bar
    least_a = protection.disconnect_minimum_a(asked.bank_a)
    volts = asked.run.highest_v
    monitor, busbar = _bearing(guide, least_a, volts)
    switch_stud = main.disconnect.stud
    return _Meeting(
        shared=shared,
        load_bar=load_bar,
        pairs=(2 if load_bar and bank.parallel > 1 else 1) if shared else 0,
        busbar=busbar if shared else None,
        monitor=monitor,
        shunt_stud=monitor.stud if monitor else switch_stud,
        bar_stud=(busbar.stud if busbar else switch_stud) if shared else "",
    )


_Chosen = tuple[Asked, MainRun, _Voltage, tuple[Branch, ...], _Meeting]


def _plan(
    guide: Guide, needs: Needs, candidate: Candidate, bank: BankPlan, chosen: _Chosen
) -> DcPlan:
    asked, main, voltage, branches, meeting = chosen
    bond_awg = grounding.chassis_bond(main.cable.size)
    frame_awg = grounding.negative_to_frame(main.trunk.size, bond_awg)
    chain = _chain(guide, needs, candidate, bank, (main, meeting, frame_awg))
    return DcPlan(
        low_v=asked.low_v,
        unit_w=asked.unit_w,
        unit_dc_w=asked.unit_dc_w,
        current_a=asked.run.current_a,
        hot_w=asked.hot_w,
        hot_a=asked.hot_a,
        highest_v=asked.run.highest_v,
        bank_a=asked.bank_a,
        cable=main.cable,
        cable_m=needs.cable_m,
        fuse=main.fuse,
        holder=main.holder,
        disconnect=main.disconnect,
        monitor=meeting.monitor,
        busbar=meeting.busbar,
        shared=meeting.shared,
        load_bar=meeting.load_bar,
        bar_pairs=meeting.pairs,
        trunk=main.trunk,
        string_a=main.strings.current_a,
        link=main.strings.link,
        battery_fuse=main.strings.fuse,
        battery_holder=main.strings.holder,
        battery_fuses=bank.parallel if main.strings.fuse else 0,
        fed_a=bank.parallel * main.strings.fuse.rating if main.strings.fuse else 0.0,
        # From the busbars over the one switch to the fuse of each unit; else one piece. In a sheath
        # 40 in are allowed, 33 CFR 183.455(b)(2).
        unfused_m=guide.planning.link_m * (2 if candidate.units > 1 else 1),
        bond_awg=bond_awg,
        frame_awg=frame_awg,
        precharge=voltage.precharge,
        loop_ohm=voltage.loop_ohm,
        terminal_v=voltage.terminal_v,
        start_v=voltage.start_v,
        conductors=_conductors(guide, chain, branches),
        branches=branches,
    )


def _chain(
    guide: Guide,
    needs: Needs,
    candidate: Candidate,
    bank: BankPlan,
    joined: tuple[MainRun, _Meeting, str],
) -> Chain:
    main, meeting, frame_awg = joined
    return Chain(
        units=candidate.units,
        series=bank.series,
        parallel=bank.parallel,
        trunk=main.trunk,
        cable=main.cable,
        cable_m=needs.cable_m,
        link=main.strings.link,
        link_m=guide.planning.link_m,
        frame_size=frame_awg,
        frame_m=guide.planning.bond_run_m,
        unit_stud=candidate.inverter.dc_stud,
        battery_stud=bank.battery.stud,
        holder_stud=main.holder.stud,
        switch_stud=main.disconnect.stud,
        shunt_stud=meeting.shunt_stud,
        bar_stud=meeting.bar_stud,
        load_bar=meeting.load_bar,
        battery_holder_stud=main.strings.holder.stud if main.strings.holder else "",
    )


def _conductors(
    guide: Guide, chain: Chain, branches: tuple[Branch, ...]
) -> tuple[DcConductor, ...]:
    source_stud = chain.bar_stud or chain.battery_stud
    back_stud = chain.bar_stud if chain.load_bar else chain.shunt_stud
    return (
        *conductors_of(chain),
        *branch_conductors(branches, source_stud, back_stud, guide.planning.link_m),
    )


@kept("guide", 512)
def _bearing(
    guide: Guide, least_a: float, highest_v: float
) -> tuple[Monitor | None, Busbar | None]:
    """The cheapest of each that bears current and voltage."""
    shelves = guide.catalogue.monitors, guide.catalogue.busbars
    return _cheapest(shelves[0], least_a, highest_v), _cheapest(shelves[1], least_a, highest_v)


def _cheapest(shelf: Iterable[Priced], least_a: float, highest_v: float) -> Priced | None:
    able = (each for each in shelf if each.rating >= least_a and each.volts >= highest_v)
    return min(able, key=preference, default=None)
