"""Fixtures of the browser tests: the served site, Chromium, and a watch on where requests go."""

import re
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Request, Route, sync_playwright

from tests.browser.chromium import PATIENCE_MS, launch
from tests.browser.serving import served

NewPage = Callable[..., Page]
Host = Callable[..., AbstractContextManager[str]]

ENGINE = "engine-worker.js"
"""What the browser asks for first when a page starts the engine."""


@pytest.fixture(scope="session")
def origin(site: Path) -> Iterator[str]:
    """The address at which this process serves the built site."""
    with served(site) as address:
        yield address


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all tests of this process."""
    with sync_playwright() as playwright:
        chromium = launch(playwright)
        yield chromium
        chromium.close()


# Once the engine has started, its page has it answer a few times while nobody asks. How far that
# gets before a test acts would be chance; only tests that are about it let it be.
NO_REHEARSAL = """{
    const idle = window.requestIdleCallback.bind(window);
    window.requestIdleCallback = (task, options) =>
        document.querySelector("main")?.dataset.started ? 0 : idle(task, options);
}"""


@pytest.fixture
def requests() -> list[str]:
    """The address of every request that the test's pages and their workers made."""
    return []


@pytest.fixture
def host(requests: list[str]) -> Iterator[Host]:
    """Serves another folder, as `served` does; its requests stay with the site that is watched."""
    own: list[str] = []

    @contextmanager
    def serve(folder: Path, **how: Any) -> Iterator[str]:
        with served(folder, **how) as address:
            own.append(address)
            yield address

    yield serve
    requests[:] = [url for url in requests if not own or not url.startswith(tuple(own))]


@pytest.fixture
def new_page(browser: Browser, origin: str, requests: list[str]) -> Iterator[NewPage]:
    """Opens pages in fresh contexts; keywords go to the context (``java_script_enabled=False``).

    rehearses: the engine answers unseen once it has started, as it does for every visitor
    """
    contexts: list[BrowserContext] = []

    def note(request: Request) -> None:
        requests.append(request.url)

    def open_page(*, rehearses: bool = False, **options: object) -> Page:
        context = browser.new_context(base_url=origin, **options)  # type: ignore[arg-type]
        context.set_default_timeout(PATIENCE_MS)
        if not rehearses:
            context.add_init_script(NO_REHEARSAL)
        contexts.append(context)
        context.on("request", note)
        return context.new_page()

    yield open_page
    for context in contexts:
        context.close()


@pytest.fixture
def page(new_page: NewPage) -> Page:
    """A fresh page with scripts on."""
    return new_page()


@pytest.fixture
def own_origins(origin: str) -> list[str]:
    """The addresses at which the test serves a site; one that serves another adds its own."""
    return [origin]


@pytest.fixture(autouse=True)
def _own_origin_only(own_origins: list[str], requests: list[str]) -> Iterator[None]:
    """Fail the test when anything was asked of another host."""
    yield
    outside = [url for url in requests if all(is_outside(url, own) for own in own_origins)]
    assert not outside, f"requests left the site's own origin: {outside}"


def is_outside(url: str, origin: str) -> bool:
    """Tell whether a request needs another host than the site's own."""
    return not url.startswith((f"{origin}/", "data:", f"blob:{origin}/", "about:"))


def wait_for_engine(page: Page) -> None:
    """Wait until the engine of an answer page has started."""
    page.evaluate("window.__rig.ready")


REHEARSED = """() => {
    const walker = document.createTreeWalker(
        document.getElementById("rig-answer"), NodeFilter.SHOW_COMMENT);
    return walker.nextNode() !== null;
}"""


def wait_for_rehearsal(page: Page) -> None:
    """Wait until the engine has answered the page unseen, which brings its marks into it."""
    page.wait_for_function(REHEARSED)


SETTLED = """async () => {
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
    await new Promise((done) => requestIdleCallback(done));
    await (await fetch(location.href.split("#")[0])).arrayBuffer();
}"""


def wait_for_idle(page: Page) -> None:
    """Wait until the page has done what it does by itself once it is shown and has nothing to do.

    Idle tasks run in the order in which they came, so that those of the page are done; then a
    request goes out and back, after any that they made.
    """
    page.evaluate(SETTLED)


class Held:
    """Requests that wait until they are let go; those that come later are not held."""

    def __init__(self, page: Page, pattern: str | re.Pattern[str]) -> None:
        self.waiting: list[Route] = []
        self.free = False
        page.route(pattern, self._take)

    def _take(self, route: Route) -> None:
        if self.free:
            route.continue_()
        else:
            self.waiting.append(route)

    def wait_for(self, page: Page, count: int) -> None:
        """Wait until so many are held."""
        until = time.monotonic() + PATIENCE_MS / 1000
        while len(self.waiting) < count:
            assert time.monotonic() < until, "no such request was made"
            page.wait_for_timeout(50)

    def let_go(self) -> None:
        """Let all go on."""
        self.free = True
        for route in self.waiting:
            route.continue_()
