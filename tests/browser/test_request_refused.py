"""A request that cannot be worked out is told as that, keeps what was typed, can be tried again."""

import re

from playwright.sync_api import Page, Route, expect

from tests.browser.conftest import ENGINE, wait_for_engine
from tests.browser.fields import field_of

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
NIGHTS = "#rig-details [name=nights]"
REFUSES = """
const refusing = (answer) => (text) => {
  const { id, form } = JSON.parse(text);
  return form?.nights === "3"
    ? JSON.stringify({ id, refused: "KeyError: 'test'" })
    : answer(text);
};
"""


def refuses_three_nights(route: Route) -> None:
    """The worker's script, with an engine that fails at one answer as a fault of its own would."""
    source = route.fetch().text()
    made = source.replace("reply = answers;", "reply = refusing(answers);")
    assert made != source
    route.fulfill(body=made + REFUSES, content_type="text/javascript")


def test_a_refused_request_has_its_own_words_and_can_be_tried_again(page: Page) -> None:
    page.route(re.compile(ENGINE), refuses_three_nights)
    page.goto(ANSWER)
    wait_for_engine(page)
    main, place = page.locator("main"), page.locator("[data-rig-engine]")
    heading = page.locator("h1").inner_text()
    words = page.locator("[data-ready]")
    field_of(page, "nights").fill("3")
    page.locator(NIGHTS).press("Tab")
    expect(main).to_have_attribute("data-state", "refused")
    expect(place).to_have_text(words.get_attribute("data-refused") or "nothing")
    assert words.get_attribute("data-refused") != words.get_attribute("data-failed")
    expect(page.locator(NIGHTS)).to_have_value("3")
    expect(page.locator("h1")).to_have_text(heading)
    assert page.evaluate("location.hash") == ""
    retry = page.locator("[data-rig-retry]")
    expect(retry).to_be_visible()
    retry.click()
    expect(main).to_have_attribute("data-state", "refused")
    expect(page.locator(NIGHTS)).to_have_value("3")
    field_of(page, "nights").fill("2")
    page.locator(NIGHTS).press("Tab")
    expect(main).to_have_attribute("data-state", "ready")
    expect(retry).to_be_hidden()
    assert page.evaluate("location.hash") == "#nights=2"
