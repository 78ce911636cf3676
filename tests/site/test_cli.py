"""The command ``rig-guide``: what it prints and how it exits."""

import json
import os
import subprocess
import sys

import pytest

from engine.respond import conversation_of
from engine.tree import states
from guide import cli, cli_answer
from guide.setup import ROOT
from guide.terminal import READER_GONE
from tests.guide.shops import demo


@pytest.fixture(scope="module")
def recommended() -> list[str]:
    """The pairs of an answer that recommends a set-up: one choice at every question."""
    conversation = conversation_of(demo())
    parts = (path.split("/")[:-1] for path in states(conversation) if "unsure" not in path)
    return max(parts, key=len)


def test_an_answer_is_printed_with_exit_code_0(
    recommended: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["answer", *recommended]) == cli_answer.ANSWERED
    assert capsys.readouterr().out.strip()


def test_the_json_answer_names_what_is_recommended(
    recommended: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["answer", *recommended, "cable=15ft", "--json"]) == cli_answer.ANSWERED
    found = json.loads(capsys.readouterr().out)
    assert found["status"] == "recommended"
    assert found["recommendation"]["inverter"]["count"] >= 1
    assert "cable=15ft" in found["link"]


@pytest.mark.parametrize("start", ["", "guide/", "/guide/", "https://morrowfen.example/guide/"])
def test_a_link_is_answered_as_its_pairs_are(
    start: str, recommended: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    link = f"{start}{'/'.join(recommended)}/#cable=15ft&loads=coffee-maker"
    assert cli.main(["answer", link, "--json"]) == cli_answer.ANSWERED
    of_link = json.loads(capsys.readouterr().out)
    cli.main(["answer", *recommended, "cable=15 ft", "loads=coffee maker", "--json"])
    assert of_link == json.loads(capsys.readouterr().out)


def test_a_reader_who_has_seen_enough_gets_no_traceback(recommended: list[str]) -> None:
    reader, writer = os.pipe()
    os.close(reader)
    command = [sys.executable, "-m", "guide.cli", "answer", *recommended]
    done = subprocess.run(command, stdout=writer, stderr=subprocess.PIPE, cwd=ROOT, check=False)
    os.close(writer)
    assert (done.returncode, done.stderr) == (READER_GONE, b"")


def test_an_open_question_gives_exit_code_1_and_is_named(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert cli.main(["answer", "rig=coach-50", "--json"]) == cli_answer.CANNOT_BE_ANSWERED
    found = json.loads(capsys.readouterr().out)
    assert found["status"] == "ask"
    assert found["next_question"]["ask"]


@pytest.mark.parametrize(
    ("pair", "said"), [("rg=van", "rig"), ("rig=boat", "van"), ("rig", "question=value")]
)
def test_input_that_cannot_be_used_gives_exit_code_2_and_the_mend(
    pair: str, said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.main(["answer", pair]) == cli.BAD_INPUT
    printed = capsys.readouterr()
    assert said in printed.err
    assert printed.out.startswith("We could not use some of this link\n")
    assert said in printed.out


def test_an_unknown_command_gives_exit_code_2(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        cli.main(["sell"])
    assert stopped.value.code == cli.BAD_INPUT
    assert "invalid choice" in capsys.readouterr().err
