"""The first use of a trade word leads to its meaning; the rest of a page stays as it is."""

import json
import re

import pytest

from guide.glossary import read_glossary
from site_src.build.explained import Filler
from site_src.build.glossary import HAS_LINKS, script, with_links, with_script
from tests.guide.shops import demo

LINK = re.compile(r'<a class="rig-term" href="glossary\.html#([\w-]+)">(.*?)</a>', re.DOTALL)


def told(page: str) -> list[tuple[str, str]]:
    """The words of a page that lead to their meaning, by id."""
    return LINK.findall(with_links(page))


def bare(page: str) -> str:
    """A page without its links."""
    return LINK.sub(r"\2", page)


def test_the_first_use_is_a_link_to_the_glossary() -> None:
    assert told("<p>Crimp a ferrule on it. A ferrule is used once.</p>") == [("ferrule", "ferrule")]


def test_the_script_knows_the_meaning_of_every_word() -> None:
    known = json.loads(script(demo()).partition("const TOLD = ")[2].partition(";\n")[0])
    assert known["about"] == "Glossary"
    assert known["words"] == {each.id: [each.word, each.means] for each in read_glossary()}


@pytest.mark.parametrize(
    ("text", "ids"),
    [
        ("<p>Ferrules, then lugs.</p>", ["ferrule", "lug"]),
        ("<p>The neutral-to-ground bond, then the bond.</p>", ["bond"]),
        ("<p>One GFCI and two GFCIs</p>", ["gfci"]),
        ("<p>a shared\nneutral</p>", ["shared-neutral"]),
        ("<p>an Inverter/charger &amp; its shunt</p>", ["inverter-charger", "shunt"]),
    ],
)
def test_a_word_is_found_in_its_forms(text: str, ids: list[str]) -> None:
    assert [found for found, _ in told(text)] == ids


@pytest.mark.parametrize(
    "text",
    [
        "<h2>A ferrule</h2>",
        '<p><a href="x.html">a ferrule</a></p>',
        "<pre><code>ferrule</code></pre>",
        "<figure><p>ferrule</p></figure>",
        '<section class="rig-piece"><p>ferrule</p></section>',
        "<p>a slug, an elegant bonding</p>",
        "<p>the lug-nut</p>",
        "<p>lra</p>",
    ],
)
def test_headings_links_pieces_and_other_words_stay_as_they_are(text: str) -> None:
    assert with_links(text) == text


def test_nothing_else_of_a_page_changes() -> None:
    page = (
        "<!-- a --><p>One &lt;ferrule&#62; &nbsp;<br/>"
        '<img src="a.svg" alt="lug"><input disabled></p>\n<p>bond'
    )
    assert bare(with_links(page)) == page


def test_a_shop_without_a_glossary_and_the_glossary_itself_have_no_links() -> None:
    filler = Filler(demo())
    text = "<p>a ferrule</p>"
    assert HAS_LINKS in filler.told(text, "explained/terminals.md")
    assert filler.told(text, "explained/glossary.md") == text
    assert filler.told(text, "owner/start.md") == text
    filler.shown -= {"glossary"}
    assert filler.told(text, "explained/terminals.md") == text


def test_only_a_page_with_links_loads_what_opens_them() -> None:
    page = f"<head></head><a {HAS_LINKS}>bond</a>"
    assert with_script(page, "../").startswith('<head><script defer src="../assets/engine')
    assert with_script("<head></head>", "../") == "<head></head>"
