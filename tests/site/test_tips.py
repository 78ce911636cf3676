"""The first use of a trade word leads to its meaning; the rest of a page stays as it is."""

import re

import pytest

from guide.glossary import read_glossary
from site_src.build.explained import Filler
from site_src.build.glossary import HAS_TIPS, with_script, with_tips
from tests.guide.shops import demo

TIP = re.compile(
    r'<a class="rig-term" href="glossary\.html#([\w-]+)">(.*?)</a><span class="rig-tip".*?</span>',
    re.DOTALL,
)


def told(page: str) -> list[tuple[str, str]]:
    """The words of a page that lead to their meaning, by id."""
    return TIP.findall(with_tips(page, "Glossary"))


def bare(page: str) -> str:
    """A page without its tips."""
    return TIP.sub(r"\2", page)


def test_the_first_use_is_a_link_to_the_glossary_with_its_meaning_behind_it() -> None:
    page = with_tips("<p>Crimp a ferrule on it. A ferrule is used once.</p>", "Glossary")
    term = next(each for each in read_glossary() if each.id == "ferrule")
    assert TIP.findall(page) == [("ferrule", "ferrule")]
    assert term.means in page
    assert 'popover hidden data-search-exclude="true"' in page


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
    assert with_tips(text, "Glossary") == text


def test_nothing_else_of_a_page_changes() -> None:
    page = (
        "<!-- a --><p>One &lt;ferrule&#62; &nbsp;<br/>"
        '<img src="a.svg" alt="lug"><input disabled></p>\n<p>bond'
    )
    assert bare(with_tips(page, "Glossary")) == page


def test_a_shop_without_a_glossary_and_the_glossary_itself_have_no_tips() -> None:
    filler = Filler(demo())
    text = "<p>a ferrule</p>"
    assert HAS_TIPS in filler.told(text, "explained/terminals.md")
    assert filler.told(text, "explained/glossary.md") == text
    assert filler.told(text, "owner/start.md") == text
    filler.shown -= {"glossary"}
    assert filler.told(text, "explained/terminals.md") == text


def test_only_a_page_with_tips_loads_what_opens_them() -> None:
    page = f"<head></head><a {HAS_TIPS}>bond</a>"
    assert with_script(page, "../").startswith('<head><script defer src="../assets/engine')
    assert with_script("<head></head>", "../") == "<head></head>"
