"""A trade word opens its meaning: by touch, by keyboard, without scripts."""

import pytest
from playwright.sync_api import Page, expect

from guide.glossary import read_glossary
from tests.browser.conftest import NewPage

PAGE = "/explained/terminals.html"
ANSWER = "/guide/rig=coach-50/scope=whole/heavy=1/biggest=aircon-15k/softstart=no/v240=no/"
WORD = ".rig-cautions a.rig-term"
TIP = ".rig-tip"
MEANS = {each.id: each.means for each in read_glossary()}
PHONE = {"width": 390, "height": 844}


def is_in_view(page: Page) -> bool:
    """Whether the whole meaning is on the screen."""
    box = page.locator(TIP).bounding_box()
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
    page.locator("a.rig-term", has_text="ferrule").first.tap()
    expect(page.locator(TIP)).to_be_visible()
    expect(page.locator(TIP)).to_contain_text(MEANS["ferrule"])
    assert is_in_view(page)
    page.touchscreen.tap(5, 300)
    expect(page.locator(TIP)).to_be_hidden()
    assert page.url.endswith(PAGE)


def test_the_keyboard_opens_it_reaches_its_link_and_closes_it(page: Page) -> None:
    page.goto(PAGE)
    word, tip = page.locator("a.rig-term", has_text="ferrule").first, page.locator(TIP)
    word.focus()
    page.keyboard.press("Enter")
    expect(tip).to_be_focused()
    page.keyboard.press("Tab")
    expect(tip.locator("a")).to_be_focused()
    page.keyboard.press("Escape")
    expect(tip).to_be_hidden()
    expect(word).to_be_focused()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator("h2#ferrule")).to_be_in_viewport()
    assert page.url.endswith("/explained/glossary.html#ferrule")


def test_an_answer_opens_the_meaning_in_its_place_also_after_it_was_drawn_anew(page: Page) -> None:
    page.goto(ANSWER)
    for details in ("#nights=2", "#nights=3"):
        page.evaluate("hash => { location.hash = hash; }", details)
        page.wait_for_function("() => document.querySelector('main').dataset.state === 'ready'")
        if not page.locator(WORD).first.is_visible():
            page.locator("#rig-safety-title").click()
        word = page.locator(WORD).first
        id_ = (word.get_attribute("href") or "").partition("#")[2]
        word.click()
        expect(page.locator(TIP)).to_contain_text(MEANS[id_])
        page.keyboard.press("Escape")
        expect(page.locator(TIP)).to_be_hidden()


def test_without_scripts_it_is_a_link_to_the_glossary(new_page: NewPage) -> None:
    page = new_page(java_script_enabled=False)
    for address, link in (
        (PAGE, 'a.rig-term[href$="#ferrule"]'),
        (ANSWER, WORD),
    ):
        page.goto(address)
        if address != PAGE:
            page.locator("#rig-safety-title").click()
        found = page.locator(link).first
        word = (found.get_attribute("href") or "").partition("#")[2]
        found.click()
        assert page.url.endswith(f"/explained/glossary.html#{word}")
        expect(page.locator(f"h2#{word}")).to_be_in_viewport()
