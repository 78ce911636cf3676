"""Fixtures of the browser tests: the served site, Chromium, and a watch on where requests go."""

import re
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import (
    Browser,
    BrowserContext,
    Page,
    Playwright,
    Request,
    Route,
    ViewportSize,
    sync_playwright,
)

from tests.browser.chromium import ONE_PROCESS, PATIENCE_MS, QUICK_CODE, launch
from tests.browser.serving import Lasting, served

NewPage = Callable[..., Page]
Host = Callable[..., AbstractContextManager[str]]

ENGINE = "engine-worker.js"
"""What the browser asks for first when a page starts the engine."""


@pytest.fixture(scope="session")
def origin(site: Path) -> Iterator[str]:
    """The address at which this process serves the built site."""
    with served(site, handler=Lasting) as address:
        yield address


@pytest.fixture(scope="session")
def chromium() -> Iterator[Playwright]:
    """What starts Chromium in this process."""
    with sync_playwright() as playwright:
        yield playwright


@pytest.fixture(scope="session")
def browser(chromium: Playwright) -> Iterator[Browser]:
    """One Chromium for all tests of this process whose pages stand alone."""
    with launch(chromium, QUICK_CODE) as started:
        yield started


@pytest.fixture(scope="session")
def warm(chromium: Playwright, origin: str) -> Iterator[BrowserContext]:
    """The context that tests share: a page of it stays open, so that the engine stays compiled."""
    with launch(chromium, ONE_PROCESS) as started, warm_context(started, origin) as context:
        yield context


@contextmanager
def warm_context(started: Browser, origin: str, **options: Any) -> Iterator[BrowserContext]:
    """A context in which a page has its engine ready and has answered."""
    context = started.new_context(base_url=origin, **options)
    context.set_default_timeout(PATIENCE_MS)
    context.add_init_script(UNMEASURED)
    page = context.new_page()
    page.add_init_script(NO_REHEARSAL)
    page.goto("/guide/rig=van/scope=whole/heavy=0/")
    page.evaluate("window.__rig.ask('cable=9ft', null)")
    yield context
    context.close()


# Once the engine has started, its page has it answer a few times while nobody asks. How far that
# gets before a test acts would be chance; only tests that are about it let it be.
NO_REHEARSAL = """{
    const idle = window.requestIdleCallback.bind(window);
    window.requestIdleCallback = (task, options) =>
        document.querySelector("main")?.dataset.started ? 0 : idle(task, options);
}"""


# How fast a page came is measured by the page itself, and on a busy machine that would be chance;
# only tests that are about it let it be, in contexts of their own: pages that a page opens measure,
# too. A page that knows nothing of its line fetches the engine.
UNMEASURED = """performance.getEntriesByType = () => [];"""


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
def new_page(request: pytest.FixtureRequest, origin: str, requests: list[str]) -> Iterator[NewPage]:
    """Opens pages that know nothing of other tests.

    alone: in a fresh context, where the test changes or looks at what pages of one share: clock,
        network, permissions, what is kept; keywords for the context (``has_touch=True``) do so too
    many: such a context is for so many answers that compiling the engine well pays
    rehearses: the engine answers unseen once it has started, as it does for every visitor
    measures: the page judges its line by how it came itself
    """
    opened: list[Page] = []
    contexts: dict[BrowserContext, bool] = {}

    def note(request: Request) -> None:
        requests.append(request.url)

    def fresh(options: dict[str, Any], many: bool) -> BrowserContext:
        shared = request.getfixturevalue("warm").browser if many else None
        started: Browser = shared or request.getfixturevalue("browser")
        context = started.new_context(base_url=origin, **options)
        context.set_default_timeout(PATIENCE_MS)
        return context

    def open_page(
        *,
        rehearses: bool = False,
        alone: bool = False,
        many: bool = False,
        measures: bool = False,
        **options: Any,
    ) -> Page:
        alone = alone or measures or not OF_A_PAGE.issuperset(options)
        context = fresh(options, many) if alone else request.getfixturevalue("warm")
        if context not in contexts:
            context.on("request", note)
            contexts[context] = alone
        if alone and not rehearses:
            context.add_init_script(NO_REHEARSAL)
        if alone and not measures:
            context.add_init_script(UNMEASURED)
        page: Page = context.new_page()
        if not alone:
            opened.append(page)
            if not rehearses:
                page.add_init_script(NO_REHEARSAL)
            shape(page, **options)
        return page

    yield open_page
    for page in opened:
        page.close()
    for context, alone in contexts.items():
        if alone:
            context.close()
        else:
            context.remove_listener("request", note)
            clear(context, origin)


OF_A_PAGE = frozenset({"viewport", "reduced_motion", "color_scheme"})
"""What can be set page by page."""


def shape(page: Page, viewport: ViewportSize | None = None, **media: Any) -> None:
    """Set what can be set page by page."""
    if viewport:
        page.set_viewport_size(viewport)
    if media:
        page.emulate_media(**media)


def clear(context: BrowserContext, origin: str) -> None:
    """Remove all that pages kept in a context that goes on."""
    context.clear_cookies()
    session = context.new_cdp_session(context.pages[0])
    session.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "all"})
    session.detach()


@pytest.fixture
def page(new_page: NewPage) -> Page:
    """A fresh page with scripts on."""
    return new_page()


@pytest.fixture
def lone_page(new_page: NewPage) -> Page:
    """A fresh page in a context of its own."""
    return new_page(alone=True)


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
