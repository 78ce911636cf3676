"""``python -m tests.bench browser``: the site in three browsers, each figure beside its rival.

Ours and the rival take turns in one run, so that whatever else the machine does meets both.
"""

import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from guide import setup_node
from guide.load import load_guide
from site_src.build.bundle import begin, bundle
from site_src.build.wheels import compile_sources, write_sources
from tests import (
    bench_parts,
    bench_phone,
    bench_second,
    bench_start,
    bench_taps,
    bench_trip,
    bench_weight,
)
from tests.bench_parts import Bench
from tests.bench_rows import Row


def bundle_rows(bench: Bench) -> Iterator[Row]:
    """How long the engine's bundle takes to build, and its wheels alone."""
    guide, packages, node = load_guide(), setup_node.packages(), setup_node.node()
    took: list[float] = []
    plain: list[float] = []
    for _ in range(max(1, bench.rounds // 2)):
        out, stage = (Path(tempfile.mkdtemp(dir=bench.folder)) for _ in range(2))
        began = time.perf_counter()
        bundle(guide, out, packages, begin(guide, packages, node))
        took.append(time.perf_counter() - began)
        began = time.perf_counter()
        write_sources(guide, stage)
        compile_sources(stage, packages, node)
        plain.append(time.perf_counter() - began)
    what = "building the engine's bundle; rival: the wheels of the plain start alone"
    yield Row(what, took, plain, "s", 1)


PARTS = {
    "start": bench_start.rows,
    "visits": bench_second.rows,
    "taps": bench_taps.rows,
    "weight": bench_weight.rows,
    "phone": bench_phone.rows,
    "trip": bench_trip.rows,
    "bundle": bundle_rows,
}


def main(arguments: Sequence[str]) -> None:
    """Print the tables; with ``--write`` put them into the page of the documentation."""
    bench_parts.run(PARTS, arguments, "python -m tests.bench browser")
