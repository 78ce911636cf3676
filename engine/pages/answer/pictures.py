"""Everything that an answer shows as a picture, and where on the page it stands."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.advice.judge.runs import Runs
from engine.answer import Advice
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.result import Design
from engine.pages.answer.numbers import Section
from engine.pages.answer.other_units import Comparison, comparison_of
from engine.pages.answer.run_sentence import runs_sentence
from engine.pages.drawings.charts import charts_of
from engine.pages.drawings.diagram import diagram_of
from engine.pages.drawings.diagram_links import POINTED, caution_id, number_id, part_id
from engine.pages.drawings.rig_side import rig_side_of
from engine.pages.drawings.sketch import sketch_of
from engine.pages.drawings.svg import Picture

BESIDE = {"surge": "unit", "week": "charging", "energy": "battery", "cable": "cable"}
"""Which section of the numbers each chart belongs to."""


@dataclass(frozen=True, slots=True)
class Shown:
    """The pictures of a recommendation, and what it runs in one sentence."""

    head: Picture
    runs: str
    diagram: Picture
    sections: dict[str, tuple[Picture, ...]]
    comparison: Comparison | None

    def beside(self, section: str) -> tuple[Picture, ...]:
        """The pictures of one section of the numbers."""
        return self.sections.get(section, ())


def shown_of(
    guide: Guide, advice: Advice, answers: Answers, runs: Runs, numbers: Sequence[Section]
) -> Shown:
    """Draw everything; the numbers are those of the page, to which the diagram leads."""
    if advice.best.design is None:
        raise ValueError("a recommendation has a design")
    design, needs = advice.best.design, advice.outcome.needs
    sections: dict[str, tuple[Picture, ...]] = {"space": (sketch_of(guide, needs, design),)}
    for chart in charts_of(guide, advice):
        sections[BESIDE[chart.id]] = (chart,)
    return Shown(
        head=rig_side_of(guide, needs, design),
        runs=runs_sentence(guide.wording.page, needs, runs),
        diagram=diagram_of(guide, needs, design, _targets(advice, design, numbers)),
        sections=sections,
        comparison=comparison_of(guide, advice, answers),
    )


def _targets(advice: Advice, design: Design, numbers: Sequence[Section]) -> frozenset[str]:
    """Ids on the page to which the diagram may lead: lines of parts, numbers, cautions."""
    rows = {number.id for section in numbers for number in section.numbers}
    steps = {each.id for section in numbers for each in section.steps}
    return frozenset(
        (
            *(part_id(line.group) for line in design.parts),
            *(number_id(each) for each in POINTED & (rows | steps)),
            *(caution_id(note.caution.id) for note in advice.cautions),
        )
    )
