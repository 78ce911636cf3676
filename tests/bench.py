"""``python -m tests.bench``: how long an answer and a build take; it judges nothing."""

import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import sync_playwright

from engine.model.guide import Guide
from engine.respond import conversation_of, respond_to
from engine.tree import states
from guide.load import load_guide
from guide.site import make_server
from tests.browser.chromium import launch

SAMPLE = 25
FRAGMENTS = tuple(f"cable={feet}ft" for feet in range(5, 5 + SAMPLE))
TIME_ONE_ANSWER = """async (fragment) => {
    const began = performance.now();
    await window.__rig.ask(fragment, null);
    return (performance.now() - began) / 1000;
}"""


def answer_paths(guide: Guide) -> list[str]:
    """Return the paths of some pages that are answers, spread over the tree."""
    paths = states(conversation_of(guide))
    spread = paths[:: max(1, len(paths) // (4 * SAMPLE))]
    found = [path for path in spread if respond_to(guide, path).kind == "answer"]
    return found[:SAMPLE]


def seconds_natively(guide: Guide, paths: list[str]) -> list[float]:
    """Return how long each answer with one changed detail takes in this Python."""
    took = []
    for path, fragment in zip(paths, FRAGMENTS, strict=False):
        began = time.perf_counter()
        respond_to(guide, path, fragment=fragment)
        took.append(time.perf_counter() - began)
    return took


def seconds_to_build(out: Path) -> float:
    """Return how long building the whole site takes."""
    command = [sys.executable, "-m", "guide.cli", "build", "--out", str(out)]
    began = time.perf_counter()
    subprocess.run(command, check=True)
    return time.perf_counter() - began


def seconds_in_browser(site: Path, path: str) -> tuple[float, list[float]]:
    """Return the time from opening a page until its engine is ready, and of answers after that."""
    with make_server(site, 0) as server, sync_playwright() as playwright:
        threading.Thread(target=server.serve_forever).start()
        browser = launch(playwright)
        page = browser.new_page()
        page.goto(f"http://127.0.0.1:{server.server_port}/guide/{path}#{FRAGMENTS[0]}")
        page.evaluate("window.__rig.ready")
        start = float(page.evaluate("performance.now() / 1000"))
        took = [float(page.evaluate(TIME_ONE_ANSWER, fragment)) for fragment in FRAGMENTS]
        browser.close()
        server.shutdown()
    return start, took


def rows() -> Iterator[tuple[str, float]]:
    """Measure and yield each row of the table: what, seconds."""
    guide = load_guide()
    paths = answer_paths(guide)
    yield "one answer natively (median)", statistics.median(seconds_natively(guide, paths))
    with tempfile.TemporaryDirectory() as folder:
        site = Path(folder) / "site"
        yield "full site build", seconds_to_build(site)
        start, took = seconds_in_browser(site, paths[0])
        yield "engine ready in the browser after opening a page", start
        yield "one answer in the browser after start (median)", statistics.median(took)


def main() -> None:
    """Print the table."""
    for name, seconds in list(rows()):
        print(f"{name:<52}{seconds:>9.3f} s")


if __name__ == "__main__":
    main()
