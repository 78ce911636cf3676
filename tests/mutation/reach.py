"""Which test files reach which functions: each file is run once, and what it calls is noted."""

import contextlib
import hashlib
import io
import json
import os
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from types import CodeType, FrameType
from typing import Any

import pytest

from engine.kept import forget

ROOT = Path(__file__).parent.parent.parent
KEPT = ROOT / "build" / "mutation-reach.json"
Reach = dict[str, dict[str, float]]
"""By function ("file:name") the test files that reach it, with the seconds that each takes."""


def load(tests: Sequence[str]) -> None:
    """Import all tests and what they test, so that no process that is split off has to."""
    code = run_files(tests, "--collect-only")
    if code:
        raise SystemExit(f"the tests could not be collected (exit {code}); run pytest on them")


def run_files(files: Sequence[str], *arguments: str, plugins: Sequence[object] = ()) -> int:
    """Run files of tests in this process as one session, in this order, silently."""
    forget("guide")
    forget("never")
    with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
        options = ["-q", "-n0", "-p", "no:cacheprovider", "-p", "no:hypothesispytest"]
        return int(pytest.main([*options, *arguments, *files], plugins=list(plugins)))


def reach_of(targets: Sequence[str], tests: Sequence[str]) -> Reach:
    """The reach of these tests; read again where neither code nor tests have changed since."""
    digest = _digest([*targets, *tests])
    with contextlib.suppress(OSError, ValueError, KeyError):
        known = json.loads(KEPT.read_text())
        if known["digest"] == digest:
            found: Reach = known["reach"]
            return found
    reach: Reach = {}
    for place, test in enumerate(tests, start=1):
        print(f"\r{place}/{len(tests)} {test:<60}", end="", file=sys.stderr, flush=True)
        began = time.perf_counter()
        called, code = _called(test, frozenset(str(ROOT / name) for name in targets))
        if code not in (0, 5):
            raise SystemExit(f"\n{test} does not pass by itself (exit {code}); mend it first")
        took = time.perf_counter() - began
        for name in sorted(called):
            reach.setdefault(name, {})[test] = round(took, 2)
    print(file=sys.stderr)
    KEPT.parent.mkdir(exist_ok=True)
    KEPT.write_text(json.dumps({"digest": digest, "reach": reach}))
    return reach


def _called(test: str, targets: frozenset[str]) -> tuple[set[str], int]:
    codes: set[CodeType] = set()

    def note(frame: FrameType, event: str, _argument: Any) -> None:
        if event == "call" and frame.f_code.co_filename in targets:
            codes.add(frame.f_code)

    sys.setprofile(note)
    try:
        exit_code = run_files([test])
    finally:
        sys.setprofile(None)
    return {
        f"{Path(code.co_filename).relative_to(ROOT).as_posix()}:{top_name(code)}" for code in codes
    }, exit_code


def top_name(code: CodeType) -> str:
    """The function of a code object as its module knows it; what is inside counts to it."""
    return code.co_qualname.split(".<locals>")[0]


def order_of(target: str, function: str, reach: Mapping[str, Mapping[str, float]]) -> Iterator[str]:
    """Test files that reach a function: its own first, then the quickest."""
    found = reach.get(f"{target}:{function}", {})
    stem = Path(target).stem
    near = [name for name in found if Path(name).stem in (stem, f"test_{stem}")]
    yield from sorted(near, key=lambda name: (found[name], name))
    yield from sorted(set(found) - set(near), key=lambda name: (found[name], name))


def _digest(files: Sequence[str]) -> str:
    digest = hashlib.sha256(sys.version.encode() + os.fsencode(ROOT))
    for name in files:
        digest.update(name.encode() + (ROOT / name).read_bytes())
    return digest.hexdigest()
