"""What the answer page is held to, measured on every full answer of a built site.

``python -m tests.browser.screens --measure`` prints the table, with ``--write`` the benchmarks page
shows it.
"""

import gzip
import statistics
import subprocess
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from guide.setup import say
from tests.browser.chromium import launch
from tests.browser.serving import served

PHONE, DESK = (390, 844), (1280, 800)
BESIDE_AN_ANSWER = "numbers.html"
"""Lies beside each full answer, and beside nothing else."""
FACTS = {
    "setup": "h1",
    "price, what it runs, hours": ".rig-facts",
    "assumptions": ".rig-plate a[href='#rig-assumed-title']",
    "alternatives": "#rig-setups",
    "warnings": ".rig-warned",
    "contact": ".rig-plate a[href^='tel:']",
}
"""The most wanted facts of an answer, and the parts of the card that say them."""
LOWEST = """(selectors) => Math.max(...selectors.map((each) =>
    document.querySelector(each).getBoundingClientRect().bottom + scrollY))"""
HEIGHT = "() => document.documentElement.scrollHeight"
ENGINE = "**/engine-worker.js"
"""Is never answered: what is measured is painted while the engine loads."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One figure of all answers: its name, its unit, digits, and what it may be at most."""

    name: str
    most: float
    digits: int = 2


BARS = (
    Bar("closed answer, phone [screens]", 3.5),
    Bar("closed answer, desktop [screens]", 2.5),
    Bar("card, phone [screens]", 1.4),
    Bar("card, desktop [screens]", 1.0),
    Bar("lowest of the wanted facts, phone [screens]", 2.0),
    Bar("words before anything is opened", 420, 0),
    Bar("page, gzip [kB]", 35, 1),
    Bar("sheets of Letter", 6, 0),
)


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
            lowest = page.evaluate(LOWEST, list(FACTS.values())) / height
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


def table(found: Sequence[Sequence[float]]) -> str:
    """The figures as a table in Markdown; a bar that one answer misses is marked."""
    lines = ["| what | median | most | must be at most |", "|---|---|---|---|"]
    for bar, values in zip(BARS, found, strict=True):
        most = max(values)
        middle = f"{statistics.median(values):.{bar.digits}f}"
        missed = ", **missed**" if most > bar.most else ""
        lines.append(f"| {bar.name} | {middle} | {most:.{bar.digits}f}{missed} | {bar.most:g} |")
    return "\n".join(lines) + "\n"


def measured(built: Path) -> tuple[str, int]:
    """The table of a built site, and of how many answers it tells."""
    with served(built) as origin, sync_playwright() as playwright:
        browser = launch(playwright)
        found = measure(browser, built, origin)
        browser.close()
    said = table(found)
    say(said)
    return said, len(found[0])
