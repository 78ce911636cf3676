"""How the engine starts: from its kept memory, by the plain way, again after it died, or not."""

import gzip
import re
from pathlib import Path

import pytest
from playwright.sync_api import Page, Route, expect

from tests.bench_site import ours
from tests.browser.conftest import ENGINE, Held, NewPage, wait_for_engine, wait_for_idle
from tests.browser.fields import field_of

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"

KEEP_WORKERS = """
    window.workers = [];
    window.Worker = class extends Worker {
        constructor(...all) { super(...all); window.workers.push(this); }
    };
"""
KILL = """() => {
    const worker = window.workers.at(-1);
    worker.terminate();
    worker.dispatchEvent(new ErrorEvent("error", {message: "killed by the test"}));
}"""
SHIFTS = """
    window.shifts = [];
    new PerformanceObserver((list) => window.shifts.push(
        ...list.getEntries().filter((each) => !each.hadRecentInput).map((each) => each.value)
    )).observe({type: "layout-shift", buffered: true});
"""


@pytest.fixture
def page(lone_page: Page) -> Page:
    """A page in a context of its own: the engine is not compiled yet."""
    return lone_page


@pytest.fixture
def compiled(new_page: NewPage) -> Page:
    """A page for which the engine is compiled: it starts all the same, and sooner."""
    return new_page()


def said_by(page: Page) -> list[str]:
    """What the page and its workers write into the browser's log."""
    lines: list[str] = []
    page.on("console", lambda message: lines.append(message.text))
    return lines


def test_the_engine_starts_from_its_kept_memory(page: Page, requests: list[str]) -> None:
    said = said_by(page)
    page.goto(ANSWER)
    wait_for_engine(page)
    assert "engine: startFromMemory" in said
    assert not [url for url in requests if "python_stdlib" in url or url.endswith((".zip", ".whl"))]


def test_the_page_that_the_benchmark_measures_starts_the_engine(page: Page, site: Path) -> None:
    page.route(
        "**/ours.html", lambda route: route.fulfill(body=ours(site), content_type="text/html")
    )
    page.goto("/ours.html")
    milliseconds, way = page.evaluate("window.took")
    assert (milliseconds > 0, way) == (True, "startFromMemory")


PLAIN_START = re.compile(r"python_stdlib")
"""What the plain start reads and the other does not."""


@pytest.mark.parametrize("damage", ["bytes", "missing", "another"])
def test_a_damaged_memory_leads_to_the_plain_start(page: Page, damage: str) -> None:
    spoil_memory(page, damage)
    plain = Held(page, PLAIN_START)
    page.goto(ANSWER)
    plain.wait_for(page, 1)


def test_the_plain_start_gives_the_same_answer(new_page: NewPage, compiled: Page) -> None:
    page, said = compiled, said_by(compiled)
    spoil_memory(page, "missing")
    page.goto(ANSWER)
    wait_for_engine(page)
    assert said[-1] == "engine: startPlain"
    reason = page.locator("main").get_attribute("data-reason") or "none"
    assert reason.startswith("startFromMemory: ")
    ask = "window.__rig.ask('cable=9ft&nights=2', null).then((reply) => reply.html)"
    other = new_page()
    other.goto(ANSWER)
    wait_for_engine(other)
    assert page.evaluate(ask) == other.evaluate(ask)


