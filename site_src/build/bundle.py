"""Bundles for the browser: Pyodide, the engine, the content and the libraries they import."""

import json
import shutil
import tempfile
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

from engine.model.guide import Guide
from engine.pages.causes import causes, loading
from guide.load import as_module
from guide.setup import ROOT
from site_src.build import fields, glossary
from site_src.build.archives import content_hash, entry, write_compressed
from site_src.build.filled import filled
from site_src.build.joined import join
from site_src.build.memory.keep import kept_memory
from site_src.build.wheels import EDITION, compile_sources, write_sources

PYODIDE_FILES = ("pyodide.mjs", "pyodide.asm.mjs")
SHELL_FILES = (
    "page.js",
    "renew.js",
    "typed.js",
    "door.js",
    "moves.js",
    "idle.js",
    "piece.js",
    "palette.js",
    "theme-storage.js",
    "engine-client.js",
    "engine-worker.js",
    "engine-start.js",
    "engine-fetch.js",
    "engine-files.js",
    "pieces.js",
    "offer.js",
    "line.js",
    "memory.js",
    "keep.js",
    "carry.js",
    "numbers.js",
    "share.js",
    "request.js",
    "save.js",
    "staff.js",
    "marks.js",
    "show.js",
    "kept.js",
    "packed.js",
)
PAGES = ("page.js", "piece.js", "carry.js", "staff.js", "marks.js", "show.js")
"""What a page starts; each has all that it imports in it once it is published."""
WORKER = "engine-worker.js"
WORKBOX = ("core", "routing", "strategies", "precaching")
LIBRARY = "python_stdlib.zip"
CAUSES = "causes.js"
WHEELS = "wheels"


@dataclass(frozen=True, slots=True)
class Made:
    """What Pyodide makes of the engine in Node.

    archives: the compiled wheels and the content, by file name
    image, base: the memory of a Python that has imported them, and its layout
    """

    archives: dict[str, bytes]
    image: bytes
    base: dict[str, int]


def begin(guide: Guide, packages: Path, node: str) -> Future[Made]:
    """Begin to compile the engine and to take its memory; Node does it beside whatever follows."""
    stage = tempfile.TemporaryDirectory()
    write_sources(guide, Path(stage.name))
    pool = ThreadPoolExecutor(1)
    making = pool.submit(_make, stage, packages, node)
    pool.shutdown(wait=False)
    return making


def _make(stage: tempfile.TemporaryDirectory[str], packages: Path, node: str) -> Made:
    with stage as name:
        folder = Path(name)
        compile_sources(folder, packages, node)
        image, base = kept_memory(folder, packages, node)
        archives = {file.name: file.read_bytes() for file in sorted(folder.iterdir())}
    return Made(archives, image, base)


def bundle(guide: Guide, out: Path, packages: Path, making: Future[Made]) -> str:
    """Write everything the browser's engine needs into a folder; return the manifest's name."""
    copy_scripts(packages, out)
    (out / glossary.SCRIPT).write_text(glossary.script(guide), encoding="utf-8")
    (out / fields.SCRIPT).write_text(fields.script(guide), encoding="utf-8")
    wasm = write_compressed(
        out / "pyodide.asm.wasm.gz", (packages / "pyodide" / "pyodide.asm.wasm").read_bytes()
    )
    made = making.result()
    archives = dict(made.archives)
    edition = content_hash(archives)
    content = put(out, f"edition-{edition}.zip", archives.pop(EDITION))
    place = f"{WHEELS}/{content_hash(archives)}"
    wheels = [put(out, f"{place}/{name}", data) for name, data in archives.items()]
    version = json.loads((packages / "pyodide" / "package.json").read_text())["version"]
    memory = write_compressed(out / f"engine-{edition}.memory.gz", made.image)
    manifest = {
        "edition": edition,
        "content": content_hash({"edition.py": as_module(guide).encode()}),
        "pyodide": version,
        "base": made.base,
        "files": {
            "snapshot": memory,
            "wasm": wasm,
            "edition": content,
            "library": entry(out / LIBRARY, out),
        },
        "wheels": wheels,
        "lock": lock_without_packages(packages),
    }
    size = (out / str(memory["name"])).stat().st_size + (out / str(wasm["name"])).stat().st_size
    (out / CAUSES).write_text(said(guide, size), encoding="utf-8")
    join(out, PAGES, WORKER)
    name = f"engine-{edition}.json"
    write_json(out / name, manifest)
    elsewhere = {
        "pyodide": version,
        "wheels": [each["name"] for each in wheels],
        "edition": content["name"],
    }
    write_json(out / f"{WHEELS}.json", elsewhere)
    return name


def said(guide: Guide, size: int) -> str:
    """The script with the words for an engine on its way, which is so many bytes."""
    page = guide.wording.page
    words = {"causes": causes(page), "loading": {**loading(page), "bytes": size}}
    return filled(CAUSES, words)


def copy_scripts(packages: Path, out: Path) -> None:
    """Copy the shell's scripts and the parts of the npm packages that the browser loads."""
    shell = ROOT / "site_src" / "shell"
    sources = {
        **{name: shell / name for name in SHELL_FILES},
        **{f"pyodide/{name}": packages / "pyodide" / name for name in PYODIDE_FILES},
        LIBRARY: packages / "pyodide" / "python_stdlib.zip",
        "idiomorph.js": packages / "idiomorph" / "dist" / "idiomorph.esm.js",
        **{
            f"workbox-{part}.js": packages / f"workbox-{part}" / "build" / f"workbox-{part}.prod.js"
            for part in WORKBOX
        },
        "iframe-worker.js": packages / "iframe-worker" / "shim" / "index.js",
    }
    for name, source in sources.items():
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(source, out / name)


def put(out: Path, name: str, data: bytes) -> dict[str, object]:
    """Write a file into a folder and describe it."""
    file = out / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(data)
    return entry(file, out)


def lock_without_packages(packages: Path) -> str:
    """Return Pyodide's lock for an engine that loads none of its packages."""
    lock = json.loads((packages / "pyodide" / "pyodide-lock.json").read_text())
    return json.dumps({**lock, "packages": {}})


def write_json(file: Path, data: object) -> None:
    """Write data as text, one field a line."""
    file.write_text(json.dumps(data, indent=1) + "\n", encoding="utf-8")
