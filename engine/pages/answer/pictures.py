"""Everything that an answer shows as a picture, and where on the page it stands."""

from functools import cached_property

from engine.model.answers import Answers
from engine.pages.answer.advice_view import AdviceView
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


class Shown:
    """The pictures of a recommendation, each drawn once it is asked for, and what it runs."""

    def __init__(self, view: AdviceView, answers: Answers) -> None:
        self._view = view
        self._guide = view.guide
        self._answers = answers

    @cached_property
    def head(self) -> Picture:
        """The rig from its side, with its parts in it."""
        return rig_side_of(self._guide, self._view.needs, self._view.design)

    @cached_property
    def runs(self) -> str:
        """What it runs, in one sentence."""
        return runs_sentence(self._guide.wording.page, self._view.needs, self._view.runs)

    @cached_property
    def diagram(self) -> Picture:
        """The wiring, with links to the numbers, parts and cautions of the page."""
        return diagram_of(self._guide, self._view.needs, self._view.design, self._targets())

    @cached_property
    def sections(self) -> dict[str, tuple[Picture, ...]]:
        """The pictures of each section of the numbers."""
        space = sketch_of(self._guide, self._view.needs, self._view.design)
        charts = charts_of(self._guide, self._view.advice)
        return {"space": (space,), **{BESIDE[chart.id]: (chart,) for chart in charts}}

    def beside(self, section: str) -> tuple[Picture, ...]:
        """The pictures of one section of the numbers."""
        return self.sections.get(section, ())

    @cached_property
    def comparison(self) -> Comparison | None:
        """Other units beside the recommended one."""
        return comparison_of(self._guide, self._view.advice, self._answers)

    def _targets(self) -> frozenset[str]:
        """Ids on the page to which the diagram may lead: lines of parts, numbers, cautions."""
        view = self._view
        rows = {number.id for section in view.sections for number in section.numbers}
        steps = {each.id for section in view.sections for each in section.steps}
        return frozenset(
            (
                *(part_id(line.group) for line in view.design.parts),
                *(number_id(each) for each in POINTED & (rows | steps)),
                *(caution_id(note.caution.id) for note in view.advice.cautions),
            )
        )
