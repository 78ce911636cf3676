"""Customer pages are read by anybody: their grade is measured, and what measures it is tested."""

from pathlib import Path

import pytest

from guide.check_pages import DOCS, pages_of
from site_src.build.explained import Filler
from tests.guide.shops import demo
from tests.site.reading_grade import TRADE_WORDS, Reading, reading_of, running_text, syllables

HIGHEST = 9.0
FEWEST_WORDS = 50


@pytest.fixture(scope="module")
def filler() -> Filler:
    return Filler(demo())


@pytest.mark.parametrize("file", pages_of(demo()), ids=lambda file: file.stem)
def test_a_page_asks_for_nine_years_of_school_at_most(filler: Filler, file: Path) -> None:
    name = file.relative_to(DOCS).as_posix()
    blocks = running_text(filler.fill(file.read_text("utf-8"), name))
    found = reading_of(blocks)
    assert found.words >= FEWEST_WORDS, blocks
    assert found.grade <= HIGHEST, f"grade {found.grade:.1f}"


# Worked by hand from the formula: 0.39·10/2 + 11.8·13/10 − 15.59.
def test_the_grade_is_that_of_the_formula() -> None:
    assert Reading(words=10, sentences=2, syllables=13).grade == pytest.approx(1.7, abs=0.01)


def test_words_sentences_and_syllables_are_counted() -> None:
    assert reading_of(["The cable is thick. It carries the current."]) == Reading(8, 2, 11)
    assert reading_of(["Two of them: 1,480 W each"]).sentences == 2


def test_hard_text_is_above_the_limit() -> None:
    hard = (
        "Notwithstanding the aforementioned considerations, the determination of appropriate "
        "overcurrent protection necessitates comprehensive evaluation of installation conditions."
    )
    assert reading_of([hard]).grade > 20


def test_a_trade_word_counts_two_syllables_at_most_and_no_other_word_does() -> None:
    assert "alternator" in TRADE_WORDS
    assert syllables("alternators") == 2
    assert syllables("electricity") == 5


def test_tables_pictures_and_sources_are_no_running_text() -> None:
    page = (
        "---\ntitle: One\n---\n\n# Head\n\nRead this.\n\n| A | B |\n|---|---|\n| cell | cell |\n\n"
        '<figure class="rig-figure"><p>drawn</p></figure>\n\n'
        "## Where the numbers come from\n\nNEC.\n"
    )
    assert running_text(page) == ["Read this."]
