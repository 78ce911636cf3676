"""Runs a script that starts Pyodide in Node."""

import subprocess
from pathlib import Path

TOLD = 2000  # characters of a failure


class BundleError(Exception):
    """What the browser needs could not be made, or something that must not reach it is about to."""


def run(node: str, script: Path, packages: Path, *arguments: str | Path, what: str) -> str:
    """Return what a script says that gets the path of the locked Pyodide first.

    Raises
    ------
    BundleError : if it fails; `what` says what could not be done then.
    """
    command: list[str | Path] = [node, script, packages / "pyodide" / "pyodide.mjs", *arguments]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode:
        raise BundleError(f"{what}:\n{(done.stdout + done.stderr)[-TOLD:]}")
    return done.stdout
