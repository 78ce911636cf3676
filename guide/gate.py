"""Every check of this repository, in one run: format, lint, types, tests."""

import subprocess
import sys
import time
from collections.abc import Sequence

from guide import setup_browser
from guide.setup import ROOT, say

PYTHON = [sys.executable, "-m"]
CHECKS = (
    ("layout of the code", [*PYTHON, "ruff", "format", "--check", "--quiet", "."]),
    ("lint", [*PYTHON, "ruff", "check", "--quiet", "."]),
    ("types", [*PYTHON, "mypy"]),
)
TESTS = [*PYTHON, "pytest", "--numprocesses=auto", "--dist=loadgroup"]


def run(pytest_arguments: Sequence[str]) -> int:
    """Run all checks, the tests last, and return the first exit code that is not zero."""
    setup_browser.require()
    setup_browser.require_print_reader()
    setup_browser.offer_others()
    steps = [*CHECKS, ("tests", [*TESTS, *pytest_arguments])]
    codes = [run_step(place, len(steps), *step) for place, step in enumerate(steps, start=1)]
    return next((code for code in codes if code), 0)


def run_step(place: int, count: int, name: str, command: Sequence[str]) -> int:
    """Run one check, say what it is and whether it failed, and return its exit code."""
    say(f"[{place}/{count}] {name}")
    began = time.monotonic()
    code = subprocess.run(command, cwd=ROOT, stdin=subprocess.DEVNULL, check=False).returncode
    say(f"      {'FAILED' if code else 'good'} after {time.monotonic() - began:.0f} s")
    return code
