"""The numbers of the rig's own 12 V system: what hangs on it, and what keeps it alive."""

from collections.abc import Iterator

from engine.advice.plan.house_side import TOW_LINE
from engine.pages.answer.number_rows import Number, Rows, amps
from engine.wording.tongue import all_of, plain

FED = ("slides", "jacks", "furnace", "brake")
NAMED = (*FED, TOW_LINE)


def house(rows: Rows) -> Iterator[Number]:
    """One row; none where the rig has no system of its own, or nothing is known to hang on it."""
    side = rows.design.house
    if side is None or not side.hangs:
        return
    wired = (*FED, TOW_LINE) if side.isolator else FED
    named = [rows.one_of("hangs-", each, NAMED) for each in side.hangs if each in wired]
    hangs = all_of(named)
    if side.battery is None:
        yield rows.row("house", rows.say("house-bank", hangs=hangs))
        return
    yield rows.row(
        "house",
        rows.say(
            "house-line",
            count=plain(side.batteries),
            name=side.battery.name,
            amps=amps(side.charge_a, 0),
            hangs=hangs,
        ),
    )
