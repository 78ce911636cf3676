"""``python -m tests.bench growth``: what more products and more states of the tree take.

``--write`` puts tables and pictures into the documentation, ``--runs N`` measures all of it again
and again. Each size is measured in a process of its own, so that none finds anything done.
"""

import argparse
import gc
import multiprocessing
import time
import tracemalloc
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from statistics import median
from typing import TypeVar

from engine.conversation import Conversation
from engine.links import read_pairs
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.respond import conversation_of, respond
from engine.tree import states
from guide.garbage import collect_seldom
from guide.load import load_guide
from guide.setup import say
from tests import bench_page
from tests.bench_guide import lean, shelf_size
from tests.bench_native import chosen
from tests.bench_parts import RUNS
from tests.bench_plot import Plot, draw, told
from tests.bench_rows import Bar, Row, table, together
from tests.grown import with_fewer_products, with_one_rig, with_products, with_rigs

PRODUCTS = (100, 1_000, 2_000, 10_000)
STATES = (100, 1_000, 10_000)
ASKED = {2_000: Bar("median", 35)}
"""What must be reached, by the number of products."""
WAYS = 12
SMALL_RIG, RIG_STATES = "rig-30", 1_000
T = TypeVar("T")
Growth = tuple[int, *tuple[Row, ...]]
"""How many there are, and what was measured then."""


def alone(work: Callable[[int], T], size: int) -> T:
    """Do a work in a process in which nothing was done before."""
    spawn = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(1, mp_context=spawn) as process:
        return process.submit(work, size).result()


def answers_with(products: int) -> tuple[int, float, list[float], list[float]]:
    """How many products there are, and what processor answers take then.

    Returns
    -------
    Products; seconds to find out once what the short path asks; milliseconds of each answer, drawn;
    the same with other setups and what to give up. Whatever the products, the same is asked for.
    """
    demo = load_guide()
    ways, needed = ways_of(demo)
    guide = (
        with_fewer_products(demo, products, needed)
        if products < shelf_size(demo)
        else with_products(demo, products)
    )
    gc.freeze()
    collect_seldom()
    conversation = conversation_of(guide)
    began = time.process_time()
    conversation.next_question(Answers({}))
    once = time.process_time() - began
    plain, whole = [], []
    for at, way in enumerate((*ways[:1], *ways, *ways)):  # the first one fits loss curves
        details = read_pairs(guide, [f"cable={5 + at / 4}ft"]).values
        answers = Answers({**way.values, **details})
        began = time.process_time()
        page = respond(guide, answers, changes=False)
        plain.append(1000 * (time.process_time() - began))
        chosen(conversation, answers)
        whole.append(1000 * (time.process_time() - began))
        if page.answer.status != "recommended":
            raise AssertionError(f"{way.key()} is not recommended with {products} products")
    return shelf_size(guide), once, plain[1:], whole[1:]


def ways_of(guide: Guide) -> tuple[tuple[Answers, ...], frozenset[str]]:
    """Some ways through the short path, and the products that their recommendations consist of."""
    conversation = Conversation(guide)
    ways = list(conversation.completions(Answers({})))
    sample = tuple(ways[:: max(1, len(ways) // WAYS)][:WAYS])
    best = [conversation.outcome(way).best for way in sample]
    needed = {
        line.product
        for each in best
        if each is not None and each.design is not None
        for line in each.design.parts
        if line.product
    }
    return sample, frozenset(needed)


def tree_of(size: int) -> Guide:
    """A guide whose tree has about so many states, on a short shelf."""
    guide = lean(load_guide())
    if size < RIG_STATES:
        return with_one_rig(guide, SMALL_RIG)
    return with_rigs(guide, size // RIG_STATES + size // (5 * RIG_STATES))


def walked(size: int) -> tuple[int, float]:
    """How many states a tree has, and the seconds in which all of them are found."""
    guide = tree_of(size)
    began = time.process_time()
    count = len(states(Conversation(guide)))
    return count, time.process_time() - began


def held(size: int) -> int:
    """The most bytes that are held while all states of a tree are found."""
    guide = tree_of(size)
    tracemalloc.start()
    states(Conversation(guide))
    return tracemalloc.get_traced_memory()[1]


def product_rows() -> Iterator[Growth]:
    """Each number of products: what is done once, one answer, and one with other setups."""
    for asked in PRODUCTS:
        count, once, plain, whole = alone(answers_with, asked)
        what = f"{count:,} products: one answer, drawn"
        bar = ASKED.get(asked)
        yield (
            count,
            Row(f"{count:,} products: what the short path asks, once", [once], unit="s", digits=1),
            Row(what, plain, tail=True),
            Row(f"{what}, with other setups and what to give up", whole, tail=True, bar=bar),
        )


def state_rows() -> Iterator[Growth]:
    """Each number of states: time and memory for each of them."""
    for asked in STATES:
        count, seconds = alone(walked, asked)
        kilobytes = alone(held, asked) / count / 1e3
        yield (
            count,
            Row(f"{count:,} states: finding them, a state", [1000 * seconds / count], digits=2),
            Row(f"{count:,} states: memory held, a state", [kilobytes], unit="kB", digits=1),
        )


def measured(found: Iterator[Growth]) -> list[Growth]:
    """All of them, told as they come."""
    sizes = []
    for each in found:
        sizes.append(each)
        _, *rows = each
        for row in rows:
            say(" | ".join(row.cells))
    return sizes


def several(measure: Callable[[], Iterator[Growth]], runs: int) -> list[Growth]:
    """All of them, measured so many times one after the other, with the figures of all runs."""
    found = [measured(measure()) for _ in range(runs)]
    return [
        (same[0][0], *together([rows for _, *rows in same])) for same in zip(*found, strict=True)
    ]


def points(found: Sequence[Growth], place: int) -> list[tuple[float, float]]:
    """The medians of one of the rows over what grows."""
    return [(float(count), median(rows[place].ours)) for count, *rows in found]


def main(arguments: Sequence[str]) -> None:
    """Print the tables; with ``--write`` put them and their pictures into the documentation."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench growth")
    parser.add_argument("--write", action="store_true", help="into the documentation")
    parser.add_argument("--runs", type=int, default=RUNS, help=f"one after the other ({RUNS})")
    asked = parser.parse_args(arguments)
    products, tree = several(product_rows, asked.runs), several(state_rows, asked.runs)
    by_tens = [each for size, each in zip(PRODUCTS, products, strict=True) if size not in ASKED]
    plots = (
        Plot("growth-products", "products", "one answer", "ms", points(by_tens, 2)),
        Plot("growth-states-time", "states of the tree", "time a state", "ms", points(tree, 0)),
        Plot("growth-states-memory", "states of the tree", "memory a state", "kB", points(tree, 1)),
    )
    text = table([row for _, *rows in (*products, *tree) for row in rows])
    shown = "\n".join(f"![{told(plot)}]({plot.name}.svg)\n\n{told(plot)}\n" for plot in plots)
    print(f"{text}\n{shown}")
    if asked.write:
        for plot in plots:
            bench_page.picture(f"{plot.name}.svg", draw(plot))
        how = f"{asked.runs} runs, each size in a process of its own"
        bench_page.put("growth", how, f"{text}\n{shown}")
