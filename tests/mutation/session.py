"""All tests collected once in one session, and processes split off it that run some of them."""

import contextlib
import io
import os
import resource
from collections.abc import Callable, Sequence
from itertools import pairwise

import hypothesis
import pytest

SPARE_S = 20
"""Processor's time that a test may take beyond ten times its own before it counts as endless."""
OPTIONS = ("-q", "-n0", "-p", "no:cacheprovider", "-p", "no:hypothesispytest")
Items = Sequence[pytest.Item]


class Session:
    """What pytest tells of the tests that are run here: whether one of them failed."""

    def __init__(self, work: Callable[["Session", Items], None]) -> None:
        self.work = work
        self.failed = False
        self.stopped: BaseException | None = None

    @pytest.hookimpl(tryfirst=True)
    def pytest_collection(self) -> None:
        """Have each run try the same examples, and a failing one not made small."""
        phases = (hypothesis.Phase.explicit, hypothesis.Phase.generate)
        hypothesis.settings.register_profile(
            "one failure is enough",
            hypothesis.settings.default,
            phases=phases,
            database=None,
            derandomize=True,
        )
        hypothesis.settings.load_profile("one failure is enough")

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Do the work in the place of running all tests."""
        if not session.testsfailed:
            try:
                self.work(self, session.items)
            except BaseException as stop:  # pytest would make an exit code of it
                self.stopped = stop
        return True

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note a failure."""
        self.failed = self.failed or report.failed

    def passes(self, item: pytest.Item, following: pytest.Item | None) -> bool:
        """Run a test in this process; what it shares with the following one stays."""
        self.failed = False
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)
        return not self.failed

    def first_failure(self, items: Items, seconds: Sequence[float]) -> int | None:
        """Run tests in this process up to the first that fails; its place."""
        for place, (item, following) in enumerate(pairwise([*items, None])):
            assert item is not None
            used = resource.getrusage(resource.RUSAGE_SELF)
            most_s = int(used.ru_utime + used.ru_stime + 10 * seconds[place]) + SPARE_S
            resource.setrlimit(resource.RLIMIT_CPU, (most_s, resource.RLIM_INFINITY))
            if not self.passes(item, following):
                return place
        return None


def with_tests(files: Sequence[str], work: Callable[[Session, Items], None]) -> None:
    """Collect files of tests, silently, and do some work with what was found.

    Raises
    ------
    SystemExit : if they cannot be collected.
    """
    plugin = Session(work)
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        code = int(pytest.main([*OPTIONS, *files], plugins=[plugin]))
    if plugin.stopped:
        raise plugin.stopped
    if code:
        raise SystemExit(f"the tests could not be collected (exit {code}); run pytest on them")


def split_off(task: Callable[[], int]) -> int:
    """Start a process that ends with what a task returns, with 255 where it breaks; its number."""
    process = os.fork()
    if process:
        return process
    code = 255
    try:
        devnull = os.open(os.devnull, os.O_WRONLY)
        os.dup2(devnull, 1)
        os.dup2(devnull, 2)
        code = task()
    finally:
        os._exit(code)
