"""The browsers that the benchmark drives: Chromium with the same verbs as the two others."""

from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from typing import Any

from playwright.sync_api import Browser, ViewportSize, sync_playwright

from guide import setup_browser
from guide.setup import say
from tests.browser.chromium import launch_whole
from tests.browser.drivers import Driver, firefox, webkit

PHONE: ViewportSize = {"width": 390, "height": 844}


class Chromium:
    """Chromium by Playwright."""

    def __init__(self, browser: Browser) -> None:
        self.browser = browser
        self.page = browser.new_context().new_page()

    def leave(self) -> None:
        """Leave the page and all that is known of it: the next one is opened in a fresh profile."""
        self.page.context.close()
        self.page = self.browser.new_context().new_page()

    def open(self, address: str) -> None:
        """Open an address."""
        self.page.goto(address)

    def evaluate(self, expression: str) -> Any:
        """Return what an expression gives."""
        return self.page.evaluate(expression)


@contextmanager
def fresh() -> Iterator[Browser]:
    """A Chromium that did nothing before."""
    with sync_playwright() as playwright, launch_whole(playwright) as browser:
        yield browser


@contextmanager
def chromium() -> Iterator[Driver]:
    """The same, with the verbs of the others."""
    with fresh() as browser:
        yield Chromium(browser)


def browsers() -> Iterator[tuple[str, AbstractContextManager[Driver]]]:
    """Each browser that is on this machine, by its name."""
    yield "Chromium", chromium()
    for name, find, start in (
        ("Firefox", setup_browser.find_firefox, firefox),
        ("WebKitGTK", setup_browser.find_webkit, webkit),
    ):
        if find() is None:
            say(f"{name} is not on this machine and is left out")
        else:
            yield name, start()
