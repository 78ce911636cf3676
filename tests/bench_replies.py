"""``python -m tests.bench replies``: a thousand replies in one page, and what they leave behind.

``--replies N`` asks for fewer. It prints, for each hundred, how long its replies took and how much
memory page and worker hold after it. `tests/engine/test_many_replies.py` has the short form.
"""

import argparse
import statistics
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Page, Route, sync_playwright

from guide.site import build
from tests.browser.chromium import launch_whole
from tests.browser.serving import served

ANSWER = "guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
REPLIES, EACH = 1_000, 100
BAR = 1.10
ASK = """async (fragment) => {
    const began = performance.now();
    await window.__rig.ask(fragment, null);
    return performance.now() - began;
}"""
IN_WORKER = """
    const own = WebAssembly.instantiateStreaming;
    WebAssembly.instantiateStreaming = async (...all) => {
        const made = await own.apply(WebAssembly, all);
        const isMemory = (each) => each instanceof WebAssembly.Memory;
        const memory = Object.values(made.instance.exports).find(isMemory);
        const channel = new BroadcastChannel("measured");
        channel.onmessage = () => channel.postMessage(memory.buffer.byteLength);
        return made;
    };
"""
"""Lets a page ask how large the engine's memory is."""
WORKER_BYTES = """new Promise((resolve) => {
    const channel = new BroadcastChannel("measured");
    channel.onmessage = ({ data }) => resolve(data);
    channel.postMessage("how large?");
})"""


@dataclass(frozen=True, slots=True)
class Hundred:
    """What some replies in a row took, and what was held after them."""

    seconds: float
    page_bytes: float
    nodes: float
    worker_bytes: float


def fragments(count: int) -> Iterator[str]:
    """Details, none twice: a run of cable, nights, a load, the length of each in turn."""
    for at in range(count):
        yield f"cable={5 + at / 100:.2f}ft&nights={at % 7}&loads=lamp{at}:{10 + at % 90}W:3h"


def measured(page: Page, count: int) -> Iterator[Hundred]:
    """Ask for so many replies, and measure after each hundred."""
    session = page.context.new_cdp_session(page)
    session.send("Performance.enable")
    asked = list(fragments(count))
    for start in range(0, count, EACH):
        took = [float(page.evaluate(ASK, each)) for each in asked[start : start + EACH]]
        session.send("HeapProfiler.collectGarbage")
        metrics = session.send("Performance.getMetrics")["metrics"]
        found = {each["name"]: float(each["value"]) for each in metrics}
        yield Hundred(
            statistics.median(took) / 1000,
            found["JSHeapUsedSize"],
            found["Nodes"],
            float(page.evaluate(WORKER_BYTES)),
        )


def main(arguments: Sequence[str] = ()) -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(prog="tests.bench replies")
    parser.add_argument("--replies", type=int, default=REPLIES)
    parser.add_argument("--site", type=Path, help="a site that is built already")
    options = parser.parse_args(arguments)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        site = options.site or Path(folder) / "site"
        if not options.site:
            build(site)
        browser = launch_whole(playwright)
        with served(site) as address:
            page = browser.new_page()
            page.route("**/memory.js", with_measure)
            page.goto(f"{address}/{ANSWER}")
            page.evaluate("(window.__rig.load(), window.__rig.ready)")
            found = []
            print(" replies   median   page, heap   nodes   worker, memory")
            for place, each in enumerate(measured(page, options.replies), start=1):
                found.append(each)
                print(
                    f"{place * EACH:8,}{each.seconds:8.3f} s{each.page_bytes / 1e6:10.2f} MB"
                    f"{each.nodes:8,.0f}{each.worker_bytes / 1e6:14.2f} MB",
                    flush=True,
                )
    print(f"last hundred beside the first (bar {BAR:.2f}):")
    for name in Hundred.__slots__:
        print(f"  {name}: {getattr(found[-1], name) / getattr(found[0], name):.3f}")


def with_measure(route: Route) -> None:
    """Send the script that runs in the worker before anything is started, and the measure."""
    route.fulfill(body=IN_WORKER + route.fetch().text(), content_type="text/javascript")


if __name__ == "__main__":
    main()
