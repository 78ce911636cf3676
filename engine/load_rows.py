"""The loads as rows of the form: what is listed, else assumed, each as it stands in its fields."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from engine.model.answers import Answers, LoadItem, LoadList, Quantity
from engine.model.buses import BUSES, LEG, LEGS
from engine.model.guide import Guide, Rig
from engine.model.needs import Load
from engine.needs import load_listed, load_of, running_of, usual_counts
from engine.typed.amounts import digits_of
from engine.typed.answers import AT_ONCE, NO_LOADS, load_lines, name_and_count
from engine.typed.load_names import appliance_called, appliance_named
from engine.units import UnitError, read_short
from engine.usual import usual_case

AtOnce = Literal["yes", "no", "always"]


@dataclass(frozen=True, slots=True)
class LoadRow:
    """One load as it stands in the form.

    key: what its fields are called by · appliance: its id, "" for one of the visitor's own
    in_use: whether it counts; one that such a rig usually has stands there unticked otherwise
    count, watts, hours: as they stand in the fields, watts and hours without their units
    at_once: whether it runs together with the others; "always" where nothing else can be chosen
    fixed: it counts whatever the list says
    """

    key: str
    appliance: str
    name: str
    in_use: bool
    count: str
    watts: str
    hours: str
    bus: str = ""
    at_once: AtOnce = "no"
    fixed: bool = False


def rows_of(guide: Guide, answers: Answers) -> tuple[LoadRow, ...]:
    """What is listed, else assumed, and then what such a rig usually has besides, unticked.

    A list that could not be read stands as it was typed, so that it can be mended row by row.
    """
    values = usual_case(guide, answers).values
    rig, heavy_count = guide.rig(str(values["rig"])), int(str(values["heavy"]))
    usual = usual_counts(rig, str(values.get("biggest", "")), heavy_count)
    listed = values.get("loads")
    unread = next((each.typed for each in answers.faults if each.question == "loads"), "")
    if isinstance(listed, LoadList):
        rows = _ticked(guide, listed.items, heavy_count)
    elif unread == NO_LOADS:
        rows = []
    elif unread:
        rows = _mendable(guide, load_lines(unread), rig, heavy_count)
    else:
        rows = _ticked(guide, usual_items(guide, usual), heavy_count)
    if values.get("v240") == "yes" and not any(_bus(guide, row) == LEGS.id for row in rows):
        appliance = guide.appliance(guide.planning.appliance_240)
        item = LoadItem(appliance.id, appliance.name, 1, None, None)
        rows.append(replace(_row(guide, item, "always"), fixed=True))
    there = {row.appliance for row in rows}
    left = {name: count for name, count in usual.items() if name not in there}
    rows += [
        replace(_row(guide, item, usually(guide, item.appliance)), in_use=False)
        for item in usual_items(guide, left)
    ]
    return tuple(_keyed(rows))


def usually(guide: Guide, appliance_id: str) -> AtOnce:
    """Whether it runs together with others where nobody says."""
    return "yes" if guide.appliance(appliance_id).at_once else "no"


def usual_items(guide: Guide, counts: Mapping[str, int]) -> tuple[LoadItem, ...]:
    """What such a rig usually has, as entries of a list."""
    return tuple(
        LoadItem(name, guide.appliance(name).name, count, None, None)
        for name, count in counts.items()
    )


def _ticked(guide: Guide, items: Iterable[LoadItem], heavy_count: int) -> list[LoadRow]:
    """The rows of a list; an entry of which only some run together with others makes two."""
    items = tuple(items)
    loads = [load_listed(guide, item) for item in items]
    running, hardest = counted(loads, heavy_count), hardest_of(loads)
    rows = []
    for item, load in zip(items, loads, strict=True):
        one = replace(load, count=1)
        together = min(running[one], item.count)
        running[one] -= together
        past = load.bus is LEGS or (load.heavy and load.bus is not LEG)
        always = past or (together == 1 and replace(one, said=None) == hardest)
        if together:
            same = replace(item, count=together)
            rows.append(_row(guide, same, "always" if always else "yes"))
        if together < item.count:
            rows.append(_row(guide, replace(item, count=item.count - together), "no"))
    return rows


def counted(loads: Iterable[Load], heavy_count: int) -> Counter[Load]:
    """How many of each load run at the same time."""
    return Counter(running_of(tuple(loads), heavy_count))


def hardest_of(loads: Iterable[Load]) -> Load | None:
    """The load that always runs together with others: the hardest to start on the inverter."""
    running = running_of(tuple(replace(each, said=None) for each in loads), 1)
    return next((each for each in running if each.heavy and each.bus is LEG), None)


def _row(guide: Guide, item: LoadItem, at_once: AtOnce) -> LoadRow:
    load = load_listed(guide, item)
    return LoadRow(
        key="",
        appliance=item.appliance,
        name=item.name,
        in_use=True,
        count=str(item.count),
        watts=digits_of(load.running_w),
        hours=digits_of(load.hours),
        bus=item.bus,
        at_once=at_once,
    )


def row_as_typed(guide: Guide, line: str, rig: Rig) -> LoadRow:
    """A row of a list of which something cannot be read."""
    head, *parts = [part.strip() for part in line.split(":")]
    name, count = name_and_count(head)
    known = appliance_named(guide, name) or appliance_called(guide, name, rig.carries)
    words = [part.lower() for part in parts]
    figures = [part for part in parts if part.lower() not in (*AT_ONCE, *BUSES)]
    if len(figures) == 1 and figure(figures[0], "h") and not figure(figures[0], "W", ""):
        figures = ["", *figures]
    watts, hours, *_ = (*figures, "", "")
    load = load_of(guide.appliance(known), count) if known else None
    return LoadRow(
        key="",
        appliance=known,
        name=guide.appliance(known).name if known else name,
        in_use=True,
        count=str(count),
        watts=_without_unit(watts, "W") or (digits_of(load.running_w) if load else ""),
        hours=_without_unit(hours, "h") or digits_of(load.hours if load else 1.0),
        bus=next((word for word in words if word in BUSES), ""),
        at_once="no" if _said(line) is False else "yes",
    )


def _mendable(guide: Guide, lines: list[str], rig: Rig, heavy_count: int) -> list[LoadRow]:
    """The rows of such a list; of what can be read, ticked what would run together with others."""
    rows = [row_as_typed(guide, line, rig) for line in lines]
    items = [item_of(guide, row) for row in rows]
    loads = [
        load_listed(guide, replace(item, at_once=_said(line))) if item else None
        for line, item in zip(lines, items, strict=True)
    ]
    running = counted([load for load in loads if load], heavy_count)
    return [
        row if load is None or running[replace(load, count=1)] else replace(row, at_once="no")
        for row, load in zip(rows, loads, strict=True)
    ]


def _said(line: str) -> bool | None:
    parts = [part.strip().lower() for part in line.split(":")]
    return next((AT_ONCE[part] for part in parts if part in AT_ONCE), None)


def figure(text: str, unit: str, bare: str | None = None) -> str:
    """A quantity in digits of this unit; "" where it is none."""
    try:
        return digits_of(read_short(text, unit, unit if bare is None else bare).value)
    except UnitError:
        return ""


def _without_unit(text: str, unit: str) -> str:
    return figure(text, unit) or text


def _bus(guide: Guide, row: LoadRow) -> str:
    return guide.appliance(row.appliance).bus.id if row.appliance else row.bus or LEG.id


def _keyed(rows: Iterable[LoadRow]) -> Iterable[LoadRow]:
    """The rows with names for their fields, that of the appliance or "own", numbered."""
    counts: Counter[str] = Counter()
    for row in rows:
        name = row.appliance or "own"
        counts[name] += 1
        yield replace(row, key=name if counts[name] == 1 else f"{name}.{counts[name]}")


def item_of(guide: Guide, row: LoadRow) -> LoadItem | None:
    """The entry of the list that a row stands for; None where something in it cannot be read."""
    try:
        watts, hours = read_short(row.watts, "W", "W"), read_short(row.hours, "h", "h")
        count = int(row.count)
    except ValueError:
        return None
    usual = guide.appliance(row.appliance) if row.appliance else None
    given_w, given_h = Quantity(watts.value, watts.text), Quantity(hours.value, hours.text)
    return LoadItem(
        row.appliance,
        row.name,
        count,
        None if usual and watts.value == usual.running else given_w,
        None if usual and hours.value == usual.hours else given_h,
        row.bus,
    )
