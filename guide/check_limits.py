"""Limits that contradict each other, and figures that no real thing has."""

from collections.abc import Iterable, Iterator
from typing import Any

from engine.model.guide import AimMeasure, Priority
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
    yield from _below_zero(content)


def _below_zero(content: ContentRead) -> Iterator[Fault]:
    """What counts less than nothing, among the priorities and the aims."""
    priorities = content.priorities.value
    if priorities is None:
        return
    places: list[tuple[Place, tuple[Priority | AimMeasure, ...]]] = [
        (("list",), priorities.list),
        *((("aims", at, "list"), aim.list) for at, aim in enumerate(priorities.aims)),
    ]
    for place, measures in places:
        for at, measure in enumerate(measures):
            if measure.counts < 0:
                yield content.priorities.fault(
                    (*place, at, "counts"),
                    f"“{measure.measure}”, counts",
                    "below zero it would make the worse setup win",
                    "Write zero or more.",
                )
    for at, aim in enumerate(priorities.aims):
        if aim.lasts < 0:
            yield content.priorities.fault(
                ("aims", at, "lasts"),
                f"“{aim.id}”, lasts",
                "no bank lasts less than no time",
                "Write 0, or how many times as long it must last.",
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
