"""Rows of the benchmark about the content: its check, its walk, and how both grow."""

import statistics
import time
from collections.abc import Iterator
from dataclasses import fields, replace

from engine.conversation import Conversation
from engine.links import read_pairs
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.products import Catalogue
from engine.respond import respond
from guide.coverage import cover
from guide.coverage_file import CoverageFile
from guide.load import load_content, load_guide
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
    many = with_products(guide, MANY_PRODUCTS)
    yield (
        f"one answer natively, {shelf_size(many):,} products (median)",
        statistics.median(seconds_of_answers(many)),
    )


def main() -> None:
    """Print the table."""
    for name, seconds in rows():
        print(f"{name:<60}{seconds:>11.5f} s", flush=True)


if __name__ == "__main__":
    main()
