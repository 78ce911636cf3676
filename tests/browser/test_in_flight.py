"""Faults while a page is in use: what is read then, and what is kept."""

import threading
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from http import HTTPStatus
from pathlib import Path

import pytest
from playwright.sync_api import Page, Route, expect

from engine.links import read_link
from engine.model.guide import Guide
from engine.respond import respond
from guide.server import Handler
from tests.browser.chromium import PATIENCE_MS
from tests.browser.conftest import Held, Host
from tests.browser.fields import field_of

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
DETAILS = "#cable=25ft"
CABLE = "#rig-details [name=cable]"
NIGHTS = "#rig-details [name=nights]"
DRIP = 10_000
"""Bytes of each drop: of a second's worth at 10 kB/s."""
HASTE = "const wait = setTimeout; globalThis.setTimeout = (task, ms) => wait(task, ms / 100);"
"""What a worker waits for passes a hundred times as fast: before it asks again, for one."""
LOADED = "document.querySelector('[data-rig-progress] progress').value"


@pytest.fixture
def page(lone_page: Page) -> Page:
    """A page in a context of its own: tests set its clock and its network."""
    return lone_page


class Ill(Handler):
    """Answers as a careful server does, but for files whose name ends in one of those."""

    ills: dict[str, Callable[["Ill", bytes], None]]

    def do_GET(self) -> None:  # noqa: N802 - its base's name
        """Answer, or do what is wrong with the file."""
        for ending, answer in self.ills.items():
            if self.path.endswith(ending):
                file = self.file_asked()
                assert file is not None
                answer(self, file.read_bytes())
                return
        super().do_GET()

    def begin(self, length: int) -> None:
        """Send the head of a reply that promises so many bytes."""
        self.send_response(HTTPStatus.OK)
        self.send_header("Content-Length", str(length))
        self.end_headers()

    def cut(self, body: bytes) -> None:
        """Send half of what was promised, and close the connection."""
        self.begin(len(body))
        self.wfile.write(body[: len(body) // 2])
        self.close_connection = True

    def loop(self, _body: bytes) -> None:
        """Send the browser where it came from."""
        self.send_response(HTTPStatus.FOUND)
        self.send_header("Location", self.path)
        self.send_header("Content-Length", "0")
        self.end_headers()


class Drops:
    """A file that comes drop by drop, each when it is let fall."""

    def __init__(self) -> None:
        self.wait = threading.Semaphore(0)
        self.rest = threading.Event()

    def __call__(self, ill: Ill, body: bytes) -> None:
        """Send the file."""
        ill.begin(len(body))
        for start in range(0, len(body), DRIP):
            if not self.rest.is_set():
                self.wait.acquire(timeout=PATIENCE_MS / 1000)
            ill.wfile.write(body[start : start + DRIP])
            ill.wfile.flush()

    def fall(self) -> None:
        """Let one drop fall."""
        self.wait.release()

    def pour(self) -> None:
        """Let all the rest come at once."""
        self.rest.set()
        self.wait.release()


@pytest.fixture
def ill(site: Path, host: Host) -> Iterator[Callable[..., str]]:
    """Serves the site with what is wrong with some of its files, by their endings."""
    open_: list[object] = []

    def serve(**ills: Callable[[Ill, bytes], None]) -> str:
        endings = {ending.replace("_", "."): answer for ending, answer in ills.items()}
        server = host(site, handler=type("Wrong", (Ill,), {"ills": endings}))
        open_.append(server)
        return server.__enter__()

    yield serve
    for server in open_:
        server.__exit__(None, None, None)  # type: ignore[attr-defined]


def state(page: Page, wanted: str) -> None:
    """Wait for a state of the engine."""
    expect(page.locator("main")).to_have_attribute("data-state", wanted)


def test_a_slow_drip_is_waited_for_and_what_was_typed_meanwhile_counts(
    ill: Callable[..., str], page: Page
) -> None:
    drops = Drops()
    address = ill(_memory_gz=drops)
    page.clock.install()
    page.goto(address + ANSWER + DETAILS)
    for _ in range(4):  # each is a minute after the one before, less a second
        before = page.evaluate(LOADED)
        drops.fall()
        page.wait_for_function(f"(before) => {LOADED} > before", arg=before)
        page.clock.run_for(59_000)
        state(page, "loading")
    expect(page.locator(".rig-pending")).to_be_visible()
    field_of(page, "nights").fill("3")
    page.locator(NIGHTS).press("Tab")
    drops.pour()
    page.clock.resume()
    state(page, "ready")
    assert page.evaluate("location.hash") in ("#cable=25ft&nights=3", "#nights=3&cable=25ft")
    expect(page.locator(CABLE)).to_have_value("25ft")


@pytest.mark.parametrize("wrong", [Ill.cut, Ill.loop])
def test_a_connection_that_breaks_is_told_and_what_was_typed_is_kept(
    ill: Callable[..., str], page: Page, guide: Guide, wrong: Callable[[Ill, bytes], None]
) -> None:
    ills: dict[str, Callable[[Ill, bytes], None]] = {"_wasm_gz": wrong}
    in_worker(page, HASTE)
    page.goto(ill(**ills) + ANSWER + DETAILS)
    state(page, "failed")
    said = guide.wording.page
    expect(page.locator(".rig-pending")).to_contain_text(said["engine-pending"])
    expect(page.locator(".rig-pending")).to_contain_text(said["engine-network"])
    field_of(page, "nights").fill("3")
    expect(page.locator("#rig-answer h1")).to_be_visible()
    assert page.evaluate("location.hash") == DETAILS
    expect(page.locator("[data-rig-retry]")).to_be_visible()
    expect(page.locator(NIGHTS)).to_have_value("3")


def test_under_a_sub_path_all_works_and_what_has_started_needs_no_network(
    site: Path, host: Host, tmp_path: Path, page: Page
) -> None:
    (tmp_path / "shop").mkdir()
    (tmp_path / "shop" / "rig").symlink_to(site)
    with host(tmp_path) as address:
        page.goto(f"{address}/shop/rig{ANSWER}{DETAILS}")
        expect(page.locator(CABLE)).to_have_value("25ft")
        page.context.set_offline(True)
        field_of(page, "nights").fill("3")
        page.locator(NIGHTS).press("Tab")
        page.wait_for_function("() => location.hash.includes('nights=3')")
        state(page, "ready")
        page.context.set_offline(False)
        page.locator(".rig-back a").first.click()
        expect(page.locator("[data-choice]").first).to_be_visible()
        assert page.url.startswith(f"{address}/shop/rig/guide/")
        assert {"cable=25ft", "nights=3"} == set(page.url.partition("#")[2].split("&"))


def test_without_a_network_before_it_started_that_is_told_and_a_retry_counts_all(
    page: Page, guide: Guide
) -> None:
    lists = Held(page, "**/engine-*.json")
    page.goto(ANSWER + DETAILS)
    lists.wait_for(page, 1)
    page.context.set_offline(True)
    lists.let_go()
    state(page, "failed")
    expect(page.locator(".rig-pending")).to_contain_text(guide.wording.page["engine-network"])
    field_of(page, "nights").fill("3")
    page.context.set_offline(False)
    page.locator("[data-rig-retry]").click()
    state(page, "ready")
    expect(page.locator(CABLE)).to_have_value("25ft")
    assert "nights=3" in page.evaluate("location.hash")


@pytest.mark.parametrize("year", [1970, 2100])
def test_whatever_the_clock_says_the_answer_is_the_same(
    page: Page, guide: Guide, year: int
) -> None:
    at = datetime(year, 1, 1, 0, 0, 1, tzinfo=UTC)
    in_worker(page, f"Date = class extends Date {{ static now() {{ return {at:%s}000; }} }};")
    page.clock.set_fixed_time(at)
    page.goto(ANSWER + DETAILS)
    state(page, "ready")
    ask = "window.__rig.ask('cable=25ft', null).then((reply) => reply.html)"
    answers = read_link(guide, ANSWER.removeprefix("/guide/"), DETAILS[1:])
    assert page.evaluate(ask) == respond(guide, answers).bordered


def test_a_device_without_enough_memory_is_told_and_the_answer_stays(
    page: Page, guide: Guide
) -> None:
    in_worker(
        page,
        "WebAssembly.instantiateStreaming = async () => {"
        " throw new RangeError('Out of memory: Cannot allocate Wasm memory'); };",
    )
    page.goto(ANSWER + DETAILS)
    state(page, "failed")
    said = guide.wording.page
    expect(page.locator(".rig-pending")).to_contain_text(said["engine-pending"])
    expect(page.locator(".rig-pending")).to_contain_text(said["engine-memory"])
    expect(page.locator("#rig-answer h1")).to_be_visible()
    assert page.evaluate("location.hash") == DETAILS


def in_worker(page: Page, script: str) -> None:
    """Run something in the engine's worker before anything is started."""

    def answer(route: Route) -> None:
        route.fulfill(body=script + route.fetch().text(), content_type="text/javascript")

    page.route("**/memory.js", answer)
