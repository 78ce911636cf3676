"""The changes that "Add a sizing subject" shows are made in a copy, and do what the page says."""

import json
import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from engine.units import show
from tests.documents.pages import PROJECT, ROOT, Block, blocks

PAGE = PROJECT / "add-a-subject.md"
RUN = Path(__file__).with_name("run_commands.py")
COMMAND = ".venv/bin/rig-guide"
APPLY = ("git", "apply", "--unidiff-zero")
HEAT, SPREAD = "cable.main.cable_heat_w", "Heat of that cable"


def run(folder: Path, commands: list[str], place: str) -> dict[str, Any]:
    """Run a block's commands in a copy: those of the guide in one process, all must end well."""
    own = [shlex.split(each)[1:] for each in commands if each.startswith(COMMAND)]
    found = subprocess.run(
        (sys.executable, RUN),
        input=json.dumps(own),
        capture_output=True,
        text=True,
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder)},
        check=False,
    )
    assert found.returncode == 0, f"{place}: {found.stderr}"
    told: dict[str, Any] = json.loads(found.stdout)
    for command, each in zip(own, told["ran"], strict=True):
        assert each["code"] == 0, f"{place}: {shlex.join(command)}: {each['printed']}"
    assert Path(told["engine"]).is_relative_to(folder)
    assert told["examples_failed"] == 0, place
    return {**told, "answer": json.loads(told["ran"][-1]["printed"])}


def apply(folder: Path, block: Block) -> None:
    """Make the change that a block shows, or say which block no longer fits the code."""
    found = subprocess.run(
        APPLY,
        input=block.text,
        capture_output=True,
        text=True,
        cwd=folder,
        env={**os.environ, "GIT_CEILING_DIRECTORIES": str(folder.parent)},
        check=False,
    )
    assert found.returncode == 0, f"{block.place} does not fit the code: {found.stderr}"


def follow(folder: Path, page: list[Block]) -> Iterator[dict[str, Any]]:
    """Do what a page says, block by block; what each block of the guide's commands gives."""
    for block in page:
        if block.mark == "diff":
            apply(folder, block)
        elif any(each.startswith(COMMAND) for each in block.commands):
            yield run(folder, block.commands, block.place)
        else:
            for each in block.commands:
                subprocess.run(shlex.split(each), cwd=folder, check=True)


def copy(folder: Path) -> Path:
    """A copy of what the page changes and its commands read, with what Python compiled of it."""
    left_out = shutil.ignore_patterns("node_modules")
    for name in ("engine", "guide", "site_src", "tests/published"):
        shutil.copytree(ROOT / name, folder / name, ignore=left_out)
    return folder


@pytest.fixture(scope="module")
def states(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, Any]]:
    """What the commands give after each of the page's changes."""
    return list(follow(copy(tmp_path_factory.mktemp("changes")), list(blocks(PAGE))))


def heat_of(state: dict[str, Any]) -> dict[str, Any]:
    """The step of the new formula."""
    (found,) = (each for each in state["answer"]["workings"] if each["id"] == HEAT)
    return dict(found)


def test_a_formula_becomes_a_step_with_the_numbers_that_were_put_in(
    states: list[dict[str, Any]],
) -> None:
    step = heat_of(states[0])
    assert step["formula"] == "P = I · U_drop"
    assert (step["subject"], step["unit"], step["source"]) == ("cable", "W", "Joule's law")
    assert step["name"] == "Heat of the cable to one unit at full output"
    current, drop = (float(text.split()[0]) for text in step["numbers"].split(" · "))
    assert step["value"] == pytest.approx(current * drop, rel=1e-3)
    assert step["name"] in states[0]["html"]
    assert f"{step['numbers']} = <strong>" in states[0]["html"]


def test_a_sentence_stands_on_the_page(states: list[dict[str, Any]]) -> None:
    html = states[0]["html"]
    heat = show(heat_of(states[0])["value"], "W")
    assert SPREAD in html
    assert f"{heat}, spread over " in html


def test_a_chemistry_is_planned_with(states: list[dict[str, Any]]) -> None:
    assert states[0]["answer"]["recommendation"]["battery"]["id"] != "brine-12-150"
    answer = states[1]["answer"]
    assert answer["status"] == "recommended"
    assert answer["recommendation"]["battery"]["id"] == "brine-12-150"
    assert "Brine 12 V 150 Ah" in states[1]["html"]


def test_a_language_is_spoken(states: list[dict[str, Any]]) -> None:
    english, german = states[1]["html"], states[2]["html"]
    for before, after in (
        ("Recommended for you", "Unsere Empfehlung für Sie"),
        (SPREAD, "Wärme dieses Kabels"),
        (r"\d hours between", r"\d Stunden between"),
        (r"\d\.\d hours", r"\d,\d Stunden"),
    ):
        assert re.search(before, english)
        assert not re.search(before, german)
        assert re.search(after, german)
    assert heat_of(states[2])["name"] == "Wärme des Kabels zu einem Gerät bei voller Leistung"
    assert len(states) == 3


def test_a_change_that_no_longer_fits_is_told_with_page_and_block(tmp_path: Path) -> None:
    (tmp_path / "engine").mkdir()
    drifted = next(each for each in blocks(PAGE) if each.mark == "diff")
    (tmp_path / "engine/sizing").mkdir()
    (tmp_path / "engine/sizing/conductors.py").write_text("something else\n", encoding="utf-8")
    with pytest.raises(AssertionError, match=r"add-a-subject\.md, line \d+, block 1 does not fit"):
        apply(tmp_path, drifted)
