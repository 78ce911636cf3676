"""Runs a script that starts Pyodide in Node."""

import subprocess
from pathlib import Path

TOLD = 2000  # characters of a failure

_running: list[subprocess.Popen[str]] = []


class BundleError(Exception):
    """What the browser needs could not be made, or something that must not reach it is about to."""


def run(node: str, script: Path, packages: Path, *arguments: str | Path, what: str) -> str:
    """Return what a script says that gets the path of the locked Pyodide first.

    Raises
    ------
    BundleError : if it fails; `what` says what could not be done then.
    """
    command: list[str | Path] = [node, script, packages / "pyodide" / "pyodide.mjs", *arguments]
    told = subprocess.PIPE
    with subprocess.Popen(command, stdout=told, stderr=told, text=True) as process:
        _running.append(process)
        said, faults = process.communicate()
        _running.remove(process)
    if process.returncode:
        raise BundleError(f"{what}:\n{(said + faults)[-TOLD:]}")
    return said


def stop() -> None:
    """End what runs, where a build failed meanwhile."""
    for process in list(_running):
        process.kill()
