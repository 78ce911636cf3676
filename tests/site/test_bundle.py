"""The wheels that the browser's engine is loaded from."""

import json
from pathlib import Path

import pytest

from engine import __version__
from guide import setup_node
from guide.setup import ROOT
from site_src.build import wheels
from site_src.build.archives import content_hash, read_archive, write_archive
from site_src.build.in_node import BundleError, run
from site_src.build.library import library


@pytest.fixture(scope="module")
def listed(site: Path) -> dict[str, list[str]]:
    """What the list for other pages says."""
    found: dict[str, list[str]] = json.loads((site / "assets/engine/wheels.json").read_text())
    return found


@pytest.fixture(scope="module")
def held(site: Path, listed: dict[str, list[str]]) -> dict[str, dict[str, bytes]]:
    """What each of the built wheels holds, by the wheel's name."""
    files = [site / "assets" / "engine" / name for name in listed["wheels"]]
    return {file.name: read_archive(file) for file in files}


@pytest.fixture(scope="module")
def engine(held: dict[str, dict[str, bytes]]) -> dict[str, bytes]:
    """What the engine's wheel holds."""
    return held[f"rig_power_guide_engine-{__version__}-cp314-none-any.whl"]


def test_the_engine_s_wheel_holds_each_of_its_modules_as_byte_code_and_each_of_its_texts(
    engine: dict[str, bytes],
) -> None:
    kept = {name for name in engine if ".dist-info/" not in name}
    files = [file for file in (ROOT / "engine").rglob("*") if file.is_file()]
    names = {
        file.with_suffix(file.suffix.replace(".py", ".pyc")).relative_to(ROOT).as_posix()
        for file in files
        if "__pycache__" not in file.parts
    }
    assert kept == names - {"engine/pyproject.toml"}


def test_the_engine_s_wheel_asks_for_the_libraries_that_lie_beside_it(
    held: dict[str, dict[str, bytes]], engine: dict[str, bytes]
) -> None:
    (metadata,) = (data.decode() for name, data in engine.items() if name.endswith("/METADATA"))
    lines = metadata.splitlines()
    assert f"Version: {__version__}" in lines
    wanted = {
        line.removeprefix("Requires-Dist: ") for line in lines if line.startswith("Requires-Dist")
    }
    assert wanted == {name.partition("-")[0] for name in held} - {"rig_power_guide_engine"}


def test_the_content_lies_beside_the_wheels(site: Path, listed: dict[str, str]) -> None:
    assert list(read_archive(site / "assets" / "engine" / listed["edition"])) == ["edition.pyc"]


def test_each_wheel_holds_its_licence(held: dict[str, dict[str, bytes]]) -> None:
    assert len(held) == 1 + len(wheels.libraries())
    for name, contents in held.items():
        assert [inner for inner in contents if "licen" in inner.lower()], name


def test_each_wheel_describes_itself_truly(held: dict[str, dict[str, bytes]]) -> None:
    for name, contents in held.items():
        info = wheels.info_of(contents)
        assert f"Tag: {name.removesuffix('.whl').split('-', 2)[2]}\n" in (
            contents[f"{info}/WHEEL"].decode()
        )
        rows = [row.split(",") for row in contents[f"{info}/RECORD"].decode().splitlines()]
        own = [f"{info}/RECORD", "", ""]
        said = [
            [inner, wheels.digest(data), str(len(data))]
            for inner, data in contents.items()
            if inner != own[0]
        ]
        assert rows == [*said, own]


def test_nothing_of_the_authoring_side_reaches_the_browser(
    held: dict[str, dict[str, bytes]],
) -> None:
    names = [name for contents in held.values() for name in contents]
    tops = {name.split("/")[0] for name in names}
    assert not tops & {"guide", "site_src", "pydantic", "yaml", "mkdocs", "pint"}
    assert not [name for name in names if name.endswith((".so", ".pyd", ".py"))]


@pytest.mark.parametrize(
    "name", ["engine/fast.so", "engine/data.bin", "engine/left.py", "pydantic/main.pyc"]
)
def test_what_must_not_be_bundled_stops_the_build(name: str) -> None:
    with pytest.raises(BundleError, match=name):
        wheels.pure({"engine/answer.pyc": b"", name: b""})


def test_what_does_not_compile_stops_the_build_and_is_named(tmp_path: Path) -> None:
    write_archive(tmp_path / "edition.zip", {"edition.py": b"GUIDE = = 1\n"})
    with pytest.raises(BundleError, match=r"(?s)did not compile.*edition\.py"):
        wheels.compile_sources(tmp_path, setup_node.packages(), setup_node.node())


def test_a_script_s_fault_is_told_by_its_own_words(tmp_path: Path) -> None:
    script = Path(wheels.__file__).with_name("compile.mjs")
    packages, node = setup_node.packages(), setup_node.node()
    with pytest.raises(BundleError, match=r"^no engine:\n.*nowhere") as told:
        run(node, script, packages, library(packages, node), "nowhere", tmp_path, what="no engine")
    assert len(str(told.value)) < 500


def test_the_same_contents_give_the_same_bytes(tmp_path: Path) -> None:
    contents = {"a.pyc": b"one", "b/c.txt": b"two"}
    for name in ("first", "second"):
        write_archive(tmp_path / name, contents)
    assert (tmp_path / "first").read_bytes() == (tmp_path / "second").read_bytes()


def test_the_names_change_with_the_contents() -> None:
    hashes = {content_hash(each) for each in ({"a": b"bc"}, {"ab": b"c"}, {"a": b"bd"})}
    assert len(hashes) == 3


def test_the_site_carries_the_pyodide_that_is_locked(site: Path, listed: dict[str, str]) -> None:
    lock = json.loads(Path("site_src/shell/package-lock.json").read_text())
    version = lock["packages"]["node_modules/pyodide"]["version"]
    module = (site / "assets" / "engine" / "pyodide" / "pyodide.mjs").read_text()
    assert f'"{version}"' in module
    assert listed["pyodide"] == version
