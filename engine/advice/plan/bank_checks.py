"""The checks of a bank: what its maker allows against what the design needs."""

from engine.model.products import Battery
from engine.model.result import BankPlan, Check


def bank_checks(bank: BankPlan, coldest_c: float) -> tuple[Check, ...]:
    """The checks of the bank: what its maker allows against what the design asks."""
    battery = bank.battery
    return (
        Check("battery-series", bank.series, battery.most_in_series, "count", True),
        Check("battery-parallel", bank.parallel, battery.most_in_parallel, "count", True),
        Check(
            "battery-current",
            bank.continuous_a,
            battery.continuous_current * bank.parallel,
            "A",
            True,
        ),
        Check("battery-surge", bank.surge_a, _surge_limit_a(bank), "A", True),
        Check("charge-cold", coldest_c, charged_from_c(battery), "degC", False),
    )


def charged_from_c(battery: Battery) -> float:
    """Where it may be charged, and where something is known of what it then gives [°C]."""
    return max(battery.lowest_charge_temperature, battery.kind.discharge_from_c)


def _surge_limit_a(bank: BankPlan) -> float:
    battery = bank.battery
    holds = bank.surge_s <= battery.peak_time
    each = (
        max(battery.peak_current, battery.continuous_current)
        if holds
        else (battery.continuous_current)
    )
    return each * bank.parallel
