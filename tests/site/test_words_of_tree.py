"""Every page of the tree as it was built: no unwanted word, and none asks for long schooling."""

from pathlib import Path

import pytest

from engine.links import NUMBERS
from tests.guide.test_style import found_in
from tests.prose.texts import blocks
from tests.site.reading_grade import reading_of
from tests.site.test_reading_grade import FEWEST_WORDS, FIRST, FIRST_LOOK, QUESTION, SVG

MAIN, FORM = "<main", '<section class="rig-details"'


@pytest.fixture(scope="module")
def contents(site: Path) -> dict[str, str]:
    """What stands inside the shell of each page, by its file."""
    found = {}
    for file in sorted((site / "guide").rglob("*.html")):
        text = file.read_text(encoding="utf-8")
        found[file.relative_to(site).as_posix()] = text[text.index(MAIN) :]
    assert len(found) > 1000
    return found


def test_no_page_of_the_tree_has_an_unwanted_word(contents: dict[str, str]) -> None:
    read = {each for text in contents.values() for each in blocks(text)}
    assert len(read) > 5000
    assert {each: found for each in sorted(read) if (found := found_in(each))} == {}


def test_what_is_read_first_on_a_page_of_the_tree_asks_for_six_years_of_school_at_most(
    contents: dict[str, str],
) -> None:
    too_hard = {}
    for path, text in contents.items():
        if path.endswith(NUMBERS):  # nobody reads it first
            continue
        first = FIRST.search(text)
        found = reading_of(blocks(SVG.sub("", first[0] if first else text.partition(FORM)[0])))
        limit = QUESTION if 'data-status="ask"' in text else FIRST_LOOK
        if found.words < FEWEST_WORDS or found.grade > limit:
            too_hard[path] = found
    assert too_hard == {}
