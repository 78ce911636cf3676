"""Customer pages are read by anybody: their grade is measured, and what measures it is tested."""

import re
from pathlib import Path

import pytest

from engine.links import read_pairs
from engine.model.guide import Caution, Question
from engine.respond import respond
from guide.check_pages import DOCS, pages_of
from site_src.build.explained import Filler
from tests.guide.shops import demo
from tests.prose.texts import DRAWN, blocks
from tests.site.reading_grade import Reading, reading_of, running_text, syllables

EXPLAINED, CAUTION, QUESTION, FIRST_LOOK = 8.0, 7.0, 6.0, 6.0
"""The highest grade of each, by the plain formula."""
FEWEST_WORDS = 50
FIRST = re.compile(r"<[^>]* class=\"rig-kicker\">.*?(?=<[^>]* class=\"rig-contact\">)", re.DOTALL)
"""What is read first of an answer: verdict, heading, lead facts, first warnings."""
SVG = re.compile(r"<svg.*?</svg>", re.DOTALL)


def grade_of(*texts: str) -> float:
    """The grade of texts with facts, each of which stands as a figure."""
    filled = [re.sub(r"\{\w+\}", "12 A", each) for each in texts if each]
    return reading_of(filled).grade


@pytest.fixture(scope="module")
def filler() -> Filler:
    return Filler(demo())


@pytest.mark.parametrize("file", pages_of(demo()), ids=lambda file: file.stem)
def test_a_page_asks_for_eight_years_of_school_at_most(filler: Filler, file: Path) -> None:
    name = file.relative_to(DOCS).as_posix()
    found = reading_of(running_text(filler.fill(file.read_text("utf-8"), name)))
    assert found.words >= FEWEST_WORDS
    assert found.grade <= EXPLAINED, f"grade {found.grade:.1f}"


@pytest.mark.parametrize("caution", demo().cautions, ids=lambda each: each.id)
def test_a_caution_asks_for_seven_years_of_school_at_most(caution: Caution) -> None:
    grade = grade_of(caution.title, caution.do, caution.text)
    assert grade <= CAUTION, f"grade {grade:.1f}"


@pytest.mark.parametrize("question", demo().questions, ids=lambda each: each.id)
def test_a_question_asks_for_six_years_of_school_at_most(question: Question) -> None:
    choices = (text for each in question.choices for text in (each.label, each.hint))
    told = (question.ask, question.why, question.unsure)
    for texts in (told, (*told, *choices)):
        grade = grade_of(*texts)
        assert grade <= QUESTION, f"grade {grade:.1f}"


@pytest.mark.parametrize("path", DRAWN)
def test_what_is_read_first_asks_for_six_years_of_school_at_most(path: str) -> None:
    drawn = respond(demo(), read_pairs(demo(), path.split("/")), changes=False).html
    first = FIRST.search(drawn)
    assert ('data-status="recommended"' in drawn) == bool(first)
    found = reading_of(blocks(SVG.sub("", first[0] if first else drawn)))
    assert found.words >= FEWEST_WORDS
    assert found.grade <= FIRST_LOOK, f"grade {found.grade:.1f}"


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


def test_a_word_of_the_trade_counts_as_every_other() -> None:
    assert syllables("alternators") == 4
    assert syllables("electricity") == 5


def test_tables_pictures_and_sources_are_no_running_text() -> None:
    page = (
        "---\ntitle: One\n---\n\n# Head\n\nRead this.\n\n| A | B |\n|---|---|\n| cell | cell |\n\n"
        '<figure class="rig-figure"><p>drawn</p></figure>\n\n'
        "## Where the numbers come from\n\nNEC.\n"
    )
    assert running_text(page) == ["Read this."]
