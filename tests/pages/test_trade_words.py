"""On answers and questions the first use of a trade word leads to its meaning, once a page."""

import re
from collections import Counter

import pytest

from engine.model.guide import TradeWord
from engine.pages.trade_words import linked, trade_words_in
from engine.respond import respond_to
from guide.glossary import read_glossary
from tests.guide.shops import demo

WORDS = (
    TradeWord("bond", ("neutral-to-ground bond", "bond")),
    TradeWord("gfci", ("GFCI",)),
    TradeWord("busbar", ("busbar", "bus bar")),
)
LINK = re.compile(r'<a class="rig-term" href="([^"#]*)#([\w-]+)">([^<]*)</a>')
STAYS = re.compile(r"<(a|button|h\d|summary|svg|label)\b(?! class=\"rig-term\").*?</\1>", re.DOTALL)
FULL = "rig=coach-50/scope=whole/heavy=1/biggest=aircon-15k/softstart=no/v240=no/"
BRIEF = "rig=coach-50/scope=whole/heavy=1/biggest=unsure/softstart=unsure/v240=unsure/"


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("The neutral-to-ground bond and the bond.", ["neutral-to-ground bond", "bond"]),
        ("Bonds, two GFCIs", ["Bonds", "GFCIs"]),
        ("a bus\nbar", ["bus\nbar"]),
        ("bonding, a pre-bond, bond/ground, bond-wire, gfci", []),
    ],
)
def test_a_word_is_found_in_its_forms_the_longest_first(text: str, found: list[str]) -> None:
    assert [text[each.start : each.end] for each in trade_words_in(WORDS, text)] == found


def test_a_word_is_linked_once_and_the_rest_of_the_text_is_escaped() -> None:
    told: set[str] = set()
    first = linked(WORDS, "A bond < a GFCI & a bond", told, "g.html")
    assert first == (
        'A <a class="rig-term" href="g.html#bond">bond</a> &lt; a '
        '<a class="rig-term" href="g.html#gfci">GFCI</a> &amp; a bond'
    )
    assert told == {"bond", "gfci"}
    assert linked(WORDS, "A bond < a GFCI", told, "g.html") == "A bond < a GFCI"


@pytest.mark.parametrize("path", ["", "rig=coach-50/scope=whole/heavy=1/", BRIEF, FULL])
def test_on_a_page_each_word_leads_to_its_entry_once(path: str) -> None:
    html = respond_to(demo(), path).html
    links = LINK.findall(html)
    assert links
    assert max(Counter(id_ for _, id_, _ in links).values()) == 1
    up = "../" * path.count("/")
    assert {address for address, _, _ in links} == {f"{up}../explained/glossary.html"}
    assert {id_ for _, id_, _ in links} <= {each.id for each in read_glossary()}
    assert not [part[0] for part in STAYS.finditer(html) if "rig-term" in part[0]]


def test_an_answer_tells_the_words_of_its_card_and_of_its_warnings() -> None:
    html = respond_to(demo(), FULL).html
    told = {id_ for _, id_, _ in LINK.findall(html)}
    assert {"inverter-charger", "split-phase", "bond", "gfci", "torque", "pre-charge"} <= told
