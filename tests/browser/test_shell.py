"""The site in a real browser: without scripts, with the engine, and when the engine fails."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from engine.model.guide import Guide
from engine.respond import respond_to
from site_src.build.fields import fields_of, without_fields
from site_src.build.numbers import parted
from tests.browser.conftest import NewPage, is_outside, wait_for_engine
from tests.browser.fields import field_of


@pytest.fixture(scope="session")
def answer_address(site: Path) -> str:
    """The address of one answer page, the first by name that has a detail form."""
    for file in sorted((site / "guide").rglob("index.html")):
        if 'id="rig-details"' in file.read_text(encoding="utf-8"):
            return "/" + file.parent.relative_to(site).as_posix() + "/"
    raise AssertionError("no page of the guide has the detail form")


def test_the_guide_leads_to_an_answer_without_any_script(new_page: NewPage) -> None:
    page = new_page(java_script_enabled=False)
    page.goto("/")
    page.locator(".rig-choice").first.click()
    for _tap in range(12):
        if page.locator("#rig-details").count():
            break
        page.locator("#rig-answer a[href*='=']").first.click()
    expect(page.locator("#rig-answer h1")).not_to_be_empty()
    expect(page.locator("#rig-details")).to_have_count(1)
    expect(page.locator("#rig-details")).to_be_hidden()


def test_the_engine_starts_by_itself_on_an_answer_page(page: Page, answer_address: str) -> None:
    page.goto(answer_address)
    expect(page.locator("#rig-details")).to_be_visible()
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    said = page.locator("#rig-details [data-ready]").get_attribute("data-ready") or "nothing"
    place = page.locator("#rig-details [data-rig-engine]")
    expect(place).to_have_text(said)
    expect(place).to_be_hidden()  # until one adjusts something
    page.locator("#rig-details summary").first.click()
    expect(page.get_by_role("status").filter(has_text=said)).to_be_visible()


def test_the_engine_draws_what_the_build_drew(
    page: Page, answer_address: str, guide: Guide
) -> None:
    page.goto(answer_address)
    wait_for_engine(page)
    drawn = page.evaluate("window.__rig.ask('', null).then((reply) => reply.html)")
    built = page.request.get(answer_address).text()
    known = respond_to(guide, answer_address.partition("/guide/")[2])
    content, _ = parted(guide, known, without_fields(drawn, fields_of(guide)))
    assert content.strip() in built


def test_a_changed_detail_changes_the_answer_and_keeps_the_place(
    page: Page, answer_address: str
) -> None:
    page.goto(answer_address)
    wait_for_engine(page)
    field = field_of(page, "cable")
    open_parts = page.locator("#rig-answer details")
    open_parts.first.evaluate("(part) => { part.open = true; }")
    field.fill("25 ft")
    before = page.locator("#rig-answer").inner_text()
    field.press("Enter")
    page.wait_for_function("() => location.hash.includes('cable=')")
    expect(page.locator("#rig-answer")).not_to_have_text(before)
    expect(field).to_be_focused()
    expect(field).to_have_value("25 ft")
    assert open_parts.first.evaluate("(part) => part.open")


def test_a_link_with_details_opens_with_its_own_answer(page: Page, answer_address: str) -> None:
    page.goto(f"{answer_address}#cable=25ft")
    expect(page.locator("#rig-details [name=cable]")).to_have_value(re.compile("25"))
    assert page.evaluate("location.hash").startswith("#cable=25")


def test_what_cannot_be_read_stays_as_typed(page: Page, answer_address: str) -> None:
    page.goto(answer_address)
    wait_for_engine(page)
    field = field_of(page, "cable")
    field.fill("about a yard or so")
    field.press("Enter")
    page.wait_for_function("() => document.querySelector('main').dataset.state === 'ready'")
    expect(field).to_have_value("about a yard or so")


def test_a_newer_request_takes_the_place_of_an_older_one(page: Page, answer_address: str) -> None:
    page.goto(answer_address)
    wait_for_engine(page)
    replies = page.evaluate(
        """Promise.all(["cable=10ft", "cable=15ft", "cable=20ft"].map(
            (fragment) => window.__rig.ask(fragment, null)))"""
    )
    assert replies[:2] == [None, None]
    assert replies[2]["fragment"] == "cable=20ft"
    assert page.evaluate("location.hash") == "#cable=20ft"


def test_when_the_engine_cannot_load_the_answer_stays_and_it_is_said(
    page: Page, answer_address: str
) -> None:
    page.route("**/engine-*.json", lambda route: route.abort())
    page.goto(answer_address)
    built = page.locator("#rig-answer h1").inner_text()
    expect(page.locator("main")).to_have_attribute("data-state", "failed")
    said = page.locator("#rig-details [data-failed]").get_attribute("data-failed") or "nothing"
    expect(page.get_by_role("status").filter(has_text=said)).to_be_visible()
    expect(page.locator("#rig-answer h1")).to_have_text(built)


def test_the_chosen_colours_hold_on_both_kinds_of_page(page: Page) -> None:
    page.goto("/guide/")
    root = page.locator("html")
    expect(root).to_have_attribute("data-md-color-scheme", "default")
    page.get_by_role("button", name="colors").click()
    expect(root).to_have_attribute("data-md-color-scheme", "slate")
    page.goto("/")
    expect(page.locator("body")).to_have_attribute("data-md-color-scheme", "slate")
    page.goto("/guide/")
    expect(root).to_have_attribute("data-md-color-scheme", "slate")


def test_the_explanatory_pages_can_be_searched(page: Page) -> None:
    page.goto("/")
    page.locator("input.md-search__input").click()
    expect(page.locator(".md-search-result__meta")).to_have_text("Type to start searching")
    page.locator("input.md-search__input").press_sequentially("recommendation")
    expect(page.locator(".md-search-result__item").first).to_be_visible()


@pytest.mark.parametrize("where", ["page", "worker"])
def test_the_watch_sees_a_request_that_leaves_the_site(
    new_page: NewPage, origin: str, requests: list[str], where: str
) -> None:
    page = new_page(bypass_csp=True)  # the policy would stop the request before it is made
    fetch = "fetch('http://elsewhere.invalid/').catch(() => 0)"
    in_worker = f"new Worker(URL.createObjectURL(new Blob([`{fetch}`])))"
    page.goto("/guide/")
    with page.context.expect_event("request", lambda request: "elsewhere" in request.url):
        page.evaluate(f"void ({fetch if where == 'page' else in_worker})")
    outside = [url for url in requests if is_outside(url, origin)]
    assert outside == ["http://elsewhere.invalid/"]
    requests.clear()
