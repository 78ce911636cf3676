"""Bundles for the browser: Pyodide, the engine, the content and the libraries they import."""

import base64
import gzip
import hashlib
import json
import shutil
import subprocess
import tempfile
import zipfile
from collections.abc import Iterator
from importlib.metadata import distribution
from pathlib import Path, PurePosixPath

from engine.conversation import Key, Signature
from engine.model.guide import Guide
from engine.pages.drawings.diagram_symbols import ELEMENTS, symbol
from engine.respond import conversation_of
from guide.load import as_module
from guide.setup import ROOT

PYODIDE_FILES = ("pyodide.mjs", "pyodide.asm.mjs")
SHELL_FILES = (
    "page.js",
    "piece.js",
    "palette.js",
    "theme-storage.js",
    "engine-client.js",
    "engine-worker.js",
    "engine-start.js",
    "memory.js",
    "keep.js",
    "carry.js",
    "staff.js",
    "marks.js",
    "show.js",
    "kept.js",
    "packed.js",
)
WORKBOX = ("core", "routing", "strategies", "precaching")
LIBRARIES = ("jinja2", "markupsafe", "segno")
NOT_SHIPPED = {"__pycache__", "testsuite", "tests"}
PURE_SUFFIXES = {"", ".py", ".pyc", ".txt", ".md", ".rst", ".html", ".svg", ".css", ".json"}
LIBRARY = "python_stdlib.zip"
FORBIDDEN = {"pydantic", "pydantic_core", "yaml", "ruamel", "pint"}


class BundleError(Exception):
    """Something that must not reach the browser is about to."""


def bundle(guide: Guide, out: Path, packages: Path, node: str) -> str:
    """Write everything the browser's engine needs into a folder; return the manifest's name."""
    copy_scripts(packages, out)
    with tempfile.TemporaryDirectory() as folder:
        stage = Path(folder)
        collect(guide, stage)
        compile_for_browser(stage, packages, node)
        contents = read_pure(stage)
        edition = content_hash(contents)
        write_archive(out / f"engine-{edition}.zip", contents)
        image, base = take_snapshot(stage, packages, node)
    files = {
        "snapshot": write_compressed(out / f"engine-{edition}.memory.gz", image),
        "wasm": write_compressed(
            out / "pyodide.asm.wasm.gz", (packages / "pyodide" / "pyodide.asm.wasm").read_bytes()
        ),
        "archive": entry(out / f"engine-{edition}.zip"),
        "library": entry(out / LIBRARY),
    }
    manifest = {
        "edition": edition,
        "content": content_hash({"edition.py": as_module(guide).encode()}),
        "pyodide": json.loads((packages / "pyodide" / "package.json").read_text())["version"],
        "base": base,
        "files": files,
        "lock": lock_without_packages(packages),
    }
    name = f"engine-{edition}.json"
    (out / name).write_text(json.dumps(manifest, indent=1) + "\n", encoding="utf-8")
    return name


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


def collect(guide: Guide, stage: Path) -> None:
    """Copy the engine and its libraries into a folder and write the content there as a module."""
    ignored = shutil.ignore_patterns(*NOT_SHIPPED)
    shutil.copytree(ROOT / "engine", stage / "engine", ignore=ignored)
    (stage / "edition.py").write_text(
        edition_module(guide, conversation_of(guide).known()), encoding="utf-8"
    )
    for name in LIBRARIES:
        for inner, source in library_files(name):
            (stage / inner).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(source, stage / inner)


def edition_module(guide: Guide, signatures: dict[Key, Signature]) -> str:
    """Return the content as Python, with what was worked out and drawn from it."""
    symbols = tuple(symbol(name) for name in ELEMENTS)
    return (
        f"{as_module(guide)}\nfrom engine.pages.drawings.diagram_symbols import Symbol\n"
        f"\nSIGNATURES = {signatures!r}\nSYMBOLS = {symbols!r}\n"
    )


