"""Limits that contradict each other, and figures that no real thing has."""

from collections.abc import Iterable, Iterator
from typing import Any

from guide.content_read import ContentRead
from guide.fault import Fault
from guide.limit_rules import RULES, Limit
from guide.limit_rules_plans import APPLIANCE, PLANNING
from guide.reading import Place, Record


def limits(content: ContentRead) -> Iterator[Fault]:
    """All contradictions, entry by entry."""
    for records in content.catalogue.values():
        for record in records:
            if record.value is not None:
                yield from _broken(record, _rules_for(record.value))
    for appliance in content.appliances:
        if appliance.value is not None:
            yield from _broken(appliance, APPLIANCE)
    if content.planning.value is not None:
        yield from _broken(content.planning, PLANNING)
    if content.priorities.value is not None:
        for at, priority in enumerate(content.priorities.value.list):
            if priority.counts < 0:
                yield content.priorities.fault(
                    ("list", at, "counts"),
                    f"“{priority.measure}”, counts",
                    "below zero it would make the worse setup win",
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
