"""The owner's pages name what there is: commands, measures, faults, files, keys."""

import argparse
import re
from pathlib import Path
from typing import get_args, get_type_hints

import pytest

from engine.model.guide import Priority
from engine.model.products import Article, OpenBox
from guide.commands import parser
from guide.content_folder import CONTENT
from guide.setup import ROOT

OWNER = ROOT / "site_src" / "docs" / "owner"
PAGES = sorted(OWNER.glob("*.md"))
FIRST_CELL = re.compile(r"^\| `([^`]+)`", re.MULTILINE)


def page(name: str) -> str:
    return (OWNER / f"{name}.md").read_text("utf-8")


def commands() -> set[str]:
    """Names of the commands that the program has."""
    actions = parser()._subparsers
    assert actions is not None
    (group,) = (each for each in actions._actions if isinstance(each, argparse._SubParsersAction))
    return set(group.choices)


@pytest.mark.parametrize("file", PAGES, ids=lambda file: file.stem)
def test_every_command_on_an_owners_page_is_there(file: Path) -> None:
    named = set(re.findall(r"`(?:\.venv/bin/)?rig-guide ([a-z][a-z-]*)", file.read_text("utf-8")))
    assert named <= commands()


def test_every_authors_command_has_its_place_on_the_pages() -> None:
    text = "".join(file.read_text("utf-8") for file in PAGES)
    for command in commands() - {"answer", "test"}:
        assert f"rig-guide {command}" in text or f"guide {command}" in text, command


def test_the_measures_are_those_that_priorities_know() -> None:
    assert set(FIRST_CELL.findall(page("priorities"))) == set(
        get_args(get_type_hints(Priority)["measure"])
    )


def test_the_faults_are_those_that_coverage_tells() -> None:
    source = "".join(file.read_text("utf-8") for file in (ROOT / "guide").glob("coverage*.py"))
    told = set(re.findall(r'f"([a-z-]+):\{', source)) - {"https"}
    assert {name.partition(":")[0] for name in FIRST_CELL.findall(page("proof"))} == told


def test_the_files_are_there() -> None:
    for name in FIRST_CELL.findall(page("start")):
        if name != "editions/":  # there only after the first `keep`
            assert list(CONTENT.glob(name.strip("/"))), name


def test_the_stock_that_can_be_written_is_explained() -> None:
    text = page("products")
    for stock in get_args(get_type_hints(Article)["stock"])[1:]:
        assert f"stock: {stock}" in text
    for key in get_type_hints(OpenBox):
        assert f"{key}:" in text
