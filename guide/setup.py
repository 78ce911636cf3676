"""Set-up of the environment ``.venv`` from the locked requirements; standard library only."""

import fcntl
import hashlib
import os
import re
import shutil
import subprocess
import sys
import tempfile
import threading
import venv
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from functools import cache, partial
from pathlib import Path
from typing import Literal

ROOT = Path(__file__).resolve().parent.parent
ENVIRONMENT = ROOT / ".venv"
APT = threading.Lock()
"""Held while a system package is installed: packages of the tests come beside those of Python."""

Stage = Literal["run", "test"]


class SetupError(Exception):
    """Something is missing that only the reader can supply; the text says what to do."""


def prepare(stage: Stage) -> str:
    """Make ``.venv`` ready for a stage and return the path of its ``rig-guide`` command."""
    python = ENVIRONMENT / "bin" / "python"
    command = ENVIRONMENT / "bin" / "rig-guide"
    if not (python.exists() and command.exists() and is_current(stage)):
        if not runs(python):
            make_environment()
        install(python, stage)
    return str(command)


def lock_file(stage: str) -> Path:
    """Return the locked requirements of a stage; those of ``test`` contain those of ``run``."""
    return ROOT / "requirements" / f"{stage}.txt"


def stamp_text(stage: str) -> str:
    """Return what an environment's stamp must say to be current for a stage."""
    parts = [lock_file(stage).read_bytes(), (ROOT / "pyproject.toml").read_bytes()]
    return hashlib.sha256(b"\0".join([*parts, os.fsencode(ROOT)])).hexdigest()


def is_current(stage: Stage) -> bool:
    """Tell whether the stage, or the larger one that contains it, is installed as locked."""
    return any(read_stamp(name) == stamp_text(name) for name in {stage, "test"})


def stamp_file(stage: str) -> Path:
    """Return where the stamp of a stage is kept."""
    return ENVIRONMENT / f"rig-guide-{stage}.stamp"


def read_stamp(stage: str) -> str:
    """Return the text of a stage's stamp, empty when there is none."""
    try:
        return stamp_file(stage).read_text()
    except OSError:
        return ""


def runs(python: Path) -> bool:
    """Tell whether an interpreter starts, is new enough and can install packages."""
    test = "import sys, pip; sys.exit(sys.version_info < (3, 11))"
    try:
        done = subprocess.run([python, "-c", test], capture_output=True, check=False)
    except OSError:
        return False
    return done.returncode == 0


def make_environment() -> None:
    """Create ``.venv`` afresh."""
    ensure_pip_source()
    say("[setup] making the Python environment .venv")
    try:
        venv.create(ENVIRONMENT, clear=True, with_pip=True, symlinks=True)
    except (OSError, subprocess.CalledProcessError) as error:
        shutil.rmtree(ENVIRONMENT, ignore_errors=True)
        raise SetupError(f"Python could not make the environment {ENVIRONMENT}: {error}") from error


def ensure_pip_source() -> None:
    """Install what Debian leaves out of Python, or say what to install."""
    if has_ensurepip():
        return
    package = f"python{sys.version_info.major}.{sys.version_info.minor}-venv"
    if not install_with_apt(package) or not has_ensurepip():
        raise SetupError(
            f"this Python has no 'venv' part; install the package {package} "
            f"(Debian, Ubuntu: sudo apt-get install {package}) and start again"
        )


def has_ensurepip() -> bool:
    """Tell whether this Python can put pip into a new environment."""
    test = [sys.executable, "-c", "import ensurepip, venv"]
    return subprocess.run(test, capture_output=True, check=False).returncode == 0


def install_with_apt(*packages: str) -> bool:
    """Install Debian packages when this user may, and tell whether that was done."""
    apt = shutil.which("apt-get")
    if apt is None or os.geteuid() != 0:
        return False
    with APT:
        say(f"[setup] installing with apt: {' '.join(packages)}")
        return has_fresh_lists(apt) and run_apt(apt, "install", "-y", *packages)


@cache
def has_fresh_lists(apt: str) -> bool:
    """Read, once, which packages there are, and tell whether that could be done."""
    return run_apt(apt, "update")


def run_apt(apt: str, *arguments: str) -> bool:
    """Run ``apt-get`` without questions and tell whether it succeeded."""
    return run_quietly(
        [apt, "-qq", *arguments], {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    )


@contextmanager
def alone(folder: Path) -> Iterator[None]:
    """Keep out other processes that would install into the same folder meanwhile."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)


def run_quietly(step: list[str], environment: dict[str, str], folder: Path = ROOT) -> bool:
    """Run one command, show its output only when it fails, and tell whether it succeeded."""
    done = subprocess.run(
        step,
        cwd=folder,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    if done.returncode:
        say(done.stdout[-2000:])
    return done.returncode == 0


def install(python: Path, stage: Stage) -> None:
    """Install the locked packages of a stage and the project itself."""
    lock = lock_file(stage)
    say(f"[setup] installing {count_packages(lock)} packages, as requirements/{lock.name} says")
    pip_install(python, "--require-hashes", "--requirement", str(lock_file("build")))
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor() as beside:
        list(beside.map(partial(install_locked, python), parts_of(stage, Path(folder))))
    say("[setup] installing Rig Power Guide itself")
    pip_install(python, "--no-deps", "--no-build-isolation", "--editable", str(ROOT))
    stamp_file(stage).write_text(stamp_text(stage))


def parts_of(stage: Stage, folder: Path) -> list[Path]:
    """Return locks that share no package and together hold those of a stage.

    pip uses one processor, and packages of the tests take as long as all others.

    folder: where a lock is written that names only what the tests have besides
    """
    if stage == "run":
        return [lock_file("run")]
    known, besides = set(entries(lock_file("run"))), folder / "besides.txt"
    only = [each for each in entries(lock_file("test")) if each not in known]
    besides.write_text("".join(only))
    return [lock_file("run"), besides]


def entries(lock: Path) -> list[str]:
    """Return what a lock says of each package: the line that names it, and those of its hashes."""
    return re.split(r"^(?=\S)", lock.read_text(), flags=re.MULTILINE)[1:]


def install_locked(python: Path, lock: Path) -> None:
    """Install the packages of a lock, which names all that they need.

    What is built here is built with the locked tool, not with one that pip would fetch itself.
    """
    as_locked = ("--no-deps", "--no-build-isolation", "--require-hashes")
    pip_install(python, *as_locked, "--requirement", str(lock))


def count_packages(lock: Path) -> int:
    """Return how many packages a lock file names."""
    lines = lock.read_text().splitlines()
    return len({line.split("==")[0] for line in lines if "==" in line and line[0] != " "})


def pip_install(python: Path, *arguments: str) -> None:
    """Run ``pip install`` in an environment."""
    base = [str(python), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    base.append("--no-compile")  # Python compiles what is used; all of it would take a quarter more
    root_is_fine = {**os.environ, "PIP_ROOT_USER_ACTION": "ignore"}
    if not run_quietly([*base, *arguments], root_is_fine):
        raise SetupError(
            "pip could not install the packages (its reason stands above); "
            "check that this machine reaches the Python package index and start again"
        )


def say(text: str) -> None:
    """Tell the reader what is going on, at once."""
    print(text, file=sys.stderr, flush=True)
