"""Which tests reach which blocks of code: each is run once, and what it runs is noted."""

import contextlib
import hashlib
import json
import os
import sys
import time
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from tests.mutation.apply import note_blocks
from tests.mutation.faults import Fault
from tests.mutation.session import Items, Session, split_off

ROOT = Path(__file__).parent.parent.parent
KEPT = ROOT / "build" / "mutation-reach"
LEAST_S = 0.02
"""Below this no test is quicker than another."""
UNSEEN = 8
"""So many times as dear is a test that was not seen at a place, but may read what is kept of it."""


@dataclass(frozen=True)
class Reached:
    """What a test needs: processor's time with all that it shares, and blocks "file:line"."""

    seconds: float
    blocks: frozenset[str]


Reach = Mapping[str, Reached]
"""By the name of a test."""


def reach_of(session: Session, items: Items, targets: Collection[str]) -> Reach:
    """What each test reaches of some files; what is known of an unchanged file is read again.

    Raises
    ------
    SystemExit : if a file of tests does not pass by itself.
    """
    files: dict[str, list[pytest.Item]] = defaultdict(list)
    for item in items:
        files[item.nodeid.split("::")[0]].append(item)
    common = _digest([*sorted(targets), *_helpers()])
    found: dict[str, Reached] = {}
    for place, (file, own) in enumerate(files.items(), start=1):
        kept = KEPT / f"{file.replace('/', '-')}.json"
        digest = _digest([file]) + common
        known = _read(kept, digest)
        if known is None:
            print(f"\r{place}/{len(files)} {file:<60}", end="", file=sys.__stderr__, flush=True)
            _measure(session, own, targets, kept, digest)
            known = _read(kept, digest)
        if known is None:
            raise SystemExit(f"\n{file} does not pass by itself; mend it first")
        found.update(known)
    return found


def _measure(
    session: Session, items: Items, targets: Collection[str], kept: Path, digest: str
) -> None:
    """Run the tests of a file in a process of their own, which keeps what they reach."""

    def task() -> int:
        noted = _Noted(note_blocks(targets))
        items[0].config.pluginmanager.register(noted)
        for item, following in zip(items, [*items[1:], None], strict=True):
            if not session.passes(item, following):
                return 1
        tests = {item.nodeid: [each.seconds, sorted(each.blocks)] for item, each in noted.of()}
        kept.parent.mkdir(parents=True, exist_ok=True)
        kept.write_text(json.dumps({"digest": digest, "tests": tests}))
        return 0

    os.waitpid(split_off(task), 0)


class _Noted:
    """Notes what tests and their fixtures run and take; what a fixture needs, its users need."""

    def __init__(self, run: set[str]) -> None:
        self.run = run
        self.of_fixtures_s = 0.0
        self.tests: dict[pytest.Item, Reached] = {}
        self.fixtures: dict[Any, Reached] = {}

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        self.run.clear()
        self.of_fixtures_s = 0.0
        began = time.process_time()
        try:
            return (yield)
        finally:
            own_s = time.process_time() - began - self.of_fixtures_s
            self.tests[item] = Reached(own_s, frozenset(self.run))

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(self, fixturedef: Any) -> Iterator[None]:
        outer, outer_s = set(self.run), self.of_fixtures_s
        self.run.clear()
        self.of_fixtures_s = 0.0
        began = time.process_time()
        try:
            return (yield)
        finally:
            whole_s = time.process_time() - began
            own = Reached(whole_s - self.of_fixtures_s, frozenset(self.run))
            self.fixtures[fixturedef] = own
            self.run.clear()
            self.run.update(outer)
            self.of_fixtures_s = outer_s + whole_s

    def of(self) -> Iterator[tuple[pytest.Item, Reached]]:
        """Each test with what it and its fixtures need."""
        for item, own in self.tests.items():
            info = getattr(item, "_fixtureinfo", None)
            shared = info.name2fixturedefs.values() if info else ()
            needed = [
                own,
                *(self.fixtures[each[-1]] for each in shared if each[-1] in self.fixtures),
            ]
            blocks = frozenset[str]().union(*(each.blocks for each in needed))
            yield item, Reached(round(sum(each.seconds for each in needed), 3), blocks)


def order_of(fault: Fault, reach: Reach) -> list[str]:
    """Tests that can find a fault: all of each file that reaches its block, in order.

    What is kept between the tests of a file hides which of them need a place; those that were seen
    there come first. A module's own data, which no function holds, are read by all that reach the
    module.
    """
    place = f"{fault.file}:{fault.block}"
    seen = {
        name
        for name, each in reach.items()
        if (place in each.blocks if fault.block else _is_in(fault.file, each.blocks))
    }
    files = {file_of(name) for name in seen}
    return in_order(fault.file, [name for name in reach if file_of(name) in files], seen, reach)


def in_order(target: str, names: Sequence[str], seen: Collection[str], reach: Reach) -> list[str]:
    """Tests that take little and are likely to look at the place come first."""

    def dear(name: str) -> float:
        far = _far(target, Path(file_of(name)))
        return max(reach[name].seconds, LEAST_S) * far * (1 if name in seen else UNSEEN)

    return sorted(names, key=dear)


def _far(target: str, tests: Path) -> int:
    """So many times as dear is a test of a file whose name has less to do with the target's."""
    path = Path(target)
    subject = tests.stem.removeprefix("test_")
    if subject == path.stem:
        return 1
    if subject.split("_")[0] == path.stem.split("_")[0]:
        return 2
    room = path.parts[1:2]
    return 4 if room and room[0] in tests.parts else 16


def file_of(test: str) -> str:
    """The file of a test's name."""
    return test.split("::", maxsplit=1)[0]


def _is_in(target: str, blocks: Collection[str]) -> bool:
    return any(each.startswith(f"{target}:") for each in blocks)


def _read(kept: Path, digest: str) -> dict[str, Reached] | None:
    with contextlib.suppress(OSError, ValueError, KeyError):
        known = json.loads(kept.read_text())
        if known["digest"] == digest:
            tests: dict[str, Any] = known["tests"]
            return {name: Reached(took, frozenset(of)) for name, (took, of) in tests.items()}
    return None


def _helpers() -> list[str]:
    """Files of the tests that hold no tests: what they change may change any test's reach."""
    found = (each.relative_to(ROOT) for each in (ROOT / "tests").rglob("*.py"))
    judge = ("mutants.py", "mutation")
    return sorted(
        each.as_posix()
        for each in found
        if not each.name.startswith("test_") and each.parts[1] not in judge
    )


def _digest(files: Sequence[str]) -> str:
    digest = hashlib.sha256(sys.version.encode() + os.fsencode(ROOT))
    for name in files:
        digest.update(name.encode() + (ROOT / name).read_bytes())
    return digest.hexdigest()
