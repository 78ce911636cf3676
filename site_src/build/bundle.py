"""Bundles for the browser: Pyodide, the engine, the content and the libraries they import."""

import hashlib
import shutil
import subprocess
import tempfile
import zipfile
from collections.abc import Iterator
from importlib.metadata import distribution
from pathlib import Path, PurePosixPath

from engine.model.guide import Guide
from guide.load import as_module
from guide.setup import ROOT

PYODIDE_FILES = (
    "pyodide.mjs",
    "pyodide.asm.mjs",
    "pyodide.asm.wasm",
    "python_stdlib.zip",
    "pyodide-lock.json",
)
SHELL_FILES = (
    *("page.js", "palette.js", "engine-worker.js", "engine-start.js"),
    *("staff.js", "marks.js", "show.js", "kept.js"),
)
LIBRARIES = (
    "flexcache",
    "flexparser",
    "jinja2",
    "markupsafe",
    "pint",
    "platformdirs",
    "schemdraw",
    "segno",
    "typing_extensions",
)
NOT_SHIPPED = {"__pycache__", "testsuite", "tests"}
PURE_SUFFIXES = {"", ".py", ".pyc", ".txt", ".md", ".rst", ".html", ".svg", ".css", ".json"}
FORBIDDEN = {"pydantic", "pydantic_core", "yaml", "ruamel"}


class BundleError(Exception):
    """Something that must not reach the browser is about to."""


def bundle(guide: Guide, out: Path, packages: Path, node: str) -> str:
    """Write everything the browser's engine needs into a folder; return the archive's name."""
    copy_scripts(packages, out)
    with tempfile.TemporaryDirectory() as folder:
        stage = Path(folder)
        collect(guide, stage)
        compile_for_browser(stage, packages, node)
        contents = read_pure(stage)
    name = f"engine-{content_hash(contents)}.zip"
    write_archive(out / name, contents)
    return name


def copy_scripts(packages: Path, out: Path) -> None:
    """Copy the shell's scripts and the parts of the npm packages that the browser loads."""
    shell = ROOT / "site_src" / "shell"
    sources = {
        **{name: shell / name for name in SHELL_FILES},
        **{f"pyodide/{name}": packages / "pyodide" / name for name in PYODIDE_FILES},
        "idiomorph.js": packages / "idiomorph" / "dist" / "idiomorph.esm.js",
        "iframe-worker.js": packages / "iframe-worker" / "shim" / "index.js",
    }
    for name, source in sources.items():
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(source, out / name)


def collect(guide: Guide, stage: Path) -> None:
    """Copy the engine and its libraries into a folder and write the content there as a module."""
    ignored = shutil.ignore_patterns(*NOT_SHIPPED)
    shutil.copytree(ROOT / "engine", stage / "engine", ignore=ignored)
    (stage / "edition.py").write_text(as_module(guide), encoding="utf-8")
    for name in LIBRARIES:
        for inner, source in library_files(name):
            (stage / inner).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(source, stage / inner)


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
