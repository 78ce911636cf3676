"""Rows of the benchmark: how soon the engine can answer, cold, beside its floor and its rival.

The floor is the same start with the memory of a bare Python, which has nothing of ours in it: what
no work of ours can go below. The rival is Pyodide as it comes, with the same libraries as wheels.
"""

import time
from collections.abc import Iterator

from tests.bench_drivers import browsers
from tests.bench_parts import Bench
from tests.bench_rows import Bar, Row
from tests.browser.drivers import Driver
from tests.browser.serving import served

SETTLE_S = 0.5
WAYS = {"ours": "startFromMemory", "floor": "startFromMemory", "plain": "plain"}
BESIDE_PLAIN = {"Chromium": 0.15, "Firefox": 0.16, "WebKitGTK": 0.12}
BESIDE_FLOOR = Bar("ratio", 1.06)
FLOOR = Bar("median", 0.42)


def rows(bench: Bench) -> Iterator[Row]:
    """Engine ready in each browser."""
    with served(bench.site) as address:
        for name, started in browsers():
            with started as driver:
                took = starts(driver, address, bench.rounds)
            yield Row(
                f"engine ready, {name}; rival: Pyodide, the same libraries as wheels",
                *(took["ours"], took["plain"], "s", 2),
                bar=Bar("ratio", BESIDE_PLAIN[name]),
            )
            yield Row(
                f"engine ready, {name}; rival: the floor, a bare Python's memory",
                *(took["ours"], took["floor"], "s", 2),
                bar=BESIDE_FLOOR,
            )
            yield Row(f"the floor itself, {name}", took["floor"], unit="s", digits=2, bar=FLOOR)


def starts(driver: Driver, address: str, rounds: int) -> dict[str, list[float]]:
    """Seconds until ready, by turns and each once the other is put away.

    Ours and the floor are near each other: they are measured three times as often as plain Pyodide,
    and every other time in the other order, so that what came before meets both.
    """
    took: dict[str, list[float]] = {page: [] for page in WAYS}
    for place in range(2 * rounds):
        for page in sorted(WAYS, reverse=place % 2 == 1):
            if page == "plain" and place % 3:
                continue
            driver.leave()
            time.sleep(SETTLE_S)
            driver.open(f"{address}/{page}.html?{place}")
            took[page].append(seconds(driver, page))
    return took


def seconds(driver: Driver, page: str) -> float:
    """How long the engine of the page that is open took until it was ready."""
    milliseconds, way = driver.evaluate("window.took")
    if way != WAYS[page]:
        raise AssertionError(f"{page} started otherwise: {way}")
    return float(milliseconds) / 1000
