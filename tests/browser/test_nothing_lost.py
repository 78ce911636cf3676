"""What a link brought and what was typed are both kept, whatever comes in between."""

import pytest
from playwright.sync_api import Page, expect

from engine.model.guide import Guide
from tests.browser.conftest import Held, NewPage, wait_for_engine, wait_for_rehearsal
from tests.browser.fields import field_of

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
TAPS = ("coach-50", "whole", "2", "aircon-15k", "yes", "no")
LIST = "**/engine-*.json"
MEMORY = "**/*.memory.gz"
CABLE = "#rig-details [name=cable]"
NIGHTS = "#rig-details [name=nights]"


def state(page: Page, wanted: str = "ready") -> None:
    """Wait for a state of the engine."""
    expect(page.locator("main")).to_have_attribute("data-state", wanted)


def details_of(page: Page) -> list[str]:
    """The details in the address's fragment."""
    return sorted(str(page.evaluate("location.hash.slice(1)")).split("&"))


def tap_through(page: Page) -> None:
    """Answer the short path where every page is shown inside one."""
    for choice in TAPS:
        heading = page.locator("#rig-answer h1").inner_text()
        page.locator(f"#rig-answer [data-choice='{choice}']").click()
        expect(page.locator("#rig-answer h1")).not_to_have_text(heading)
    state(page)


def test_a_link_whose_engine_failed_is_answered_when_it_is_tried_again(page: Page) -> None:
    page.route(LIST, lambda route: route.abort())
    page.goto(f"{ANSWER}#cable=9ft&nights=3&note=Call%20Ann")
    state(page, "failed")
    words = page.locator(".rig-pending").get_attribute("data-pending") or "nothing"
    expect(page.locator(".rig-pending")).to_contain_text(words)
    page.unroute(LIST)
    retry = page.locator("[data-rig-retry]")
    retry.focus()
    page.keyboard.press("Enter")
    state(page)
    assert details_of(page) == ["cable=9ft", "nights=3", "note=Call%20Ann"]
    expect(page.locator(CABLE)).to_have_value("9ft")
    expect(page.locator(".rig-pending")).to_be_hidden()
    assert page.evaluate("document.activeElement !== document.body")


def test_what_is_typed_while_it_loads_is_added_to_what_the_link_brought(page: Page) -> None:
    memory = Held(page, MEMORY)
    page.goto(f"{ANSWER}#cable=9ft&bank=48V")
    expect(page.locator(".rig-pending")).to_be_visible()
    field_of(page, "nights").fill("3")
    page.locator(NIGHTS).press("Tab")
    memory.let_go()
    state(page)
    assert details_of(page) == ["bank=48V", "cable=9ft", "nights=3"]
    expect(page.locator("#rig-details [name=bank]")).to_have_value("48V")


def test_back_and_forth_between_details_the_setup_is_that_of_the_answer(page: Page) -> None:
    page.goto(ANSWER)
    wait_for_engine(page)
    setup = page.locator(".rig-layout")
    plain = setup.inner_text()
    seen = {}
    for fragment in ("bank=48V", "space=short-wall&bank=48V"):
        page.evaluate("(text) => { location.hash = text; }", fragment)
        expect(page.locator("h1")).to_be_focused()
        state(page)
        seen[fragment] = setup.inner_text()
    assert len({plain, *seen.values()}) == 3
    page.go_back()
    expect(setup).to_have_text(seen["bank=48V"])
    page.go_back()
    expect(setup).to_have_text(plain)
    expect(page.locator("#rig-details [name=bank]")).to_have_value("")


def test_what_was_typed_in_show_mode_goes_home_too(page: Page) -> None:
    page.goto("/show/")
    state(page)
    tap_through(page)
    field_of(page, "cable").fill("25 ft")
    page.locator("#rig-show-home").click()
    expect(page.locator("#rig-take .rig-address")).to_contain_text("cable=25ft")
    state(page)
    expect(page.locator(CABLE)).to_have_value("25ft")