def library_files(name: str) -> Iterator[tuple[PurePosixPath, Path]]:
    """Yield the files of an installed distribution that run without a compiler, and its licence."""
    for file in distribution(name).files or ():
        compiled = file.suffix in {".so", ".pyd", ".dylib", ".c", ".pyi", ".typed"}
        outside = ".." in file.parts or bool(NOT_SHIPPED & set(file.parts))
        metadata = file.parts[0].endswith(".dist-info")
        kept = not metadata or file.name == "METADATA" or "licen" in str(file).lower()
        if kept and not compiled and not outside and file.suffix != ".pyc":
            yield PurePosixPath(file.as_posix()), Path(str(file.locate()))


def compile_for_browser(stage: Path, packages: Path, node: str) -> None:
    """Replace each source by the byte code of Pyodide's own Python, run in Node."""
    script = Path(__file__).with_name("compile.mjs")
    pyodide = packages / "pyodide" / "pyodide.mjs"
    command = [node, str(script), str(pyodide), str(stage)]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    if done.returncode:
        reason = done.stdout + done.stderr
        raise BundleError(f"the engine did not compile for the browser:\n{reason}")
    for source in stage.rglob("*.py"):
        if not source.with_suffix(".pyc").exists():
            raise BundleError(f"{source.relative_to(stage)} was not compiled for the browser")
        source.unlink()


def read_pure(stage: Path) -> dict[str, bytes]:
    """Return every file by name, refusing what must not or cannot run in the browser."""
    contents = {}
    for file in sorted(path for path in stage.rglob("*") if path.is_file()):
        name = file.relative_to(stage)
        if file.suffix not in PURE_SUFFIXES and ".dist-info" not in name.parts[0]:
            raise BundleError(f"{name} is not pure Python or a text that the engine reads")
        if name.parts[0].removesuffix(".pyc") in FORBIDDEN:
            raise BundleError(f"{name} belongs to the authoring side and must not be bundled")
        contents[name.as_posix()] = file.read_bytes()
    return contents


def take_snapshot(stage: Path, packages: Path, node: str) -> tuple[bytes, dict[str, int]]:
    """Return the memory of a Python that imported and warmed the engine, and its layout."""
    script = Path(__file__).with_name("snapshot.mjs")
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "memory"
        command: list[str | Path] = [node, script, packages / "pyodide" / "pyodide.mjs", stage, out]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        if done.returncode:
            reason = (done.stdout + done.stderr)[-2000:]
            raise BundleError(f"the engine's memory could not be kept:\n{reason}")
        layout: dict[str, int] = json.loads(done.stdout)
        return out.read_bytes(), layout


def lock_without_packages(packages: Path) -> str:
    """Return Pyodide's lock for an engine that loads none of its packages."""
    lock = json.loads((packages / "pyodide" / "pyodide-lock.json").read_text())
    return json.dumps({**lock, "packages": {}})


def write_compressed(file: Path, data: bytes) -> dict[str, object]:
    """Write bytes with gzip, without a date, and describe the file."""
    file.write_bytes(gzip.compress(data, compresslevel=9, mtime=0))
    return {**entry(file), "size": len(data)}


def entry(file: Path) -> dict[str, object]:
    """Describe a file: its name, its bytes, their hash."""
    data = file.read_bytes()
    digest = base64.b64encode(hashlib.sha256(data).digest()).decode()
    return {"name": file.name, "bytes": len(data), "sha256": digest}


def content_hash(contents: dict[str, bytes]) -> str:
    """Return a short hash over names and bytes; it names the archive, so no cache can mix two."""
    digest = hashlib.sha256()
    for name, data in contents.items():
        digest.update(f"{name}\0{len(data)}\0".encode() + data)
    return digest.hexdigest()[:12]


def write_archive(file: Path, contents: dict[str, bytes]) -> None:
    """Write a zip that depends on nothing but its contents."""
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, data in contents.items():
            entry = zipfile.ZipInfo(name, date_time=(1980, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, data)
