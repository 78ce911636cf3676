"""The checked guide of a content folder, kept between runs: to read and check it takes long.

It is kept as byte code of the module that the build makes of an edition, so that neither YAML nor
pydantic is needed to read it again.
"""

import contextlib
import hashlib
import marshal
import sys
from pathlib import Path

from engine.model.guide import Guide
from engine.wording.tongue import speak
from guide.cache import CACHE, digest_of, keep_bytes, read_bytes
from guide.content_folder import CONTENT
from guide.setup import ROOT

FOLDER = CACHE / "guide"
MOST_KEPT = 8
"""Editions; while somebody edits, each save makes one."""
GLOSSARY = ROOT / "site_src" / "glossary.yaml"
"""What the guide takes from outside the content and the code."""


def checked_guide(folder: Path = CONTENT) -> Guide:
    """The guide of a content folder, checked by this run or by one before that read the same.

    Raises
    ------
    ContentError : with every fault of the content; a faulty one is never kept.
    """
    file = FOLDER / f"{_digest(folder)}-{sys.implementation.cache_tag}.bin"
    found = _read(file)
    if found is not None:
        speak(found.wording.grammar, found.shop.currency)
        return found
    from guide.load import as_module, load_guide  # noqa: PLC0415 - it brings YAML and pydantic

    guide = load_guide(folder)
    code = compile(as_module(guide), "edition", "exec", dont_inherit=True, optimize=0)
    keep_bytes(file, marshal.dumps(code), MOST_KEPT)
    return guide


def _digest(folder: Path) -> str:
    """What changes with any byte of the content, of the code, and of the glossary."""
    read = digest_of(folder.parent, folder.name, kind="*")
    written = digest_of(ROOT, "engine", "guide")
    return f"{read}-{written}-{hashlib.sha256(read_bytes(GLOSSARY)).hexdigest()[:12]}"


def _read(file: Path) -> Guide | None:
    with contextlib.suppress(ValueError, EOFError, TypeError, KeyError):
        names: dict[str, object] = {}
        exec(marshal.loads(read_bytes(file)), names)
        found = names["GUIDE"]
        return found if isinstance(found, Guide) else None
    return None
