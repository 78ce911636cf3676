"""Takes the memory of a Python in which everything was readied."""

import json
import tempfile
from pathlib import Path

from site_src.build.in_node import run
from site_src.build.library import library

HERE = Path(__file__).parent


def kept_memory(archives: Path, packages: Path, node: str) -> tuple[bytes, dict[str, int]]:
    """Return the memory of a Python that imported and warmed the engine, and its layout.

    archives: folder with the compiled wheels and the content
    """
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "memory"
        what = "the engine's memory could not be kept"
        given = (library(packages, node), archives, out)
        said = run(node, HERE / "snapshot.mjs", packages, *given, what=what)
        layout: dict[str, int] = json.loads(said)
        return out.read_bytes(), layout
