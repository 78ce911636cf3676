"""A script that does not come, or a browser that lacks something: what the visitor reads then."""

import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, Route, expect

from engine.model.guide import Guide
from tests.browser.conftest import NewPage

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
DETAILS = "#cable=25ft"
WORKER = "**/engine-worker.js"


def stands_above(page: Page) -> bool:
    """Whether the line about a link's details is seen, and before the verdict."""
    above = page.locator(".rig-pending").bounding_box()
    verdict = page.locator("#rig-answer .rig-kicker").bounding_box()
    return bool(above and verdict and above["y"] < verdict["y"])


def without_modules(route: Route) -> None:
    """Answer with the page as a browser sees it that knows no modules."""
    text = route.fetch().text().replace('type="module"', 'type="unknown"')
    route.fulfill(body=text, content_type="text/html")


def dead(route: Route) -> None:
    """Answer with a script that throws before it does anything."""
    route.fulfill(body="throw new Error('dead');", content_type="text/javascript")


@pytest.mark.parametrize("fate", ["missing", "blocked", "dead", "a log-in page", "no modules"])
def test_without_its_script_a_link_s_details_are_said_not_to_count(
    page: Page, guide: Guide, fate: str
) -> None:
    if fate == "no modules":
        page.route(lambda url: url.split("#")[0].endswith(ANSWER), without_modules)
    else:
        answers = {
            "missing": lambda route: route.fulfill(status=404),
            "blocked": lambda route: route.abort("blockedbyclient"),
            "dead": dead,
            "a log-in page": lambda route: route.fulfill(
                body="<p>Log in", content_type="text/html"
            ),
        }
        page.route("**/page.js", answers[fate])
    page.goto(ANSWER + DETAILS)
    expect(page.locator(".rig-pending")).to_have_text(guide.wording.page["engine-needed"].strip())
    assert stands_above(page)


def test_without_any_script_it_is_said_whatever_the_address(
    new_page: NewPage, guide: Guide
) -> None:
    page = new_page(java_script_enabled=False)
    page.goto(ANSWER)
    expect(page.locator(".rig-pending")).to_have_text(guide.wording.page["engine-needed"].strip())
    assert stands_above(page)


def test_where_scripts_run_and_nothing_was_brought_it_is_not_seen(page: Page) -> None:
    page.route("**/page.js", lambda route: route.abort())
    page.goto(ANSWER)
    expect(page.locator("#rig-answer h1")).to_be_visible()
    expect(page.locator(".rig-pending")).to_be_hidden()
    page.evaluate("location.hash = '#cable=25ft'")
    expect(page.locator(".rig-pending")).to_be_visible()


def test_pages_that_are_nothing_without_their_script_say_so(page: Page, guide: Guide) -> None:
    said = guide.wording.page
    started = re.compile(r"/engine/(page|staff|show)\.js")
    page.route(started, lambda route: route.abort("blockedbyclient"))
    for address, words in (
        (f"/guide/rig=boat/{DETAILS}", said["lost-needed"]),
        ("/staff/", said["staff-no-script"]),
        ("/show/", said["show-failed"]),
    ):
        page.goto(address)
        expect(page.locator("[data-rig-engine]")).to_have_text(words)


def test_an_address_that_could_not_be_read_is_read_when_it_is_tried_again(
    page: Page, guide: Guide
) -> None:
    page.route("**/engine-*.json", lambda route: route.abort())
    page.goto(f"{ANSWER.replace('/scope=whole', '', 1)}scope=whole/{DETAILS}")
    expect(page.locator("main")).to_have_attribute("data-state", "failed")
    expect(page.locator("[data-rig-engine]")).to_contain_text(guide.wording.page["lost-failed"])
    page.unroute("**/engine-*.json")
    page.locator("[data-rig-retry]").click()
    expect(page.locator("#rig-details [name=cable]")).to_have_value("25ft")
    assert page.evaluate("location.pathname") == ANSWER


def test_every_static_answer_says_it(site: Path, guide: Guide) -> None:
    words = guide.wording.page["engine-needed"].split(",")[0]
    answers = [
        text
        for file in (site / "guide").rglob("index.html")
        if 'data-kind="answer"' in (text := file.read_text(encoding="utf-8"))
    ]
    assert len(answers) > 100
    assert all(words in text.replace("&#39;", "'") for text in answers)


@pytest.mark.parametrize("lacks", ["WebAssembly", "DecompressionStream", "Worker"])
def test_a_browser_that_lacks_something_is_told_so_above_the_answer(
    page: Page, guide: Guide, lacks: str
) -> None:
    said = guide.wording.page
    if lacks == "Worker":
        page.add_init_script("delete window.Worker")
    else:

        def lacking(route: Route) -> None:
            body = f"delete globalThis.{lacks};\n" + route.fetch().text()
            route.fulfill(body=body, content_type="text/javascript")

        page.route("**/memory.js", lacking)  # runs in the worker before anything is started
    page.goto(ANSWER + DETAILS)
    expect(page.locator("main")).to_have_attribute("data-state", "failed")
    expect(page.locator(".rig-pending")).to_have_text(
        " ".join((said["engine-pending"], said["engine-failed"], said["engine-old"]))
    )
    assert stands_above(page)
    expect(page.locator("[data-rig-engine]")).to_contain_text(said["engine-old"])
    expect(page.locator("[data-rig-retry]")).to_be_visible()


def test_the_line_goes_once_the_details_are_counted(page: Page) -> None:
    page.goto(ANSWER + DETAILS)
    expect(page.locator("#rig-details [name=cable]")).to_have_value("25ft")
    expect(page.locator(".rig-pending")).to_be_hidden()
    expect(page.locator(".rig-diagram .rig-key")).to_contain_text("25 ft")
