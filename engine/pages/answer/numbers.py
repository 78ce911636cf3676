"""The numbers of a recommendation by subject: rows, cautions beside them, workings to open."""

from dataclasses import dataclass

from engine.answer import Advice
from engine.model.guide import Guide
from engine.model.result import CautionNote, Working
from engine.pages.answer.number_rows import Number, Rows
from engine.pages.answer.numbers_ac import loads, service, terminals, unit
from engine.pages.answer.numbers_dc import battery, cable, existing, space
from engine.pages.answer.numbers_week import charging
from engine.units import significant

SHOWN, MOST_SHOWN = 4, 7

SUBJECTS = (
    # section id, its rows, cautions beside it, subjects of its workings
    ("loads", loads, "", ()),
    ("service", service, "service", ("service",)),
    ("unit", unit, "unit", ("power",)),
    ("battery", battery, "battery", ("battery",)),
    ("existing", existing, "", ()),
    ("cable", cable, "cable", ("cable", "fuse")),
    ("terminals", terminals, "terminals", ()),
    ("space", space, "space", ("cooling",)),
    ("charging", charging, "charging", ("charging",)),
)


@dataclass(frozen=True, slots=True)
class Step:
    """One working as it is read."""

    name: str
    formula: str
    numbers: str
    result: str
    source: str


@dataclass(frozen=True, slots=True)
class Section:
    """One subject of the numbers."""

    id: str
    title: str
    numbers: tuple[Number, ...]
    cautions: tuple[CautionNote, ...]
    steps: tuple[Step, ...]

    @property
    def lead(self) -> tuple[Number, ...]:
        """The figures that are read first; all of them where few would be left."""
        return self.numbers if len(self.numbers) <= MOST_SHOWN else self.numbers[:SHOWN]

    @property
    def rest(self) -> tuple[Number, ...]:
        """What is folded away until somebody asks."""
        return self.numbers[len(self.lead) :]


def sections_of(guide: Guide, advice: Advice) -> tuple[Section, ...]:
    """Every section in reading order; one without rows is left out."""
    rows = Rows(guide, advice)
    found = (
        Section(
            id=section,
            title=guide.wording.page[f"section-{section}"],
            numbers=tuple(write(rows)),
            cautions=tuple(n for n in advice.cautions if n.caution.beside == beside),
            steps=tuple(_step(w) for w in advice.workings if w.subject in subjects),
        )
        for section, write, beside, subjects in SUBJECTS
    )
    return tuple(section for section in found if section.numbers)


def _step(working: Working) -> Step:
    result = f"{significant(working.value, 4)} {working.unit}".strip()
    return Step(working.name, working.formula, working.numbers, result, working.source)
