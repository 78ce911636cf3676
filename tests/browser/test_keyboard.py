"""The whole guide by keyboard alone: where the focus is, that it shows, and what is announced."""

import re

import pytest
from playwright.sync_api import Page, expect

from engine.model.guide import Guide
from tests.browser.conftest import NewPage, wait_for_engine
from tests.browser.fields import field_of
from tests.browser.kinds import ANSWER, TAPS

MOST_TABS = 200
FOCUS = """() => {
    const at = document.activeElement;
    const radio = at.matches("input[type=radio]");
    const shown = radio ? at.closest("label") ?? at.nextElementSibling : at;
    const style = (part) => getComputedStyle(shown, part);
    const rings = ["", "::after"].map(style).filter((each) =>
        each.outlineStyle !== "none" && parseFloat(each.outlineWidth) >= 2);
    const box = shown.getBoundingClientRect();
    return {
        words: (at.innerText || at.value || at.ariaLabel || at.name || "").slice(0, 60),
        ring: rings.length > 0,
        seen: box.width > 0 && box.bottom > 0 && box.top < innerHeight && box.right > 0,
    };
}"""
# What a screen reader is told by itself: changes inside live regions, in order.
LISTEN = """
    window.told = [];
    document.addEventListener("DOMContentLoaded", () => {
        const live = "[role=status], [role=alert], [aria-live=polite], [aria-live=assertive]";
        new MutationObserver((changes) => {
            for (const {target, addedNodes} of changes) {
                const element = target.nodeType === 1 ? target : target.parentElement;
                const region = element?.closest(live)
                    ?? [...addedNodes].find((each) => each.matches?.(live));
                if (region) window.told.push(region.textContent.replace(/\\s+/g, " ").trim());
            }
        }).observe(document, {subtree: true, childList: true, characterData: true});
    });
"""


@pytest.fixture
def page(new_page: NewPage) -> Page:
    """A page that does not scroll smoothly: what has the focus is in sight at once."""
    return new_page(reduced_motion="reduce")


def tab_to(page: Page, selector: str) -> None:
    """Press Tab until the element has the focus; on the way every focus must be seen."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        focus = page.evaluate(FOCUS)
        assert focus["ring"], f"no visible focus on “{focus['words']}”"
        assert focus["seen"], f"the focus is out of sight on “{focus['words']}”"
        if page.evaluate("(wanted) => document.activeElement.matches(wanted)", selector):
            return
    raise AssertionError(f"{selector} cannot be reached with the Tab key")


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without"])
def test_the_guide_is_walked_from_the_first_page_to_the_answer_by_keyboard(
    page: Page, guide: Guide, scripts: bool
) -> None:
    if not scripts:
        page.route("**/*.js", lambda route: route.abort())
    page.goto("/")
    tab_to(page, "a.rig-choice[href='guide/index.html']")
    page.keyboard.press("Enter")
    page.wait_for_url("**/guide/index.html")
    titles = set()
    for tap in TAPS:
        tab_to(page, f"a.rig-choice[href*='={tap}/']")
        page.keyboard.press("Enter")
        page.wait_for_url(re.compile(rf"={tap}/(index.html)?$"))
        titles.add(page.title())
        expect(page.locator("h1")).to_have_count(1)
    assert page.url.endswith(ANSWER)
    assert len(titles) == len(TAPS), "each page's title says which page it is"
    assert guide.question("rig").choice(TAPS[0]).label in page.title()


def test_the_first_tab_skips_to_the_guide(page: Page) -> None:
    page.goto(f"/{ANSWER}")
    page.keyboard.press("Tab")
    assert page.evaluate("() => document.activeElement.matches('.rig-skip')")
    assert page.evaluate(FOCUS)["seen"]
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    assert page.evaluate("() => document.activeElement.closest('#rig-answer') !== null")


def open_group(page: Page, name: str) -> None:
    """Open a group of the form by keyboard."""
    tab_to(page, f"#rig-group-{name} > summary")
    page.keyboard.press("Enter")


def test_the_detail_form_is_filled_by_keyboard_and_the_new_answer_is_told(page: Page) -> None:
    page.add_init_script(LISTEN)
    page.goto(f"/{ANSWER}")
    wait_for_engine(page)
    open_group(page, "you")
    tab_to(page, "#rig-details [name=tools]")
    page.keyboard.press("ArrowDown")
    expect(page).to_have_url(re.compile("tools="))
    open_group(page, "cable")
    tab_to(page, "#rig-details [name=cable]")
    page.keyboard.type("15 ft")
    open_group(page, "place")
    tab_to(page, "#rig-details [name=ambient]")
    expect(page).to_have_url(re.compile("cable=15ft"))
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    assert page.evaluate("() => document.activeElement.name") == "ambient", "the place is kept"
    standing = page.locator(".rig-bar p").first.inner_text()
    headline = standing.partition(": ")[2]
    told = page.evaluate("() => window.told")[-2:]  # the answer, and what the change did
    assert any(headline in each for each in told)
    tab_to(page, "a, [data-rig-keep] button")  # and the form is no trap
    page.keyboard.press("End")


def test_a_wrong_entry_is_told_and_its_summary_leads_to_the_field(page: Page) -> None:
    page.add_init_script(LISTEN)
    page.goto(f"/{ANSWER}#nights=3")
    wait_for_engine(page)
    field_of(page, "cable").focus()
    page.keyboard.type("15 kg")
    page.keyboard.press("Enter")
    field = page.locator("#rig-cable")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_accessible_description(re.compile("got a weight"))
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    assert any("got a weight" in each for each in page.evaluate("() => window.told"))
    page.locator("#rig-details .rig-faults a").focus()
    page.keyboard.press("Enter")
    expect(field).to_be_focused()
    expect(field).to_have_value("15 kg")


def test_a_link_to_another_answer_moves_the_focus_to_its_heading(page: Page) -> None:
    page.goto(f"/{ANSWER}")
    wait_for_engine(page)
    page.locator("#rig-changes summary").press("Enter")
    page.locator("#rig-changes a[href*='#bank=']").first.focus()
    page.keyboard.press("Enter")
    expect(page.locator("h1")).to_be_focused()
    assert page.evaluate(FOCUS)["ring"]


def test_an_address_that_the_engine_finds_is_read_from_its_heading(page: Page) -> None:
    page.goto("/guide/rig=van/colour=blue/scope=some/heavy=0/")
    expect(page.locator("[data-status=recommended] h1")).to_be_focused()


def test_show_mode_is_walked_by_keyboard_and_each_question_takes_the_focus(page: Page) -> None:
    page.goto("/show/")
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    for tap in TAPS:
        before = page.locator("h1").inner_text()
        tab_to(page, f"[data-choice='{tap}']")
        page.keyboard.press("Enter")
        expect(page.locator("h1")).not_to_have_text(before)
        expect(page.locator("h1")).to_be_focused()
    expect(page.locator("#rig-answer")).to_have_attribute("data-status", "recommended")
    page.keyboard.press("Shift+Tab")
    page.locator("#rig-show-home").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#rig-take-title")).to_be_focused()
    page.keyboard.press("Escape")
    expect(page.locator("#rig-show-home")).to_be_focused()
