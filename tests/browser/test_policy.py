"""The pages' security policy: what it forbids, and that nothing of the site breaks it."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import wait_for_engine

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
WATCH = """
    window.broken = [];
    document.addEventListener("securitypolicyviolation", (event) =>
        window.broken.push(`${event.violatedDirective} ${event.blockedURI} ${event.sample}`));
"""
STORED = """Promise.all([indexedDB.databases(), caches.keys()]).then(([bases, names]) =>
    [...bases, ...names, ...Object.keys(localStorage), ...Object.keys(sessionStorage)])"""
HOSTILE = (
    "cable=<img src=x onerror=window.hit=1>",
    "cable=%3Cscript%3Ewindow.hit=1%3C/script%3E",
    "loads=</textarea><svg onload=window.hit=1>:5W:1h",
    "<b>=1&space=%22%3E%3Ciframe srcdoc=x%3E",
)


def policy_of(page: str) -> dict[str, list[str]]:
    """The policy in a page's source, by directive."""
    found = re.search(r'http-equiv="Content-Security-Policy" content="([^"]*)"', page)
    assert found, "the page has no policy"
    return {name: rest for name, *rest in (part.split() for part in found[1].split(";"))}


def test_every_page_has_a_policy_without_unsafe_scripts(site: Path) -> None:
    files = list(site.rglob("*.html"))
    assert len(files) > 1000
    for file in files:
        text = file.read_text(encoding="utf-8")
        policy = policy_of(text)
        assert policy["default-src"] == policy["script-src"][:1] == ["'self'"], file
        assert not {"'unsafe-inline'", "'unsafe-eval'"} & set(policy["script-src"]), file
        assert "*" not in {source for sources in policy.values() for source in sources}, file
        assert text.index("Content-Security-Policy") < text.index("<script"), file


def test_a_page_of_the_guide_names_its_style_sheet_before_its_policy(site: Path) -> None:
    """A browser that meets a policy in a page looks ahead for nothing more to fetch.

    The theme's pages have their sheets before any script, and would wait longer for so many.
    """
    files = [*(site / "guide").rglob("index.html")]
    assert len(files) > 1000
    for file in files:
        text = file.read_text(encoding="utf-8")
        before, _, after = text.partition("Content-Security-Policy")
        named = re.findall(r'<link rel="preload" href="([^"]+)" as="style">', before)
        assert len(named) == 1, file
        assert f'<link rel="stylesheet" href="{named[0]}">' in after, file


# Every kind of page and what is done there; each waits for what it did.
USES: dict[str, Callable[[Page], None]] = {}


def use(*addresses: str) -> Callable[[Callable[[Page], None]], Callable[[Page], None]]:
    """Names the addresses at which a function does what a visitor does there."""

    def note(function: Callable[[Page], None]) -> Callable[[Page], None]:
        USES.update(dict.fromkeys(addresses, function))
        return function

    return note


@use("/", "/explained/cable.html", "/owner/start.html", "/project/benchmarks.html")
def search(page: Page) -> None:
    page.locator("input.md-search__input").click()
    page.locator("input.md-search__input").press_sequentially("cable")
    expect(page.locator(".md-search-result__item").first).to_be_visible()


@use("/guide/", "/units/", "/404.html", "/staff/tree/", "/staff/answers/")
def read(page: Page) -> None:
    expect(page.locator("#rig-answer h1")).to_be_visible()
    page.locator(".rig-offline button").first.wait_for()


@use(ANSWER)
def change(page: Page) -> None:
    wait_for_engine(page)
    assert page.evaluate("window.__rig.ask('cable=9ft', null)") is not None


@use("/guide/rig=van/nowhere=1/")
def find(page: Page) -> None:
    expect(page.locator("main")).to_have_attribute("data-state", "ready")


@use("/staff/")
def enter(page: Page) -> None:
    page.locator("#rig-typed").press_sequentially("coa")
    page.locator("#rig-typed").press("Enter")
    expect(page.locator(".rig-given dt")).to_have_count(1)


@use("/show/")
def tap(page: Page) -> None:
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    page.locator("#rig-answer [data-choice='van']").click()
    expect(page.locator("#rig-answer [data-choice='van']")).to_have_count(0)


@pytest.mark.parametrize("address", USES)
def test_nothing_breaks_the_policy_and_nothing_is_stored(lone_page: Page, address: str) -> None:
    page = lone_page
    page.add_init_script(WATCH)
    page.goto(address)
    USES[address](page)
    assert page.evaluate("window.broken") == []
    assert page.evaluate(STORED) == []
    assert page.context.cookies() == []


@pytest.mark.parametrize("address", ["/", "/guide/", ANSWER])
@pytest.mark.parametrize(
    "attack",
    [
        "const s = document.createElement('script'); s.textContent = 'window.hit = 1';"
        " document.head.append(s)",
        "const d = document.createElement('p'); d.setAttribute('onclick', 'window.hit = 1');"
        " document.body.append(d); d.click()",
        "new Image().src = 'https://elsewhere.invalid/x'",
    ],
)
def test_the_policy_stops_what_it_should(
    page: Page, requests: list[str], address: str, attack: str
) -> None:
    page.add_init_script(WATCH)
    page.goto(address)
    page.evaluate(
        f"() => {{ try {{ {attack} }} catch (error) {{ window.broken.push('thrown') }} }}"
    )
    page.wait_for_function("() => window.broken.length > 0")
    assert page.evaluate("window.hit") is None
    requests.clear()  # the browser lists the one that it stopped


def test_html_reaches_an_answer_page_by_the_one_door_only(page: Page) -> None:
    page.goto(ANSWER)
    attempt = "document.body.innerHTML += '<b>x</b>'; return false"
    assert page.evaluate(f"() => {{ try {{ {attempt} }} catch {{ return true }} }}")


@pytest.mark.parametrize("fragment", HOSTILE)
def test_nothing_of_a_link_becomes_an_element(page: Page, fragment: str) -> None:
    page.add_init_script(WATCH)
    page.goto(f"{ANSWER}#{fragment}")
    wait_for_engine(page)
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    assert page.evaluate("window.hit") is None
    assert (
        page.locator("#rig-answer img[src=x], #rig-answer script, #rig-answer iframe").count() == 0
    )
    assert page.evaluate("window.broken") == []
