"""One file of the content, whatever lies at its place: its text, or the fault that keeps it shut.

A folder may hold folders, pipes, devices and links that lead nowhere under the names of files, and
files of any bytes. None of them ends the reading of the others, and none is waited for.
"""

import os
import re
import stat
from pathlib import Path

from guide.fault import Fault

MOST_BYTES = 1_000_000
"""Forty times the longest file of the demo; a megabyte of YAML is read in some ten seconds."""
UNSEEN = re.compile(
    "[\0-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u200b\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb"
    "\ufffe\uffff\ud800-\udfff\U000e0000-\U000e007f]"
)
"""Signs that nobody sees and that change how a text reads: controls, breaks, turned directions.

Joiners (U+200C, U+200D) and marks of direction (U+200E, U+200F) belong to some languages.
"""
UNSEEN_MEND = "Take it out; an editor that shows invisible characters finds it."
_BYTE_ORDER_MARK = "\ufeff"


def read_bytes(path: Path, name: str) -> bytes | Fault:
    """The bytes of a file; name: what faults call it."""
    try:
        # without O_NONBLOCK a pipe that nobody writes into is waited for
        with os.fdopen(os.open(path, os.O_RDONLY | os.O_NONBLOCK | os.O_CLOEXEC), "rb") as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                return _fault(name, "it is no file but a pipe or a device")
            data = file.read(MOST_BYTES + 1)
    except OSError as error:  # a folder among them
        return _fault(name, f"it cannot be read ({error.strerror or error})")
    if len(data) > MOST_BYTES:
        return _fault(name, f"it is longer than {MOST_BYTES:,} bytes")
    return data


def read_text(path: Path, name: str) -> str | Fault:
    """The text of a file, without the mark that some editors put in front."""
    data = read_bytes(path, name)
    if isinstance(data, Fault):
        return data
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        return Fault(name, line, 1, "this file", "it is not written in UTF-8", "Save it as UTF-8.")
    text = text.removeprefix(_BYTE_ORDER_MARK)
    found = UNSEEN.search(text)
    if found:
        before = text[: found.start()]
        line, column = before.count("\n") + 1, found.start() - before.rfind("\n")
        return Fault(name, line, column, "this file", unseen_in(text), UNSEEN_MEND)
    return text


def unseen_in(text: str) -> str:
    """Why a text with such a sign is refused."""
    found = UNSEEN.search(text)
    return f"the sign U+{ord(found[0]):04X} in it cannot be seen" if found else ""


def fault_of_name(name: str) -> Fault | None:
    """The fault of a file whose name cannot be written down."""
    if name.isprintable():
        return None
    mend = "Give it a name of letters, digits and hyphens."
    return Fault(name, 1, 1, "the file's name", "it holds signs that cannot be shown", mend)


def _fault(name: str, why: str) -> Fault:
    mend = "Put a file of the content in its place, or take it out."
    return Fault(name, 1, 1, "the file", why, mend)
