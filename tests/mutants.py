"""Puts small faults into the code that decides and counts how many the tests find.

``python -m tests.mutants --sample 400`` changes constants, operators, comparisons and displayed
equations of `sizing`, `advice`, `needs` and `conversation`, or leaves a fact out of a sentence, one
at a time, and runs the tests that reach the place, the quickest first, until one fails. Each
fault has a process of its own, split off one in which everything is loaded and collected. What no
test finds is told as it comes. ``--kept FILE`` keeps what became of each fault: a run that was cut
goes on from there, and with ``--again`` it tries once more what no test found. It exits with 0 when
the tests find as many as the bar says.
"""

import argparse
import os
import sys
from collections.abc import Iterator, Sequence
from random import Random
from typing import TextIO

from tests.mutation import words
from tests.mutation.apply import ROOT, can_apply
from tests.mutation.faults import Fault, faults_of
from tests.mutation.reach import reach_of
from tests.mutation.same import why_same
from tests.mutation.session import Items, Session, with_tests
from tests.mutation.trials import Trials, told
from tests.mutation.verdicts import Verdicts
from tests.mutation.words import faults_of_words

TARGETS = (
    "engine/sizing",
    "engine/advice",
    "engine/needs.py",
    "engine/conversation.py",
)
TESTS = (
    "engine/sizing",
    "tests/sizing",
    "tests/standards",
    "tests/advice",
    "tests/engine",
    "tests/guide/test_asked_only_if_it_matters.py",
    "tests/guide/test_preferences.py",
    "tests/guide/test_offers.py",
    "tests/pages",
    "tests/scenarios",
    "tests/recheck",
)
LEFT_OUT = (
    "tests/engine/test_many_replies.py",  # counts what the whole process holds
    "tests/engine/test_outside.py",  # texts at random, which take long and look at no number
    "tests/engine/test_reading.py",
    "tests/engine/test_units.py",
)
BAR = 0.98
NOT_FOUND = "no test found it"


def main(arguments: Sequence[str] | None = None) -> int:
    """Try a sample of faults and print what became of each that no test found."""
    options = _options(arguments)
    os.chdir(ROOT)
    targets = list(_files(TARGETS, "*.py"))
    out = sys.stdout
    codes: list[int] = []

    def work(session: Session, items: Items) -> None:
        reach = reach_of(session, items, targets)
        faults = _faults(targets)
        chosen = Random(options.seed).sample(faults, min(options.sample, len(faults)))
        known = Verdicts(options.kept)
        judged = Trials(session, items, reach, options.processes)
        left = known.to_try(chosen, judged.items, again=options.again)
        for fault, finder in judged.verdicts(left):
            known.note(fault, finder)
            if not finder:
                print(f"{told(fault)} — {_why(fault)}", file=out, flush=True)
        for test in judged.fail_alone([known.finder(each) for each in chosen]):
            raise SystemExit(f"{test} does not pass by itself; mend it first")
        survived = [each for each in chosen if not known.finder(each)]
        codes.append(_sum_up(len(faults), chosen, survived, out))

    with_tests(sorted({*_test_files(), *words.TESTS} - {*LEFT_OUT}), work)
    return codes[0]


def _faults(targets: Sequence[str]) -> list[Fault]:
    found = [
        fault
        for target in targets
        for fault in faults_of(target, (ROOT / target).read_text(encoding="utf-8"))
        if can_apply(fault)
    ]
    return [*found, *faults_of_words(ROOT)]


def _why(fault: Fault) -> str:
    return why_same(fault) or NOT_FOUND


def _sum_up(places: int, chosen: Sequence[Fault], survived: Sequence[Fault], out: TextIO) -> int:
    same = sum(_why(fault) != NOT_FOUND for fault in survived)
    judged = len(chosen) - same
    found = len(chosen) - len(survived)
    share = found / judged if judged else 1.0
    print(
        f"{places} places, {len(chosen)} faults tried, {found} found, "
        f"{same} change nothing, {len(survived) - same} not found: {share:.1%}",
        file=out,
    )
    return 0 if share >= BAR else 1


def _options(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.mutants", description=__doc__)
    parser.add_argument("--sample", type=int, default=400, help="how many faults; default: 400")
    parser.add_argument("--seed", type=int, default=1, help="which ones; default: 1")
    parser.add_argument("--kept", metavar="FILE", help="keep verdicts there, and go on from them")
    parser.add_argument("--again", action="store_true", help="also those kept as not found")
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    return parser.parse_args(arguments)


def _files(places: Sequence[str], pattern: str) -> Iterator[str]:
    for place in places:
        path = ROOT / place
        found = sorted(path.rglob(pattern)) if path.is_dir() else [path]
        yield from (
            each.relative_to(ROOT).as_posix() for each in found if each.name != "__init__.py"
        )


def _test_files() -> Iterator[str]:
    yield from _files(TESTS[:1], "*.py")
    yield from _files(TESTS[1:], "test_*.py")


if __name__ == "__main__":
    sys.exit(main())
