"""The page of sources: what the numbers rest on, and the figures on which the trade disagrees."""

import pytest

from engine.advice.explain import STEPS
from guide.check_pages import DOCS
from site_src.build.cases import cases, found, ratio
from site_src.build.doubts import WORKED, doubts
from site_src.build.explained import Filler
from site_src.build.footing import NONE, Footing, footings, kind_of, step_sources
from tests.guide.shops import demo
from tests.site.conftest import words_of

GUIDE = demo()
PAGE = "explained/sources.md"
MOST_WITHOUT_SOURCE = 0.10


@pytest.fixture(scope="module")
def text() -> str:
    return words_of(Filler(GUIDE).fill((DOCS / PAGE).read_text("utf-8"), PAGE))


@pytest.mark.parametrize("footing", footings(GUIDE), ids=lambda each: each.what)
def test_a_tenth_of_the_numbers_at_most_has_no_source(footing: Footing) -> None:
    assert footing.share(NONE) <= MOST_WITHOUT_SOURCE


def test_every_step_that_an_answer_opens_is_counted() -> None:
    assert len(step_sources()) == len(STEPS) == footings(GUIDE)[0].total
    assert all(step_sources())


def test_a_source_counts_by_its_weakest_word() -> None:
    assert kind_of("NEC 210.20(A); the margin: common practice, no source") == NONE
    assert kind_of("NEC 210.20(A), from memory") == "from memory"
    assert kind_of("NEC 210.20(A)") == "a law or a standard"
    assert kind_of("Kirchhoff's current law") == "arithmetic and laws of nature"
    with pytest.raises(ValueError, match="somebody said so"):
        kind_of("somebody said so")


def test_the_page_shows_what_the_numbers_rest_on(text: str) -> None:
    for footing in footings(GUIDE):
        assert f"| {footing.what} | Of {footing.total} |" in text
        assert sum(count for _, count in footing.counts) == footing.total
        for kind, count in footing.counts:
            assert f"| {kind} | {count} |" in text


def test_the_page_shows_every_doubtful_figure_with_both_examples(text: str) -> None:
    told = doubts(GUIDE)
    assert len(told) == len(WORKED)
    for each in told:
        assert (
            f"{each.figure}{each.ours}{each.print} {each.example}; with theirs {each.changes}. "
            in text
        )
        assert f"{each.source}. {each.why.strip()}" in text
        assert each.example.rpartition(": ")[2] not in each.changes.split(" to ")


def test_the_range_of_sae_cable_is_that_of_the_cases() -> None:
    told = next(each for each in doubts(GUIDE) if "AWG of its number" in each.figure)
    shares = [
        ratio(case, found(case)) or 0.0
        for case in cases()
        if case.call.endswith(":circular_mils") and case.document
    ]
    assert told.print == f"{min(shares):.2f} to {max(shares):.2f}"
