"""Live piece: whether a unit starts a motor and keeps it running in the guide's usual heat."""

from engine.model.buses import LEG
from engine.model.guide import Appliance, Guide, Question
from engine.model.result import NEAR_MISS
from engine.pages.drawings.charts import Bar, bars
from engine.pages.drawings.svg import Canvas, Picture, Table
from engine.pages.pieces.form import (
    Filled,
    Piece,
    PieceError,
    Result,
    chosen,
    typed,
    unit_of,
    units_of,
)
from engine.sizing.inverter import continuous_at, surge_for
from engine.sizing.loads import apparent_power_va, locked_rotor_va, start_va
from engine.units import examples_of, read, show
from engine.wording.tongue import plain

WIDTH = 360.0
YES, NO = "yes", "no"
LEAST_LOCKED_OVER_RUNNING = 3.0
"""A motor at rest takes at least that many times its running current.

Source: nameplates of roof air conditioners give five to six times (secondary); three is common
practice, no source. A figure below it is the running current, RLA.
"""


def _fields(guide: Guide) -> tuple[Question, ...]:
    pieces, loads, units = guide.wording.pieces, _motors(guide), units_of(guide)
    return (
        chosen(
            "load", pieces["start-load"],
            ((each.id, each.name) for each in loads), loads[0].id if loads else "",
        ),
        typed(
            "plate", pieces["start-plate"],
            pieces.say("start-plate-hint", examples=examples_of("A")),
            unit="A", bare="A", low="1 A", high="200 A", default="",
        ),
        chosen(
            "soft", pieces["start-soft"],
            ((NO, pieces["start-soft-no"]), (YES, pieces["start-soft-yes"])), NO,
        ),
        chosen("unit", pieces["start-unit"], units, units[0][0]),
    )  # fmt: skip


def _motors(guide: Guide) -> list[Appliance]:
    """What has a motor whose start counts, on one leg."""
    return [each for each in guide.appliances if each.locked_rotor and each.bus is LEG]


def _work(guide: Guide, filled: Filled) -> Result:
    pieces = guide.wording.pieces
    load, unit = guide.appliance(filled.choice("load")), unit_of(guide, filled)
    soft = filled.choice("soft") == YES
    if soft and not load.soft_startable:
        raise PieceError("soft", pieces["start-no-soft"])
    running_va = apparent_power_va(load.running, load.power_factor)
    plate_a = filled.number("plate")
    if plate_a is not None and plate_a < LEAST_LOCKED_OVER_RUNNING * running_va / load.volts:
        typed, draws = f"{plain(plate_a, 1)} A", f"{plain(running_va / load.volts)} A"
        raise PieceError("plate", pieces.say("start-plate-low", typed=typed, running=draws))
    locked_a = load.locked_rotor if plate_a is None else plate_a + load.fan
    reduction = guide.planning.soft_start_reduction if soft else 0.0
    asks_va = start_va(locked_rotor_va(locked_a, load.volts), reduction)
    gives_va = surge_for(unit.surge, load.start_time)
    ambient_c = read(guide.question("ambient").default, "degC")
    lasting_w = continuous_at(unit.continuous, ambient_c) or 0.0
    starts, runs = asks_va <= gives_va, load.running <= lasting_w
    verdict = "good" if starts else "near" if asks_va <= (1 + NEAR_MISS) * gives_va else "bad"
    facts = {
        "asks": show(asks_va, "VA"),
        "gives": show(gives_va, "VA"),
        "unit": unit.name,
        "left": show(max(gives_va - asks_va, 0.0), "VA"),
        "missing": show(max(asks_va - gives_va, 0.0), "VA"),
        "share": show(max(asks_va / gives_va - 1, 0.0), "share"),
        "running": show(load.running, "W"),
        "lasting": show(lasting_w, "W"),
        "air": show(ambient_c, "degC"),
    }
    says = (
        pieces.say("start-says", **facts),
        pieces.one_of("start-is-", verdict, ("good", "near", "bad"), **facts),
        pieces.say("start-runs-on" if runs else "start-too-weak", **facts),
    )
    picture = _picture(guide, running_va, asks_va, gives_va, says[0])
    return Result(says, "good" if starts and runs else "bad", picture)


def _picture(
    guide: Guide, running_va: float, asks_va: float, gives_va: float, sentence: str
) -> Picture:
    pieces, gives = guide.wording.pieces, show(gives_va, "VA")
    limit = pieces.say("start-limit", gives=gives)
    rows = (
        Bar(pieces["start-running"], running_va, show(running_va, "VA")),
        Bar(pieces["start-start"], asks_va, show(asks_va, "VA"), gives_va, limit),
    )
    canvas = Canvas("rig-svg-start", WIDTH)
    height = bars(canvas, rows, max(asks_va, gives_va, running_va), "VA")
    title = pieces["start-picture"]
    table = Table(
        (pieces["start-what"], pieces["start-asks"]),
        (*((row.name, row.text) for row in rows), (guide.wording.page["chart-limit"], gives)),
    )
    return Picture("start", title, sentence, canvas.svg(height, title, sentence), table=table)


START = Piece("start", _fields, _work)
