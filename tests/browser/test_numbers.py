"""The numbers of an answer, which stand beside it: opened, linked to, printed, without scripts."""

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import ENGINE, NewPage

ANSWER = "guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-13k5/softstart=no/v240=yes/"
COACH = f"/{ANSWER}"
NUMBER = "rig-number-fuse.main.fuse_minimum_a"
WORKINGS = "#rig-all-numbers .rig-workings"


@pytest.fixture
def calm(page: Page) -> Page:
    """A page whose engine does not come: all that it shows was built."""
    page.route(f"**/{ENGINE}", lambda route: route.abort())
    return page


def test_the_chapter_has_its_numbers_once_it_is_opened(calm: Page) -> None:
    calm.goto(COACH)
    expect(calm.locator(WORKINGS)).to_have_count(0)
    calm.locator("#rig-numbers-title").click()
    expect(calm.locator(WORKINGS).first).to_be_visible()
    expect(calm.locator("#rig-all-numbers > p > a")).to_have_count(0)
    calm.locator("#rig-all-numbers .rig-warned a").first.click()
    expect(calm.locator(".rig-caution:focus")).to_be_in_viewport()


@pytest.mark.parametrize("place", [NUMBER, "rig-section-cable-title"])
def test_an_address_with_the_place_of_a_number_opens_it(calm: Page, place: str) -> None:
    calm.goto(f"{COACH}#{place}")
    expect(calm.locator(f'[id="{place}"]')).to_be_in_viewport()
    expect(calm.locator(f'[id="{place}"]')).to_be_focused()


def test_all_is_printed_with_the_numbers(calm: Page) -> None:
    count = "document.querySelectorAll('.rig-workings').length"
    calm.add_init_script(f"window.print = () => {{ window.printed = {count}; }}")
    calm.goto(COACH)
    calm.locator("[data-rig-print=all]").click()
    calm.wait_for_function("() => window.printed > 0")


def test_without_scripts_a_link_leads_to_them_and_another_back(new_page: NewPage) -> None:
    page = new_page(java_script_enabled=False)
    page.goto(COACH)
    page.locator("#rig-numbers-title").click()
    page.locator("#rig-all-numbers a").click()
    expect(page.locator(WORKINGS).first).to_be_visible()
    page.locator(".rig-warned a").first.click()
    expect(page.locator(".rig-caution:target")).to_be_in_viewport()
    page.go_back()
    page.locator(".rig-back a").click()
    expect(page.locator("#rig-numbers-title")).to_be_in_viewport()


def test_where_a_host_lacks_them_the_engine_draws_them(page: Page) -> None:
    page.route("**/numbers.html", lambda route: route.fulfill(status=404))
    page.goto(COACH)
    page.locator("#rig-numbers-title").click()
    expect(page.locator(WORKINGS).first).to_be_visible()


def test_from_a_folder_the_engine_draws_them(
    new_page: NewPage, packed: Path, requests: list[str]
) -> None:
    page = new_page(alone=True)
    page.goto((packed / ANSWER / "index.html").as_uri())
    page.locator("#rig-numbers-title").click()
    expect(page.locator(WORKINGS).first).to_be_visible()
    assert page.url.startswith((packed / ANSWER / "index.html").as_uri())
    assert all(url.startswith(("file://", "blob:", "data:")) for url in requests)
    requests.clear()  # they are no host's
