"""Changed rows of loads -> the list of loads, as links hold it."""

import re
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import replace

from engine.load_rows import (
    AtOnce,
    LoadRow,
    counted,
    figure,
    hardest_of,
    item_of,
    row_as_typed,
    rows_of,
    usual_items,
    usually,
)
from engine.model.answers import Answers, LoadItem
from engine.model.buses import LEG, LEGS
from engine.model.guide import Guide, Rig
from engine.model.needs import Load
from engine.needs import load_listed, usual_counts
from engine.typed.answers import NO_LOADS, load_lines, load_text, name_and_count
from engine.typed.load_names import appliance_called
from engine.usual import usual_case

FIELD = "loads."
"""How the name of every field of a row begins."""
ADD = "loads.add"
"""The field in which more loads are typed."""
USUAL = "usual"
"""The first entry of a list that stands for what is assumed: the rest comes beside it."""
_THOUSANDS = re.compile(r"(?<=\d),(?=\d{3}(?:\D|$))")
_APART = str.maketrans(dict.fromkeys(",;:*=&\n", " "))


def typed_loads(guide: Guide, answers: Answers, typed: Mapping[str, str]) -> str | None:
    """The list of loads, as links hold it, after these fields of the rows were changed.

    "" where it is what is assumed anyway; None where none of the fields is one of a row.
    """
    if not any(name.startswith(FIELD) for name in typed):
        return None
    before = rows_of(guide, answers)
    values = usual_case(guide, answers).values
    rig, heavy_count = guide.rig(str(values["rig"])), int(str(values["heavy"]))
    ticked = not _is_settled(guide, before, heavy_count)
    rows = []
    for old in before:
        new = _changed(old, typed)
        ticked = ticked or (new.in_use and old.in_use and new.at_once != old.at_once)
        if new.in_use and not new.fixed:
            rows.append(_as_heavy_now(guide, old, new))
    for line in load_lines(typed.get(ADD, "")):
        rows = _added(guide, rig, rows, line)
    texts = _texts(guide, rows, heavy_count, ticked=ticked)
    usual = usual_counts(rig, str(values.get("biggest", "")), heavy_count)
    assumed = [load_text(item) for item in usual_items(guide, usual)]
    return "" if Counter(texts) == Counter(assumed) else ",".join(texts) or NO_LOADS


def _changed(row: LoadRow, typed: Mapping[str, str]) -> LoadRow:
    def text(part: str, old: str) -> str:
        given = _THOUSANDS.sub("", typed.get(f"{FIELD}{row.key}.{part}", old))
        return given.translate(_APART).strip()

    at_once: AtOnce = row.at_once
    if at_once != "always":
        at_once = "yes" if text("together", at_once) == "yes" else "no"
    return replace(
        row,
        in_use=text("use", "yes" if row.in_use else "no") == "yes",
        count=text("count", row.count) or row.count,
        watts=text("watts", row.watts),
        hours=text("hours", row.hours),
        at_once=at_once,
    )


def _is_settled(guide: Guide, rows: Iterable[LoadRow], heavy_count: int) -> bool:
    """Whether the heavy loads that run together are those that do where nobody says."""
    read = [(row, item) for row in rows if row.in_use and (item := item_of(guide, row))]
    loads = [load_listed(guide, item) for _, item in read]
    running, wanted, hardest = counted(loads, heavy_count), Counter[Load](), hardest_of(loads)
    for (row, _), load in zip(read, loads, strict=True):
        wanted[replace(load, count=1)] += load.count if row.at_once != "no" else 0
    if hardest is not None:  # it runs with the others in any case
        wanted[hardest] = max(wanted[hardest], 1)
    heavy = {replace(each, count=1) for each in loads if each.heavy and each.bus is LEG}
    return all(running[one] == wanted[one] for one in heavy)


def _as_heavy_now(guide: Guide, old: LoadRow, new: LoadRow) -> LoadRow:
    """The changed row; ticked as usual where it became heavy or light and nobody ticked it."""
    items = (item_of(guide, old), item_of(guide, new))
    was, now = (load_listed(guide, each) if each else None for each in items)
    if was is None or now is None or was.heavy == now.heavy or old.at_once != new.at_once:
        return new
    return replace(new, at_once="yes" if now.at_once else "no")