def spoil_memory(page: Page, damage: str) -> None:
    """Give the page a memory that is broken, not there, or another."""

    def spoil(route: Route) -> None:
        if damage == "missing":
            route.fulfill(status=404)
            return
        body = bytearray(route.fetch().body())
        if damage == "bytes":
            body[len(body) // 2] ^= 0xFF
        else:  # well compressed, of the right length, and yet not what the list says
            image = bytearray(gzip.decompress(bytes(body)))
            image[len(image) // 2] ^= 0xFF
            body = bytearray(gzip.compress(bytes(image), 1))
        route.fulfill(body=bytes(body))

    page.route("**/*.memory.gz", spoil)


def test_nothing_is_imported_once_the_memory_is_back(compiled: Page) -> None:
    """The files of the libraries are not there: what is imported later could not be read."""
    page = compiled
    page.goto(f"{ANSWER}#cable=15kg&bank=24V&nights=2&space=attic&cabel=1")
    expect(page.locator(".rig-faults").first).to_be_visible()
    for fragment in ("alt=120A&drive=2h", "solar=400W&month=6", "payload=1000lb&shore=15A"):
        assert page.evaluate("(text) => window.__rig.ask(text, null)", fragment) is not None


def test_a_worker_that_dies_is_started_again_and_its_request_repeated(compiled: Page) -> None:
    page = compiled
    page.add_init_script(KEEP_WORKERS)
    page.goto(ANSWER)
    wait_for_engine(page)
    page.evaluate("window.asked = window.__rig.ask('cable=9ft', null)")
    page.evaluate(KILL)
    assert page.evaluate("window.asked.then((reply) => reply.fragment)") == "cable=9ft"
    assert page.evaluate("window.workers.length") == 2
    expect(page.locator("#rig-details [name=cable]")).to_have_value("9ft")


def test_a_worker_that_dies_twice_leaves_the_answer_and_a_retry(compiled: Page) -> None:
    page = compiled
    page.add_init_script(KEEP_WORKERS)
    page.goto(ANSWER)
    wait_for_engine(page)
    built = page.locator("#rig-answer h1").inner_text()
    page.evaluate(KILL)
    page.wait_for_function("() => window.workers.length === 2")
    page.evaluate(KILL)
    words = page.locator("#rig-details [data-ready]").get_attribute("data-failed") or "nothing"
    expect(page.locator("[data-rig-engine]")).to_have_text(words)
    expect(page.locator("#rig-answer h1")).to_have_text(built)
    page.locator("#rig-details [name=cable]").evaluate("(field) => { field.value = '9 ft'; }")
    page.locator("[data-rig-retry]").click()
    page.wait_for_function("() => location.hash === '#cable=9ft'")
    expect(page.locator("main")).to_have_attribute("data-state", "ready")


def test_a_start_that_hears_nothing_is_tried_again_then_told(page: Page) -> None:
    lists = Held(page, "**/engine-*.json")
    page.clock.install()
    page.goto(ANSWER)
    page.clock.run_for(5_000)
    for count in (1, 2):
        expect(page.locator("main")).to_have_attribute("data-state", "loading")
        lists.wait_for(page, count)
        page.clock.run_for(61_000)
    words = page.locator("#rig-details [data-ready]").get_attribute("data-failed") or "nothing"
    expect(page.locator("[data-rig-engine]")).to_have_text(words)
    lists.let_go()
    page.locator("[data-rig-retry]").click()
    expect(page.locator("main")).to_have_attribute("data-state", "ready")


def test_loading_is_told_in_bytes_and_moves_nothing(page: Page) -> None:
    page.add_init_script(SHIFTS)
    page.add_init_script(
        """addEventListener("DOMContentLoaded", () => {
            window.told = [];
            const place = document.querySelector("[data-rig-progress] span");
            new MutationObserver(() => window.told.push(place.textContent))
                .observe(place, {childList: true});
        })"""
    )
    page.goto(ANSWER)
    wait_for_engine(page)
    told = page.evaluate("window.told")
    parts = [line.replace("MB", "").split("of") for line in told]
    loaded = [float(first) for first, _ in parts]
    assert len(set(loaded)) > 3
    assert loaded == sorted(loaded)
    assert loaded[-1] == float(parts[-1][1])
    expect(page.locator("[data-rig-progress]")).to_be_hidden()
    assert sum(page.evaluate("window.shifts")) < 0.01


def test_a_page_without_fields_loads_nothing_and_says_nothing_of_loading(
    page: Page, requests: list[str]
) -> None:
    page.goto("/guide/rig=van/scope=unsure/heavy=0/")
    expect(page.locator(".rig-taken")).to_be_visible()
    expect(page.locator("#rig-details .rig-fields")).to_have_count(0)
    wait_for_idle(page)
    assert not [url for url in requests if ENGINE in url]
    expect(page.locator("[data-rig-engine]")).to_have_text("")
    expect(page.locator("[data-rig-progress]")).to_be_hidden()


def test_what_was_typed_before_the_engine_came_is_answered_then(page: Page) -> None:
    memory = Held(page, "**/*.memory.gz")
    page.goto(ANSWER)
    field_of(page, "cable").fill("9 ft")
    page.locator("#rig-details [name=cable]").press("Tab")
    assert page.evaluate("document.querySelector('main').dataset.state") == "loading"
    memory.let_go()
    page.wait_for_function("() => location.hash === '#cable=9ft'")
