"""What the short path leads to, kept between runs: to work it out takes a second."""

import contextlib
from pathlib import Path

from engine.conversation import Key
from engine.model.guide import Guide
from engine.respond import conversation_of
from engine.ways import Signature
from guide.cache import CACHE, digest_of, keep, read_kept
from guide.content_folder import CONTENT
from guide.guide_kept import checked_guide
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
    guide = checked_guide(folder)
    conversation = conversation_of(guide)
    file = FOLDER / f"{guide.edition}-{digest_of(ROOT, 'engine')}.json"
    known = _read(file)
    if known is None:
        keep(file, list(conversation.known().items()), MOST_KEPT)
    else:
        conversation.remember(known)
    return guide


def _read(file: Path) -> dict[Key, Signature] | None:
    with contextlib.suppress(ValueError, TypeError):
        return {
            tuple((str(name), str(value)) for name, value in key): tuple(map(tuple, signature))
            for key, signature in read_kept(file)
        }
    return None
