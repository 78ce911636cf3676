"""Pyodide's library as byte code, from which the engine is compiled and its memory taken."""

from pathlib import Path
from zipfile import ZipFile

import pytest

from guide import setup_node, setup_pyodide
from site_src.build import library
from site_src.build.in_node import BundleError


@pytest.fixture(scope="module")
def kept() -> Path:
    return library.library(setup_node.packages(), setup_node.node())


def test_it_is_the_same_bytes_each_time_it_is_made(kept: Path) -> None:
    packages, node = setup_node.packages(), setup_node.node()
    assert library.made(packages, setup_pyodide.tools(packages), node) == kept.read_bytes()


def test_it_has_each_module_of_pyodide_s_own_and_byte_code_for_what_is_imported(kept: Path) -> None:
    with ZipFile(setup_node.packages() / "pyodide" / library.NAME) as given:
        sources = {name: given.read(name) for name in given.namelist()}
    with ZipFile(kept) as packed:
        held = {name: packed.read(name) for name in packed.namelist()}
    compiled = {name.removesuffix("c") for name in held if name.endswith(".pyc")}
    assert {"asyncio/__init__.py", "_pyodide/_base.py", "zipfile/__init__.py"} <= compiled
    assert held.keys() == (sources.keys() - compiled) | {f"{name}c" for name in compiled}
    assert all(held[name] == sources[name] for name in sources.keys() - compiled)


def test_where_it_cannot_be_kept_the_build_names_the_folder(
    kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(library, "made", lambda *_: kept.read_bytes())
    monkeypatch.setattr(library, "PLACE", f"{library.PLACE}/{kept.name}/no-folder")
    with pytest.raises(BundleError, match=r"no-folder.* could not be written"):
        library.library(setup_node.packages(), setup_node.node())
