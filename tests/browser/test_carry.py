"""Details that a link brings to a question: every tap takes them along to the answer."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import NewPage

WAITING = "#cable=9ft&nights=2"


@pytest.mark.parametrize(
    ("path", "choice"), [("", "van"), ("rig=van/", "whole"), ("rig=van/scope=whole/", "0")]
)
def test_a_tap_takes_the_waiting_details_along(new_page: NewPage, path: str, choice: str) -> None:
    page = new_page()
    page.goto(f"/guide/{path}{WAITING}")
    page.locator(f"#rig-answer [data-choice='{choice}']").click()
    page.wait_for_function("() => location.hash !== '' && document.querySelector('#rig-answer')")
    assert page.evaluate("location.hash") == WAITING
    assert page.evaluate("location.pathname").endswith(f"={choice}/")


def test_details_reach_the_answer_by_keyboard_and_are_what_it_is_worked_out_for(
    new_page: NewPage,
) -> None:
    page = new_page()
    page.goto(f"/guide/rig=van/scope=whole/{WAITING}")
    page.locator("#rig-answer [data-choice='0']").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#rig-details [name=cable]")).to_have_value("9ft")
    expect(page.locator(".rig-facts")).to_contain_text("9 ft")


def test_starting_over_leaves_them_behind(new_page: NewPage) -> None:
    page = new_page()
    page.goto(f"/guide/rig=van/scope=whole/{WAITING}")
    page.locator(".rig-again").click()
    expect(page.locator("#rig-answer [data-choice=van]")).to_be_visible()
    assert page.evaluate("location.hash") == ""


def test_a_question_without_details_keeps_plain_links(new_page: NewPage) -> None:
    page = new_page()
    page.goto("/guide/rig=van/#rig-answer")
    links = page.locator("#rig-answer .rig-choice")
    found = [links.nth(place).get_attribute("href") or "" for place in range(links.count())]
    assert found
    assert all("#" not in link for link in found)
