"""Node and the packages of the browser side: found on the machine, else installed as locked."""

import ctypes
import hashlib
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

from guide.setup import (
    ROOT,
    SetupError,
    alone,
    install_with_apt,
    pip_install,
    run_quietly,
    say,
)

SHELL = ROOT / "site_src" / "shell"
OLDEST_NODE = 20


def packages(folder: Path = SHELL, names: str = "Pyodide, idiomorph") -> Path:
    """Return the folder of the locked npm packages, installing them when they are not current.

    folder: where they are locked; by default those of the site itself
    names: what is told of them
    """
    installed = folder / "node_modules"
    stamp = installed / ".rig-guide.stamp"
    wanted = hashlib.sha256((folder / "package-lock.json").read_bytes()).hexdigest()
    with alone(folder):
        if not (stamp.exists() and stamp.read_text() == wanted):
            say(f"      installing the locked npm packages ({names})")
            npm_ci(folder)
            stamp.write_text(wanted)
    return installed


def npm_ci(folder: Path) -> None:
    """Install exactly what the lock file says; npm compares every package with its hash."""
    command = [*npm(), "ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"]
    if not run_quietly(command, dict(os.environ), folder):
        raise SetupError(
            f"npm could not install the packages of {folder.relative_to(ROOT)} (its reason stands "
            "above); check that this machine reaches the npm registry and start again"
        )


def node() -> str:
    """Return the path of a Node that is new enough, installing it when there is none."""
    found = find_node()
    if found is None:
        ensure_library()
        with alone(ROOT / "requirements"):
            found = find_node() or install_node()
    if found is None:
        raise SetupError("Node does not start; install Node 20 or newer and start again")
    return found


def install_node() -> str | None:
    """Install Node as locked and return its path, None where it does not start."""
    say("      installing Node (none of version 20 or newer was found)")
    lock = ROOT / "requirements" / "node.txt"
    pip_install(Path(sys.executable), "--require-hashes", "--requirement", str(lock))
    return find_node()


def ensure_library() -> None:
    """Install the one library that packaged Nodes want and small Debians lack, or name it."""
    if sys.platform == "linux" and not (has_library() or install_with_apt("libatomic1")):
        raise SetupError(
            "Node needs the library libatomic.so.1; install it (Debian, Ubuntu: "
            "sudo apt-get install libatomic1; Fedora: sudo dnf install libatomic) and start again"
        )


def has_library() -> bool:
    """Tell whether libatomic can be loaded."""
    try:
        ctypes.CDLL("libatomic.so.1")
    except OSError:
        return False
    return True


def npm() -> list[str]:
    """Return the command that starts the npm that belongs to ``node()``."""
    return [str(Path(node()).with_name("npm"))]


def find_node() -> str | None:
    """Return the first Node of the path or the environment that is new enough and has npm."""
    beside_python = Path(sys.executable).with_name("node")
    for candidate in (shutil.which("node"), str(beside_python)):
        if candidate and is_usable(candidate):
            return candidate
    return None


def is_usable(node_path: str) -> bool:
    """Tell whether a Node is new enough and has its npm beside it."""
    has_npm = Path(node_path).with_name("npm").exists()
    return has_npm and major_version(node_path) >= OLDEST_NODE


def major_version(node_path: str) -> int:
    """Return the major version a Node reports, 0 when it does not start."""
    try:
        done = subprocess.run([node_path, "--version"], capture_output=True, text=True, check=False)
    except OSError:
        return 0
    match = re.match(r"v(\d+)\.", done.stdout)
    return int(match[1]) if match else 0
