"""Puts small faults into the code that decides and counts how many the tests find.

``python -m tests.mutants --sample 400`` changes constants, operators, comparisons and displayed
equations of `sizing`, `advice`, `needs` and `conversation`, or leaves a fact out of a sentence, one
at a time, and runs the tests that reach the place. Each
fault has a process of its own, split off one in which everything is loaded. It exits with 0 when
the tests find as many as the bar says.
"""

import argparse
import os
import resource
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from itertools import accumulate
from random import Random

from tests.mutation import words
from tests.mutation.apply import ROOT, apply, can_apply
from tests.mutation.faults import Fault, faults_of
from tests.mutation.reach import Reach, load, order_of, reach_of, run_files
from tests.mutation.same import SAME
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
LONGEST_S = 900
"""Processor's time after which a fault counts as found: it never ends."""
FIRST = 4
QUICK = 0.15
"""Part of the time of a fault's tests that is spent on every fault, before the slow tests run."""
BAR = 0.98


def main(arguments: Sequence[str] | None = None) -> int:
    """Try a sample of faults and print what became of each that no test found."""
    options = _options(arguments)
    os.chdir(ROOT)
    targets, tests = list(_files(TARGETS, "*.py")), list(_test_files())
    reach = reach_of(targets, tests)
    load(tests)
    faults = [
        fault
        for target in targets
        for fault in faults_of(target, (ROOT / target).read_text(encoding="utf-8"))
        if can_apply(fault)
    ]
    faults.extend(faults_of_words(ROOT))
    chosen = Random(options.seed).sample(faults, min(options.sample, len(faults)))
    quick = {fault: _quick(fault, reach, tests) for fault in chosen}
    left = list(_survivors(quick, options.processes))
    slow = {fault: _files_of(fault, reach, tests)[len(quick[fault]) :] for fault in left}
    survived = list(_survivors(slow, options.processes))
    told = [fault for fault in survived if (fault.file, fault.function, fault.change) in SAME]
    found = len(chosen) - len(survived)
    for fault in sorted(survived):
        why = SAME.get((fault.file, fault.function, fault.change), "no test found it")
        print(f"{fault.file}:{fault.line} {fault.function}: {fault.change} — {why}")
    judged = len(chosen) - len(told)
    share = found / judged if judged else 1.0
    print(
        f"{len(faults)} places, {len(chosen)} faults tried, {found} found, "
        f"{len(told)} change nothing, {len(survived) - len(told)} not found: {share:.1%}"
    )
    return 0 if share >= BAR else 1


def _options(arguments: Sequence[str] | None) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.mutants", description=__doc__)
    parser.add_argument("--sample", type=int, default=400, help="how many faults; default: 400")
    parser.add_argument("--seed", type=int, default=1, help="which ones; default: 1")
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


def _quick(fault: Fault, reach: Reach, tests: Sequence[str]) -> list[str]:
    """The tests to begin with: those near to the fault, and of the others the quick ones."""
    files = _files_of(fault, reach, tests)
    seconds = {name: took for users in reach.values() for name, took in users.items()}
    whole_s = sum(seconds.get(name, 0.0) for name in files)
    spent_s = list(accumulate(seconds.get(name, 0.0) for name in files))
    return files[: max(FIRST, sum(each <= QUICK * whole_s for each in spent_s))]


def _files_of(fault: Fault, reach: Reach, tests: Sequence[str]) -> list[str]:
    """The tests that reach a fault; a module's own data are read by all that reach the module."""
    if fault.file.startswith(words.FOLDER):
        return list(words.TESTS)
    if fault.function:
        return list(order_of(fault.file, fault.function, reach))
    users = {name for place in reach if place.startswith(f"{fault.file}:") for name in reach[place]}
    return [name for name in tests if name in users]


def _survivors(faults: Mapping[Fault, Sequence[str]], processes: int) -> Iterator[Fault]:
    """The faults that their tests do not find, while so many processes try them."""
    waiting = list(faults)
    running: dict[int, Fault] = {}
    began = time.monotonic()
    while waiting or running:
        while waiting and len(running) < processes:
            fault = waiting.pop(0)
            running[_split_off(fault, faults[fault])] = fault
        process, status = os.wait()
        fault = running.pop(process)
        if os.waitstatus_to_exitcode(status) == 0:
            print(f"\r{fault.file}:{fault.line} {fault.change}", file=sys.stderr)
            yield fault
        done = len(faults) - len(waiting) - len(running)
        text = f"\r{done}/{len(faults)} after {time.monotonic() - began:.0f} s "
        print(text, end="", file=sys.stderr, flush=True)
    print(file=sys.stderr)


def _split_off(fault: Fault, files: Sequence[str]) -> int:
    """Start a process that exits with 1 when a test finds the fault, with 0 when none does."""
    process = os.fork()
    if process:
        return process
    code = 1
    try:
        resource.setrlimit(resource.RLIMIT_CPU, (LONGEST_S, LONGEST_S))
        devnull = os.open(os.devnull, os.O_WRONLY)
        os.dup2(devnull, 1)
        os.dup2(devnull, 2)
        apply(fault)
        rounds = (files[:FIRST], files[FIRST:])  # most are found at once, the rest shares a session
        code = int(any(run_files(each, "-x") for each in rounds if each))
    except BaseException:
        code = 1
    finally:
        os._exit(code)


if __name__ == "__main__":
    sys.exit(main())
