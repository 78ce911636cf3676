"""The answer's link handed on: by the device's own way, as a copy, or marked to be copied."""

import pytest
from playwright.sync_api import Page, expect

from engine.links import read_link
from engine.model.guide import Guide
from tests.browser.conftest import NewPage, wait_for_engine
from tests.browser.fields import field_of

ANSWER = "rig=van/scope=whole/heavy=0/"
BUTTON = "[data-rig-share]"
SAID = ".rig-print [role=status]"
# What the device's own way to share does, and what can be written into the clipboard.
SHARES = """
Object.defineProperty(navigator, "share", {value: async (what) => { window.shared = what; }});
"""
FAILS = """
Object.defineProperty(navigator, "share", {value: async () => {
    throw new DOMException("no", "%s");
}});
"""
COPIES = """
Object.defineProperty(navigator, "clipboard", {value: {writeText: async (text) => {
    window.written = text;
}}});
"""
REFUSES = """
Object.defineProperty(navigator, "clipboard", {value: {writeText: async () => {
    throw new DOMException("no", "NotAllowedError");
}}});
"""
HAS_NO_WAY = 'Object.defineProperty(navigator, "share", {value: undefined});'


def opened(page: Page, *scripts: str, details: str = "") -> Page:
    """The answer's page on a device that is made by these scripts."""
    for script in scripts:
        page.add_init_script(script)
    page.goto(f"/guide/{ANSWER}{details}")
    return page


def test_the_devices_own_way_gets_a_message_and_the_link_with_its_details(
    page: Page, guide: Guide
) -> None:
    opened(page, SHARES, details="#cable=9ft")
    wait_for_engine(page)
    expect(page.locator("#rig-details [name=cable]")).to_have_value("9ft")
    field = field_of(page, "nights")
    field.fill("2")
    field.press("Tab")
    page.wait_for_function("() => location.hash.includes('nights=2')")
    page.locator(BUTTON).click()
    expect(page.locator(SAID)).to_have_text(guide.wording.page["share-shared"])
    shared = page.evaluate("window.shared")
    start, _, rest = shared["url"].partition("/guide/")
    assert start == f"https://{guide.shop.site}"
    given = read_link(guide, *rest.split("#"))
    assert (given.text("cable"), given.text("nights"), given.edition) == (
        "9ft",
        "2",
        guide.edition,
    )
    assert page.locator(".rig-bar strong").inner_text() in shared["text"]


def test_who_thinks_better_of_it_is_told_that_nothing_was_shared(page: Page, guide: Guide) -> None:
    opened(page, FAILS % "AbortError", COPIES)
    page.locator(BUTTON).click()
    expect(page.locator(SAID)).to_have_text(guide.wording.page["share-dismissed"])
    assert page.evaluate("window.written") is None


@pytest.mark.parametrize("device", [HAS_NO_WAY, FAILS % "NotAllowedError"])
def test_where_the_device_cannot_share_the_link_is_copied(
    page: Page, guide: Guide, device: str
) -> None:
    opened(page, device, COPIES)
    page.locator(BUTTON).click()
    expect(page.locator(SAID)).to_have_text(guide.wording.page["link-copied"])
    assert f"\nhttps://{guide.shop.site}/guide/{ANSWER}#edition=" in page.evaluate("window.written")


def test_where_it_cannot_copy_either_the_link_is_marked_for_the_keys(
    page: Page, guide: Guide
) -> None:
    opened(page, HAS_NO_WAY, REFUSES)
    page.locator(BUTTON).click()
    expect(page.locator(SAID)).to_contain_text(guide.wording.page["share-failed"])
    marked = page.evaluate("getSelection().toString()")
    assert marked.startswith(f"https://{guide.shop.site}/guide/{ANSWER}#")


def test_what_the_page_does_not_count_yet_is_shared_all_the_same(page: Page) -> None:
    page.route("**/engine-*.json", lambda route: route.abort())
    opened(page, SHARES, details="#cable=9ft")
    expect(page.locator("main")).to_have_attribute("data-state", "failed")
    page.locator(BUTTON).click()
    page.wait_for_function("() => window.shared")
    assert "#cable=9ft&edition=" in page.evaluate("window.shared.url")


def test_without_scripts_there_is_no_button(new_page: NewPage) -> None:
    page = new_page(java_script_enabled=False)
    page.goto(f"/guide/{ANSWER}")
    expect(page.locator(BUTTON)).to_be_hidden()
