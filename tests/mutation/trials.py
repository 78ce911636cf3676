"""Tries faults, each in a process of its own, and tells which test finds it."""

import os
import sys
import time
from collections.abc import Collection, Iterator, Sequence
from functools import partial
from itertools import accumulate

import pytest

from tests.mutation import words
from tests.mutation.apply import apply
from tests.mutation.faults import Fault
from tests.mutation.reach import Reach, in_order, order_of
from tests.mutation.same import why_same
from tests.mutation.session import Items, Session, split_off

QUICK_S = 8.0
"""Time of the tests that every fault meets, before the slow ones are run on what is left."""
MOST_S = 60.0
"""Time of all the tests that a fault meets: what they do not find counts as not found."""
BROKEN = "the process broke"
"""What finds a fault with which the tests end in a heap, or never: Python itself."""


class Trials:
    """Faults on trial, against the tests of a session."""

    def __init__(self, session: Session, items: Items, reach: Reach, processes: int) -> None:
        self.session = session
        self.items = {item.nodeid: item for item in items}
        self.reach = reach
        self.processes = processes

    def verdicts(self, faults: Sequence[Fault]) -> Iterator[tuple[Fault, str]]:
        """Each fault with the test that finds it, "" where none does, as they come."""
        waiting = [(fault, *self.in_rounds(fault)) for fault in faults]
        running: dict[int, tuple[Fault, int, list[str], list[str]]] = {}
        began = time.monotonic()
        while waiting or running:
            while waiting and len(running) < self.processes:
                fault, tests, slow = waiting.pop(0)
                process, said = self._try(fault, tests)
                running[process] = fault, said, tests, slow
            process, status = os.wait()
            fault, said, tests, slow = running.pop(process)
            with open(said, encoding="ascii") as pipe:  # noqa: PTH123 - it has no name
                place = pipe.read()
            if place:
                yield fault, tests[int(place)]
            elif os.waitstatus_to_exitcode(status) != 0:
                yield fault, BROKEN
            elif slow:
                waiting.append((fault, slow, []))
                self._tell(f"no quick test finds {told(fault)}\n")
            else:
                yield fault, ""
            self._tell(f"{len(waiting)} left after {time.monotonic() - began:.0f} s")
        self._tell("\n")

    def in_rounds(self, fault: Fault) -> tuple[list[str], list[str]]:
        """The tests that every fault meets, and those that only what is left meets at the end.

        What is known to change nothing meets the quick ones alone: they may know better.
        """
        tests = self.tests_of(fault)
        spent_s = list(accumulate(self.reach[name].seconds for name in tests))
        quick, most = (sum(each <= limit_s for each in spent_s) for limit_s in (QUICK_S, MOST_S))
        return tests[:quick], [] if why_same(fault) else tests[quick:most]

    def tests_of(self, fault: Fault) -> list[str]:
        """The tests that may find a fault, in the order in which they are run."""
        if not fault.file.startswith(words.FOLDER):
            return order_of(fault, self.reach)
        names = [name for name in self.reach if name.startswith(words.TESTS)]
        return in_order("", names, names, self.reach)

    def fail_alone(self, finders: Collection[str]) -> Iterator[str]:
        """Which of the tests that found a fault fail by themselves without any."""
        for name in sorted({*finders} & {*self.items}):
            process = split_off(partial(self._fails, name))
            if os.waitstatus_to_exitcode(os.waitpid(process, 0)[1]) != 0:
                yield name

    def _try(self, fault: Fault, tests: Sequence[str]) -> tuple[int, int]:
        """Start a process that says which of the tests finds the fault; its number and its pipe."""
        reading, writing = os.pipe()

        def task() -> int:
            apply(fault)
            place = self._run(tests)
            if place is not None:
                os.write(writing, str(place).encode())
            return 0

        process = split_off(task)
        os.close(writing)
        return process, reading

    def _fails(self, test: str) -> int:
        return int(self._run([test]) is not None)

    def _run(self, tests: Sequence[str]) -> int | None:
        items: list[pytest.Item] = [self.items[name] for name in tests]
        return self.session.first_failure(items, [self.reach[name].seconds for name in tests])

    def _tell(self, text: str) -> None:
        print(f"\r{text} ", end="", file=sys.__stderr__, flush=True)


def told(fault: Fault) -> str:
    """A fault and its place, in a line."""
    place = f"{fault.file}:{fault.line}:{fault.column} {fault.function}"
    return f"{place}: {fault.change} in “{fault.text}”"
