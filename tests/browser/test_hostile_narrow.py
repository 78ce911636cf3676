"""Whatever a link holds, no page is wider than a narrow telephone."""

from itertools import product
from urllib.parse import quote

from engine.links import read_link
from engine.model.guide import Guide
from engine.respond import respond
from tests.browser.conftest import NewPage

NARROW = {"width": 360, "height": 740}
ANSWER = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
AT_LEAST = 300

TEXTS = (
    "x" * 590,
    "W" * 80,
    "1" * 300,
    "9" * 20 + "ft",
    "1m" + "^9" * 100,
    "%" * 120,
    "_" * 200,
    "/" * 200,
    "漢" * 150,
    "😀" * 90,
    "e\u0301" * 200,
    "\u202e" + "abc" * 60,
    "\u00a0" * 200,
    "x\u200b" * 90,
    "https://elsewhere.example/" + "a" * 200,
    "<table><tr><td>" + "b" * 200,
    "&nbsp;" * 60,
)
IN = (
    *(f"{name}={{}}" for name in ("cable", "nights", "loads", "have", "bay", "space", "chemistry")),
    *(f"{name}={{}}" for name in ("beside", "month", "lat", "payload", "cord", "edition", "note")),
    *("no-such-question={}", "{}=1", "{}", "rig={}"),
    "loads={}:100W:2h",
)
PUT = """(html) => {
    document.getElementById("rig-answer").outerHTML = html;
    for (const each of document.querySelectorAll("details")) each.open = true;
    return document.documentElement.scrollWidth - innerWidth;
}"""


def test_no_hostile_link_makes_a_page_wider_than_a_narrow_telephone(
    new_page: NewPage, guide: Guide
) -> None:
    links = [part.format(quote(text, safe="")) for part, text in product(IN, TEXTS)]
    assert len(set(links)) >= AT_LEAST
    page = new_page(viewport=NARROW, java_script_enabled=False, bypass_csp=True)
    page.goto(f"/guide/{ANSWER}")
    wide = {}
    for link in links:
        drawn = respond(guide, read_link(guide, ANSWER, link), changes=False, takeaway=False)
        if (beyond := page.evaluate(PUT, drawn.html)) > 0:
            wide[link[:60]] = beyond
    assert wide == {}
