"""What one run keeps for the next, in a folder that may be deleted at any time."""

import contextlib
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


def keep(file: Path, data: Any) -> None:
    """Keep data where that may be written; whoever reads it meanwhile has all or nothing."""
    with contextlib.suppress(OSError):
        file.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.NamedTemporaryFile("w", dir=file.parent, delete=False) as made:
            json.dump(data, made)
        Path(made.name).replace(file)
