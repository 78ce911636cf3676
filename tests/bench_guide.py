"""Rows of the benchmark about the content: its check, its walk, and what explaining takes."""

import sys
import time
import timeit
from collections.abc import Callable, Iterator
from dataclasses import fields, replace

from engine import trace
from engine.advice.explain import notes_of
from engine.advice.judge.recommend import outcome_of
from engine.advice.plan.charging import plan_charging
from engine.conversation import Conversation
from engine.kept import forget
from engine.model.answers import Answers
from engine.model.guide import Choice, Guide, Question
from engine.model.products import Catalogue
from engine.model.result import Outcome
from engine.needs import default_of
from engine.pages.answer.workings import working_of
from engine.sizing.inverter import leg_output_w
from guide.coverage import cover
from guide.load import load_content
from tests import bench_table
from tests.bench_parts import Bench
from tests.bench_rows import Bar, Row

WAYS = 25


def shelf_size(guide: Guide) -> int:
    """Return how many products are on the shelf."""
    return sum(len(getattr(guide.catalogue, kind.name)) for kind in fields(Catalogue))


def lean(guide: Guide) -> Guide:
    """The guide with a short shelf and no choices beside the short path, so that growth shows."""
    kept = tuple(
        each for each in guide.questions if each.where == "path" or each.kind != "choice"
    ) + tuple(
        replace(each, choices=_taken(guide, each))
        for each in guide.questions
        if each.where != "path" and each.kind == "choice"
    )
    shelf = replace(guide.catalogue, inverters=guide.catalogue.inverters[::3])
    return replace(guide, questions=kept, catalogue=shelf)


def _taken(guide: Guide, question: Question) -> tuple[Choice, ...]:
    """The choices that are taken where nobody answers; the first where nothing is.

    What they mean for other questions is left out: those have few choices, too.
    """
    taken = {default_of(guide, question, rig.id) for rig in guide.rigs}
    found = tuple(each for each in question.choices if each.id in taken) or question.choices[:1]
    return tuple(replace(each, means={}) for each in found)


def rows(bench: Bench) -> Iterator[Row]:
    """Measure and yield each row."""
    took, sweeps = [], []
    for _ in range(bench.rounds):
        began = time.perf_counter()
        guide = load_content().guide
        took.append(time.perf_counter() - began)
    what = f"check of the content, {shelf_size(guide)} products"
    yield Row(what, took, unit="s", digits=2, bar=Bar("median", 0.3))
    content = load_content()
    for _ in range(-(-bench.rounds // 3)):
        began = time.perf_counter()
        report = cover(content.guide, content.coverage)
        sweeps.append(time.perf_counter() - began)
    what = f"coverage of the whole tree, {report.states:,} states"
    yield Row(what, sweeps, unit="s", digits=1, bar=Bar("median", 5))
    yield bench_table.row()
    yield from trace_rows(guide)


def trace_rows(guide: Guide) -> Iterator[Row]:
    """Measure and yield what it takes to explain one answer, and what steps cost that nobody opens.

    The latter is the count of steps of one answer times what one step takes more than its formula.
    """
    conversation, took, explained = Conversation(guide), [], []
    outcomes = [conversation.outcome(way) for way in conversation.completions(Answers({}))]
    for outcome in outcomes:
        if outcome.best is not None and outcome.best.design is not None:
            plan_charging(guide, outcome.needs, outcome.best.design)  # what comes first on a page
            began = time.perf_counter()
            notes = notes_of(guide, outcome.needs, outcome.best)
            explained.append(1000 * (time.perf_counter() - began))
            took += [1000 * _seconds(working_of, guide, note) for note in notes]
    yield Row("explaining one answer natively", explained, digits=1)
    yield Row("one of its steps put into words", took, digits=3)
    way = outcomes[0]
    plain = [_seconds(_outcome_anew, guide, way) for _ in range(WAYS)]
    steps = _steps_of(guide, way)
    each = _seconds_off() * steps
    what = f"one outcome, its {steps} steps not noted; rival: of that the steps themselves"
    yield Row(what, [1000 * min(plain)], [1000 * each], digits=2)


def _outcome_anew(guide: Guide, outcome: Outcome) -> None:
    forget("answer")
    outcome_of(guide, outcome.answers, outcome.needs)


def _seconds(work: Callable[..., object], *arguments: object) -> float:
    began = time.perf_counter()
    work(*arguments)
    return time.perf_counter() - began


def _steps_of(guide: Guide, outcome: Outcome) -> int:
    """How many steps one outcome takes, of all candidates."""
    counted: list[object] = []

    def counting(
        role: str, formula: Callable[..., object], *args: object, **more: object
    ) -> object:
        counted.append(role)
        return formula(*args, **more)

    users = [each for each in sys.modules.values() if getattr(each, "step", None) is trace.step]
    for module in users:
        vars(module)["step"] = counting
    try:
        _outcome_anew(guide, outcome)
    finally:
        for module in users:
            vars(module)["step"] = trace.step
    return len(counted)


def _seconds_off() -> float:
    """What a step takes more than the formula that it calls, while nothing is noted."""
    times = 20_000
    both = [
        min(timeit.repeat(work, number=times, repeat=5)) / times
        for work in (
            lambda: trace.step("cable.unit", leg_output_w, 1.0, 2.0),
            lambda: leg_output_w(1.0, 2.0),
        )
    ]
    return both[0] - both[1]
