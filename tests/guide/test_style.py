"""The list of unwanted words: each entry finds its wrong example and leaves its right one alone."""

from pathlib import Path

import pytest

from engine.links import read_pairs
from engine.respond import respond
from guide import check_pages
from guide.check_style import faults_of_page, style_faults, unwanted_in
from guide.content_folder import CONTENT
from guide.language import Unwanted
from guide.load import load_content
from tests.guide.shops import demo, edited
from tests.prose.texts import DRAWN, blocks

STYLE = load_content().styles["en"]


def found_in(text: str) -> list[str]:
    return [word.id for word, _, _ in unwanted_in(text, STYLE)]


@pytest.mark.parametrize("word", STYLE, ids=lambda word: word.id)
def test_an_entry_finds_what_is_wrong_and_leaves_what_is_right(word: Unwanted) -> None:
    assert word.wrong
    assert word.right
    for text in word.wrong:
        assert word.id in found_in(text), text
    for text in word.right:
        assert found_in(text) == [], text


@pytest.mark.parametrize("word", STYLE, ids=lambda word: word.id)
def test_what_is_said_instead_is_not_unwanted_itself(word: Unwanted) -> None:
    assert found_in(word.say) == []


@pytest.mark.parametrize("word", [each for each in STYLE if each.unless], ids=lambda word: word.id)
def test_an_exception_says_why(word: Unwanted) -> None:
    assert all(reason.strip() for reason in word.unless.values())


def test_a_word_is_found_in_any_case_and_across_lines() -> None:
    assert found_in("What runs OFF THE\n    battery") == ["off-the-battery"]


def test_facts_and_parts_of_words_are_no_words() -> None:
    assert found_in("{gives} and {bears}; bearing, hobby, remains") == []


def test_no_text_of_the_demo_has_an_unwanted_word() -> None:
    assert style_faults(CONTENT, {"en": STYLE}, "en") == []


@pytest.mark.parametrize("path", DRAWN)
def test_no_drawn_page_has_an_unwanted_word(path: str) -> None:
    drawn = respond(demo(), read_pairs(demo(), path.split("/")), changes=False).html
    read = blocks(drawn)
    assert len(read) > 5
    assert {each: found for each in read if (found := found_in(each))} == {}


def test_comments_keys_and_ids_are_not_read(tmp_path: Path) -> None:
    (tmp_path / "rigs.yaml").write_text(
        "# a hob\n- id: hob\n  hob: [hob, cooktop] # a hob\n  name: A hob\n", "utf-8"
    )
    faults = [
        each for each in style_faults(tmp_path, {"en": STYLE}, "en") if each.file == "rigs.yaml"
    ]
    assert [(each.line, each.column, each.what) for each in faults] == [(4, 11, "“hob”")]


def test_a_language_has_its_own_list(tmp_path: Path) -> None:
    for language in ("en", "fr"):
        (tmp_path / "words" / language).mkdir(parents=True)
        (tmp_path / "words" / language / "faults.yaml").write_text("start: A hob\n", "utf-8")
    faults = style_faults(tmp_path, {"en": STYLE}, "en")
    assert [each.file for each in faults if "faults.yaml" in each.file] == ["words/en/faults.yaml"]


def test_code_links_and_what_is_filled_in_are_not_read() -> None:
    page = (
        "# A hob {#hob}\n\n```\nhob\n```\n`hob` {{ fig.hob }} [cooktop](hob.md) <a href='hob'>\n"
        "two\nhobs\n"
    )
    faults = faults_of_page("page.md", page, STYLE)
    assert [(each.line, each.column) for each in faults] == [(1, 5), (8, 1)]
    assert str(faults[0]) == "page.md:1:5: “hob”: hob is British. Write: cooktop."


def test_check_reads_the_pages_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "index.md").write_text("Under the worktop.\n", "utf-8")
    monkeypatch.setattr(check_pages, "DOCS", tmp_path)
    monkeypatch.setattr(check_pages, "ROOT", tmp_path)
    faults = style_faults(edited(tmp_path / "content"), {"en": STYLE}, "en")
    assert [(each.file, each.what) for each in faults] == [("index.md", "“worktop”")]
