"""The DC side as far as its run and its branches: what is asked of them, and what they cost."""

from typing import NamedTuple

from engine.advice.plan.branches import Branches, Feed, on_bank
from engine.advice.plan.dc_run import MainRun, main_run
from engine.advice.plan.dc_shelf import Run
from engine.advice.plan.shelf import cable_for
from engine.advice.plan.supply import low_battery_v, nameplate_w
from engine.kept import kept
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import Cable, Product
from engine.model.result import BankPlan, Branch, Candidate, Check, Supply, all_passed
from engine.sizing.charge_settings import COLDEST_CHARGED_C, cells_in_series, highest_charge_v
from engine.sizing.dc_circuit import bank_current_a
from engine.sizing.inverter import dc_current_a, input_w
from engine.sizing.short_circuit import required_interrupt_a
from engine.trace import step


class Asked(NamedTuple):
    """What the run is for: output and input of a unit, its current, and that of the bank.

    hot_w, hot_a : what one unit gives and draws on the hottest day
    """

    low_v: float
    unit_w: float
    unit_dc_w: float
    hot_w: float
    hot_a: float
    bank_a: float
    run: Run


class DcRun(NamedTuple):
    """The run to each unit and what hangs beside it, on the shelf and within its checks."""

    asked: Asked
    feed: Feed
    branches: tuple[Branch, ...]
    main: MainRun
    checks: tuple[Check, ...]


def begin_dc(
    candidate: Candidate, supply: Supply, bank: BankPlan, beside: Branches
) -> tuple[DcRun | None, tuple[Check, ...]]:
    """The run and its checks; None where the shelf lacks something or a check fails.

    beside: the branches of banks for these needs
    """
    guide, needs = beside.guide, beside.needs
    asked = _asked(guide, needs, candidate, supply, bank)
    system_v = candidate.inverter.dc_nominal
    feed = Feed(system_v, asked.low_v, asked.run.highest_v, asked.run.interrupt_a)
    branches = beside.of(feed)
    loads = asked.bank_a, lugs_at_bank(branches)
    main, checks = main_run(guide, needs, candidate, bank, asked.run, loads)
    checks += beside.house_checks(system_v)
    if main is None or not all_passed(checks):
        return None, checks
    return DcRun(asked, feed, branches, main, checks), checks


def least_price(
    guide: Guide, needs: Needs, candidate: Candidate, planned: tuple[BankPlan, DcRun]
) -> float:
    """A price that no DC side with this run stays below."""
    bank, run = planned
    main, units = run.main, candidate.units
    bought: list[tuple[float, Product | Cable | None]] = [
        (units, main.fuse),
        (units, main.holder),
        (1, main.disconnect),
        (bank.parallel, main.strings.fuse),
        (bank.parallel, main.strings.holder),
    ]
    for each in run.branches:
        parts = each.fuse, each.holder, each.switch, each.kept_fuse, each.kept_holder
        bought += [(1, part) for part in parts]
    both_ways_m = 2 * units * main.cable.runs * needs.cable_m
    bought.append((both_ways_m, cable_for(guide, "dc", main.cable.size, 1)))
    return sum(count * article.price for count, article in bought if article)


def _asked(
    guide: Guide, needs: Needs, candidate: Candidate, supply: Supply, bank: BankPlan
) -> Asked:
    inverter = candidate.inverter
    low_v = low_battery_v(inverter.dc_nominal, inverter.low_voltage_cutoff)
    unit_w = nameplate_w(inverter.continuous)
    unit_dc_w = step("cable.unit", input_w, supply.curve, unit_w)
    hot_w = supply.continuous_w / candidate.units_per_leg
    current_a = step("cable.unit", dc_current_a, unit_dc_w, low_v)
    house_a = dc_current_a(bank.house_w, low_v)
    bank_a = step("fuse.switch", bank_current_a, current_a, candidate.units, house_a)
    highest_v = _highest_v(needs, bank)
    interrupt_a = required_interrupt_a(bank.short_circuit_a)
    run = Run(current_a, highest_v, interrupt_a, guide.planning.fuse_factor)
    hot_a = dc_current_a(input_w(supply.curve, hot_w), low_v)
    return Asked(low_v, unit_w, unit_dc_w, hot_w, hot_a, bank_a, run)


def _highest_v(needs: Needs, bank: BankPlan) -> float:
    """What a charger puts on the bank at most, in the cold of its place too [V]."""
    coldest_c = min(COLDEST_CHARGED_C, needs.weather.coldest_c)
    return _charged_v(bank.nominal_v, bank.battery.chemistry, coldest_c)


@kept("never", 256)
def _charged_v(nominal_v: float, chemistry: str, coldest_c: float) -> float:
    return highest_charge_v(cells_in_series(nominal_v, chemistry), chemistry, coldest_c)


def lugs_at_bank(branches: tuple[Branch, ...]) -> int:
    """Lugs of the branches at the battery or busbar, and as many at the shunt."""
    return sum(each.cable.runs for each in branches if on_bank(each) and each.cable)
