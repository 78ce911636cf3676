"""Wheels for the browser: the engine, the libraries that it imports, and the content beside them.

The engine is built as a wheel by its own build system (PEP 517); an installed library is packed as
the pure wheel that it is. pyodide-build compiles them for Pyodide's own Python, in Pyodide.
"""

import base64
import hashlib
import shutil
import subprocess
import sys
import tempfile
import tomllib
from collections.abc import Iterator, Mapping
from importlib.metadata import distribution
from pathlib import Path, PurePosixPath

from engine.conversation import Key
from engine.model.guide import Guide
from engine.pages.drawings.diagram_symbols import ELEMENTS, symbol
from engine.respond import conversation_of
from engine.ways import Signature
from guide import setup_pyodide
from guide.load import as_module
from guide.setup import ROOT
from site_src.build.archives import read_archive, write_archive
from site_src.build.in_node import BundleError, run
from site_src.build.library import library

ENGINE = ROOT / "engine"
EDITION = "edition.zip"
NOT_SHIPPED = {"__pycache__", "testsuite", "tests"}
LEFT_BEHIND = ("__pycache__", "build", "*.egg-info")
PURE_SUFFIXES = {"", ".pyc", ".txt", ".md", ".rst", ".html", ".svg", ".css", ".json"}
FORBIDDEN = {"pydantic", "pydantic_core", "yaml", "pint"}
INFO = ".dist-info"
PURE_WHEEL = "Wheel-Version: 1.0\nGenerator: rig-guide\nRoot-Is-Purelib: true\nTag: {tag}\n"
SOURCES = "py3-none-any"
BACKEND = "import sys; from setuptools import build_meta; build_meta.build_wheel(sys.argv[1])"


def write_sources(guide: Guide, folder: Path) -> None:
    """Write the engine and its libraries as wheels into a folder, and the content as an archive."""
    build_engine(folder)
    for name in libraries():
        write_library(name, folder)
    source = edition_module(guide, conversation_of(guide).known())
    write_archive(folder / EDITION, {"edition.py": source.encode()})


def compile_sources(folder: Path, packages: Path, node: str) -> None:
    """Replace the wheels and the archive of a folder by such of byte code, the same at every build.

    Raises
    ------
    BundleError : if one does not compile, or holds what must not or cannot run in the browser.
    """
    script = Path(__file__).with_name("compile.mjs")
    tools, what = setup_pyodide.tools(packages), "the engine did not compile for the browser"
    run(node, script, packages, library(packages, node), tools, folder, what=what)
    for file in sorted(folder.iterdir()):
        contents = pure(dict(sorted(read_archive(file).items())))
        write_archive(file, described(file.name, contents) if file.suffix == ".whl" else contents)


def libraries() -> list[str]:
    """The distributions that the engine's wheel asks for."""
    project = tomllib.loads((ENGINE / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    return list(project["dependencies"])


def build_engine(folder: Path) -> None:
    """Build the engine's wheel, from a copy: what a build leaves behind would get into the next."""
    with tempfile.TemporaryDirectory() as place:
        source = Path(place) / "engine"
        shutil.copytree(ENGINE, source, ignore=shutil.ignore_patterns(*LEFT_BEHIND))
        shutil.copyfile(ROOT / "LICENSE", source / "LICENSE")
        command = [sys.executable, "-P", "-c", BACKEND, str(folder)]
        done = subprocess.run(command, cwd=source, capture_output=True, text=True, check=False)
    if done.returncode:
        raise BundleError(f"the engine's wheel was not built:\n{done.stdout}{done.stderr}")


def write_library(name: str, folder: Path) -> None:
    """Write an installed distribution as a wheel, without what would need a compiler."""
    contents = {inner.as_posix(): path.read_bytes() for inner, path in library_files(name)}
    info = info_of(contents)
    contents[f"{info}/WHEEL"] = PURE_WHEEL.format(tag=SOURCES).encode()
    write_archive(folder / f"{info.removesuffix(INFO)}-{SOURCES}.whl", contents)


def library_files(name: str) -> Iterator[tuple[PurePosixPath, Path]]:
    """Yield the files of an installed distribution that run without a compiler, and its license."""
    for file in distribution(name).files or ():
        compiled = file.suffix in {".so", ".pyd", ".dylib", ".c", ".pyi", ".typed"}
        outside = ".." in file.parts or bool(NOT_SHIPPED & set(file.parts))
        metadata = file.parts[0].endswith(INFO)
        kept = not metadata or file.name == "METADATA" or "licen" in str(file).lower()
        if kept and not compiled and not outside and file.suffix != ".pyc":
            yield PurePosixPath(file.as_posix()), Path(str(file.locate()))


def edition_module(guide: Guide, signatures: dict[Key, Signature]) -> str:
    """Return the content as Python, with what was worked out and drawn from it."""
    symbols = tuple(symbol(name) for name in ELEMENTS)
    return (
        f"{as_module(guide)}\nfrom engine.pages.drawings.diagram_symbols import Symbol\n"
        f"\nSIGNATURES = {signatures!r}\nSYMBOLS = {symbols!r}\n"
    )


def pure(contents: dict[str, bytes]) -> dict[str, bytes]:
    """Return what an archive holds, refusing what must not or cannot run in the browser."""
    for name in map(PurePosixPath, contents):
        if name.suffix not in PURE_SUFFIXES and INFO not in name.parts[0]:
            raise BundleError(f"{name} is neither byte code nor a text that the engine reads")
        if name.parts[0].removesuffix(".pyc") in FORBIDDEN:
            raise BundleError(f"{name} belongs to the authoring side and must not be bundled")
    return contents


def described(name: str, contents: Mapping[str, bytes]) -> dict[str, bytes]:
    """Return a wheel's contents with the tag of its name and the list of what it holds now.

    pyodide-build leaves both as they were before it compiled.
    """
    info = info_of(contents)
    tag = "-".join(name.removesuffix(".whl").split("-")[-3:])
    tagged = contents[f"{info}/WHEEL"].replace(SOURCES.encode(), tag.encode())
    listed = f"{info}/RECORD"
    held = {**contents, f"{info}/WHEEL": tagged}
    held.pop(listed, None)
    rows = [f"{inner},{digest(data)},{len(data)}\n" for inner, data in held.items()]
    return {**held, listed: "".join([*rows, f"{listed},,\n"]).encode()}


def info_of(names: Mapping[str, bytes]) -> str:
    """The folder of a wheel in which its metadata is."""
    (info,) = {name.partition("/")[0] for name in names if INFO in name.partition("/")[0]}
    return info


def digest(data: bytes) -> str:
    """A hash as a wheel's RECORD has it: base64 without padding, of the letters of addresses."""
    coded = base64.urlsafe_b64encode(hashlib.sha256(data).digest())
    return f"sha256={coded.rstrip(b'=').decode()}"
