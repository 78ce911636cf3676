"""The search of the explanatory pages: customers' words and the trade's find the right page."""

import re

from playwright.sync_api import Page, expect

from guide.check_pages import DOCS
from site_src.build.explained import searches

SOUGHT = (
    # customers' words
    ("will it run my AC", "air-conditioner"),
    ("can I run the air conditioner off the battery", "air-conditioner"),
    ("which plug do I have", "plug-and-service"),
    ("how long will my battery last", "battery-size"),
    ("how big a battery do I need", "battery-size"),
    ("how thick a wire", "cable"),
    ("charge while driving", "alternator"),
    ("how many solar panels", "solar"),
    ("do I need two inverters", "one-or-two-units"),
    ("where to put the inverter", "mounting"),
    ("tripping the breaker at the campground", "shore-and-generator"),
    ("what can I run on 30 amps", "services"),
    ("is it dangerous", "never"),
    # the trade's
    ("ferrule", "terminals"),
    ("neutral ground bond", "bond"),
    ("voltage drop", "cable"),
    ("interrupt rating", "fuses"),
    ("soft starter", "air-conditioner"),
    ("split phase", "one-or-two-units"),
    ("sub-panel", "sub-panel"),
    ("BTU", "watts-va-btu"),
    ("lifepo4", "lithium-or-lead"),
    ("48 V bank", "battery-voltage"),
    ("shared neutral", "shared-neutral"),
    ("start surge", "heavy-loads"),
    ("checks before the first switching on", "commissioning"),
)
FIRST = 3


def results(page: Page, words: str) -> list[str]:
    """The pages that the theme's search names for these words, best first, each once."""
    field = page.locator("input.md-search__input")
    told = page.locator(".md-search-result__meta")
    field.fill("")
    field.press("End")  # the theme looks at what stands there when a key goes up
    expect(told).to_have_text(re.compile("start searching"))
    field.fill(words)
    field.press("End")
    expect(told).to_have_text(re.compile("match"))
    links = page.locator(".md-search-result__item > a").evaluate_all(
        "(links) => links.map((each) => new URL(each.href).pathname)"
    )
    return list(dict.fromkeys(link.rpartition("/")[2].removesuffix(".html") for link in links))


def test_words_of_customers_and_of_the_trade_find_their_page(page: Page) -> None:
    page.goto("/explained/index.html")
    page.locator("input.md-search__input").click()
    found = {words: results(page, words)[:FIRST] for words, _ in SOUGHT}
    missed = {words: found[words] for words, wanted in SOUGHT if wanted not in found[words]}
    assert missed == {}


def test_what_people_type_is_known_for_pages_that_are_there() -> None:
    assert searches()
    for page, typed in searches().items():
        assert (DOCS / "explained" / f"{page}.md").is_file()
        assert typed
        assert all(isinstance(each, str) for each in typed)


def test_what_is_nowhere_is_said_to_be_nowhere(page: Page) -> None:
    page.goto("/explained/index.html")
    page.locator("input.md-search__input").click()
    assert results(page, "zzyzx") == []
