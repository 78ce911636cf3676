"""The folder of the shop's content: where it is, what lies in it, and which edition that makes."""

import hashlib
import os
from pathlib import Path

CONTENT = Path(os.environ.get("RIG_GUIDE_CONTENT") or Path(__file__).resolve().parent / "content")
"""The shop's content: the folder that the environment names, or the one beside this file."""


def names_of(folder: Path) -> list[str]:
    """The content files below a folder, by name."""
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*.yaml"))


def edition_of(folder: Path = CONTENT) -> str:
    """Twelve hexadecimal digits that change with any byte of the content."""
    digest = hashlib.sha256()
    for name in names_of(folder):
        data = (folder / name).read_bytes()
        digest.update(f"{name}\0{len(data)}\0".encode())
        digest.update(data)
    return digest.hexdigest()[:12]
