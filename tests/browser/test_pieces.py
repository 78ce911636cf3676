"""Live pieces of the explanatory pages in a real browser: served, in a folder, without scripts."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import NewPage, wait_for_idle
from tests.browser.test_policy import WATCH

PAGES = {
    "drop": "explained/cable.html",
    "start": "explained/heavy-loads.html",
    "hours": "explained/air-conditioner.html",
}
SAYS = ".rig-piece-says"
FIELD = "#rig-piece-{}"
ENGINE = re.compile(r"engine/engine-[0-9a-f]+\.|pyodide|engine-worker")


def change(page: Page, field: str, text: str) -> None:
    """Type into a field and leave it with Enter."""
    place = page.locator(FIELD.format(field))
    place.fill(text)
    place.press("Enter")


def try_the_cable(page: Page) -> None:
    """Change the length and see sentence, table and fault follow."""
    before = page.locator(SAYS).inner_text()
    change(page, "length", "4 m")
    expect(page.locator(SAYS)).to_contain_text("13.1 ft (4 m)")
    assert page.locator(SAYS).inner_text() != before
    expect(page.locator(FIELD.format("length"))).to_have_value("4 m")
    change(page, "length", "15 ft 6 in")
    expect(page.locator(SAYS)).to_contain_text("15.5 ft")
    change(page, "length", "far")
    expect(page.locator("#rig-piece-length-fault")).to_contain_text("has no number in front")
    expect(page.locator(FIELD.format("length"))).to_have_value("far")
    expect(page.locator(FIELD.format("length"))).to_have_attribute("aria-invalid", "true")
    page.locator(FIELD.format("length")).fill("10 ft")
    page.get_by_role("button", name="Work it out").click()
    expect(page.locator(SAYS)).to_contain_text("10 ft (3.05 m)")
    expect(page.locator("#rig-piece-length-fault")).to_have_count(0)


@pytest.mark.parametrize("piece", PAGES)
def test_the_engine_is_not_loaded_before_a_field_is_touched(
    page: Page, requests: list[str], piece: str
) -> None:
    page.goto(f"/{PAGES[piece]}")
    expect(page.locator("#rig-piece")).to_be_visible()
    page.mouse.wheel(0, 2000)
    page.wait_for_function("() => scrollY > 0")
    wait_for_idle(page)
    assert [url for url in requests if ENGINE.search(url)] == []
    page.locator("#rig-piece :is(input, select)").first.focus()
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    assert [url for url in requests if ENGINE.search(url)]


def test_a_changed_field_is_worked_out_under_the_pages_policy(page: Page) -> None:
    page.add_init_script(WATCH)
    page.goto(f"/{PAGES['drop']}")
    try_the_cable(page)
    assert page.evaluate("window.broken") == []


def test_a_choice_is_worked_out_and_keeps_the_focus(page: Page) -> None:
    page.goto(f"/{PAGES['start']}")
    field = page.locator(FIELD.format("soft"))
    field.focus()
    before = page.locator(SAYS).inner_text()
    field.select_option("yes" if field.input_value() == "no" else "no")
    expect(page.locator(SAYS)).not_to_have_text(before)
    expect(field).to_be_focused()


def test_the_hours_follow_the_number_of_batteries(page: Page) -> None:
    page.goto(f"/{PAGES['hours']}")
    change(page, "count", "2")
    expect(page.locator(SAYS)).to_contain_text("2 ×")
    change(page, "power", "13,500 BTU/h")
    expect(page.locator("#rig-piece-power-fault")).to_contain_text("not what it draws")


@pytest.mark.parametrize("piece", PAGES)
def test_without_scripts_there_is_a_picture_with_its_table(new_page: NewPage, piece: str) -> None:
    page = new_page(java_script_enabled=False)
    page.goto(f"/{PAGES[piece]}")
    expect(page.locator("#rig-piece")).to_be_hidden()
    expect(page.locator(SAYS)).not_to_be_empty()
    expect(page.locator(".rig-piece-figure svg")).to_be_visible()
    assert page.locator(".rig-piece table tbody tr").count() >= 2


def test_on_paper_the_fields_are_left_out(page: Page) -> None:
    page.goto(f"/{PAGES['drop']}")
    page.emulate_media(media="print")
    expect(page.locator("#rig-piece")).to_be_hidden()
    expect(page.locator(".rig-piece-figure svg")).to_be_visible()
    expect(page.locator(".rig-piece table")).to_be_visible()


def test_an_engine_that_does_not_start_is_told_and_can_be_tried_again(page: Page) -> None:
    page.route(re.compile(r"engine-worker\.js"), lambda route: route.abort())
    page.goto(f"/{PAGES['drop']}")
    page.locator(FIELD.format("length")).focus()
    expect(page.locator("[data-rig-retry]")).to_be_visible()
    page.unroute(re.compile(r"engine-worker\.js"))
    page.locator(FIELD.format("length")).fill("4 m")
    page.locator("[data-rig-retry]").click()
    expect(page.locator(SAYS)).to_contain_text("13.1 ft (4 m)")


def test_it_works_from_a_folder(page: Page, packed: Path, requests: list[str]) -> None:
    page.add_init_script(WATCH)
    page.goto((packed / PAGES["drop"]).as_uri())
    try_the_cable(page)
    assert page.evaluate("window.broken") == []
    assert all(url.startswith(("file://", "blob:", "data:")) for url in requests)
    requests.clear()
