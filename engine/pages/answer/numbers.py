"""The numbers of a recommendation by subject: rows, cautions beside them, workings to open."""

from dataclasses import dataclass
from functools import cached_property

from engine.answer import Advice
from engine.model.guide import Guide
from engine.model.result import CautionNote, Working
from engine.pages.answer.keeping import existing
from engine.pages.answer.number_rows import Number, Rows
from engine.pages.answer.numbers_ac import loads, service, terminals, unit
from engine.pages.answer.numbers_dc import battery, cable, space
from engine.pages.answer.numbers_week import charging
from engine.pages.answer.workings import workings_of

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
SECTIONS = tuple(subject[0] for subject in SUBJECTS)


class Workings:
    """The arithmetic of a recommendation, written once it is asked for."""

    def __init__(self, guide: Guide, advice: Advice) -> None:
        self._guide = guide
        self._advice = advice

    @cached_property
    def all(self) -> tuple[Working, ...]:
        """Every step, in the order in which it was taken."""
        return workings_of(self._guide, self._advice)


@dataclass(frozen=True, slots=True)
class Section:
    """One subject of the numbers; `subjects` are those of its workings."""

    id: str
    title: str
    numbers: tuple[Number, ...]
    cautions: tuple[CautionNote, ...]
    subjects: tuple[str, ...]
    workings: Workings

    @property
    def steps(self) -> tuple[Working, ...]:
        """The steps that lead to its numbers."""
        if not self.subjects:
            return ()
        return tuple(each for each in self.workings.all if each.subject in self.subjects)


def sections_of(guide: Guide, advice: Advice) -> tuple[Section, ...]:
    """Every section in reading order; one without rows is left out."""
    rows, workings = Rows(guide, advice), Workings(guide, advice)
    found = (
        Section(
            id=section,
            title=guide.wording.page.one_of("section-", section, SECTIONS),
            numbers=tuple(write(rows)),
            cautions=tuple(n for n in advice.cautions if n.caution.beside == beside),
            subjects=subjects,
            workings=workings,
        )
        for section, write, beside, subjects in SUBJECTS
    )
    return tuple(section for section in found if section.numbers)
