"""Rows of the benchmark: a slow phone on a slow line, with nothing in any cache.

Chromium slows both down itself: the line for page and worker, the processor for the page's own
thread only. On such a line the engine is not fetched unasked: its button is pressed.
"""

from collections import Counter
from collections.abc import Iterator

from playwright.sync_api import Browser, Page

from tests.bench_counted import counted
from tests.bench_drivers import PHONE, fresh
from tests.bench_parts import Bench
from tests.bench_rows import Bar, Row
from tests.bench_second import KEPT
from tests.bench_taps import ANSWER, BARE_LINK, CHOICE, PAINTED, TAPS, tap
from tests.browser.fields import field_of
from tests.browser.test_slow_line import SLOW

SLOWER = 6
WAITING_MS = 400_000
LOAD = ".rig-engine .rig-fetch"
TYPED, FRAGMENT = "25 ft", "#cable=25ft"
COME = f"() => location.hash === '{FRAGMENT}' && performance.now() / 1000"
READY = """() => {
    const { state, started } = document.querySelector("main").dataset;
    return started && state === "ready" && performance.now() / 1000;
}"""


def rows(bench: Bench) -> Iterator[Row]:
    """The short path and the first reply, beside bare pages of the theme and plain Pyodide."""
    with counted(bench.site, KEPT) as (address, sent), fresh() as browser:
        yield from path_rows(browser, address, -(-bench.rounds // 2))
        yield from engine_rows(browser, address, sent, max(1, bench.rounds // 3))


def slow_page(browser: Browser) -> Page:
    """A page of a fresh, private profile on a slow phone."""
    context = browser.new_context(viewport=PHONE)
    page = context.new_page()
    page.set_default_timeout(WAITING_MS)
    session = context.new_cdp_session(page)
    session.send("Network.enable")
    session.send("Network.emulateNetworkConditions", SLOW)
    session.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    return page


def path_rows(browser: Browser, address: str, rounds: int) -> Iterator[Row]:
    """From the first question to the answer, each beside a bare page of the theme."""
    first: list[float] = []
    taps: list[float] = []
    answers: list[float] = []
    bare_first, bare_taps = [], []
    for _ in range(rounds):
        page = slow_page(browser)
        page.goto(f"{address}/guide/", wait_until="load")
        first.append(page.evaluate(PAINTED) / 1000)
        for choice in TAPS:
            asked = answers if choice is TAPS[-1] else taps
            asked.append(tap(page, CHOICE.format(choice)) / 1000)
        page.context.close()
        page = slow_page(browser)
        page.goto(f"{address}/bare/index.html", wait_until="load")
        bare_first.append(page.evaluate(PAINTED) / 1000)
        bare_taps.append(tap(page, BARE_LINK) / 1000)
        page.context.close()
    for what, ours, bare, most in (
        ("first question seen; rival: a bare page of the theme", first, bare_first, 0.6),
        ("taps 1–5: next question seen; rival: a link to a bare page", taps, bare_taps, 0.8),
        ("answer seen; rival: a link to a bare page", answers, bare_taps, 1.0),
    ):
        yield Row(f"slow phone, {what}", ours, bare, "s", 2, Bar("median", most))


def engine_rows(browser: Browser, address: str, sent: Counter[str], rounds: int) -> Iterator[Row]:
    """From the button to the first reply to what was typed, and a reload of that page.

    The line decides, which is the same each time: the rival is measured once.
    """
    replies, reloads, again = [], [], []
    for _ in range(rounds):
        page = slow_page(browser)
        replies.append(first_reply_s(page, f"{address}/{ANSWER}"))
        page.wait_for_function(READY)
        before = engine_bytes(sent)
        page.reload()
        reloads.append(page.wait_for_function(READY).json_value())
        again.append((engine_bytes(sent) - before) / 1e6)
        page.context.close()
    page = slow_page(browser)
    page.goto(f"{address}/plain.html")
    plain = [page.evaluate("window.took")[0] / 1000]
    page.context.close()
    what = "slow phone, first reply after the button is pressed; rival: plain Pyodide ready"
    yield Row(what, replies, plain, "s", 1, Bar("median", 35))
    what = "slow phone, reload in a private window until the reply; rival: the first time"
    yield Row(what, reloads, replies, "s", 1)
    what = "bytes of the engine fetched again by that reload"
    yield Row(what, again, unit="MB", digits=2, bar=Bar("median", 0))


def first_reply_s(page: Page, address: str) -> float:
    """Type a detail, press the engine's button, and return the seconds from there to the reply."""
    page.goto(address)
    page.locator(LOAD).wait_for()
    field_of(page, "cable").fill(TYPED)
    field_of(page, "cable").press("Enter")
    pressed = page.locator(LOAD).evaluate(
        "(button) => { button.click(); return performance.now() / 1000; }"
    )
    return float(page.wait_for_function(COME).json_value()) - float(pressed)


def engine_bytes(sent: Counter[str]) -> int:
    """What a server has sent of Python and the engine's memory until now."""
    return sum(count for path, count in sent.items() if path.endswith(".gz"))
