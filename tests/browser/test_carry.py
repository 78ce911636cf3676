"""Details that a link brings to a question: every tap takes them along to the answer."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import NewPage, wait_for_engine

WAITING = "#cable=9ft&nights=2"
END = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"


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


def test_change_asks_one_question_again_and_takes_the_other_answers_along(page: Page) -> None:
    page.goto(f"/guide/{END}")
    page.locator(".rig-given a").nth(2).evaluate("(link) => link.click()")
    expect(page.locator("[data-question=heavy]")).to_be_visible()
    page.locator("#rig-answer [data-choice='1']").click()
    page.wait_for_url("**/v240=no/")
    assert page.url.partition("/guide/")[2] == END.replace("heavy=2", "heavy=1")
    page.go_back()
    expect(page.locator("[data-question=heavy]")).to_be_visible()


def test_what_the_change_leaves_without_a_meaning_is_told_and_details_are_kept(page: Page) -> None:
    page.goto(f"/guide/{END}#cable=9ft")
    wait_for_engine(page)
    page.locator(".rig-given a").first.evaluate("(link) => link.click()")
    page.locator("#rig-answer [data-choice=van]").click()
    page.wait_for_url("**/rig=van/scope=whole/heavy=2/biggest=aircon-15k/**")
    expect(page.locator(".rig-notice")).to_contain_text("240 V")
    expect(page.locator("#rig-details [name=cable]")).to_have_value("9ft")
    left = page.evaluate("location.hash.slice(1).split('&')")
    assert "cable=9ft" in left
    assert "v240=no" not in left


def test_a_kept_answer_that_is_no_choice_leaves_the_page_asking(page: Page) -> None:
    page.goto("/guide/rig=van/#scope=attic&cable=9ft")
    link = page.locator("#rig-answer [data-choice=whole]")
    page.wait_for_function("(link) => link.hash !== ''", arg=link.element_handle())
    assert link.evaluate("(link) => link.hash") == "#cable=9ft"
