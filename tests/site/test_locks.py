"""The locked requirements: complete, hashed, and free of any address."""

import json
import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
LOCKS = ("build", "run", "test", "node", "pyodide")
PIN = re.compile(r"^([a-z0-9-]+)==([^ ;]+)")


def entries(lock: str) -> list[str]:
    """Return each requirement of a lock file as one line with its hashes."""
    text = (ROOT / "requirements" / f"{lock}.txt").read_text()
    return text.replace("\\\n", "").splitlines()


def pins(lock: str) -> set[tuple[str, str]]:
    """Return the (name, version) pairs of a lock file."""
    return {match.groups() for line in entries(lock) if (match := PIN.match(line))}  # type: ignore[misc]


@pytest.mark.parametrize("lock", LOCKS)
def test_every_locked_requirement_is_pinned_and_hashed(lock: str) -> None:
    assert entries(lock)
    for entry in entries(lock):
        assert PIN.match(entry), entry
        assert "--hash=sha256:" in entry, entry


@pytest.mark.parametrize("lock", LOCKS)
def test_a_lock_names_no_host_and_no_path(lock: str) -> None:
    text = (ROOT / "requirements" / f"{lock}.txt").read_text()
    assert not re.search(r"://|--index|--find-links|/", text)


def test_the_test_lock_contains_the_run_lock() -> None:
    assert pins("build") <= pins("run") <= pins("test")


def test_the_locks_hold_what_the_project_asks_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]
    wanted = {"run": project["dependencies"], "test": project["optional-dependencies"]["test"]}
    for lock, requirements in wanted.items():
        for requirement in requirements:
            name, version = requirement.lower().split("==")
            assert (name, version) in pins(lock)


@pytest.mark.parametrize(
    ("folder", "wanted"),
    [
        ("site_src/shell", {"pyodide", "idiomorph"}),
        ("tests/axe", {"axe-core"}),
        ("tests/lighthouse", {"lighthouse"}),
        ("tests/prose", {"textlint", "textlint-rule-terminology"}),
    ],
)
def test_an_npm_lock_checks_every_package_and_names_no_host(folder: str, wanted: set[str]) -> None:
    text = (ROOT / folder / "package-lock.json").read_text()
    packages = json.loads(text)["packages"]
    installed = {name: entry for name, entry in packages.items() if name}
    assert {f"node_modules/{name}" for name in wanted} <= set(installed)
    assert all(entry["integrity"].startswith("sha512-") for entry in installed.values())
    assert "://" not in text
