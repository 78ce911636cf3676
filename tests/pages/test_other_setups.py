"""Where the setups to choose instead stand, and the one thing to give up."""

import pytest

from engine.links import read_pairs
from engine.model.guide import Guide
from engine.pages.other_setups import less_of
from engine.respond import respond

COACH = "rig=coach-50 scope=whole heavy=2 biggest=aircon-15k softstart=yes v240=no"


@pytest.mark.parametrize(
    ("have", "chapter"), [("", "rig-setups"), (" have=3x480Ah-lifepo4", "rig-changes")]
)
def test_what_to_give_up_stands_on_every_answer_that_has_it(
    guide: Guide, have: str, chapter: str
) -> None:
    """In the card; where that tells of batteries that stay, with what else would change it."""
    page = respond(guide, read_pairs(guide, f"{COACH}{have}".split()))
    less = less_of(guide, page.answer)
    assert less is not None
    part = page.html.partition(f'<section id="{chapter}"')[2].partition("</section>")[0]
    assert less.text in part
    assert page.html.count(less.text) == 1