def _added(guide: Guide, rig: Rig, rows: list[LoadRow], line: str) -> list[LoadRow]:
    """The rows with one more load; of what is there already another one."""
    row = row_as_typed(guide, line, rig)
    bare = ":" not in line
    for at, each in enumerate(rows):
        if bare and row.appliance and each.appliance == row.appliance and each.count.isdecimal():
            more = replace(each, count=str(int(each.count) + int(row.count)))
            return [*rows[:at], more, *rows[at + 1 :]]
    item = item_of(guide, row)
    heavy = item is not None and load_listed(guide, item).heavy
    usual = usually(guide, row.appliance) if row.appliance else "yes"
    row = replace(row, at_once="no" if heavy else usual)
    return [*rows, row]


def _texts(guide: Guide, rows: list[LoadRow], heavy_count: int, *, ticked: bool) -> list[str]:
    """The entries of the list; what runs together is said only where that is not so anyway."""
    said = ticked and not _is_settled(guide, rows, heavy_count)
    items = [_marked(guide, row, heavy_said=said) for row in rows]
    marked = [item for item in items if item]
    if len(marked) == len(rows):
        return [load_text(item) for item in _merged(marked)]
    # Something cannot be read: it is told, and nothing is lost.
    pairs = zip(rows, items, strict=True)
    return [load_text(item) if item else _text_of(row) for row, item in pairs]


def _marked(guide: Guide, row: LoadRow, *, heavy_said: bool) -> LoadItem | None:
    """The entry of a row, which says whether it runs together with others where that is needed."""
    item = item_of(guide, row)
    if item is None:
        return None
    load, on = load_listed(guide, item), row.at_once != "no"
    is_heavy = load.heavy or load.bus is LEGS
    said = heavy_said and load.bus is LEG if is_heavy else on != load.at_once
    return replace(item, at_once=on) if said else item


def _merged(items: list[LoadItem]) -> Iterable[LoadItem]:
    """Entries that are alike as one, with their counts added."""
    counts: Counter[LoadItem] = Counter()
    for item in items:
        counts[replace(item, count=1)] += item.count
    return (replace(item, count=count) for item, count in counts.items())


def _text_of(row: LoadRow) -> str:
    """A row that cannot be read, as its entry would be typed."""
    count = f"*{row.count}" if row.count != "1" else ""
    watts, hours = figure(row.watts, "W"), figure(row.hours, "h")
    parts = [
        f"{row.appliance or row.name}{count}",
        f"{watts}W" if watts else row.watts,
        f"{hours}h" if hours else row.hours,
        row.bus,
        "alone" if row.at_once == "no" else "",
    ]
    return ":".join(part for part in parts if part)


def with_more(guide: Guide, answers: Answers, more: str) -> str:
    """The list of loads that counts now, with one more."""
    return typed_loads(guide, answers, {ADD: more}) or ""


def beside_usual(text: str) -> str:
    """What a list has beside the usual things; "" where it does not begin with them.

    >>> beside_usual("usual,tv,fan*2"), beside_usual("tv")
    ('tv,fan*2', '')
    """
    first, _, more = text.partition(",")
    return more.strip() if first.strip().lower() == USUAL else ""


def beside_assumed(guide: Guide, answers: Answers, more: str) -> str:
    """The list of what is assumed, and of these where such a rig has them not anyway."""
    values = usual_case(guide, answers).values
    rig, heavy_count = guide.rig(str(values["rig"])), int(str(values["heavy"]))
    usual = usual_counts(rig, str(values.get("biggest", "")), heavy_count)
    new = []
    for line in load_lines(more):
        name, count = name_and_count(line)
        if ":" in line or usual.get(appliance_called(guide, name, rig.carries), 0) < count:
            new.append(line)
    if new:
        return with_more(guide, answers, "\n".join(new))
    return ",".join(load_text(item) for item in usual_items(guide, usual))


def usual_with(more: str) -> str:
    """The list of the usual things and of these, as links hold it.

    >>> usual_with("tv")
    'usual,tv'
    """
    return f"{USUAL},{more}"
