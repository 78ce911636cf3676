"""What one run keeps for the next, in a folder that may be deleted at any time."""

import contextlib
import hashlib
import json
import tempfile
from pathlib import Path
from typing import Any

from guide.setup import ROOT

CACHE = ROOT / ".cache"


def read_kept(file: Path) -> Any:
    """The data of a file; None where there is none that can be read."""
    with contextlib.suppress(OSError, ValueError):
        return json.loads(file.read_text("utf-8"))
    return None


def read_bytes(file: Path) -> bytes:
    """The bytes of a file; none where there is none that can be read."""
    with contextlib.suppress(OSError):
        return file.read_bytes()
    return b""


def keep(file: Path, data: Any, most: int | None = None) -> None:
    """Keep data; see `keep_bytes`."""
    keep_bytes(file, json.dumps(data).encode(), most)


def keep_bytes(file: Path, data: bytes, most: int | None = None) -> None:
    """Keep bytes where that may be written; whoever reads them meanwhile has all or nothing.

    most: files that are kept in its folder, the newest
    """
    with contextlib.suppress(OSError):
        file.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile("wb", dir=file.parent, delete=False) as made:
            made.write(data)
        Path(made.name).replace(file)
        newest_first = sorted(file.parent.iterdir(), key=_written, reverse=True)
        for old in newest_first[most:] if most else ():
            old.unlink()


def _written(file: Path) -> tuple[float, str]:
    return file.stat().st_mtime, file.name


def digest_of(root: Path, *folders: str, kind: str = "*.py") -> str:
    """Twelve hexadecimal digits that change with any byte, or name, of the files in folders.

    What begins with a dot in them is left out: a folder may be under git.
    """
    digest = hashlib.sha256()
    for folder in folders:
        for file in sorted((root / folder).rglob(kind)):
            name = file.relative_to(root / folder).as_posix()
            if file.is_file() and "/." not in f"/{name}":
                data = read_bytes(file)
                digest.update(f"{folder}/{name}\0{len(data)}\0".encode() + data)
    return digest.hexdigest()[:12]
