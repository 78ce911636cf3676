"""What stands on the run from the bank to each unit: fuse, cable, switch, strings, trunk."""

from typing import NamedTuple

from engine.advice.plan.dc_shelf import Fused, Run, choose_dc_cable, dc_sizes, fuse_of
from engine.advice.plan.shelf import preference
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Disconnect, Fuse, FuseHolder
from engine.model.result import BankPlan, Candidate, Check
from engine.sizing import conductors, protection
from engine.sizing.ampacity import dc_ampacity_a
from engine.sizing.bank import string_current_a
from engine.standards import awg
from engine.standards.overcurrent import MOST_LUGS_ON_A_STUD
from engine.trace import step


class Strings(NamedTuple):
    """Current of each string of batteries, its cable, and its own fuse where it needs one."""

    current_a: float
    link: conductors.CableChoice
    fuse: Fuse | None
    holder: FuseHolder | None


class MainRun(NamedTuple):
    """The run itself. `trunk` carries all units together; `cable` one of them."""

    fuse: Fuse
    holder: FuseHolder
    cable: conductors.CableChoice
    disconnect: Disconnect
    strings: Strings
    trunk: conductors.CableChoice


def main_run(
    guide: Guide,
    needs: Needs,
    candidate: Candidate,
    bank: BankPlan,
    asked: Run,
    loads: tuple[float, int],
) -> tuple[MainRun | None, tuple[Check, ...]]:
    """Everything on the run, or the check of the first thing that the shelf lacks.

    asked: what one unit draws
    loads: what all units and all that runs on DC draw [A], and the lugs of what hangs beside them
    """
    bank_a, beside = loads
    units = candidate.units
    fused, fuse_check = step("fuse.main", fuse_of, guide, asked)
    if fused is None:
        return None, (fuse_check,)
    fuse, holder = fused
    cable = _cable(guide, needs, candidate, asked.current_a, fuse.rating)
    if cable is None:
        fault = _cable_fault(guide, needs, candidate, asked.current_a, fuse.rating)
        return None, (fuse_check, fault)
    least_a = step("fuse.switch", protection.disconnect_minimum_a, bank_a)
    disconnect, disconnect_check = _switch(guide, least_a, asked.highest_v)
    checks = (fuse_check, disconnect_check)
    if disconnect is None:
        return None, checks
    guarded_a = fuse.rating * units
    # Two units have their fuses behind one switch; a crowded stud has busbars ahead of its fuse.
    bars = units > 1 or 2 * cable.runs + beside > MOST_LUGS_ON_A_STUD
    strings = _strings(guide, needs, bank, bank_a, (asked, guarded_a, bars))
    if isinstance(strings, Check):
        return None, (*checks, strings)
    trunk = cable if units == 1 else _short(guide, needs, bank, bank_a, guarded_a)
    if trunk is None:
        return None, (*checks, Check("cable", guarded_a, 0.0, "A", True))
    return MainRun(fuse, holder, cable, disconnect, strings, trunk), checks


def _cable(
    guide: Guide, needs: Needs, candidate: Candidate, current_a: float, fuse_a: float
) -> conductors.CableChoice | None:
    """The long cable to each unit: within its studs, ampacity, voltage drop and fuse."""
    inverter, planning = candidate.inverter, guide.planning
    return step(
        "cable.main",
        choose_dc_cable,
        current_a,
        needs.cable_m,
        inverter.dc_nominal,
        planning.drop_limit,
        planning.cable_insulation_c,
        needs.ambient_c,
        dc_sizes(guide, planning.cable_insulation_c, inverter.dc_largest_awg),
        min(planning.most_cable_runs, inverter.dc_lugs_per_stud),
        fuse_a,
    )


def _strings(
    guide: Guide, needs: Needs, bank: BankPlan, bank_a: float, main: tuple[Run, float, bool]
) -> Strings | Check:
    """Cable of each string, and the fuse that it bears: its own where it has one.

    Where the shelf lacks either, the check that says so.

    A fault in one string is fed by all the others, through its fuse: less than the whole bank, for
    which that fuse is chosen.
    A single string has one, too, where busbars lie between it and the main fuse.
    Without one it bears all that the main fuses pass, since one string may feed a fault alone.
    The law for boats allows a fuse of 150 % of the ampacity, 33 CFR 183.455(c)(1); here 100 %.
    """
    asked, guarded_a, bars = main
    fused: Fused | None = None
    battery = bank.battery
    string_a = bank_a
    if protection.per_battery_protection_needed(bank.parallel) or bars:
        role = "fuse.battery"
        string_a = step(role, string_current_a, battery.continuous_current, bank_a, bank.parallel)
        run = Run(string_a, asked.highest_v, asked.interrupt_a, asked.factor)
        fused, check = step(role, fuse_of, guide, run)
        if fused is None:
            return check
        guarded_a = fused[0].rating
    link = _short(guide, needs, bank, string_a, guarded_a)
    if link is None:
        return Check("cable", max(string_a, guarded_a), 0.0, "A", True)
    fuse, holder = fused or (None, None)
    return Strings(string_a, link, fuse, holder)


def _short(
    guide: Guide, needs: Needs, bank: BankPlan, current_a: float, guarded_a: float
) -> conductors.CableChoice | None:
    """A short piece near the bank: any size on the shelf, thick enough for current and fuse."""
    planning = guide.planning
    return choose_dc_cable(
        current_a,
        planning.link_m,
        bank.nominal_v,
        planning.drop_limit,
        planning.cable_insulation_c,
        needs.ambient_c,
        dc_sizes(guide, planning.cable_insulation_c, awg.SIZES[-1]),
        planning.most_cable_runs,
        guarded_a,
    )


@kept("guide", 512)
def _switch(guide: Guide, least_a: float, highest_v: float) -> tuple[Disconnect | None, Check]:
    able = [each for each in guide.catalogue.disconnects if each.volts >= highest_v]
    strong = [each for each in able if each.rating >= least_a]
    chosen = min(strong, key=preference, default=None)
    most_a = max((each.rating for each in able), default=0.0)
    limit_a = chosen.rating if chosen else most_a
    return chosen, Check("disconnect", least_a, limit_a, "A", True)


def _cable_fault(
    guide: Guide, needs: Needs, candidate: Candidate, current_a: float, fuse_a: float
) -> Check:
    """What the thickest cable that the unit takes lacks: ampacity, or voltage drop."""
    planning = guide.planning
    inverter = candidate.inverter
    runs = min(planning.most_cable_runs, inverter.dc_lugs_per_stud)
    sizes = dc_sizes(guide, planning.cable_insulation_c, inverter.dc_largest_awg)
    needed_a = max(current_a, fuse_a)
    if not sizes:
        return Check("cable", needed_a, 0.0, "A", True)
    thickest = max(sizes, key=awg.rank)
    runs = runs if conductors.may_run(thickest, runs) else 1
    ampacity_a = runs * dc_ampacity_a(thickest, planning.cable_insulation_c, needs.ambient_c)
    if ampacity_a < needed_a:
        return Check("cable", needed_a, ampacity_a, "A", True)
    resistance = conductors.resistance_ohm_per_m(thickest, planning.cable_insulation_c)
    drop_v = conductors.voltage_drop_v(current_a, needs.cable_m, resistance, runs)
    return Check("cable", drop_v, planning.drop_limit * inverter.dc_nominal, "V", True)
