"""Faults while a page is in use: what is read then, and what is kept."""

import threading
from collections.abc import Callable, Iterator
from http import HTTPStatus
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from engine.model.guide import Guide
from guide.server import Handler
from tests.browser.chromium import PATIENCE_MS
from tests.browser.conftest import Host

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
DETAILS = "#cable=25ft"
CABLE = "#rig-details [name=cable]"
NIGHTS = "#rig-details [name=nights]"
DRIP = 10_000
"""Bytes of each drop: of a second's worth at 10 kB/s."""
LOADED = "document.querySelector('[data-rig-progress] progress').value"


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
    page.locator(NIGHTS).fill("3")
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
    page.goto(ill(**ills) + ANSWER + DETAILS)
    state(page, "failed")
    said = guide.wording.page
    expect(page.locator(".rig-pending")).to_contain_text(said["engine-pending"])
    expect(page.locator(".rig-pending")).to_contain_text(said["engine-network"])
    page.locator(NIGHTS).fill("3")
    expect(page.locator("#rig-answer h1")).to_be_visible()
    assert page.evaluate("location.hash") == DETAILS
    expect(page.locator("[data-rig-retry]")).to_be_visible()
    expect(page.locator(NIGHTS)).to_have_value("3")
