"""Every check of this repository, in one run: format, lint, types, tests."""

import os
import subprocess
import sys
import time
from collections.abc import Callable, Sequence

from guide import setup_browser, setup_servers
from guide.setup import ROOT, say

PYTHON = [sys.executable, "-m"]
CHECKS = (
    ("layout of the code", [*PYTHON, "ruff", "format", "--check", "--quiet", "."]),
    ("lint", [*PYTHON, "ruff", "check", "--quiet", "."]),
)
TYPES = [*PYTHON, "mypy"]
TESTS = [*PYTHON, "pytest", "--numprocesses=auto", "--dist=loadscope", "--no-loadscope-reorder"]


def run(pytest_arguments: Sequence[str]) -> int:
    """Run all checks, the types beside the tests, and return the first exit code not zero."""
    setup_browser.require()
    setup_browser.require_print_reader()
    setup_browser.offer_others()
    setup_servers.offer()
    codes = [run_step(name, command) for name, command in CHECKS]
    types = begin("types", TYPES)
    codes.append(run_step("tests", [*TESTS, *pytest_arguments]))
    codes.append(types())
    return next((code for code in codes if code), 0)


def surroundings() -> dict[str, str]:
    """The environment of a check: what one of its many processes compiles, the others read."""
    return {name: text for name, text in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def run_step(name: str, command: Sequence[str]) -> int:
    """Run one check, say what it is and whether it failed, and return its exit code."""
    say(f"[{name}]")
    began = time.monotonic()
    code = subprocess.run(
        command, cwd=ROOT, env=surroundings(), stdin=subprocess.DEVNULL, check=False
    ).returncode
    say(f"      {'FAILED' if code else 'good'} after {time.monotonic() - began:.0f} s")
    return code


def begin(name: str, command: Sequence[str]) -> Callable[[], int]:
    """Begin a check; the function ends it, says what it found and returns its exit code."""
    process = subprocess.Popen(
        command,
        cwd=ROOT,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
    )

    def end() -> int:
        said, _ = process.communicate()
        say(f"[{name}]\n{said.strip()}\n      {'FAILED' if process.returncode else 'good'}")
        return process.returncode

    return end
