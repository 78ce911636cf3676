"""Runs parts of the benchmark; each has a section of its own on the page that shows them."""

import argparse
import tempfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from guide.setup import say
from tests import bench_page, bench_site
from tests.bench_rows import Row, table, together

ROUNDS = 5
RUNS = 3


@dataclass
class Bench:
    """What the parts of a run share.

    folder: where they may write
    given: a built site; None builds one when a part asks for it
    rounds: how often each thing is measured, at least
    """

    folder: Path
    given: Path | None
    rounds: int

    @cached_property
    def site(self) -> Path:
        """The built site with the rivals beside it."""
        return bench_site.prepare(self.folder, self.given)


HOW = (
    "medians of {} or more in each of {} runs where there are brackets, which hold the least and "
    "the most; of ratios, those of the runs"
)
Part = Callable[[Bench], Iterator[Row]]


def run(parts: Mapping[str, Part], arguments: Sequence[str], called: str) -> None:
    """Measure the parts that the arguments name, or all, and print a table of each.

    ``--write`` puts each table into its section as soon as it is measured.
    """
    parser = argparse.ArgumentParser(prog=called)
    parser.add_argument("parts", nargs="*", metavar="PART", help=f"some of: {', '.join(parts)}")
    parser.add_argument("--rounds", type=int, default=ROUNDS, help=f"at least so often ({ROUNDS})")
    parser.add_argument("--runs", type=int, default=RUNS, help=f"one after the other ({RUNS})")
    parser.add_argument("--site", type=Path, help="a site that is built already")
    parser.add_argument("--write", action="store_true", help="into the documentation")
    asked = parser.parse_args(arguments)
    for name in set(asked.parts) - set(parts):
        parser.error(f"there is no part “{name}”; there are {', '.join(parts)}")
    with tempfile.TemporaryDirectory() as folder:
        bench = Bench(Path(folder), asked.site, asked.rounds)
        for name in asked.parts or parts:
            found = together([_looked(parts[name], bench) for _ in range(asked.runs)])
            print(table(found))
            if asked.write:
                bench_page.put(name, HOW.format(asked.rounds, asked.runs), table(found))


def _looked(part: Part, bench: Bench) -> list[Row]:
    found = []
    for row in part(bench):
        say(" | ".join(row.cells))
        found.append(row)
    return found
