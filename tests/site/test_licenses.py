"""Whatever of others is in a built site stands with its terms on the page of licenses."""

import json
import re
from pathlib import Path
from types import SimpleNamespace

import pytest

from guide.setup import ROOT
from site_src.build import licenses


@pytest.fixture(scope="module")
def page() -> str:
    return licenses.filled("# Licenses\n")


def test_every_package_of_the_shell_is_on_the_page_with_its_version(page: str) -> None:
    about = json.loads((ROOT / "site_src" / "shell" / "package.json").read_text("utf-8"))
    for name, version in about["dependencies"].items():
        assert f"| {name} | {version} |" in page


def test_every_wheel_of_the_engine_is_on_the_page_with_its_version(page: str, site: Path) -> None:
    wheels = [file.name.split("-") for file in (site / "assets" / "engine").rglob("*.whl")]
    others = {name: version for name, version, *_ in wheels if not name.startswith("rig_power")}
    assert len(others) >= 3
    for name, version in others.items():
        assert f"| {name} | {version} |" in page


def test_each_license_is_there_in_full(page: str) -> None:
    for words in (
        "Mozilla Public License Version 2.0",
        "PYTHON SOFTWARE FOUNDATION LICENSE VERSION 2",
        "Permission to use, copy, modify, and/or distribute this software for any",
        "Redistributions in binary form must reproduce the above copyright",
    ):
        assert words in page
    listed = re.findall(r"^\| ([^|]+) \| [^|]+ \| [A-Z0-9]", page, re.MULTILINE)
    titled = [
        name for line in re.findall(r"^### (.+)$", page, re.MULTILINE) for name in line.split(", ")
    ]
    assert sorted(listed) == sorted(titled)
    assert len(listed) == len(licenses.FROM_NPM) + len(licenses.FROM_PYTHON) + 2


def test_the_page_is_in_the_site_and_on_the_stick(site: Path, packed: Path) -> None:
    for folder in (site, packed):
        shown = (folder / "project" / "licenses.html").read_text("utf-8")
        assert "Mozilla Public License Version 2.0" in shown


def test_a_license_that_changed_stops_the_build(monkeypatch: pytest.MonkeyPatch) -> None:
    changed = licenses.Shipped("idiomorph", "GPL-3.0", "")
    monkeypatch.setattr(licenses, "FROM_NPM", (changed,))
    with pytest.raises(LookupError, match="idiomorph is licensed as 0BSD now"):
        licenses.filled("")


def test_a_work_without_terms_stops_the_build(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(licenses, "distribution", lambda _name: SimpleNamespace(files=()))
    with pytest.raises(LookupError, match="carries no license"):
        licenses.terms_of("segno")
