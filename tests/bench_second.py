"""Rows of the benchmark: how soon the engine is ready when one comes again with the same profile.

Each round has an address that no browser knows, since it is another port; the server says for how
long files may be kept, as web hosts do.
"""

import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import BrowserContext, Page, expect, sync_playwright

from guide import setup_browser
from tests.bench_drivers import browsers
from tests.bench_parts import Bench
from tests.bench_rows import Row
from tests.bench_start import SETTLE_S, seconds
from tests.browser.chromium import ARGUMENTS
from tests.browser.drivers import Driver
from tests.browser.serving import served

KEPT = "max-age=600"
"""As web hosts commonly let browsers keep files."""


class Profile:
    """Chromium with a profile on the disk, which pages leave and come back to."""

    def __init__(self, context: BrowserContext) -> None:
        self.context = context
        self.page: Page = context.new_page()

    def leave(self) -> None:
        """Close the page; what it left in the profile stays."""
        self.page.close()
        self.page = self.context.new_page()

    def open(self, address: str) -> None:
        """Open an address."""
        self.page.goto(address)

    def evaluate(self, expression: str) -> object:
        """Return what an expression gives."""
        return self.page.evaluate(expression)


@contextmanager
def profile() -> Iterator[Profile]:
    """A fresh profile of Chromium."""
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        context = playwright.chromium.launch_persistent_context(
            folder, executable_path=setup_browser.require_whole(), args=[*ARGUMENTS]
        )
        with context:
            yield Profile(context)


def rows(bench: Bench) -> Iterator[Row]:
    """The second visit beside the first in each browser, and from what is kept on the device."""
    what = "engine ready on the second visit, {}; rival: the first visit"
    with profile() as chromium:
        yield Row(what.format("Chromium"), *visits(bench, chromium), "s", 2)
        yield kept_row(bench, chromium)
    for name, started in browsers():
        if name != "Chromium":
            with started as driver:
                yield Row(what.format(name), *visits(bench, driver), "s", 2)


def visits(bench: Bench, driver: Driver) -> tuple[list[float], list[float]]:
    """Seconds until ready on second visits, and on the first ones before them."""
    first, second = [], []
    for _ in range(bench.rounds):
        with served(bench.site, KEPT) as address:
            first.append(visit(driver, address))
            second.append(visit(driver, address))
    return second, first


def visit(driver: Driver, address: str) -> float:
    """Open the page that starts our engine, and return the seconds until that is ready."""
    driver.leave()
    time.sleep(SETTLE_S)
    driver.open(f"{address}/ours.html")
    return seconds(driver, "ours")


def kept_row(bench: Bench, chromium: Profile) -> Row:
    """Visits after “keep on this device”: a service worker brings all from the device."""
    with served(bench.site, KEPT) as address:
        first = [visit(chromium, address)]
        chromium.open(f"{address}/guide/")
        chromium.page.locator("[data-rig-do=keep]").click()
        expect(chromium.page.locator(".rig-offline")).to_have_attribute("data-state", "kept")
        again = [visit(chromium, address) for _ in range(bench.rounds)]
    what = "the same after “keep on this device”, Chromium; rival: the first visit"
    return Row(what, again, first, "s", 2)
