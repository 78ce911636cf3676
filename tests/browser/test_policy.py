"""The pages' security policy: what it forbids, and that nothing of the site breaks it."""

import json
import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import ENGINE_START_MS, wait_for_engine

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
WATCH = """
    window.broken = [];
    document.addEventListener("securitypolicyviolation", (event) =>
        window.broken.push(`${event.violatedDirective} ${event.blockedURI} ${event.sample}`));
"""
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


@pytest.mark.parametrize("address", ["/", "/explained/index.html", "/guide/", ANSWER, "/404.html"])
def test_nothing_breaks_the_policy(page: Page, address: str) -> None:
    page.add_init_script(WATCH)
    page.goto(address)
    if address == ANSWER:
        wait_for_engine(page)
        page.evaluate("window.__rig.ask('cable=9ft', null)")
    if address == "/":
        page.locator("input.md-search__input").click()
        page.locator("input.md-search__input").press_sequentially("cable")
        expect(page.locator(".md-search-result__item").first).to_be_visible()
    page.wait_for_timeout(300)
    assert page.evaluate("window.broken") == []


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
    expect(page.locator("main")).to_have_attribute("data-state", "ready", timeout=ENGINE_START_MS)
    assert page.evaluate("window.hit") is None
    assert (
        page.locator("#rig-answer img[src=x], #rig-answer script, #rig-answer iframe").count() == 0
    )
    assert page.evaluate("window.broken") == []


def test_the_guide_can_be_installed(page: Page, site: Path) -> None:
    page.goto("/guide/")
    address = page.evaluate("document.querySelector('link[rel=manifest]').href")
    manifest = json.loads(page.request.get(address).text())
    assert {"name", "start_url", "display", "icons"} <= set(manifest)
    assert (site / manifest["start_url"]).is_file()
    assert all((site / icon["src"]).is_file() for icon in manifest["icons"])
    session = page.context.new_cdp_session(page)
    faults = session.send("Page.getInstallabilityErrors")["installabilityErrors"]
    assert [fault["errorId"] for fault in faults if fault["errorId"] != "in-incognito"] == []
