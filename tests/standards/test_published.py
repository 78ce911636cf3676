"""The transcriptions of published tables: each says where it comes from, and each is compared."""

import re
from pathlib import Path
from typing import Any

import pytest

from tests.reader import PUBLISHED, published

TESTS = Path(__file__).parent.parent
TABLES = sorted(file.stem for file in PUBLISHED.glob("*.yaml"))
SIZES_OF_TABLE_5 = 15
SIZES_OF_310_16 = 13


@pytest.mark.parametrize("name", TABLES)
def test_a_table_names_its_source_at_its_head(name: str) -> None:
    head = (PUBLISHED / f"{name}.yaml").read_text(encoding="utf-8").splitlines()[0]
    assert head.startswith("# ")
    assert len(head) > 30


@pytest.mark.parametrize("name", TABLES)
def test_some_test_reads_it(name: str) -> None:
    readers = [
        file
        for folder in ("standards", "sizing")
        for file in (TESTS / folder).glob("test_*.py")
        if re.search(rf"[\"']{name}[\"']", file.read_text(encoding="utf-8"))
        and file != Path(__file__)
    ]
    assert readers


def test_nothing_of_it_comes_from_the_engine() -> None:
    for file in PUBLISHED.rglob("*.yaml"):
        assert "import" not in file.read_text(encoding="utf-8").replace("important", "")


def count(table: Any) -> int:
    """How many figures a table holds."""
    if isinstance(table, dict):
        return sum(count(each) for each in table.values())
    if isinstance(table, list):
        return sum(count(each) for each in table)
    return int(isinstance(table, int | float) and not isinstance(table, bool))


@pytest.mark.parametrize(
    ("name", "part", "figures"),
    [
        ("dc_ampacity_33cfr183_425", "ampacity_a", SIZES_OF_TABLE_5 * 7),
        ("dc_ampacity_33cfr183_425", "engine_space_factor", 7),
        ("ac_ampacity_nec_310", "ampacity_a", SIZES_OF_310_16 * 3),
        # 16 bands with two ends each; 60 °C ends after ten of them, 75 °C after thirteen
        ("ac_ampacity_nec_310", "ambient_factor", 16 * 2 + 10 + 13 + 16),
        ("ac_ampacity_nec_310", "adjustment", 7 * 3),
        ("resistance_nec_ch9_table8", "stranded", 15),
        ("protection_nec", "standard_ratings_a", 26),
        ("protection_nec", "equipment_ground", 10),
        ("locked_rotor", "kva_per_horsepower", 19 * 2 - 1),
        ("metric_iec_60228", "plain", 12),
        ("metric_iec_60228", "tinned", 12),
        ("ferrules_din_46228", "bare_barrel_mm", 38),
    ],
)
def test_a_table_is_whole(name: str, part: str, figures: int) -> None:
    assert count(published(name)[part]) == figures
