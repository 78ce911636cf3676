"""The archive that the browser's engine is loaded from."""

import json
import zipfile
from pathlib import Path

import pytest

from site_src.build import bundle


@pytest.fixture(scope="module")
def names(site: Path) -> list[str]:
    """The names in the built archive."""
    (archive,) = (site / "assets" / "engine").glob("engine-*.zip")
    with zipfile.ZipFile(archive) as opened:
        assert opened.testzip() is None
        return opened.namelist()


def test_the_archive_holds_engine_content_and_libraries(names: list[str]) -> None:
    wanted = {"edition.pyc", "engine/browser.pyc", "segno/__init__.pyc", "jinja2/__init__.pyc"}
    assert wanted <= set(names)


def test_the_archive_holds_each_library_s_licence(names: list[str]) -> None:
    folders = {name.split("/")[0] for name in names if ".dist-info/" in name}
    licensed = {name.split("/")[0] for name in names if "licen" in name.lower()}
    assert len(folders) == len(bundle.LIBRARIES)
    assert folders == licensed


def test_nothing_of_the_authoring_side_reaches_the_browser(names: list[str]) -> None:
    tops = {name.split("/")[0] for name in names}
    assert not tops & {"guide", "site_src", "pydantic", "yaml", "ruamel", "mkdocs", "pint"}
    assert not [name for name in names if name.endswith((".so", ".pyd", ".py"))]


@pytest.mark.parametrize("name", ["engine/fast.so", "engine/data.bin", "pydantic/main.pyc"])
def test_what_must_not_be_bundled_stops_the_build(tmp_path: Path, name: str) -> None:
    (tmp_path / name).parent.mkdir()
    (tmp_path / name).touch()
    with pytest.raises(bundle.BundleError, match=Path(name).name):
        bundle.read_pure(tmp_path)


def test_the_same_contents_give_the_same_bytes(tmp_path: Path) -> None:
    contents = {"a.pyc": b"one", "b/c.txt": b"two"}
    for name in ("first", "second"):
        bundle.write_archive(tmp_path / name, contents)
    assert (tmp_path / "first").read_bytes() == (tmp_path / "second").read_bytes()


def test_the_archive_s_name_changes_with_its_contents() -> None:
    hashes = {bundle.content_hash(each) for each in ({"a": b"bc"}, {"ab": b"c"}, {"a": b"bd"})}
    assert len(hashes) == 3


def test_the_site_carries_the_pyodide_that_is_locked(site: Path) -> None:
    lock = json.loads(Path("site_src/shell/package-lock.json").read_text())
    version = lock["packages"]["node_modules/pyodide"]["version"]
    module = (site / "assets" / "engine" / "pyodide" / "pyodide.mjs").read_text()
    assert f'"{version}"' in module
