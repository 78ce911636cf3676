"""What the answer page is held to, measured on every full answer of a built site.

``python -m tests.browser.screens --measure`` prints the table, with ``--write`` the benchmarks page
shows it.
"""

import gzip
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from guide.setup import say
from tests.bench_rows import Bar, Row, table
from tests.browser.chromium import launch
from tests.browser.serving import served

SECTION = "answer-page"
"""Where the benchmarks page shows the table."""
PHONE, DESK = (390, 844), (1280, 800)
BESIDE_AN_ANSWER = "numbers.html"
"""Lies beside each full answer, and beside nothing else."""
FACTS = (
    "h1",
    ".rig-facts",
    ".rig-plate a[href='#rig-assumed-title']",
    "#rig-setups",
    ".rig-warned",
    ".rig-plate a[href^='tel:']",
)
"""Where the most wanted facts stand: setup; what it runs, hours and price; assumptions; other
setups; warnings; contact."""
LOWEST = """(selectors) => Math.max(...selectors.map((each) =>
    document.querySelector(each).getBoundingClientRect().bottom + scrollY))"""
HEIGHT = "() => document.documentElement.scrollHeight"
ENGINE = "**/engine-worker.js"
"""Is never answered: what is measured is painted while the engine loads."""


BARS = (
    ("closed answer, phone", "screens", 2, 3.5),
    ("closed answer, desktop", "screens", 2, 2.5),
    ("card, phone", "screens", 2, 1.4),
    ("card, desktop", "screens", 2, 1.0),
    ("lowest of the wanted facts, phone", "screens", 2, 2.0),
    ("read before anything is opened", "words", 0, 420),
    ("page, gzip", "kB", 1, 35),
    ("printed on Letter", "sheets", 0, 6),
)
"""What each answer is held to: what, unit, digits told, and what none may exceed."""


def answers_of(built: Path) -> list[Path]:
    """The files of all full answers of a site; ValueError where it has none."""
    found = sorted(each.with_name("index.html") for each in built.rglob(BESIDE_AN_ANSWER))
    if not found:
        raise ValueError(f"{built} has no full answer: is it a built site?")
    return found


def measures_of(page: Page, address: str, file: Path, paper: Path) -> Iterator[float]:
    """The figures of one answer, in the order of the bars.

    paper: the file into which it is printed
    """
    heights, cards = [], []
    for width, height in (PHONE, DESK):
        page.set_viewport_size({"width": width, "height": height})
        if page.url != address:
            page.goto(address)
            page.wait_for_selector("main[data-state]")
        heights.append(page.evaluate(HEIGHT) / height)
        box = page.locator(".rig-plate").bounding_box()
        assert box is not None, address
        cards.append(box["height"] / height)
        if (width, height) == PHONE:
            lowest = page.evaluate(LOWEST, list(FACTS)) / height
            words = len(page.locator("#rig-answer").inner_text().split())
    yield from (*heights, *cards, lowest, words)
    yield len(gzip.compress(file.read_bytes(), 9, mtime=0)) / 1000
    page.pdf(path=paper, format="Letter", prefer_css_page_size=True)
    told = subprocess.run(["pdfinfo", str(paper)], capture_output=True, text=True, check=True)
    yield float(told.stdout.partition("Pages:")[2].split()[0])


def measure(browser: Browser, built: Path, origin: str) -> list[list[float]]:
    """The figures of every full answer, a list for each bar."""
    page = browser.new_page()
    page.route(ENGINE, lambda _: None)
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        for file in answers_of(built):
            address = f"{origin}/{file.parent.relative_to(built).as_posix()}/"
            rows.append(list(measures_of(page, address, file, Path(folder) / "sheets.pdf")))
    return [list(each) for each in zip(*rows, strict=True)]


def rows_of(found: Sequence[Sequence[float]]) -> list[Row]:
    """The figures of all answers as lines of a table, one a bar."""
    return [
        Row(what, values, unit=unit, digits=digits, bar=Bar("most", most))
        for (what, unit, digits, most), values in zip(BARS, found, strict=True)
    ]


def measured(built: Path) -> tuple[str, int]:
    """The table of a built site, and of how many answers it tells."""
    with served(built) as origin, sync_playwright() as playwright:
        browser = launch(playwright)
        found = measure(browser, built, origin)
        browser.close()
    said = table(rows_of(found))
    say(said)
    return said, len(found[0])
