"""The lists of materials name what the locks hold, each with its hashes, and nothing else."""

import base64
import json
import re
from pathlib import Path
from typing import Any

import pytest

from guide.setup import ROOT
from site_src.build.materials import LISTS, file_of

Materials = set[tuple[str, str, frozenset[str]]]


def listed(name: str) -> Any:
    """A list as data."""
    return json.loads(file_of(name).read_text("utf-8"))


def materials(name: str) -> Materials:
    """What a list names: name, version, hashes."""
    found = listed(name)["components"]
    assert len({each["bom-ref"] for each in found}) == len(found)
    return {
        (each["name"], each["version"], frozenset(hash_["content"] for hash_ in each["hashes"]))
        for each in found
    }


def locked_python() -> Materials:
    """What the lock of Python's packages holds."""
    text = (ROOT / "requirements" / "run.txt").read_text("utf-8").replace("\\\n", "")
    return {
        (found[1], found[2], frozenset(re.findall(r"sha256:([0-9a-f]{64})", line)))
        for line in text.splitlines()
        if (found := re.match(r"([a-z0-9.-]+)==([^ ;]+)", line))
    }


def locked_browser() -> Materials:
    """What the lock of npm's packages holds."""
    lock = json.loads((ROOT / "site_src/shell/package-lock.json").read_text("utf-8"))
    return {
        (
            path.removeprefix("node_modules/"),
            entry["version"],
            frozenset({base64.b64decode(entry["integrity"].partition("-")[2]).hex()}),
        )
        for path, entry in lock["packages"].items()
        if path
    }


def test_the_lists_hold_what_the_locks_hold() -> None:
    assert materials("python") == locked_python()
    assert materials("browser") == locked_browser()
    assert len(locked_python()) > 40


@pytest.mark.parametrize("name", LISTS)
def test_a_list_is_cyclonedx_without_time_serial_number_or_address(name: str) -> None:
    found = listed(name)
    assert found["bomFormat"] == "CycloneDX"
    assert "serialNumber" not in found
    assert "timestamp" not in found["metadata"]
    text = file_of(name).read_text("utf-8").replace(found["$schema"], "")
    assert "://" not in text


def test_the_lists_are_in_the_site_and_on_the_stick(site: Path, packed: Path) -> None:
    for folder in (site, packed):
        page = (folder / "project" / "licenses.html").read_text("utf-8")
        for name in LISTS:
            at = f"materials/{file_of(name).name}"
            assert f'href="{at}"' in page
            assert (folder / "project" / at).read_bytes() == file_of(name).read_bytes()
