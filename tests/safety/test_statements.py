"""Each safety statement: its words stand where they apply, and are missing where they do not."""

import html
import re
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from engine.pages.pieces.pieces import piece_html
from engine.respond import respond_to
from guide.check_pages import DOCS, PICTURES
from guide.yaml_text import values_of
from site_src.build.explained import Filler
from site_src.build.safety import TABLE, safety_statements
from tests.guide.shops import demo

ROOT = Path(__file__).resolve().parents[2]
STATEMENTS: list[dict[str, Any]] = values_of(TABLE)
PLACES = ("at", "page", "picture", "piece")


def plain(page: str) -> str:
    """What a reader reads: no tags, no descriptions left out, one space between words."""
    bare = re.sub(r"<[^>]*aria-label=\"([^\"]*)\"[^>]*>", r" \1 ", page)
    bare = html.unescape(re.sub(r"</?(?:text|tspan)[^>]*>|<[^>]+>", " ", bare))
    return re.sub(r"\s+", " ", bare.replace("\xa0", " ").replace("’", "'"))


@cache
def answer(link: str) -> str:
    """An answer as it is drawn, its sheets and its drawing too."""
    path, _, fragment = link.partition("#")
    page = respond_to(demo(), path, fragment)
    assert page.answer.advice is not None, f"{link} recommends nothing"
    return plain(page.html)


@cache
def filler() -> Filler:
    return Filler(demo())


@cache
def explained(page: str) -> str:
    """An explained page, filled in."""
    file = f"explained/{page}.md"
    return plain(filler().fill((DOCS / file).read_text("utf-8"), file))


def text_of(words: dict[str, Any]) -> str:
    """What stands at the place of one line of the table."""
    if "at" in words:
        return answer(words["at"])
    if "page" in words:
        return explained(words["page"])
    if "picture" in words:
        return (PICTURES / f"{words['picture']}.html").read_text("utf-8")
    return plain(piece_html(demo(), words["piece"], words["typed"], live=True))


@pytest.mark.parametrize("statement", STATEMENTS, ids=[each["id"] for each in STATEMENTS])
def test_the_words_stand_where_they_apply_and_nowhere_else(statement: dict[str, Any]) -> None:
    checked = 0
    for words in statement["words"]:
        text = text_of(words)
        place = next(words[each] for each in PLACES if each in words)
        for find in words.get("find", ()):
            assert find in text, f"{place} does not say “{find}”"
            checked += 1
        for lack in words.get("lack", ()):
            assert lack not in text, f"{place} says “{lack}”"
            checked += 1
    assert checked


def test_every_statement_has_source_and_tests_that_are_there() -> None:
    found = safety_statements()
    assert len({each.id for each in found}) == len(found) == len(STATEMENTS)
    for each in found:
        assert each.says.endswith(".")
        assert each.source
        for test in each.tests:
            assert (ROOT / test.partition(":")[0]).is_file(), test


def test_every_line_of_the_table_is_known() -> None:
    known = {"id", "says", "source", "tests", "words"}
    for statement in STATEMENTS:
        assert set(statement) <= known, statement["id"]
        for words in statement["words"]:
            assert set(words) <= {*PLACES, "typed", "find", "lack"}, statement["id"]
            assert len(set(words) & set(PLACES)) == 1, statement["id"]


def test_the_page_lists_every_statement_with_source_and_test() -> None:
    page = explained("who-checked-what")
    for each in safety_statements():
        assert plain(each.says) in page
        assert plain(each.source) in page
        assert each.tests[0] in page
