"""A folded memory: it comes back whole, and what it holds twice is kept once."""

import json
from pathlib import Path

import pytest

from guide import setup_node
from site_src.build.in_node import run

Sizes = dict[str, tuple[bool, int, int]]

ONE, TWO = 4 * 12_000, 4 * 9_000
"""Bytes of the two parts of which the memories consist."""


@pytest.fixture(scope="module")
def folded() -> Sizes:
    """By memory: whether it came back, its bytes without words of zeros, and those of the fold."""
    script = Path(__file__).with_name("fold.mjs")
    said = run(setup_node.node(), script, setup_node.packages(), what="nothing was folded")
    return {name: (back, full, kept) for name, back, full, kept in json.loads(said)}


def test_every_memory_comes_back(folded: Sizes) -> None:
    assert len(folded) == 9
    assert [name for name, (back, _, _) in folded.items() if not back] == []


def test_zeros_are_not_kept(folded: Sizes) -> None:
    assert folded["nothing"][2] < 16
    for name in ("no repeat", "up to the last word"):
        _, full, kept = folded[name]
        assert full <= kept < 1.01 * full, name


def test_what_stands_there_already_is_kept_once(folded: Sizes) -> None:
    assert folded["a repeat far on"][2] < 1.01 * ONE
    assert folded["repeats at changing distances"][2] < 1.01 * (ONE + TWO)
    assert folded["a repeat with a change now and then"][2] < 1.1 * ONE
    assert folded["a repeat with zeros in it"][2] < 1.05 * ONE


def test_what_the_module_supplies_is_no_source(folded: Sizes) -> None:
    _, full, kept = folded["a repeat of what the module supplies"]
    assert kept > full - ONE + 4096
