"""The guide's pages as written: complete, linked, within budget, the same every time."""

import gzip
import html
from pathlib import Path

import pytest

from engine.links import INDEX, NUMBERS
from engine.model.guide import Guide
from engine.respond import conversation_of, respond_to
from engine.tree import states
from tests.guide.shops import demo

MOST_PAGES = 1500
MOST_BYTES = 50_000_000
MOST_COMPRESSED = 10_000_000
MOST_OF_AN_ANSWER = 35_000
"""Bytes of a full answer as a host sends it, compressed."""
WHOLE = 'id="rig-numbers-title"'
"""What stands in full answers only."""


@pytest.fixture(scope="module")
def guide() -> Guide:
    """The authored guide."""
    return demo()


@pytest.fixture(scope="module")
def pages(site: Path) -> dict[Path, str]:
    """The text of every page of the guide, by its file."""
    return {file: file.read_text(encoding="utf-8") for file in (site / "guide").rglob("*.html")}


def test_every_state_of_the_short_path_is_a_page(
    guide: Guide, site: Path, pages: dict[Path, str]
) -> None:
    drawn = {file for file in pages if file.name != NUMBERS}
    assert {site / "guide" / path / INDEX for path in states(conversation_of(guide))} == drawn


def test_the_tree_stays_within_its_budget(pages: dict[Path, str]) -> None:
    encoded = [text.encode() for text in pages.values()]
    assert len(encoded) <= MOST_PAGES
    assert sum(map(len, encoded)) <= MOST_BYTES
    assert sum(len(gzip.compress(text, mtime=0)) for text in encoded) <= MOST_COMPRESSED


def test_a_full_answer_stays_within_its_budget(pages: dict[Path, str]) -> None:
    sizes = {
        file.parent.as_posix(): len(gzip.compress(text.encode(), 9, mtime=0))
        for file, text in pages.items()
        if WHOLE in text and file.name == INDEX
    }
    assert len(sizes) > 100
    assert {place: size for place, size in sizes.items() if size > MOST_OF_AN_ANSWER} == {}


def test_full_answers_and_no_other_pages_have_their_numbers_beside_them(
    pages: dict[Path, str],
) -> None:
    whole = {file for file, text in pages.items() if WHOLE in text and file.name == INDEX}
    beside = {file for file in pages if file.name == NUMBERS}
    assert beside == {file.with_name(NUMBERS) for file in whole}


def test_each_page_has_its_own_title_and_description(
    guide: Guide, site: Path, pages: dict[Path, str]
) -> None:
    for path in states(conversation_of(guide))[::50]:
        page = respond_to(guide, path)
        text = pages[site / "guide" / path / "index.html"]
        assert page.title
        assert page.description
        assert f"<title>{html.escape(page.title)}</title>" in text
        assert f'<meta name="description" content="{html.escape(page.description)}">' in text
