"""The engine of the edition that was published before: its open pages work until the next build.

A page that somebody opened before an upload asks for the files of its own edition, by names that no
other edition has. They stay in the built folder beside the new ones, those of one edition.
"""

import json
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ENGINE = "assets/engine"
BUILT = "wheels.json"


def current_list(site: Path) -> Path | None:
    """The list of the engine's files that a built site's pages name; None where it has none."""
    with suppress(OSError, ValueError, KeyError):
        edition = json.loads((site / ENGINE / BUILT).read_text("utf-8"))["edition"]
        found = (
            site / ENGINE / f"engine-{edition.removeprefix('edition-').removesuffix('.zip')}.json"
        )
        return found if found.is_file() else None
    return None


def files_of(listed: Path) -> list[str]:
    """Names of the files that only the engine of this list has, itself among them.

    Python itself and its library have the same names in every edition, and are left out.
    """
    manifest: dict[str, Any] = json.loads(listed.read_text("utf-8"))
    own = [each for name, each in manifest["files"].items() if name in ("snapshot", "edition")]
    return [listed.name, *(each["name"] for each in [*own, *manifest["wheels"]])]


@dataclass(frozen=True, slots=True)
class Earlier:
    """What was taken out of a site before it is built again.

    current: the list of the engine that its pages named; "" where there was no site
    """

    folder: Path
    current: str


@contextmanager
def earlier_engine(site: Path) -> Iterator[Earlier]:
    """The engines of a site that is about to be built again, gone afterwards."""
    with tempfile.TemporaryDirectory() as folder:
        listed, kept = current_list(site), Path(folder)
        for each in (site / ENGINE).glob("engine-*.json") if listed else ():
            _copy(site / ENGINE, kept, each)
        yield Earlier(kept, listed.name if listed else "")


def put_back(earlier: Earlier, site: Path) -> int:
    """Put the engine of the edition before into a site, beside its own; return its bytes.

    Where the same edition was built again, that is the one before both.
    """
    size = 0
    now = current_list(site)
    is_new = now is not None and now.name != earlier.current
    for listed in sorted(earlier.folder.glob("engine-*.json")):
        if (listed.name == earlier.current) == is_new:
            size += _copy(earlier.folder, site / ENGINE, listed)
    return size


def _copy(here: Path, there: Path, listed: Path) -> int:
    """Copy what is there of an engine, where nothing of that name is; return its bytes."""
    size = 0
    for name in files_of(listed):
        if (here / name).is_file() and not (there / name).exists():
            (there / name).parent.mkdir(parents=True, exist_ok=True)
            size += Path(shutil.copyfile(here / name, there / name)).stat().st_size
    return size
