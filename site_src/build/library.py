"""Pyodide's library as byte code: a start that need not compile it takes a third, and the engine's
memory is smaller, since nothing is left in it of compiling.
"""

import hashlib
import tempfile
from pathlib import Path

from guide import setup_pyodide
from guide.cache import keep_bytes
from site_src.build.in_node import BundleError, run

NAME = "python_stdlib.zip"
PLACE = "pyodide-library"
KEPT = 4


def library(packages: Path, node: str) -> Path:
    """The library, made once for each Pyodide and kept beside what compiles for it.

    Raises
    ------
    BundleError : if it cannot be made, or not be kept.
    """
    tools = setup_pyodide.tools(packages)
    kept = tools.parent / PLACE / f"{digest_of(packages, tools)}.zip"
    if not kept.exists():
        keep_bytes(kept, made(packages, tools, node), KEPT)
    if not kept.exists():
        raise BundleError(f"{kept} could not be written; make its folder writable")
    return kept


def digest_of(packages: Path, tools: Path) -> str:
    """What changes with Pyodide, with what compiles for it, and with how it is made."""
    digest = hashlib.sha256((packages / "pyodide" / NAME).read_bytes())
    digest.update((tools / setup_pyodide.STAMP).read_bytes())
    digest.update(_script().read_bytes())
    return digest.hexdigest()[:12]


def made(packages: Path, tools: Path, node: str) -> bytes:
    """Make it; the same bytes each time."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / NAME
        run(node, _script(), packages, tools, out, what="Pyodide's library did not compile")
        return out.read_bytes()


def _script() -> Path:
    return Path(__file__).with_name("library.mjs")
