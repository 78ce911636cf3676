"""Rows of the benchmark: what one visit takes of a phone's battery and data allowance.

The visit answers six questions and changes three details, so that the engine is fetched and
answers; the rival is a visit of six bare pages of the theme. Both have the same time.
"""

import time
from collections.abc import Callable, Iterator

from playwright.sync_api import CDPSession, Page

from tests.bench_counted import counted
from tests.bench_drivers import PHONE, fresh
from tests.bench_parts import Bench
from tests.bench_processes import is_told, processor_s
from tests.bench_rows import Row
from tests.bench_second import KEPT
from tests.bench_start import SETTLE_S
from tests.bench_taps import BARE_LINK, CHOICE, TAPS

DETAILS = ("cable=9ft", "cable=9ft&nights=2", "cable=9ft&nights=2&solar=400W")
BROWSER = "chrom"
VISIT_S = 10.0
"""How long a visit is open, ours and the rival's, whatever it does."""
Visit = Callable[[Page, str], None]


def ours(page: Page, address: str) -> None:
    """Answer six questions and change three details."""
    page.goto(f"{address}/guide/")
    for choice in TAPS:
        page.wait_for_load_state("networkidle")
        with page.expect_navigation():
            page.locator(CHOICE.format(choice)).first.click()
    page.evaluate("(window.__rig.load(), window.__rig.ready)")
    for fragment in DETAILS:
        page.evaluate("(fragment) => window.__rig.ask(fragment, null)", fragment)


def bare(page: Page, address: str) -> None:
    """Look at as many bare pages as there are questions."""
    page.goto(f"{address}/bare/index.html")
    for _ in TAPS[1:]:
        page.wait_for_load_state("networkidle")
        with page.expect_navigation():
            page.locator(BARE_LINK).first.click()


def rows(bench: Bench) -> Iterator[Row]:
    """Bytes, and seconds of processor where the system tells them."""
    found: dict[Visit, list[tuple[float, float, float]]] = {ours: [], bare: []}
    for _ in range(max(1, bench.rounds // 2)):
        for visit, all_found in found.items():
            all_found.append(measured(bench, visit))
    for place, (what, unit, digits) in enumerate(
        (
            ("bytes of one visit, six questions and three details", "MB", 2),
            ("processor of all the browser's processes for that", "s", 2),
            ("of it the page's own thread, on its last page", "s", 2),
        )
    ):
        mine, other = ([each[place] for each in found[visit]] for visit in (ours, bare))
        if any(mine):
            yield Row(f"{what}; rival: six bare pages of the theme", mine, other, unit, digits)


def measured(bench: Bench, visit: Visit) -> tuple[float, float, float]:
    """Megabytes, seconds of processor and seconds of tasks of a visit in a fresh browser."""
    with counted(bench.site, KEPT) as (address, sent), fresh() as browser:
        page = browser.new_context(viewport=PHONE).new_page()
        page.goto("about:blank")
        session = page.context.new_cdp_session(page)
        session.send("Performance.enable")
        time.sleep(SETTLE_S)
        before = processor_s(BROWSER)
        began = time.monotonic()
        visit(page, address)
        time.sleep(max(0.0, VISIT_S - (time.monotonic() - began)))
        after = processor_s(BROWSER)
        took = sum(spent - before.get(process, 0.0) for process, spent in after.items())
        return sum(sent.values()) / 1e6, took if is_told() else 0.0, tasks_s(session)


def tasks_s(session: CDPSession) -> float:
    """Seconds that the page's own thread has worked."""
    metrics = session.send("Performance.getMetrics")["metrics"]
    return next(float(each["value"]) for each in metrics if each["name"] == "TaskDuration")
