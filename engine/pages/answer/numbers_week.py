"""The numbers of charging: shore, generator, alternator, sun, and the week that follows."""

import math
from collections.abc import Iterator

from engine.model.result import NEAR_MISS
from engine.model.sources import GeneratorPlan
from engine.pages import words
from engine.pages.answer.number_rows import Number, Rows, amps, volts
from engine.units import show
from engine.wording.tongue import plain

HOURS_A_DAY = 24


def charging(rows: Rows) -> Iterator[Number]:
    """Every source in turn, then the week."""
    plan = rows.advice.charging
    shore = plan.shore
    yield rows.row("charge", amps(shore.charge_a, 0))
    yield rows.row("charge-voltage", f"{volts(plan.absorption_v)}, {volts(plan.float_v)}")
    if plan.alternator_a:
        yield rows.row("alternator", amps(plan.alternator_a, 0))
        yield rows.row("full-alternator", _until_full(rows, plan.alternator_hours))
    yield rows.row("charger-share", amps(shore.charger_ac_a))
    yield rows.row("left", amps(shore.left_a))
    yield rows.row("full-shore", _until_full(rows, shore.hours))
    if plan.generator:
        yield from _generator(rows, plan.generator)
    if plan.solar_daily_wh:
        yield rows.row("sun", show(plan.solar_daily_wh, "Wh"))
        yield rows.row(
            "full-sun",
            rows.say("full-sun-never")
            if plan.solar_days is None
            else rows.count("count-days", plan.solar_days, 1),
        )
    yield from _week(rows)


def _until_full(rows: Rows, found: float | None) -> str:
    if found is None:
        return rows.say("never-full")
    return rows.count("count-hours", found, 1)


def _generator(rows: Rows, plan: GeneratorPlan) -> Iterator[Number]:
    derated, rated = show(plan.derated_w, "W"), show(plan.rated_w, "W")
    yield rows.row("generator", rows.say("generator-line", derated=derated, rated=rated))
    yield rows.row("limit-generator", words.limit_text(rows.guide, rows.design, plan))
    if plan.starter:
        asked_va = plan.light_va + plan.start_va
        verdict = "just-not" if asked_va <= (1 + NEAR_MISS) * plan.start_limit_va else "not"
        if plan.starts_supported:
            verdict = "alone" if plan.starts_alone else "supported"
        yield rows.row(
            "generator-start",
            rows.one_of(
                "starts-",
                verdict,
                ("not", "just-not", "alone", "supported"),
                gives=show(plan.start_limit_va, "VA"),
                asks=show(asked_va, "VA"),
                missing=show(max(0.0, asked_va - plan.start_limit_va), "VA"),
            ),
            name=plan.starter,
        )
        yield rows.row("generator-charge", amps(plan.charge_a, 0), name=plan.starter)
        yield rows.row("generator-free", amps(plan.charge_free_a, 0))
    else:
        yield rows.row("generator-only", amps(plan.charge_free_a, 0))
    if plan.battery_adds_w:
        yield rows.row("generator-adds", show(plan.battery_adds_w, "W"))
    if plan.short_w:
        yield rows.row("generator-short", show(plan.short_w, "W"))
    yield rows.row("full-generator", _until_full(rows, plan.hours))


def _week(rows: Rows) -> Iterator[Number]:
    away, hooked = rows.advice.charging.away, rows.advice.charging.hooked_up
    if away.runs_out_hour is None:
        yield rows.row("away", rows.say("away-week"))
    else:
        day, hour = divmod(away.runs_out_hour, HOURS_A_DAY)
        yield rows.row(
            "away",
            rows.say(
                "away-days",
                days=rows.count("count-days", away.runs_out_hour / HOURS_A_DAY, 1),
                hour=f"{hour}:00",
                day=plain(day + 1),
            ),
        )
    yield rows.row("lowest", show(min(away.state), "share"))
    if math.isfinite(away.reserve_h):
        yield rows.row("reserve", rows.count("count-hours", away.reserve_h, 1))
    else:
        yield rows.row("reserve", rows.say("reserve-endless"))
    if away.unmet_wh:
        yield rows.row("unmet", show(away.unmet_wh, "Wh"))
    stretch = rows.count("count-days", max(1.0, round(rows.needs.nights)), 1)
    yield rows.row("hooked", show(min(hooked.state), "share"), nights=stretch)
