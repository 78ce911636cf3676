"""Where the diagram's symbols lead on their page: to the part, its number, its caution."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

PARTS = {"bond": "inverter", "shore": "input-lead"}
"""What shows a part of another name."""


@dataclass(frozen=True, slots=True)
class Leads:
    """What a label leads to; the first of each that stands on the page.

    numbers : steps of the arithmetic, and rows of the numbers
    cautions : cautions of the content
    """

    numbers: tuple[str, ...]
    cautions: tuple[str, ...]


def _branch(name: str, *cautions: str) -> Leads:
    steps = tuple(
        f"{role}.{name}.{formula}"
        for role, formula in (("fuse", "fuse_minimum_a"), ("cable", "voltage_drop_v"))
    )
    return Leads(steps, cautions)


LEADS = {
    "shore": Leads(("service",), ("pedestal", "adapter", "live-inlet")),
    "cord-guard": Leads(("service",), ("open-neutral", "pedestal")),
    "main-panel": Leads(("breaker-in",), ("sub-panel-neutrals", "panel-label")),
    "breaker-main": Leads(("breaker-main",), ("shore-limit", "shore-overload", "live-inlet")),
    "breaker-in": Leads(("breaker-in",), ("shore-limit", "shore-overload", "live-inlet")),
    "inverter": Leads(("power.unit.leg_output_w",), ("multi-unit", "closed-space", "place")),
    "bond": Leads(("ac-wires",), ("one-bond",)),
    "bond-cable": Leads(("bond",), ("case-bond",)),
    "breaker-out": Leads(("breaker-out",), ("panel-label",)),
    "breaker-joint": Leads(("breaker-joint",), ("multi-unit",)),
    "panel": Leads(
        ("breaker-out",),
        ("one-source-two-legs", "no-240-off-battery", "open-neutral", "van-ground", "panel-label"),
    ),
    "sub-panel": Leads(("breaker-out",), ("sub-panel-neutrals", "van-ground", "panel-label")),
    "soft-starter": Leads(("soft-range",), ("soft-starter",)),
    "dc-cable": Leads(("cable.main.voltage_drop_v",), ("heavy-cable", "torque")),
    "fuse": Leads(("fuse.main.fuse_minimum_a",), ("fuse-at-battery",)),
    "disconnect": Leads(("fuse.switch.disconnect_minimum_a",), ("switching-order",)),
    "precharge": Leads(("precharge",), ("precharge",)),
    "busbar": Leads(("fuse.switch.bank_current_a",), ("torque",)),
    "solar-panel": _branch("solar", "panels"),
    "alternator-charger": _branch("alternator", "alternator"),
    "step-down": _branch("step-down", "motors-on-12-v", "alarms-above-12"),
    "house-12v": _branch("house", "alarms"),
    "dc48": _branch("dc48", "live-dc"),
    "soc-monitor": Leads(("fuse.switch.disconnect_minimum_a",), ("live-dc",)),
    "frame-cable": Leads(("frame",), ("case-bond",)),
    "battery-fuse": Leads(("fuse.battery.fuse_minimum_a",), ("parallel-batteries", "live-dc")),
    "battery": Leads(("battery.bank.strings_in_parallel", "bank"), ("live-dc", "vented-battery")),
}
"""By the label of the diagram."""

POINTED = frozenset(number for each in LEADS.values() for number in each.numbers)
"""Steps and rows that have an id of their own, since a symbol may lead to them."""


def part_id(label: str) -> str:
    """Id of a part's line in the parts list; "" for none."""
    return f"rig-part-{PARTS.get(label, label)}" if label else ""


def number_id(number: str) -> str:
    """Id of a row of the numbers, or of a step of the arithmetic."""
    return f"rig-number-{number}"


def caution_id(caution: str) -> str:
    """Id of a caution."""
    return f"rig-caution-{caution}"


def leads_of(label: str, targets: Collection[str]) -> Iterator[tuple[str, str]]:
    """Kind and target of each place that a label leads to beside its part."""
    found = LEADS[label]
    for kind, ids in (
        ("number", map(number_id, found.numbers)),
        ("caution", map(caution_id, found.cautions)),
    ):
        target = next((each for each in ids if each in targets), "")
        if target:
            yield kind, target
