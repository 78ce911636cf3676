"""The hard checks: each compares one value with one limit; a setup that fails one is not shown
as fitting. Their words are in the guide's wording, under the same ids."""

from typing import NamedTuple

from engine.advice.plan.layouts import PARALLEL_PAIR, SPLIT_NATIVE, SPLIT_PAIR, SUB_PANEL, TWO_LEG
from engine.model.needs import PowerNeeds
from engine.model.result import Candidate, Check, Supply, all_passed
from engine.sizing.loads import running_current_a
from engine.standards.services import Service

CHECKS = (
    "covers-scope",
    "legs-passed",
    "panel-legs",
    "pass-through",
    "output-breaker",
    "supply-240",
    "temperature",
    "continuous-w",
    "apparent-va",
    "surge-va",
    "bank-voltage",
    "mount",
    "fit",
    "battery-series",
    "battery-parallel",
    "battery-current",
    "battery-surge",
    "charge-cold",
    "kept-energy",
    "kept-parallel",
    "kept-share",
    "fuse",
    "disconnect",
    "dc-voltage",
    "step-down",
    "house-battery",
    "house-feed",
    "cable",
    "terminal-voltage",
    "interrupt",
    "ac-conductor",
    "terminals",
    "payload",
    "budget",
)
"""Every check by its id, in the order in which people read them."""


class UnitNeeds(NamedTuple):
    """What of the needs decides whether a unit suits the rig, however much runs on it."""

    service: Service
    whole: bool
    needs_240: bool
    mount: str
    bank_v: float | None
    ambient_c: float


def unit_needs_of(needs: PowerNeeds) -> UnitNeeds:
    """That part of the needs."""
    return UnitNeeds(
        needs.service, needs.whole, needs.needs_240, needs.mount, needs.bank_v, needs.ambient_c
    )


class UnitChecks(NamedTuple):
    """The checks that need no more than the unit and its wiring, by their places among all.

    passed : whether all of them hold
    """

    first: tuple[Check, ...]
    before_power: tuple[Check, ...]
    before_place: tuple[Check, ...]
    passed: bool


class SupplyChecks(NamedTuple):
    """Those that need no battery: feed, power with start, and place, by their places among all."""

    feed: tuple[Check, ...]
    power: tuple[Check, ...]
    place: tuple[Check, ...]


def unit_checks(needs: UnitNeeds, candidate: Candidate) -> UnitChecks:
    """The checks that need no more than the unit and its wiring."""
    inverter = candidate.inverter
    first = (
        _yes(
            "covers-scope",
            (candidate.layout != SUB_PANEL) if needs.whole else feeds_some(candidate),
        ),
        _passes_legs(needs, candidate),
        Check("panel-legs", candidate.legs, needs.service.legs, "legs", True),
    )
    before_power = (
        *((_yes("supply-240", candidate.legs == 2),) if needs.needs_240 else ()),
        Check("temperature", needs.ambient_c, inverter.continuous[-1][0], "degC", True),
    )
    on_voltage = needs.bank_v is None or inverter.dc_nominal == needs.bank_v
    before_place = (
        *(() if needs.bank_v is None else (_yes("bank-voltage", on_voltage),)),
        _yes("mount", needs.mount in inverter.mounts),
    )
    every = (*first, *before_power, *before_place)
    return UnitChecks(first, before_power, before_place, all_passed(every))


def supply_checks(needs: PowerNeeds, candidate: Candidate, supply: Supply) -> SupplyChecks:
    """The checks that need no battery: power, start, heat, place."""
    return SupplyChecks(
        feed=(_passes_current(candidate, supply), _holds_breaker(needs, supply)),
        power=(
            Check("continuous-w", supply.planned_w, supply.continuous_w, "W", True),
            Check("apparent-va", supply.heaviest_va, supply.apparent_va, "VA", True),
            Check("surge-va", supply.worst_va, supply.surge_va, "VA", True),
        ),
        place=(Check("fit", supply.fit.margin_m, 0.0, "m", False),) if supply.fit else (),
    )


def as_read(unit: UnitChecks, supply: SupplyChecks) -> tuple[Check, ...]:
    """All of them as people read them."""
    return (
        *unit.first,
        *supply.feed,
        *unit.before_power,
        *supply.power,
        *unit.before_place,
        *supply.place,
    )


def feeds_some(candidate: Candidate) -> bool:
    """Whether the layout can feed a few circuits: one unit for them, or both legs for 240 V."""
    return candidate.layout in (SUB_PANEL, SPLIT_PAIR, SPLIT_NATIVE, PARALLEL_PAIR)


def _yes(check_id: str, holds: bool) -> Check:
    return Check(check_id, float(holds), 1.0, "yes", False)


def legs_of(candidate: Candidate) -> int:
    """How many legs of the shore service the layout passes through."""
    return 2 if candidate.layout in (TWO_LEG, SPLIT_PAIR, SPLIT_NATIVE) else 1


def _passes_legs(needs: UnitNeeds, candidate: Candidate) -> Check:
    wanted = needs.service.legs if needs.whole else 1
    return Check("legs-passed", legs_of(candidate), wanted, "legs", False)


def _passes_current(candidate: Candidate, supply: Supply) -> Check:
    """The breaker ahead of the unit may let all of its rating through the unit's relay."""
    return Check("pass-through", supply.feeder_a, candidate.inverter.pass_through, "A", True)


def _holds_breaker(needs: PowerNeeds, supply: Supply) -> Check:
    """What was asked to run at once may not trip the breaker ahead of the panel, on either leg."""
    asked_a = running_current_a(supply.heaviest_va, needs.service.volts)
    return Check("output-breaker", asked_a, supply.feeder_a, "A", True)
