"""What a run of the tests makes once: whoever needs it first makes it, all others share it."""

import fcntl
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest


def make_once(place: Path, make: Callable[[Path], None]) -> None:
    """Have ``make`` fill a place, unless another process of this run did; what fails is kept too.

    A process that dies at it leaves neither, and whoever waits for it begins afresh.
    """
    place.parent.mkdir(parents=True, exist_ok=True)
    with beside(place, "lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)  # until the file is closed
        if beside(place, "made").exists() or beside(place, "failed").exists():
            return
        shutil.rmtree(place, ignore_errors=True)  # what a process left that died at it
        try:
            make(place)
        except Exception as error:
            beside(place, "failed").write_text(f"{place.name} could not be made: {error}", "utf-8")
        else:
            beside(place, "made").touch()


def made_once(place: Path, make: Callable[[Path], None]) -> Path:
    """The place as ``make`` fills it; where that failed, whoever needs it is told the same."""
    make_once(place, make)
    if beside(place, "failed").exists():
        pytest.fail(beside(place, "failed").read_text("utf-8"), pytrace=False)
    return place


def beside(place: Path, what: str) -> Path:
    """A file that says something of a place."""
    return place.parent / f"{place.name}.{what}"


def folder_of_run(temporary: pytest.TempPathFactory) -> Path:
    """The folder that all processes of a run share, gone with its temporary files."""
    own = temporary.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
