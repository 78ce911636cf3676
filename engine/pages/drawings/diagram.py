"""The wiring diagram of a recommendation: symbols in columns, what they are beside them.

From the shore cord down through the unit to the panel, one line for all conductors of a run, a
stroke with a figure counting them; on the battery side a line for each pole, beside it. A narrow
screen shows one of the two sides, and the other when it is moved.
"""

from collections.abc import Collection

from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.pages.drawings.diagram_ac import AcSide
from engine.pages.drawings.diagram_dc import DcSide
from engine.pages.drawings.diagram_labels import Labels
from engine.pages.drawings.svg import Picture


def diagram_of(
    guide: Guide, needs: Needs, design: Design, targets: Collection[str] = ()
) -> Picture:
    """Draw the design, and say the same in words.

    targets : ids that stand on the same page, to which symbols and words then lead
    """
    labels = Labels(guide, needs, design)
    drawn = _Diagram(labels, targets)
    title = labels.page["draw-title"]
    return Picture(
        id="diagram",
        title=title,
        sentence=guide.layout_words(design.candidate.layout).plain,
        svg=drawn.canvas.svg(drawn.draw(), title),
        steps=tuple(label.sentence for label in labels.all()),
    )


class _Diagram(AcSide, DcSide):
    """The whole of it."""

    def draw(self) -> float:
        """Draw everything and return the height."""
        self._shore()
        self._breaker("in")
        below_units = self._units()
        self._breaker("out")
        if self.design.ac.joint_a:
            self._joint()
        self._panel()
        self._battery_side(below_units)
        return max(self.low, self.y)
