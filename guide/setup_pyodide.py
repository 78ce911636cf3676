"""pyodide-build, which compiles for the browser's Python: installed as locked, for that Python.

It runs in Pyodide itself and not in the Python that runs this, which may be too old for it.
"""

import hashlib
import json
import shutil
import sys
import tempfile
from pathlib import Path

from guide.setup import lock_file, pip_install, say

STAMP = ".rig-guide.stamp"


def tools(packages: Path, environment: Path | None = None) -> Path:
    """Return the folder of the locked packages, installing them when they are not current.

    packages: the locked npm packages, Pyodide among them
    environment: beside which Python the folder lies; by default the one that runs

    Raises
    ------
    SetupError : if pip cannot install them.
    """
    installed = (environment or Path(sys.prefix)) / "pyodide-build"
    lock, target = lock_file("pyodide"), target_python(packages)
    wanted = f"{hashlib.sha256(lock.read_bytes()).hexdigest()} {target}"
    if not is_current(installed, wanted):
        say("      installing the locked packages that compile for the browser (pyodide-build)")
        with tempfile.TemporaryDirectory(dir=installed.parent) as folder:
            fresh = Path(folder) / "packages"
            install(fresh, lock, target)
            (fresh / STAMP).write_text(wanted)
            if not is_current(installed, wanted):  # another process may have been quicker
                shutil.rmtree(installed, ignore_errors=True)
                fresh.rename(installed)
    return installed


def is_current(installed: Path, wanted: str) -> bool:
    """Tell whether a folder holds the packages that are wanted."""
    stamp = installed / STAMP
    return stamp.exists() and stamp.read_text() == wanted


def target_python(packages: Path) -> str:
    """Return the version of the Python in the locked Pyodide, without its last part."""
    lock = json.loads((packages / "pyodide" / "pyodide-lock.json").read_text())
    return str(lock["info"]["python"]).rpartition(".")[0]


def install(folder: Path, lock: Path, target: str) -> None:
    """Install what a lock names into a folder, for the browser's Python."""
    for_target = ("--python-version", target, "--ignore-requires-python", "--no-compile")
    locked = ("--only-binary", ":all:", "--no-deps", "--require-hashes", "--requirement", str(lock))
    pip_install(Path(sys.executable), "--target", str(folder), *for_target, *locked)
