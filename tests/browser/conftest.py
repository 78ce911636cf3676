"""Fixtures of the browser tests: the served site, Chromium, and a watch on where requests go."""

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Request, sync_playwright

from tests.browser.chromium import launch
from tests.browser.serving import served

ENGINE_START_MS = 60_000

NewPage = Callable[..., Page]


@pytest.fixture(scope="session")
def origin(site: Path) -> Iterator[str]:
    """The address at which the built site is served during the run."""
    with served(site) as address:
        yield address


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for the whole run."""
    with sync_playwright() as playwright:
        chromium = launch(playwright)
        yield chromium
        chromium.close()


@pytest.fixture
def requests() -> list[str]:
    """The address of every request that the test's pages and their workers made."""
    return []


@pytest.fixture
def new_page(browser: Browser, origin: str, requests: list[str]) -> Iterator[NewPage]:
    """Opens pages in fresh contexts; keywords go to the context (``java_script_enabled=False``)."""
    contexts: list[BrowserContext] = []

    def note(request: Request) -> None:
        requests.append(request.url)

    def open_page(**options: object) -> Page:
        context = browser.new_context(base_url=origin, **options)  # type: ignore[arg-type]
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


@pytest.fixture(autouse=True)
def _own_origin_only(origin: str, requests: list[str]) -> Iterator[None]:
    """Fail the test when anything was asked of another host."""
    yield
    outside = [url for url in requests if is_outside(url, origin)]
    assert not outside, f"requests left the site's own origin: {outside}"


def is_outside(url: str, origin: str) -> bool:
    """Tell whether a request needs another host than the site's own."""
    return not url.startswith((f"{origin}/", "data:", f"blob:{origin}/", "about:"))


def wait_for_engine(page: Page) -> None:
    """Wait until the engine of an answer page has started."""
    page.evaluate("window.__rig.ready")
