"""``rig-guide build --precompress``: packed copies beside a site's files, for hosts that use them.

`page.html.br` and `page.html.gz` stand beside `page.html`; a host that finds them sends them as
they are, and packs nothing itself. The engine's own files come packed with gzip, which the worker
unpacks where a host does nothing. `engine-….memory.gz.br` holds what is in that file, so that a
browser which says that it reads Brotli gets less; the worker takes it either way.
"""

import gzip
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import brotli

from guide.earlier_engine import ENGINE, current_list
from guide.processes import in_processes
from guide.server import COMPRESSED

BEST = 11
TEXT_EFFORT = 10
"""The last step takes two and a half times as long as this, for two hundredths less of a page."""
WINDOW_BITS = 24
"""The largest that every browser reads: 16 MB of what came before."""
WORTH_BYTES = 1_000
"""What is shorter fits into one packet as it is."""


@dataclass(frozen=True, slots=True)
class Saved:
    """What a browser fetches of the engine, by how it is packed [bytes]; the files made."""

    files: int
    engine_gzip: int
    engine_brotli: int


def precompress(site: Path, effort: int = BEST) -> Saved:
    """Write packed copies beside the texts and the engine of a built site.

    The same files give the same copies, whatever the number of processes.

    effort: at most this of Brotli's eleven steps; for tests, which look at no size
    """
    engine = packed_engine(site)
    texts = [
        file
        for file in sorted(site.rglob("*"))
        if file.suffix in COMPRESSED and file.is_file() and file.stat().st_size > WORTH_BYTES
    ]
    largest = sorted([*engine, *texts], key=lambda file: (-file.stat().st_size, file))
    made = in_processes(partial(_write, effort=effort), largest)
    sizes = dict(zip(largest, made, strict=True))
    gzipped = sum(file.stat().st_size for file in engine)
    return Saved(len(engine) + 2 * len(texts), gzipped, sum(sizes[file] for file in engine))


def packed_engine(site: Path) -> list[Path]:
    """The files of the engine that a page loads packed: Python, and its memory."""
    listed, folder = current_list(site), site / ENGINE
    if listed is None:
        return []
    own = listed.name.removesuffix(".json")
    return [*sorted(folder.glob(f"{own}.*.gz")), *sorted(folder.glob("*.wasm.gz"))]


def _write(file: Path, effort: int) -> int:
    """Write the copies of a file; return the bytes of the one in Brotli."""
    data = file.read_bytes()
    if file.suffix == ".gz":
        content, steps = gzip.decompress(data), min(effort, BEST)
    else:
        content, steps = data, min(effort, TEXT_EFFORT)
        beside(file, ".gz").write_bytes(gzip.compress(data, compresslevel=9, mtime=0))
    packed: bytes = brotli.compress(content, quality=steps, lgwin=WINDOW_BITS)
    beside(file, ".br").write_bytes(packed)
    return len(packed)


def beside(file: Path, suffix: str) -> Path:
    """The packed copy of a file."""
    return file.with_name(file.name + suffix)
