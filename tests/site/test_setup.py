"""Set-up on a fresh machine: what is found, what is installed, what is said when neither works."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from guide import setup, setup_browser, setup_node, setup_pyodide


@pytest.fixture
def environment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An environment folder that looks complete but for its stamps."""
    folder = tmp_path / "environment"
    (folder / "bin").mkdir(parents=True)
    (folder / "bin" / "python").symlink_to(sys.executable)
    (folder / "bin" / "rig-guide").touch()
    monkeypatch.setattr(setup, "ENVIRONMENT", folder)
    monkeypatch.setattr(setup, "runs", lambda _python: True)
    return folder


@pytest.fixture
def installs(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, ...]]:
    """The arguments of each ``pip install`` that set-up would have run."""
    calls: list[tuple[str, ...]] = []
    monkeypatch.setattr(setup, "pip_install", lambda _python, *rest: calls.append(rest))
    return calls


def test_the_second_start_installs_nothing(
    environment: Path, installs: list[tuple[str, ...]]
) -> None:
    first = setup.prepare("run")
    assert installs
    installs.clear()
    assert setup.prepare("run") == first == str(environment / "bin" / "rig-guide")
    assert installs == []


def test_a_changed_lock_is_installed_again(
    environment: Path, installs: list[tuple[str, ...]]
) -> None:
    setup.prepare("run")
    installs.clear()
    (environment / "rig-guide-run.stamp").write_text("of an older lock")
    setup.prepare("run")
    assert installs


@pytest.mark.usefixtures("environment")
def test_what_is_installed_for_tests_serves_too(installs: list[tuple[str, ...]]) -> None:
    setup.prepare("test")
    installs.clear()
    setup.prepare("run")
    assert installs == []


@pytest.mark.usefixtures("environment")
def test_packages_are_only_taken_with_the_hashes_of_the_lock(
    installs: list[tuple[str, ...]],
) -> None:
    setup.prepare("run")
    *from_locks, itself = installs
    assert from_locks
    assert all("--require-hashes" in arguments for arguments in from_locks)
    assert {"--no-deps", "--no-build-isolation"} <= set(itself)


def test_packages_are_installed_in_parts_that_share_none_and_leave_none_out(
    tmp_path: Path,
) -> None:
    parts = setup.parts_of("test", tmp_path)
    named = [each for part in parts for each in setup.entries(part)]
    assert len(parts) > 1
    assert sorted(named) == sorted(setup.entries(setup.lock_file("test")))
    assert all("--hash=sha256:" in each for each in named)
    assert len(named) == len(set(named))
    assert setup.parts_of("run", tmp_path) == [setup.lock_file("run")]


def test_without_venv_a_user_is_told_which_package_to_install(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(setup, "has_ensurepip", lambda: False)
    monkeypatch.setattr("os.geteuid", lambda: 1000)
    with pytest.raises(setup.SetupError, match=r"apt-get install python3\.\d+-venv"):
        setup.ensure_pip_source()


def test_a_broken_environment_is_recognised(tmp_path: Path) -> None:
    assert not setup.runs(tmp_path / "bin" / "python")
    assert setup.runs(Path(sys.executable))


def fake_node(folder: Path, version: str) -> None:
    """Write a node and an npm that report a version."""
    folder.mkdir()
    for name in ("node", "npm"):
        (folder / name).write_text(f"#!/bin/sh\necho {version}\n")
        (folder / name).chmod(0o755)


@pytest.mark.parametrize(("version", "taken"), [("v18.20.0", False), ("v20.0.0", True)])
def test_node_on_the_path_is_taken_from_version_20_on(
    version: str, taken: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake_node(tmp_path / "bin", version)
    monkeypatch.setenv("PATH", str(tmp_path / "bin"))
    monkeypatch.setattr(sys, "executable", str(tmp_path / "elsewhere" / "python"))
    assert setup_node.find_node() == (str(tmp_path / "bin" / "node") if taken else None)


def test_a_missing_library_of_node_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "platform", "linux")
    monkeypatch.setattr(setup_node, "has_library", lambda: False)
    monkeypatch.setattr(setup_node, "install_with_apt", lambda _package: False)
    with pytest.raises(setup.SetupError, match="apt-get install libatomic1"):
        setup_node.ensure_library()


def test_pyodide_build_is_installed_once_for_the_python_of_the_locked_pyodide(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls: list[tuple[str, ...]] = []

    def pip_install(_python: Path, *arguments: str) -> None:
        calls.append(arguments)
        Path(arguments[arguments.index("--target") + 1]).mkdir()

    monkeypatch.setattr(setup_pyodide, "pip_install", pip_install)
    packages = setup_node.packages()
    first = setup_pyodide.tools(packages, tmp_path)
    assert setup_pyodide.tools(packages, tmp_path) == first
    (arguments,) = calls
    assert {"--require-hashes", "--no-deps", "--only-binary"} <= set(arguments)
    lock = json.loads((packages / "pyodide" / "pyodide-lock.json").read_text())
    target = arguments[arguments.index("--python-version") + 1]
    assert lock["info"]["python"].startswith(f"{target}.")
    (first / setup_pyodide.STAMP).write_text("of an older lock")
    setup_pyodide.tools(packages, tmp_path)
    assert len(calls) == 2


def test_without_any_chromium_the_reader_is_told_what_to_install(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(setup_node, "ensure_library", lambda: None)
    monkeypatch.setattr(setup_browser, "find", lambda: None)
    monkeypatch.setattr(setup_browser, "install_with_apt", lambda _package: False)
    monkeypatch.setattr(subprocess, "run", lambda *_a, **_k: None)
    with pytest.raises(setup.SetupError, match="needs Chromium; install it"):
        setup_browser.require()


def test_system_packages_that_are_missing_are_installed_in_one_go(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    calls: list[tuple[str, ...]] = []
    there = {"chromium": lambda: "path", "xvfb": lambda: None, "firefox-esr": lambda: None}
    monkeypatch.setattr(setup_browser, "SYSTEM_PACKAGES", there)
    monkeypatch.setattr(setup_browser, "install_with_apt", lambda *names: calls.append(names))
    setup_browser.install_missing()
    assert calls == [("xvfb", "firefox-esr")]


def test_the_read_me_names_every_system_package() -> None:
    text = (setup.ROOT / "README.md").read_text("utf-8")
    for package in ("python3-venv", *setup_browser.SYSTEM_PACKAGES):
        assert f"`{package}`" in text, package


def test_what_installs_into_a_folder_does_so_alone(tmp_path: Path) -> None:
    second = (
        "import fcntl, os, sys; place = os.open(sys.argv[1], os.O_RDONLY);"
        "fcntl.flock(place, fcntl.LOCK_EX | fcntl.LOCK_NB)"
    )
    command = [sys.executable, "-c", second, str(tmp_path)]
    with setup.alone(tmp_path):
        assert (
            b"BlockingIOError" in subprocess.run(command, capture_output=True, check=False).stderr
        )
    assert subprocess.run(command, check=False).returncode == 0
