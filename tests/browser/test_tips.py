"""A trade word on an explanatory page opens its meaning: by touch, by keyboard, without scripts."""

import pytest
from playwright.sync_api import Page, expect

from guide.glossary import read_glossary
from tests.browser.conftest import NewPage

PAGE = "/explained/terminals.html"
MEANS = {each.id: each.means for each in read_glossary()}
PHONE = {"width": 390, "height": 844}


def is_in_view(page: Page, tip: str) -> bool:
    """Whether the whole tip is on the screen."""
    box = page.locator(tip).bounding_box()
    assert box is not None
    size = page.viewport_size
    assert size is not None
    across = box["x"] >= 0 and box["x"] + box["width"] <= size["width"] + 0.5
    return across and box["y"] >= 0 and box["y"] + box["height"] <= size["height"] + 0.5


@pytest.mark.parametrize("viewport", [PHONE, {"width": 1280, "height": 800}], ids=["phone", "desk"])
def test_a_tap_opens_the_meaning_and_a_tap_elsewhere_closes_it(
    new_page: NewPage, viewport: dict[str, int]
) -> None:
    page = new_page(viewport=viewport, has_touch=True)
    page.goto(PAGE)
    tip = page.locator("#tip-ferrule")
    expect(tip).to_be_hidden()
    page.locator("button.rig-term", has_text="ferrule").first.tap()
    expect(tip).to_be_visible()
    expect(tip).to_contain_text(MEANS["ferrule"])
    assert is_in_view(page, "#tip-ferrule")
    page.touchscreen.tap(5, 300)
    expect(tip).to_be_hidden()
    assert page.url.endswith(PAGE)


def test_the_keyboard_opens_it_reaches_its_link_and_closes_it(page: Page) -> None:
    page.goto(PAGE)
    word, tip = (
        page.locator("button.rig-term", has_text="ferrule").first,
        page.locator("#tip-ferrule"),
    )
    word.focus()
    page.keyboard.press("Enter")
    expect(tip).to_be_visible()
    page.keyboard.press("Tab")
    expect(tip.locator("a")).to_be_focused()
    page.keyboard.press("Escape")
    expect(tip).to_be_hidden()
    expect(word).to_be_focused()
    page.keyboard.press("Space")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("h2#ferrule")).to_be_in_viewport()
    assert page.url.endswith("/explained/glossary.html#ferrule")


def test_without_scripts_it_is_a_link_to_the_glossary(new_page: NewPage) -> None:
    page = new_page(java_script_enabled=False)
    page.goto(PAGE)
    expect(page.locator("#tip-ferrule")).to_be_hidden()
    page.locator("a.rig-term", has_text="ferrule").first.click()
    assert page.url.endswith("/explained/glossary.html#ferrule")
    expect(page.locator("h2#ferrule")).to_be_in_viewport()
