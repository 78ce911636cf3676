"""The search of the explanatory pages in the page itself; what it finds is told by tests/site."""

import re

from playwright.sync_api import Page, expect


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
    assert "plug-and-service" in results(page, "30-amp")[:3]
    assert "bond" in results(page, "GFCI")[:3]


def test_what_is_nowhere_is_said_to_be_nowhere(page: Page) -> None:
    page.goto("/explained/index.html")
    page.locator("input.md-search__input").click()
    assert results(page, "zzyzx") == []
