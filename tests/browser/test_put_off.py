"""Closed chapters come a moment after the card; nobody reads in them what was said before."""

import re

import pytest
from playwright.sync_api import Locator, Page, Route, expect

from tests.browser.conftest import ENGINE, NewPage, wait_for_engine, wait_for_rehearsal
from tests.browser.fields import field_of
from tests.browser.held_replies import can_hold, hold, let_go, wait_for_held

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
PRICE = ".rig-bar strong"
REFUSES_WHOLE = """
const refusing = (answer) => (text) => {
  const { id, form, whole } = JSON.parse(text);
  return form?.cable === "30 ft" && whole && !globalThis.forgiven++
    ? JSON.stringify({ id, refused: "KeyError: 'test'" })
    : answer(text);
};
globalThis.forgiven = 0;
"""


def chapter(page: Page, name: str) -> Locator:
    """What opens and closes."""
    return page.locator(f".rig-chapter.rig-{name} > details")


def open_by_hand(page: Page, name: str) -> Locator:
    """Open a chapter; what it holds."""
    chapter(page, name).locator("summary").click()
    return chapter(page, name).locator("> :not(summary)").first


def said_in_place_of(page: Page, name: str) -> str:
    """What stands in a chapter that is on its way."""
    said = chapter(page, name).evaluate("(fold) => getComputedStyle(fold, '::after').content")
    return str(said).strip('"')


def changed(page: Page, name: str, text: str) -> None:
    """Change a detail and wait until the card says so."""
    before = page.locator(PRICE).inner_text()
    field_of(page, name).fill(text)
    page.locator(f"#rig-details [name={name}]").press("Tab")
    expect(page.locator(PRICE)).not_to_have_text(before)


@pytest.fixture
def page(new_page: NewPage) -> Page:
    """A page whose engine has rehearsed, and whose whole replies can be held back."""
    page = new_page(rehearses=True)
    can_hold(page)
    return page


def test_a_closed_chapter_shows_nothing_old_and_an_open_one_is_new_at_once(page: Page) -> None:
    page.goto(ANSWER)
    wait_for_engine(page)
    wait_for_rehearsal(page)
    open_by_hand(page, "parts")
    before = {name: chapter(page, name).inner_text() for name in ("parts", "fit")}
    hold(page, "message.final")
    changed(page, "cable", "45 ft")
    wait_for_held(page)
    assert chapter(page, "parts").inner_text() != before["parts"]
    expect(chapter(page, "parts").locator("table")).to_be_visible()
    expect(open_by_hand(page, "fit")).to_be_hidden()
    working = page.locator("[data-ready]").get_attribute("data-working")
    assert said_in_place_of(page, "fit").startswith(str(working))
    assert said_in_place_of(page, "parts") == "none"
    let_go(page)
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    expect(chapter(page, "fit").locator("> :not(summary)").first).to_be_visible()
    assert said_in_place_of(page, "fit") == "none"
    expect(chapter(page, "fit")).to_contain_text("45")


def test_where_the_rest_is_refused_the_chapter_says_so_until_it_comes(page: Page) -> None:
    def refuses(route: Route) -> None:
        source = route.fetch().text()
        made = source.replace("reply = answers;", "reply = refusing(answers);")
        assert made != source
        route.fulfill(body=made + REFUSES_WHOLE, content_type="text/javascript")

    page.route(re.compile(ENGINE), refuses)
    page.goto(ANSWER)
    wait_for_engine(page)
    wait_for_rehearsal(page)
    changed(page, "cable", "30 ft")
    expect(page.locator("main")).to_have_attribute("data-state", "refused")
    words = page.locator("[data-ready]").get_attribute("data-refused")
    expect(open_by_hand(page, "settings")).to_be_hidden()
    assert said_in_place_of(page, "settings") == words
    page.emulate_media(media="print")
    expect(chapter(page, "settings").locator("table")).to_be_hidden()
    expect(chapter(page, "parts").locator("table")).to_be_hidden()
    page.emulate_media(media="screen")
    page.locator("[data-rig-retry]").click()
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    expect(chapter(page, "settings").locator("table")).to_be_visible()
