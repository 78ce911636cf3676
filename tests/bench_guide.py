"""Rows of the benchmark about the content: its check, its walk, and how both grow."""

import statistics
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
from engine.links import read_pairs
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.products import Catalogue
from engine.model.result import Outcome
from engine.pages.answer.workings import working_of
from engine.respond import respond
from engine.sizing.inverter import leg_output_w
from guide.coverage import cover
from guide.coverage_file import CoverageFile
from guide.load import load_content, load_guide
from tests import bench_table
from tests.grown import with_products, with_rigs

MANY_PRODUCTS = 2000
TIMES = 10
WAYS = 25


def shelf_size(guide: Guide) -> int:
    """Return how many products are on the shelf."""
    return sum(len(getattr(guide.catalogue, kind.name)) for kind in fields(Catalogue))


def seconds_of_answers(guide: Guide) -> list[float]:
    """Return how long answers take that have not been worked out before."""
    ways = list(Conversation(guide).completions(Answers({})))
    took = []
    for at, way in enumerate(ways[:: max(1, len(ways) // WAYS)]):
        answers = Answers({**way.values, **read_pairs(guide, [f"cable={5 + at / 4}ft"]).values})
        began = time.perf_counter()
        respond(guide, answers, changes=False)
        took.append(time.perf_counter() - began)
    return took[1:]  # the first one fits the products' loss curves


def lean(guide: Guide) -> Guide:
    """The guide with a short shelf and no choices beside the short path, so that growth shows."""
    kept = tuple(
        each for each in guide.questions if each.where == "path" or each.kind != "choice"
    ) + tuple(
        replace(each, choices=each.choices[:1])
        for each in guide.questions
        if each.where != "path" and each.kind == "choice"
    )
    shelf = replace(guide.catalogue, inverters=guide.catalogue.inverters[::3])
    return replace(guide, questions=kept, catalogue=shelf)


def rows() -> Iterator[tuple[str, float]]:
    """Measure and yield each row: what, seconds."""
    began = time.perf_counter()
    guide = load_guide()
    yield f"check of the content ({shelf_size(guide)} products)", time.perf_counter() - began
    content = load_content()
    began = time.perf_counter()
    report = cover(content.guide, content.coverage)
    yield f"coverage of the whole tree ({report.states} states)", time.perf_counter() - began
    for times in (1, TIMES):
        grown = with_rigs(lean(guide), times)
        began = time.perf_counter()
        report = cover(grown, CoverageFile())
        took = time.perf_counter() - began
        yield f"coverage, lean shelf, per state of {report.states:,}", took / report.states
    yield from bench_table.rows()
    yield from rows_of_trace(guide)
    many = with_products(guide, MANY_PRODUCTS)
    yield (
        f"one answer natively, {shelf_size(many):,} products (median)",
        statistics.median(seconds_of_answers(many)),
    )


def rows_of_trace(guide: Guide) -> Iterator[tuple[str, float]]:
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
            explained.append(time.perf_counter() - began)
            took += [_seconds(working_of, guide, note) for note in notes]
    yield "explaining one answer natively (median)", statistics.median(explained)
    yield "one of its steps put into words (median)", statistics.median(took)
    way = outcomes[0]
    plain = min(_seconds(_outcome_anew, guide, way) for _ in range(WAYS))
    steps = _steps_of(guide, way)
    each = _seconds_off() * steps
    yield f"one outcome, its {steps} steps not noted", plain
    yield f"of that the steps themselves ({each / plain:.1%})", each


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


def main() -> None:
    """Print the table."""
    for name, seconds in rows():
        print(f"{name:<60}{seconds:>11.6f} s", flush=True)


if __name__ == "__main__":
    main()
