"""What version 1 promises is there: question ids, commands, JSON, content files, the changelog."""

import json
import re
from typing import Any

import pytest

from engine import __version__
from guide import cli
from tests.documents.pages import ROOT
from tests.documents.promised import FILE, promised

CHANGELOG = (ROOT / "CHANGELOG.md").read_text("utf-8")
RELEASE = re.compile(r"^## \[(\d+\.\d+\.\d+)\] - (\d{4}-\d{2}-\d{2})$", re.MULTILINE)


@pytest.fixture(scope="module")
def then() -> dict[str, Any]:
    """What was promised."""
    found: dict[str, Any] = json.loads(FILE.read_text("utf-8"))
    return found


@pytest.fixture(scope="module")
def now() -> dict[str, Any]:
    """What is there."""
    return promised()


@pytest.mark.parametrize("kind", ["questions", "commands"])
def test_no_question_choice_command_or_option_is_gone(
    kind: str, then: dict[str, Any], now: dict[str, Any]
) -> None:
    assert len(then[kind]) > 10
    gone = {name: set(each) - set(now[kind].get(name, ())) for name, each in then[kind].items()}
    assert {name for name in then[kind] if name not in now[kind] or gone[name]} == set()


def test_no_key_of_an_answer_s_json_is_gone(then: dict[str, Any], now: dict[str, Any]) -> None:
    assert len(then["json"]) > 50
    assert set(then["json"]) - set(now["json"]) == set()


def test_a_content_file_that_was_right_is_right(then: dict[str, Any], now: dict[str, Any]) -> None:
    for file, was in then["content"].items():
        assert set(was["may"]) <= set(now["content"][file]["may"]), file
        assert set(now["content"][file]["must"]) <= set(was["must"]), file


def test_the_program_says_the_version_that_the_changelog_dates(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with pytest.raises(SystemExit, match="0"):
        cli.main(["--version"])
    assert capsys.readouterr().out == f"rig-guide {__version__}\n"
    version, _ = RELEASE.findall(CHANGELOG)[0]
    assert version == __version__
