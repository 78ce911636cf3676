"""What of the warnings and of the assumptions stands in the first look of an answer."""

from engine.advice.judge.lasting import heavy_load
from engine.answer import Advice
from engine.model.guide import Guide
from engine.pages.form import assumed_text
from engine.pages.view import Row
from engine.pages.words import lower_first

MOST_WARNINGS, USUAL_WARNINGS, MOST_CHIPS = 4, 3, 3
KILLING_RANK = 15
"""Warnings up to this rank are about what kills (common practice, no source): one more is shown."""

CHIPS = ("ambient", "cable", "nights")
"""Details on which much rests; what was assumed of them stands in the first look."""


def first_warnings(advice: Advice) -> list[Row]:
    """Title, what to do in a line, and id of the warnings that prevent the most harm."""
    ranked = sorted(
        (note for note in advice.cautions if note.caution.rank),
        key=lambda note: note.caution.rank,
    )
    killing = sum(note.caution.rank <= KILLING_RANK for note in ranked[:MOST_WARNINGS])
    shown = ranked[: max(USUAL_WARNINGS, killing)]
    return [Row(n.caution.title, n.card, n.caution.id) for n in shown]


def taken_for_granted(guide: Guide, advice: Advice) -> list[Row]:
    """Name and words of each assumption on which most rests, with the id of its field."""
    page, needs = guide.wording.page, advice.outcome.needs
    found = []
    load = heavy_load(needs)
    if "loads" not in advice.outcome.answers.values and load is not None:
        name = lower_first(load.name.partition(",")[0])
        hours = guide.wording.numbers.count("count-hours", load.hours, 1)
        found.append(Row("loads", page.say("chip-load", name=name, hours=hours), "loads"))
    for name in CHIPS:
        if name in needs.assumed:
            value = assumed_text(guide, guide.question(name), advice.outcome.answers)
            found.append(Row(name, page.one_of("chip-", name, CHIPS, value=value), name))
    return found[:MOST_CHIPS]
