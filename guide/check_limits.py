"""Limits that contradict each other, and figures that no real thing has."""

from collections.abc import Iterable, Iterator
from typing import Any

from guide.content_read import Parts
from guide.fault import Fault
from guide.limit_rules import RULES, Limit
from guide.limit_rules_plans import APPLIANCE, PLANNING
from guide.reading import Place, Record


def limits(parts: Parts) -> Iterator[Fault]:
    """All contradictions, entry by entry."""
    for records in parts.catalogue.values():
        for record in records:
            if record.value is not None:
                yield from _broken(record, _rules_for(record.value))
    for appliance in parts.appliances:
        if appliance.value is not None:
            yield from _broken(appliance, APPLIANCE)
    if parts.planning.value is not None:
        yield from _broken(parts.planning, PLANNING)
    if parts.priorities.value is not None:
        for at, priority in enumerate(parts.priorities.value.list):
            if priority.counts < 0:
                yield parts.priorities.fault(
                    ("list", at, "counts"),
                    f"“{priority.measure}”, counts",
                    "below zero it would make the worse set-up win",
                    "Write zero or more.",
                )


def _rules_for(product: Any) -> Iterator[Limit]:
    for kind, rules in RULES:
        if isinstance(product, kind):
            yield from rules


def _broken(record: Record[Any], rules: Iterable[Limit]) -> Iterator[Fault]:
    for rule in rules:
        if not rule.holds(record.value):
            path: Place = tuple(rule.field.split("."))
            what = f"“{record.id}”, {path[-1]}" if record.id else f"“{path[-1]}”"
            yield record.fault(path, what, rule.why, rule.mend)
