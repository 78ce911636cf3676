"""Show mode in a real browser: large targets, starting over, nothing left of the last visitor."""

import io

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Page, expect

from engine.links import public_link
from engine.model.guide import Guide
from engine.pages.staff.show import IDLE_S, WARNING_S
from tests.browser.conftest import NewPage
from tests.browser.fields import field_of

TAPS = ("coach-50", "whole", "2", "aircon-15k", "yes", "no")
PATH = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
TARGETS = "main :is(a, button, summary, select, textarea, label.rig-card, input:not([type=radio]))"
AHEAD_S = 30  # how far the clock is put forward to where it stands still; less than IDLE_S
# Labels of a drawing are words in a text: excepted by WCAG 2.2, 2.5.5.
SMALL = """(targets) => [...document.querySelectorAll(targets)]
    .filter((each) => each.checkVisibility() && !each.closest("svg"))
    .map((each) => [each.outerHTML.slice(0, 80), each.getBoundingClientRect()])
    .filter(([, box]) => box.width < 44 || box.height < 44)
    .map(([text, box]) => `${text} ${box.width} × ${box.height}`)"""
LEFT = """() => JSON.stringify([
    {...localStorage}, {...sessionStorage}, document.cookie, location.hash, location.search,
    [...document.querySelectorAll("input, textarea, select")].map((each) => each.value)])"""
NOTHING = '[{},{},"","","",[]]'


@pytest.fixture
def tablet(new_page: NewPage) -> Page:
    """Show mode on a tablet, its engine ready and its clock in the test's hand."""
    page = new_page(viewport={"width": 1024, "height": 768}, has_touch=True)
    page.clock.install()
    page.goto("/show/")
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    return page


def tap_to_answer(page: Page) -> None:
    for choice in TAPS:
        asked = page.locator("#rig-answer h1").inner_text()
        page.locator(f"#rig-answer [data-choice='{choice}']").tap()
        expect(page.locator("#rig-answer h1")).not_to_have_text(asked)
    expect(page.locator("#rig-answer")).to_have_attribute("data-status", "recommended")
    expect(page.locator("main")).to_have_attribute("data-state", "ready")


def touch_last(page: Page) -> None:
    """Let the clock stand still but for the test, and touch the page for the last time."""
    page.clock.pause_at(page.evaluate("Date.now()") / 1000 + AHEAD_S)
    page.locator("#rig-answer h1").tap()


def expect_first_question(page: Page) -> None:
    expect(page.locator("#rig-answer [data-choice='coach-50']")).to_be_visible()


def test_a_visitor_taps_to_an_answer_that_leaves_no_trace_in_the_history(tablet: Page) -> None:
    before = tablet.evaluate("history.length")
    address = tablet.url
    tap_to_answer(tablet)
    assert tablet.url == address
    assert tablet.evaluate("history.length") == before


def test_every_target_is_large_enough_for_a_finger(tablet: Page) -> None:
    assert tablet.evaluate(SMALL, TARGETS) == []
    tap_to_answer(tablet)
    assert tablet.evaluate(SMALL, TARGETS) == []
    tablet.locator("#rig-show-home").tap()
    expect(tablet.locator("#rig-take .rig-qr")).to_be_visible()
    assert tablet.evaluate(SMALL, f"{TARGETS}, dialog button") == []


def test_the_detail_form_works_there_too(tablet: Page) -> None:
    tap_to_answer(tablet)
    field_of(tablet, "cable").fill("25 ft")
    tablet.locator("#rig-details [name=cable]").press("Enter")
    expect(tablet.locator(".rig-facts")).to_contain_text("25 ft")
    tablet.locator("#rig-show-home").tap()
    expect(tablet.locator("#rig-take .rig-address")).to_contain_text("cable=25ft")


def test_the_square_holds_the_public_link(tablet: Page, guide: Guide) -> None:
    tap_to_answer(tablet)
    tablet.locator("#rig-show-home").tap()
    code = tablet.locator("#rig-take .rig-qr")
    expect(code).to_be_visible()
    found = zxingcpp.read_barcodes(Image.open(io.BytesIO(code.screenshot())))
    assert [each.text for each in found] == [public_link(guide, PATH, "")]


def test_starting_over_asks_first_and_then_leaves_nothing(tablet: Page) -> None:
    tap_to_answer(tablet)
    field_of(tablet, "cable").fill("25 ft")
    tablet.evaluate("localStorage.setItem('x', '1'); sessionStorage.setItem('y', '2')")
    tablet.locator("#rig-show-over").tap()
    tablet.locator("#rig-show-sure [data-do=stay]").tap()
    expect(tablet.locator("#rig-details [name=cable]")).not_to_have_value("")
    length = tablet.evaluate("history.length")
    tablet.locator("#rig-show-over").tap()
    tablet.locator("#rig-show-sure [data-do=over]").tap()
    expect_first_question(tablet)
    expect(tablet.locator("#rig-show-over")).to_be_hidden()
    assert tablet.evaluate(LEFT) == NOTHING
    assert tablet.evaluate("history.length") == length