def test_staff_ahead_of_the_engine_copy_all_that_they_entered(new_page: NewPage) -> None:
    page = new_page(permissions=["clipboard-read", "clipboard-write"])
    page.goto("/staff/")
    for letters in ("coa", "whole", "2", "15", "yes", "no"):
        page.keyboard.type(letters)
        page.keyboard.press("Enter")
    page.keyboard.press("Control+Enter")
    expect(page.locator("#rig-copied")).not_to_be_empty()
    assert "v240=no" in page.evaluate("navigator.clipboard.readText()")


def test_what_staff_typed_is_given_back_when_the_engine_fails(page: Page) -> None:
    page.route(LIST, lambda route: route.abort())
    page.goto("/staff/")
    page.keyboard.type("coa")
    page.keyboard.press("Enter")
    state(page, "failed")
    expect(page.locator("#rig-typed")).to_have_value("coa")


def test_a_fragment_that_names_a_place_is_no_detail(new_page: NewPage) -> None:
    page = new_page(rehearses=True)
    page.goto(f"{ANSWER}#rig-parts-title")
    wait_for_engine(page)
    wait_for_rehearsal(page)
    expect(page.locator("#rig-answer .rig-faults")).to_have_count(0)


def test_the_skip_link_keeps_the_details(page: Page) -> None:
    page.goto(f"{ANSWER}#cable=9ft&note=Call%20Ann")
    state(page)
    page.locator(".rig-skip").focus()
    page.keyboard.press("Enter")
    assert details_of(page) == ["cable=9ft", "note=Call%20Ann"]
    page.reload()
    expect(page.locator(CABLE)).to_have_value("9ft")


def test_an_older_request_does_not_take_the_focus_from_a_newer_one(page: Page) -> None:
    memory = Held(page, MEMORY)
    page.goto(ANSWER)
    page.evaluate("location.hash = 'tools=crimper'")
    field_of(page, "nights").fill("3")
    page.locator(NIGHTS).press("Tab")
    field_of(page, "ambient").focus()
    page.keyboard.type("9")
    memory.let_go()
    state(page)
    expect(page.locator("#rig-details [name=ambient]")).to_be_focused()
    assert details_of(page) == ["nights=3", "tools=crimper"]


def test_details_go_back_with_the_question_and_follow_a_pasted_link(page: Page) -> None:
    page.goto("/guide/rig=van/scope=whole/#cable=9ft")
    page.evaluate("location.hash = 'cable=12ft'")
    hashes = "(links) => links.map((link) => link.hash)"
    page.wait_for_function("() => document.querySelector('.rig-back a').hash === '#cable=12ft'")
    assert page.locator(".rig-back a").evaluate_all(hashes) == ["#cable=12ft", ""]
    assert set(page.locator("[data-choice]").evaluate_all(hashes)) == {"#cable=12ft"}


@pytest.mark.parametrize("status", [404, 503])
def test_only_a_page_whose_edition_is_gone_is_loaded_afresh_with_link_and_details(
    page: Page, guide: Guide, status: int
) -> None:
    said, is_gone = guide.wording.page, status == 404
    page.route(LIST, lambda route: route.fulfill(status=status))
    page.goto(f"{ANSWER}#cable=9ft")
    state(page, "failed")
    told = said["engine-replaced"] if is_gone else said["engine-missing"]
    expect(page.locator(".rig-pending")).to_contain_text(told)
    page.locator(NIGHTS).evaluate("(field) => { field.value = '3'; }")
    page.evaluate("window.same = true")
    page.unroute(LIST)
    page.route(
        LIST,
        lambda route: (
            route.fulfill(status=status) if route.request.method == "HEAD" else route.continue_()
        ),
    )
    button = page.locator("[data-rig-retry]")
    expect(button).to_have_text(said["engine-load"] if is_gone else said["engine-retry"])
    button.click()
    state(page)
    assert page.evaluate("window.same") == (None if is_gone else True)
    assert details_of(page) == ["cable=9ft", "nights=3"]
