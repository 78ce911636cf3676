"""The test command: every check runs, and any that fails makes the whole of it fail."""

import sys

import pytest

from guide import gate, setup_browser, setup_servers


def ending(code: int, says: str = "") -> list[str]:
    """A command that ends with a code."""
    return [sys.executable, "-c", f"print({says!r}); raise SystemExit({code})"]


@pytest.fixture
def commands(monkeypatch: pytest.MonkeyPatch) -> pytest.MonkeyPatch:
    """A gate with nothing to set up, whose checks all pass."""
    for name in ("require", "require_print_reader", "offer_others"):
        monkeypatch.setattr(setup_browser, name, lambda: None)
    monkeypatch.setattr(setup_servers, "offer", lambda: None)
    monkeypatch.setattr(gate, "CHECKS", (("lint", ending(0)),))
    monkeypatch.setattr(gate, "TYPES", ending(0))
    monkeypatch.setattr(gate, "TESTS", ending(0))
    return monkeypatch


@pytest.mark.usefixtures("commands")
def test_where_every_check_passes_so_does_the_command() -> None:
    assert gate.run([]) == 0


@pytest.mark.parametrize("check", ["CHECKS", "TYPES", "TESTS"])
def test_one_check_that_fails_is_enough(
    commands: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str], check: str
) -> None:
    failing = ending(3, "what is wrong")
    commands.setattr(gate, check, (("lint", failing),) if check == "CHECKS" else failing)
    assert gate.run([]) == 3
    printed = "".join(capfd.readouterr())
    assert "what is wrong" in printed
    assert printed.count("FAILED") == 1
    assert printed.count("good") == 2


def test_arguments_reach_the_tests(commands: pytest.MonkeyPatch) -> None:
    commands.setattr(gate, "TESTS", [sys.executable, "-c", "import sys; sys.exit(len(sys.argv))"])
    assert gate.run(["-k", "cable"]) == 3


def test_what_one_process_of_the_tests_compiles_the_others_read(
    commands: pytest.MonkeyPatch,
) -> None:
    commands.setenv("PYTHONDONTWRITEBYTECODE", "1")
    writes = "import sys; sys.exit(5 if sys.dont_write_bytecode else 0)"
    commands.setattr(gate, "TESTS", [sys.executable, "-c", writes])
    assert gate.run([]) == 0