def test_nothing_moves_under_the_finger_that_leaves_a_changed_field(tablet: Page) -> None:
    tap_to_answer(tablet)
    field_of(tablet, "cable").fill("25 ft")
    before = tablet.locator("#rig-show-over").bounding_box()
    tablet.locator("#rig-show-over").tap()
    expect(tablet.locator("#rig-show-sure")).to_be_visible()
    assert tablet.locator("#rig-show-over").bounding_box() == before


def test_idle_it_warns_and_then_starts_over(tablet: Page) -> None:
    tap_to_answer(tablet)
    touch_last(tablet)
    tablet.clock.run_for(1000 * (IDLE_S - 1))
    expect(tablet.locator("#rig-show-still")).to_be_hidden()
    tablet.clock.run_for(1000 * 1)
    expect(tablet.locator("#rig-show-still")).to_be_visible()
    expect(tablet.locator("#rig-answer")).to_have_attribute("data-status", "recommended")
    tablet.clock.run_for(1000 * (WARNING_S + 1))
    expect_first_question(tablet)
    assert tablet.evaluate(LEFT) == NOTHING


def test_who_is_still_there_stays(tablet: Page) -> None:
    tap_to_answer(tablet)
    touch_last(tablet)
    tablet.clock.run_for(1000 * IDLE_S)
    tablet.locator("#rig-show-still [data-do=stay]").tap()
    tablet.clock.run_for(1000 * (IDLE_S - 1))
    expect(tablet.locator("#rig-show-still")).to_be_hidden()
    expect(tablet.locator("#rig-answer")).to_have_attribute("data-status", "recommended")


def test_a_touch_puts_the_warning_off(tablet: Page) -> None:
    tap_to_answer(tablet)
    touch_last(tablet)
    tablet.clock.run_for(1000 * (IDLE_S - 1))
    tablet.locator("#rig-answer h1").tap()
    tablet.clock.run_for(1000 * (IDLE_S - 1))
    expect(tablet.locator("#rig-show-still")).to_be_hidden()


def test_untouched_it_never_warns(tablet: Page) -> None:
    tablet.clock.run_for(1000 * 10 * IDLE_S)
    expect(tablet.locator("#rig-show-still")).to_be_hidden()
    expect_first_question(tablet)


def test_nothing_is_kept_of_a_visit_without_consent(tablet: Page) -> None:
    tap_to_answer(tablet)
    tablet.locator("#rig-show-home").tap()
    tablet.locator("#rig-contact").fill("Ann")
    tablet.locator("#rig-show-take [data-do=stay]").tap()
    assert tablet.evaluate("localStorage.length + sessionStorage.length") == 0


def test_a_visit_is_kept_with_consent_and_the_next_visitor_does_not_see_it(tablet: Page) -> None:
    tap_to_answer(tablet)
    tablet.locator("#rig-show-home").tap()
    tablet.locator("#rig-contact").fill("Ann, 555-0100")
    tablet.locator("#rig-keep-visit button").tap()
    expect(tablet.locator("#rig-keep-visit")).to_contain_text("Kept")
    tablet.locator("#rig-show-take [data-do=stay]").tap()
    tablet.locator("#rig-show-over").tap()
    tablet.locator("#rig-show-sure [data-do=over]").tap()
    expect_first_question(tablet)
    assert tablet.evaluate("Object.keys(localStorage)") == ["rig-visits"]
    (visit,) = tablet.evaluate("JSON.parse(localStorage.getItem('rig-visits'))")
    assert (visit["link"], visit["contact"]) == (PATH, "Ann, 555-0100")
    assert "Ann" not in tablet.content()


def test_no_link_of_the_guide_leads_out_of_show_mode(tablet: Page) -> None:
    tap_to_answer(tablet)
    for away in ("a[href*='/explained/']", "a[href*='/units/']", "a[download]"):
        assert tablet.locator(f"{away}:visible").count() == 0
    tablet.evaluate("document.querySelector(\"a[href*='/units/']\").click()")
    assert tablet.url.endswith("/show/")
    expect(tablet.locator("#rig-answer")).to_have_attribute("data-status", "recommended")


def test_it_works_without_a_network_once_it_is_there(tablet: Page) -> None:
    tablet.context.set_offline(True)
    tap_to_answer(tablet)
    tablet.locator("#rig-show-home").tap()
    expect(tablet.locator("#rig-take .rig-qr")).to_be_visible()


def test_when_the_engine_fails_that_is_said_and_the_guide_goes_on(page: Page) -> None:
    page.route("**/engine-*.json", lambda route: route.abort())
    page.goto("/show/")
    expect(page.locator("main")).to_have_attribute("data-state", "failed")
    expect(page.locator(".rig-show-bar [role=status]")).not_to_be_empty()
    page.locator("#rig-answer [data-choice='van']").click()
    assert page.url.endswith("/guide/rig=van/")
