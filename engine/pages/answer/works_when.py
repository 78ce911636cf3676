"""The table of what works when, as texts: for the page, paper, data and terminal."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from engine.advice.judge.lasting import heavy_hours
from engine.advice.judge.works_when import Source, WorksRow, WorksWhen, works_when
from engine.model.guide import Guide
from engine.model.needs import Load, Needs
from engine.model.result import Design
from engine.pages.answer.run_sentence import short_names
from engine.standards.services import LARGEST_HOUSEHOLD_A
from engine.units import show
from engine.wording.sentences import Sentences
from engine.wording.tongue import plain

WORKS = ("yes", "one", "no")
KINDS = ("generator", "battery", "driving")


@dataclass(frozen=True, slots=True)
class WorksLine:
    """Appliances that work alike on every source: their names and a word for each source.

    listed: whether they are planned for; the others such a rig often has
    """

    names: str
    cells: tuple[str, ...]
    listed: bool

    @property
    def title(self) -> str:
        """The names at the head of a row."""
        return self.names[:1].upper() + self.names[1:]


@dataclass(frozen=True, slots=True)
class WorksView:
    """The table as it is read: what heads its columns, its lines, and all that is planned for."""

    heads: tuple[str, ...]
    lines: tuple[WorksLine, ...]
    planned: str


def works_view(guide: Guide, needs: Needs, design: Design) -> WorksView:
    """The table of a recommendation."""
    found, page = works_when(guide, needs, design), guide.wording.page
    groups: dict[tuple[Any, ...], list[WorksRow]] = {}
    for row in found.rows:
        groups.setdefault((row.works, row.listed, len(row.loads) > 1), []).append(row)
    short = short_names([row.loads[0].name for row in found.rows])
    lines = []
    for (works, listed, light), rows in groups.items():
        names = page["works-light"] if light else ", ".join(_names(rows, short, needs.loads))
        cells = tuple(page.one_of("works-", each, WORKS) for each in works)
        lines.append(WorksLine(names, cells, listed))
    lines.sort(key=lambda line: not line.listed)
    heads = tuple(source_name(page, source) for source in found.sources)
    return WorksView(heads, tuple(lines), _planned(page, needs))


def _names(rows: Sequence[WorksRow], short: dict[str, str], own: Sequence[Load]) -> list[str]:
    counts: dict[str, int] = {}
    for load in own:
        counts[load.name] = counts.get(load.name, 0) + load.count
    names = dict.fromkeys(row.loads[0].name for row in rows)
    return [f"{counts[n]} × {short[n]}" if counts.get(n, 0) > 1 else short[n] for n in names]


def source_name(page: Sentences, source: Source) -> str:
    """What a source is called at the head of its column."""
    amps = plain(source.amps)
    if source.kind == "post" and source.amps <= LARGEST_HOUSEHOLD_A:
        return page.say("works-outlet", amps=amps)
    if source.kind == "post":
        return page.say("works-adapter" if source.adapter else "works-post", amps=amps)
    return page.one_of("works-", source.kind, KINDS)


def _planned(page: Sentences, needs: Needs) -> str:
    """Everything that is planned for, with its watts and hours, in one line."""
    each = [
        page.say(
            "works-load",
            name=f"{load.count} × {load.name}" if load.count > 1 else load.name,
            watts=show(load.running_w, "W"),
            hours=plain(load.hours, 2),
        )
        for load in needs.loads
    ]
    return " · ".join(each)


def works_lines(guide: Guide, needs: Needs, design: Design) -> list[str]:
    """The table for a terminal: a line for each source."""
    found, page = works_view(guide, needs, design), guide.wording.page
    lines = [f"{page['works-title']}:"]
    for at, head in enumerate(found.heads):
        lines.append(f"  {head}")
        for word in (page.one_of("works-", each, WORKS) for each in WORKS):
            alike = [line for line in found.lines if line.cells[at] == word]
            own = [line.names for line in alike if line.listed]
            others = ", ".join(line.names for line in alike if not line.listed)
            own += [f"{page['works-not-listed']}: {others}"] if others else []
            lines += [f"    {word}: {'; '.join(own)}"] if own else []
    return [*lines, f"  {page['works-how']}", f"  {page['works-cord']}", f"  {page['works-road']}"]


def works_data(found: WorksWhen) -> dict[str, Any]:
    """The table as plain lists and mappings: "yes", "one" at a time, "no"."""
    ids = [source.id for source in found.sources]
    return {
        "sources": [
            {"id": source.id, "amps": source.amps or None, "adapter": source.adapter}
            for source in found.sources
        ],
        "appliances": [
            {
                "id": load.id or None,
                "name": load.name,
                "listed": row.listed,
                "works": dict(zip(ids, row.works, strict=True)),
            }
            for row in found.rows
            for load in row.loads
        ],
    }


def loads_data(needs: Needs) -> list[dict[str, Any]]:
    """Everything that is planned for, an entry each."""
    return [
        {
            "id": load.id or None,
            "name": load.name,
            "count": load.count,
            "bus": load.bus.id,
            "watts": load.running_w,
            "hours": load.hours,
            "heavy": load.heavy,
            "at_once": sum(
                (each.name, each.running_w) == (load.name, load.running_w) for each in needs.running
            ),
        }
        for load in needs.loads
    ]


def lasts_data(needs: Needs, design: Design) -> dict[str, Any]:
    """How long a full bank lasts: days as planned, and hours with the heaviest user always on."""
    heavy = heavy_hours(needs, design)
    return {
        "days": design.bank.lasting_days(needs.nights),
        "heavy": heavy and {"name": heavy.load.name, "hours": heavy.hours},
    }
