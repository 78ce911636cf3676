"""The counts on the page *What was tried to break it* are those of the lists that are tried."""

import inspect
import re
from math import prod
from types import ModuleType

import pytest

from guide.setup import ROOT
from tests.browser import (
    narrow,
    test_broken_host,
    test_dead_scripts,
    test_in_flight,
    test_kept_whole,
)
from tests.engine import test_outside, test_reading, test_units
from tests.guide.attacks import TRIED
from tests.hostile import links
from tests.site import test_serve

PAGE = (ROOT / "site_src" / "docs" / "project" / "tried.md").read_text("utf-8")
ROW = re.compile(r"^\| ([^|`]+?) \(`([^`]+)`\) \| ([\d,]+) \| ([\d,]+) \|$", re.MULTILINE)
ROWS = {found[1]: found for found in ROW.finditer(PAGE)}


def number_in(test: object, pattern: str) -> int:
    """A count that stands in the source of a test."""
    found = re.search(pattern, inspect.getsource(test))  # type: ignore[arg-type]
    assert found
    return int(found[1].replace("_", ""))


def cases_of(module: ModuleType) -> int:
    """How many tests a file has, each with every set of its parameters."""
    return sum(
        prod(len(mark.args[1]) for mark in getattr(test, "pytestmark", ()))
        for name, test in vars(module).items()
        if name.startswith("test_")
    )


RANDOM = r"random_texts\(\d+, ([\d_]+)\)"
COUNTS = {
    "content folders": len(TRIED),
    "hostile links:": len(set(links())),
    "texts at random, as quantities": number_in(test_units, RANDOM),
    "texts at random, as answers": number_in(test_reading, RANDOM),
    "texts at random, as fields": number_in(test_outside, RANDOM),
    "addresses": len(test_serve.ODD),
    "requests": len(test_serve.BROKEN),
    "connections": number_in(test_serve, r"range\((200)\)"),
    "hostile links, drawn": len(narrow.SAMPLE),
    "hosts": cases_of(test_broken_host),
    "scripts": cases_of(test_dead_scripts),
    "copies": cases_of(test_kept_whole),
    "faults": cases_of(test_in_flight),
}


@pytest.mark.parametrize("start", COUNTS)
def test_a_row_has_the_count_of_its_list(start: str) -> None:
    (row,) = [row for what, row in ROWS.items() if what.startswith(start)]
    assert int(row[3].replace(",", "")) == int(row[4].replace(",", "")) == COUNTS[start]
    assert (ROOT / row[2]).is_file()


def test_every_row_is_counted() -> None:
    assert len(ROWS) == len(COUNTS)
