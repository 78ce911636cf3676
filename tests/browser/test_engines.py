"""Three browser engines: the guide from a server and from a folder, with the engine from memory."""

import contextlib
import re
import shutil
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from pathlib import Path

import pytest
from playwright.sync_api import expect

from guide import setup_browser
from tests.browser.conftest import NewPage
from tests.browser.drivers import START_S, Driver, firefox, webkit
from tests.browser.fields import field_of
from tests.browser.serving import served

ANSWER = (
    "guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/index.html"
)
STARTED = """(window.__rig.load(), window.__rig.ready).then(() => {
    const { started, reason } = document.querySelector("main").dataset;
    return [started, reason].join(": ");
})"""
FROM_MEMORY = "startFromMemory: "
ASK = "window.__rig.ask('cable=9ft', null).then((reply) => reply.html)"
STATE = "document.querySelector('main').dataset.state"

RETURN = """() => addEventListener(
    "pageshow", (event) => { window.cameBack = event.persisted; })"""

UNSEEN_PICTURES = """[...document.images].filter((each) => !each.complete || !each.naturalWidth)
    .map((each) => each.src)"""

BROWSERS: dict[str, tuple[Callable[[], str | None], Callable[[], AbstractContextManager[Driver]]]]
BROWSERS = {
    "firefox": (setup_browser.find_firefox, firefox),
    "webkit": (setup_browser.find_webkit, webkit),
}


@pytest.fixture(scope="module", params=BROWSERS)
def driver(request: pytest.FixtureRequest) -> Iterator[Driver]:
    """One browser beside Chromium."""
    find, start = BROWSERS[request.param]
    if find() is None:
        pytest.skip(f"{request.param} is not on this machine: {setup_browser.HOW[request.param]}")
    with start() as browser:
        yield browser


def until(driver: Driver, condition: str) -> None:
    """Wait until something is so, on whatever page."""
    deadline = time.monotonic() + START_S
    while True:
        with contextlib.suppress(AssertionError):  # between two pages nothing can be asked
            if driver.evaluate(condition):
                return
        assert time.monotonic() < deadline, condition
        time.sleep(0.05)


def test_the_engine_starts_from_its_memory_and_answers(driver: Driver, origin: str) -> None:
    driver.open(f"{origin}/{ANSWER}")
    assert driver.evaluate(STARTED) == FROM_MEMORY
    assert "9 ft" in driver.evaluate(ASK)
    assert driver.evaluate("location.hash") == "#cable=9ft"
    assert driver.evaluate(STATE) == "ready"


def test_a_page_from_the_back_and_forward_cache_goes_on(driver: Driver, site: Path) -> None:
    with served(site, "max-age=600") as address:  # no browser holds on to what it may not keep
        driver.open(f"{address}/{ANSWER}#cable=25ft")
        driver.evaluate(f"{STARTED}.then({RETURN})")
        driver.evaluate("(setTimeout(() => { location.href = '/explained/cable.html'; }), 1)")
        until(driver, "location.pathname.startsWith('/explained')")
        driver.evaluate("(setTimeout(() => history.back()), 1)")
        until(driver, "window.cameBack === true")
        assert "9 ft" in driver.evaluate(ASK)
        assert driver.evaluate(STATE) == "ready"


def test_it_works_from_a_folder_too(driver: Driver, packed: Path) -> None:
    driver.open((packed / ANSWER).as_uri())
    assert driver.evaluate(STARTED) == FROM_MEMORY
    assert "9 ft" in driver.evaluate(ASK)
    assert driver.evaluate("location.hash") == "#cable=9ft"


def test_the_search_works_from_a_folder(driver: Driver, packed: Path) -> None:
    driver.open((packed / "index.html").as_uri())
    found = driver.evaluate(SEARCH)
    assert found > 0


def test_staff_and_show_work_from_a_folder(driver: Driver, packed: Path) -> None:
    driver.open((packed / "staff" / "index.html").as_uri())
    assert driver.evaluate(ENTER) == "recommended"
    driver.open((packed / "show" / "index.html").as_uri())
    assert driver.evaluate(TAP) == "recommended"


# Six answers typed one after the other; gives the status of what they lead to.
ENTER = """(async () => {
    const field = document.getElementById("rig-typed");
    for (const letters of ["coa", "whole", "2", "15", "yes", "no"]) {
        field.value = letters;
        field.dispatchEvent(new KeyboardEvent("keydown", {key: "Enter", bubbles: true}));
    }
    for (let tries = 0; tries < 1800; tries++) {
        const found = document.querySelector(".rig-paste")?.dataset.status;
        if (found === "recommended") return found;
        await new Promise((resolve) => setTimeout(resolve, 100));
    }
    return document.querySelector("main").innerText;
})()"""
# Six taps, each as soon as its choice is there.
TAP = """(async () => {
    const wanted = ["coach-50", "whole", "2", "aircon-15k", "yes", "no"];
    for (let tries = 0; tries < 1800; tries++) {
        const choice = wanted.length
            ? document.querySelector(`#rig-answer [data-choice="${wanted[0]}"]`) : null;
        if (choice && document.querySelector("main").dataset.state === "ready") {
            wanted.shift();
            choice.click();
        }
        const answer = document.getElementById("rig-answer");
        if (answer.dataset.status === "recommended") return answer.dataset.status;
        await new Promise((resolve) => setTimeout(resolve, 100));
    }
    return document.querySelector("main").innerText;
})()"""

