"""The numbers of a recommendation by subject: rows, cautions beside them, workings to open."""

from dataclasses import dataclass

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


@dataclass(frozen=True, slots=True)
class Section:
    """One subject of the numbers."""

    id: str
    title: str
    numbers: tuple[Number, ...]
    cautions: tuple[CautionNote, ...]
    steps: tuple[Working, ...]


def sections_of(guide: Guide, advice: Advice) -> tuple[Section, ...]:
    """Every section in reading order; one without rows is left out."""
    rows, workings = Rows(guide, advice), workings_of(guide, advice)
    found = (
        Section(
            id=section,
            title=guide.wording.page.one_of("section-", section, SECTIONS),
            numbers=tuple(write(rows)),
            cautions=tuple(n for n in advice.cautions if n.caution.beside == beside),
            steps=tuple(each for each in workings if each.subject in subjects),
        )
        for section, write, beside, subjects in SUBJECTS
    )
    return tuple(section for section in found if section.numbers)
