"""What the short path leads to, kept between runs: to work it out takes a second."""

import contextlib
import hashlib
from pathlib import Path

from engine.conversation import Key
from engine.model.guide import Guide
from engine.respond import conversation_of
from engine.ways import Signature
from guide.cache import CACHE, keep, read_kept
from guide.load import CONTENT, load_guide
from guide.setup import ROOT

FOLDER = CACHE / "paths"
MOST_KEPT = 8
"""Editions; while somebody edits, each save makes one."""


def open_guide(folder: Path = CONTENT) -> Guide:
    """The guide of a content folder, with what its short path leads to known.

    That is taken from what another run kept for the same content and the same engine; where there
    is none, it is worked out, and kept where that may be written.

    Raises
    ------
    ContentError : with every fault of the content.
    """
    guide = load_guide(folder)
    conversation = conversation_of(guide)
    file = FOLDER / f"{guide.edition}-{_engine()}.json"
    known = _read(file)
    if known is None:
        _keep(file, conversation.known())
    else:
        conversation.remember(known)
    return guide


def _engine() -> str:
    """Twelve hexadecimal digits that change with any byte of the engine."""
    digest = hashlib.sha256()
    for source in sorted((ROOT / "engine").rglob("*.py")):
        digest.update(source.relative_to(ROOT).as_posix().encode() + b"\0" + source.read_bytes())
    return digest.hexdigest()[:12]


def _read(file: Path) -> dict[Key, Signature] | None:
    with contextlib.suppress(ValueError, TypeError):
        return {
            tuple((str(name), str(value)) for name, value in key): tuple(map(tuple, signature))
            for key, signature in read_kept(file)
        }
    return None


def _keep(file: Path, known: dict[Key, Signature]) -> None:
    """Keep it, and no more than some of the newest."""
    keep(file, list(known.items()))
    with contextlib.suppress(OSError):
        oldest_last = sorted(file.parent.glob("*.json"), key=_written, reverse=True)
        for old in oldest_last[MOST_KEPT:]:
            old.unlink()


def _written(file: Path) -> tuple[float, str]:
    return file.stat().st_mtime, file.name
