"""A small phone far from everything: a processor four times slower, a 3G link."""

import pytest
from playwright.sync_api import CDPSession, Page, expect

from tests.browser.conftest import NewPage, wait_for_engine
from tests.browser.fields import field_of

TAPS = ("coach-50", "whole", "2", "aircon-15k", "yes", "no")
ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
PHONE = {"width": 390, "height": 844}
THIRD_GENERATION = {
    "offline": False,
    "latency": 150,
    "downloadThroughput": 1_600_000 / 8,
    "uploadThroughput": 750_000 / 8,
    "connectionType": "cellular3g",
}


@pytest.fixture
def phone(new_page: NewPage) -> tuple[Page, CDPSession]:
    """A page on a slow processor, and the means to slow its link."""
    page = new_page(alone=True, rehearses=True, measures=True, viewport=PHONE)
    session = page.context.new_cdp_session(page)
    session.send("Emulation.setCPUThrottlingRate", {"rate": 4})
    return page, session


def test_on_3g_the_short_path_is_answered_before_any_of_the_engine_is_asked_for(
    phone: tuple[Page, CDPSession], requests: list[str]
) -> None:
    page, session = phone
    session.send("Network.enable")
    session.send("Network.emulateNetworkConditions", THIRD_GENERATION)
    page.goto("/guide/")
    for choice in TAPS:
        page.locator(f"#rig-answer [data-choice='{choice}']").first.click()
    expect(page.locator("#rig-answer")).to_have_attribute("data-status", "recommended")
    expect(page.locator("#rig-details")).to_be_visible()
    assert not [url for url in requests if ".memory." in url]


def test_a_slow_processor_still_answers_the_detail_form(phone: tuple[Page, CDPSession]) -> None:
    page, _ = phone
    page.goto(ANSWER)
    page.evaluate("window.__rig.load()")
    wait_for_engine(page)
    field_of(page, "cable").fill("9 ft")
    page.locator("#rig-details [name=cable]").press("Tab")
    page.wait_for_function("() => location.hash === '#cable=9ft'")
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
