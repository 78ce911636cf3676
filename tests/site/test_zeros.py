"""A memory without its zeros: it comes back whole, and nothing else is left out."""

import json
from pathlib import Path

import pytest

from guide import setup_node
from site_src.build.in_node import run

Sizes = dict[str, tuple[bool, int, int]]

WORDS = 12_000
"""Of the part of which the memories consist, four bytes each."""


@pytest.fixture(scope="module")
def kept() -> Sizes:
    """By memory: whether it came back, its bytes without words of zeros, and those kept."""
    script = Path(__file__).with_name("zeros.mjs")
    said = run(setup_node.node(), script, setup_node.packages(), what="no memory was kept")
    return {name: (back, full, size) for name, back, full, size in json.loads(said)}


def test_every_memory_comes_back(kept: Sizes) -> None:
    assert len(kept) == 7
    assert [name for name, (back, _, _) in kept.items() if not back] == []


def test_zeros_are_not_kept(kept: Sizes) -> None:
    assert kept["nothing"][2] == 0
    for name in ("from the first word on", "up to the last word", "all of it", "two parts"):
        _, full, size = kept[name]
        assert full <= size < full + 16, name
    _, full, size = kept["gaps of zeros"]
    assert full < size < 1.01 * full


def test_a_few_zeros_stay(kept: Sizes) -> None:
    assert kept["zeros too few to leave out"][2] >= 4 * WORDS - 4 * 15
