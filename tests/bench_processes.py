"""What the processes started from this one hold and have taken; Linux tells it in ``/proc``."""

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path

PROC = Path("/proc")
USER_AND_SYSTEM = slice(11, 13)
"""Of the fields after a program's name in ``/proc/<id>/stat``: clock ticks of its own."""


def is_told() -> bool:
    """Whether this system tells of its processes."""
    return (PROC / "self" / "stat").exists()


def processes() -> Iterator[tuple[int, str, list[str]]]:
    """Each process below this one, its program's name and the fields after that."""
    told: dict[int, tuple[str, list[str]]] = {}
    for folder in PROC.glob("[0-9]*"):
        with contextlib.suppress(OSError):
            before, _, after = (folder / "stat").read_text().rpartition(")")
            told[int(folder.name)] = (before.partition("(")[2], after.split())
    for process, (name, fields) in told.items():
        above = process
        while above in told and above != os.getpid():
            above = int(told[above][1][1])
        if above == os.getpid() != process:
            yield process, name, fields


def resident_mb() -> float:
    """Megabytes (of 1,048,576 bytes) that they hold for themselves."""
    total = 0
    for process, _, _ in processes():
        with contextlib.suppress(OSError):
            lines = (PROC / str(process) / "smaps_rollup").read_text().splitlines()
            total += sum(int(line.split()[1]) for line in lines if "Private" in line)
    return total / 1024


def processor_s(program: str) -> dict[int, float]:
    """Seconds of processor that each of a program's has taken until now, by its number.

    program: with what its name begins
    """
    ticks = os.sysconf("SC_CLK_TCK")
    return {
        process: sum(map(int, fields[USER_AND_SYSTEM])) / ticks
        for process, name, fields in processes()
        if name.startswith(program)
    }