SEARCH = """new Promise((resolve) => {
    const field = document.querySelector("input.md-search__input");
    document.querySelector("#__search").checked = true;
    document.querySelector("#__search").dispatchEvent(new Event("change"));
    field.focus();
    let tries = 0;
    const look = () => {
        field.value = "ferrule";
        field.dispatchEvent(new KeyboardEvent("keyup", {bubbles: true, key: "e"}));
        const found = document.querySelectorAll(".md-search-result__item").length;
        if (found || ++tries > 1800) resolve(found); else setTimeout(look, 100);
    };
    look();
})"""


def test_chromium_opens_the_folder_and_everything_works(
    new_page: NewPage, packed: Path, requests: list[str]
) -> None:
    page = new_page(alone=True)
    told: list[str] = []
    page.on("console", lambda message: told.append(f"{message.type}: {message.text}"))
    page.goto((packed / "index.html").as_uri())
    page.locator("#rig-guide a, .rig-choice").first.click()
    expect(page.locator("#rig-answer h1")).to_be_visible()
    page.goto((packed / ANSWER).as_uri())
    assert page.evaluate(STARTED) == FROM_MEMORY
    field_of(page, "cable").fill("9 ft")
    page.locator("#rig-details [name=cable]").press("Tab")
    page.wait_for_function("() => location.hash === '#cable=9ft'")
    page.wait_for_function(f"() => {STATE} === 'ready'")
    page.locator("#rig-given-title").click()
    page.locator(".rig-given a").first.click()
    expect(page.locator("#rig-answer h1")).to_be_visible()
    assert page.url.partition("#")[0].endswith("index.html")
    expect(page.locator(".rig-offline")).to_contain_text("folder")
    page.goto((packed / "index.html").as_uri())
    assert page.evaluate(SEARCH) > 0
    page.goto((packed / "units" / "index.html").as_uri())
    expect(page.locator("#rig-answer h1")).to_be_visible()
    page.goto((packed / "staff" / "answers" / "index.html").as_uri())
    box = page.locator(".rig-all tbody input").first
    box.check()
    page.locator("#rig-keep-marks").check()
    page.reload()
    expect(box).to_be_checked()
    page.goto((packed / "explained" / "cable.html").as_uri())
    assert page.evaluate(UNSEEN_PICTURES) == []
    assert [line for line in told if line.startswith("error")] == []
    page.close()  # the picture of its tab may be asked for late
    assert all(url.startswith(("file://", "blob:", "data:")) for url in requests)
    requests.clear()


@pytest.mark.parametrize("damage", ["missing", "cut short"])
def test_a_damaged_folder_says_so_and_its_answers_stay(
    new_page: NewPage, packed: Path, tmp_path: Path, requests: list[str], damage: str
) -> None:
    folder = tmp_path / "stick"
    shutil.copytree(packed / "assets", folder / "assets")
    (folder / ANSWER).parent.mkdir(parents=True)
    shutil.copy(packed / ANSWER, folder / ANSWER)
    part = folder / "assets" / "engine" / "parts" / "03.js"
    whole = part.read_text(encoding="utf-8")
    if damage == "missing":
        part.unlink()
    else:
        part.write_text(whole.replace(whole[1000:9000], "", 1), encoding="utf-8")
    page = new_page(alone=True)
    page.goto((folder / ANSWER).as_uri())
    words = page.locator("#rig-details [data-ready]").get_attribute("data-failed") or "nothing"
    said = page.locator("[data-rig-engine]")
    expect(said).to_have_text(words)
    expect(page.locator("#rig-answer h1")).to_be_visible()
    part.write_text(whole, encoding="utf-8")
    page.locator("[data-rig-retry]").click()
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    requests.clear()


def test_every_link_of_the_folder_leads_to_a_file_of_it(packed: Path) -> None:
    pages = list(packed.rglob("*.html"))
    assert len(pages) > 1000
    for page in pages[:: max(1, len(pages) // 150)]:
        for link in re.findall(r'(?:href|src)="([^"]*)"', page.read_text(encoding="utf-8")):
            target = link.partition("#")[0].partition("?")[0]
            if not target or re.match(r"[a-z]+:", target) or page.name == "404.html":
                continue
            assert (page.parent / target).is_file(), (page.relative_to(packed), link)
