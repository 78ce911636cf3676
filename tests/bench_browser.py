"""``python -m tests.bench browser``: the site in three browsers, each figure beside its rival.

Ours and the rival take turns in one run, so that whatever else the machine does meets both.
"""

import contextlib
import gzip
import json
import os
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from engine.browser import reply
from engine.model.guide import Guide
from guide import setup_browser, setup_node
from guide.load import load_guide
from guide.setup import say
from site_src.build.bundle import bundle
from site_src.build.wheels import compile_sources, write_sources
from tests import bench_page
from tests.bench_site import prepare
from tests.browser.chromium import launch_whole
from tests.browser.drivers import Driver, firefox, webkit
from tests.browser.serving import served

ROUNDS = 7
SETTLE_S = 0.5
READING_S = 3.0
KEPT = "max-age=600"  # as web hosts commonly let browsers keep files
TAPS = ("coach-50", "whole", "2", "aircon-15k", "yes", "no")
ANSWER = "guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
DETAILS = (
    "tools=crimper",
    "space=closed",
    "loads=microwave,fan*2",
    "nights=2",
    "bank=24V",
    "chemistry=agm",
    "have=2x100Ah_12V_lifepo4_3y",
    "cable=9ft",
    "ambient=110degF",
    "bay=20inx30inx20in",
    "mount=flat",
    "gap=2in",
    "cord=20A",
    "shore=15A",
    "gen=2200W",
    "altitude=5000ft",
    "alt=180A",
    "drive=2h",
    "solar=400W",
    "lat=30",
    "month=12",
    "payload=400lb",
)
TEXTS = {".html", ".css", ".js", ".mjs", ".svg", ".json", ".wasm"}

PAINTED = """new Promise((resolve) => new PerformanceObserver((list) =>
    resolve(list.getEntries().at(-1).startTime)
).observe({type: "largest-contentful-paint", buffered: true}))"""
FIRST_PAINT = """new Promise((resolve) => {
    const look = () => {
        const found = performance.getEntriesByName("first-contentful-paint")[0];
        if (found) resolve(performance.timeOrigin + found.startTime); else setTimeout(look, 5);
    };
    look();
})"""
REPLY = """async (fragment) => {
    const main = document.querySelector("main");
    const began = performance.now();
    const first = new Promise((resolve) => main.addEventListener(
        "rig-shown", () => resolve(performance.now() - began), {once: true}));
    const whole = window.__rig.ask(fragment, null);
    const took = await first;
    await whole;
    return [took, performance.now() - began];
}"""


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the table."""

    what: str
    ours: str
    rival: str
    ratio: str
    bar: str


def spread(values: Sequence[float], unit: str, digits: int = 0) -> str:
    """Median and, in brackets, least and most."""
    low, middle, high = min(values), statistics.median(values), max(values)
    return f"{middle:.{digits}f} {unit} ({low:.{digits}f}–{high:.{digits}f})"


def high(values: Sequence[float]) -> float:
    """The value that nineteen of twenty do not exceed."""
    return sorted(values)[max(0, -(-len(values) * 19 // 20) - 1)]


class Chromium:
    """Chromium with the same verbs as the other drivers."""

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

    def evaluate(self, expression: str) -> object:
        """Return what an expression gives."""
        return self.page.evaluate(expression)


def start_row(name: str, browser: Driver, address: str, bar: str) -> Row:
    """Engine ready, cold: ours and plain Pyodide by turns, each once the other is put away."""
    took: dict[str, list[float]] = {"ours": [], "plain": []}
    for place in range(ROUNDS):
        for page in ("ours", "plain"):
            browser.leave()
            time.sleep(SETTLE_S)
            browser.open(f"{address}/{page}.html?{place}")
            milliseconds, way = browser.evaluate("window.took")
            assert way == ("startFromMemory" if page == "ours" else "plain"), way
            took[page].append(milliseconds / 1000)
    ratio = statistics.median(took["ours"]) / statistics.median(took["plain"])
    return Row(
        f"engine ready, {name}; rival: Pyodide, the same libraries as wheels",
        spread(took["ours"], "s", 2),
        spread(took["plain"], "s", 2),
        f"{ratio:.2f}",
        bar,
    )


def chromium_start(browser: Browser, address: str) -> Iterator[Row]:
    """Engine ready in Chromium."""
    yield start_row("Chromium", Chromium(browser), address, "≤ 0.15")


def paint_rows(browser: Browser, address: str) -> Iterator[Row]:
    """First question painted, beside a bare page of the theme."""
    took: dict[str, list[float]] = {"guide/": [], "bare/index.html": []}
    for _ in range(2 * ROUNDS):
        for path, values in took.items():
            context = browser.new_context(viewport={"width": 390, "height": 844})
            page = context.new_page()
            page.goto(f"{address}/{path}", wait_until="load")
            values.append(page.evaluate(PAINTED))
            context.close()
    ours, bare = took.values()
    ratio = statistics.median(ours) / statistics.median(bare)
    yield Row(
        "first question: largest paint; rival: a bare page of the theme",
        spread(ours, "ms"),
        spread(bare, "ms"),
        f"{ratio:.2f}",
        "≤ 1.10",
    )


def tap_rows(browser: Browser, address: str) -> Iterator[Row]:
    """From a tap to the next page's first paint, along the short path and between bare pages."""
    took: list[float] = []
    answers: list[float] = []
    bare: list[float] = []
    for _ in range(ROUNDS):
        context = browser.new_context(viewport={"width": 390, "height": 844})
        page = context.new_page()
        page.goto(f"{address}/guide/")
        for choice in TAPS:
            asked = answers if choice is TAPS[-1] else took
            asked.append(tap(page, f"#rig-answer [data-choice='{choice}']"))
        page.goto(f"{address}/bare/index.html")
        bare += [tap(page, "article p a") for _ in TAPS]
        context.close()
    for what, ours, bar in (
        ("next question", took, "ratio ≤ 1.1"),
        ("answer, a far longer page,", answers, "p95 ≤ 80 ms"),
    ):
        yield Row(
            f"tap to {what} painted, no engine; rival: a link between bare pages of the theme",
            f"{spread(ours, 'ms')}, p95 {high(ours):.0f} ms",
            f"{spread(bare, 'ms')}, p95 {high(bare):.0f} ms",
            f"{high(ours) / high(bare):.2f}",
            bar,
        )


def tap(page: Page, link: str) -> float:
    """Follow a link and return the milliseconds until the next page's first paint.

    Nobody taps while a page is still loading: the tap waits until the browser is at rest.
    """
    page.wait_for_load_state("networkidle")
    with page.expect_navigation():
        tapped = page.locator(link).first.evaluate(
            "(link) => { const now = performance.timeOrigin + performance.now();"
            " setTimeout(() => link.click()); return now; }"
        )
    return float(page.evaluate(FIRST_PAINT)) - float(tapped)


def reply_rows(browser: Browser, address: str) -> Iterator[Row]:
    """Replies to the detail form: each field is filled and emptied again.

    Nobody types in the instant in which the engine is ready: it has the time that a reader takes.
    """
    page = browser.new_context().new_page()
    page.goto(f"{address}/{ANSWER}")
    page.evaluate("(window.__rig.load(), window.__rig.ready)")
    time.sleep(READING_S)
    took = []
    native = []
    guide = load_guide()
    natively(guide, "")
    for fragment in chain.from_iterable((detail, "") for detail in DETAILS):
        took.append(page.evaluate(REPLY, fragment))
        native.append(natively(guide, fragment))
    page.context.close()
    for place, (what, bar) in enumerate(
        (
            ("detail form: the new answer in the page", "p95 ≤ 25 ms"),
            ("detail form: with what would change it", "p95 ≤ 120 ms"),
        )
    ):
        ours, rival = [each[place] for each in took], [each[place] for each in native]
        yield Row(
            f"{what}; rival: computing it in CPython, no page",
            f"{spread(ours, 'ms')}, p95 {high(ours):.0f} ms",
            f"{spread(rival, 'ms')}, p95 {high(rival):.0f} ms",
            f"{statistics.median(ours) / statistics.median(rival):.2f}",
            bar,
        )


def natively(guide: Guide, fragment: str) -> tuple[float, float]:
    """Milliseconds that this Python takes for a reply, and for it with what would change it."""
    asked = {"id": 1, "path": ANSWER.removeprefix("guide/"), "fragment": fragment, "form": None}
    began = time.perf_counter()
    reply(json.dumps({**asked, "whole": False}), guide)
    first = time.perf_counter()
    reply(json.dumps({**asked, "whole": True}), guide)
    return 1000 * (first - began), 1000 * (time.perf_counter() - began)


def moved(browser: Browser, address: str, visit: Callable[[Page], object]) -> dict[str, int]:
    """The files that a visit fetches and their bytes as a host sends them, texts compressed."""
    files: dict[str, int] = {}
    context = browser.new_context()
    page = context.new_page()
    urls: list[str] = []
    context.on("request", lambda request: urls.append(request.url))
    visit(page)
    for url in dict.fromkeys(url for url in urls if url.startswith(address)):
        body = page.request.get(url).body()
        suffix = Path(url.partition("?")[0]).suffix or ".html"
        files[url] = len(gzip.compress(body, 6)) if suffix in TEXTS else len(body)
    context.close()
    return files


def byte_rows(browser: Browser, address: str) -> Iterator[Row]:
    """Bytes of the short path and of the engine."""

    def walk(page: Page) -> None:
        page.add_init_script(
            "Object.defineProperty(navigator, 'connection', {value: {saveData: true}})"
        )
        page.goto(f"{address}/guide/")
        for choice in TAPS:
            page.locator(f"#rig-answer [data-choice='{choice}']").first.click()
        page.wait_for_load_state("networkidle")

    def calculate(page: Page) -> None:
        page.goto(f"{address}/{ANSWER}")
        page.evaluate("(window.__rig.load(), window.__rig.ready)")

    short = moved(browser, address, walk)
    engine = {
        url: size
        for url, size in moved(browser, address, calculate).items()
        if "/assets/engine/" in url and url not in short
    }
    bare = moved(browser, address, lambda page: page.goto(f"{address}/bare/index.html"))
    total, rival = sum(short.values()), sum(bare.values())
    yield Row(
        "bytes of the short path, seven pages; rival: one bare page of the theme",
        f"{total / 1e3:.0f} kB",
        f"{rival / 1e3:.0f} kB",
        f"{total / rival:.2f}",
        "≤ 350 kB",
    )

    def start_plain(page: Page) -> None:
        page.goto(f"{address}/plain.html")
        page.evaluate("window.took")

    plain = moved(browser, address, start_plain)
    total, rival = sum(engine.values()), sum(plain.values())
    yield Row(
        "bytes of the engine, scripts included; rival: Pyodide, the same libraries as wheels",
        f"{total / 1e6:.2f} MB",
        f"{rival / 1e6:.2f} MB",
        f"{total / rival:.2f}",
        "≤ 9.2 MB",
    )


def resident() -> int:
    """Kilobytes that the processes started from this one hold for themselves."""
    parents = {}
    for folder in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            status = (folder / "stat").read_text().rpartition(")")[2].split()
            parents[int(folder.name)] = int(status[1])
    total = 0
    for process in parents:
        above = process
        while above in parents and above != os.getpid():
            above = parents[above]
        if above != os.getpid() or process == above:
            continue
        with contextlib.suppress(OSError):
            lines = Path(f"/proc/{process}/smaps_rollup").read_text().splitlines()
            total += sum(int(line.split()[1]) for line in lines if "Private" in line)
    return total


def memory_rows(browser: Browser, address: str) -> Iterator[Row]:
    """What starting the engine adds to the browser's memory."""
    if not Path("/proc").exists():
        yield Row("memory that the engine adds", "not measured here", "–", "–", "–")
        return
    added: dict[str, list[float]] = {"ours": [], "plain": []}
    for _ in range(ROUNDS):
        for name, values in added.items():
            context = browser.new_context()
            page = context.new_page()
            page.goto(f"{address}/offline.json")
            time.sleep(SETTLE_S)
            before = resident()
            page.goto(f"{address}/{name}.html")
            page.evaluate("window.took")
            time.sleep(SETTLE_S)
            values.append((resident() - before) / 1024)
            context.close()
    ours, plain = added.values()
    yield Row(
        "memory that the engine adds; rival: Pyodide, the same libraries as wheels",
        spread(ours, "MB"),
        spread(plain, "MB"),
        f"{statistics.median(ours) / statistics.median(plain):.2f}",
        "–",
    )


def bundle_row(folder: Path) -> Row:
    """How long the engine's bundle takes to build, and its wheels alone."""
    guide, packages, node = load_guide(), setup_node.packages(), setup_node.node()
    took: list[float] = []
    plain: list[float] = []
    for place in range(ROUNDS):
        out, stage = folder / f"bundle-{place}", folder / f"stage-{place}"
        out.mkdir()
        stage.mkdir()
        began = time.perf_counter()
        bundle(guide, out, packages, node)
        took.append(time.perf_counter() - began)
        began = time.perf_counter()
        write_sources(guide, stage)
        compile_sources(stage, packages, node)
        plain.append(time.perf_counter() - began)
    return Row(
        "building the engine's bundle; rival: the wheels of the plain start alone",
        spread(took, "s", 1),
        spread(plain, "s", 1),
        f"{statistics.median(took) / statistics.median(plain):.2f}",
        "–",
    )


def rows(folder: Path) -> Iterator[Row]:
    """Measure everything."""
    built = prepare(folder)
    with served(built) as address, served(built, KEPT) as keeping:
        with sync_playwright() as playwright:
            for measured, site in (
                (chromium_start, address),
                (paint_rows, address),
                (tap_rows, keeping),
                (reply_rows, address),
                (byte_rows, address),
                (memory_rows, address),
            ):
                browser = launch_whole(playwright)  # one that did nothing before
                yield from measured(browser, site)
                browser.close()
        for name, find, start, bar in (
            ("Firefox", setup_browser.find_firefox, firefox, "≤ 0.16"),
            ("WebKitGTK", setup_browser.find_webkit, webkit, "≤ 0.12"),
        ):
            if find() is None:
                say(f"{name} is not on this machine and is left out")
                continue
            with start() as driver:
                yield start_row(name, driver, address, bar)
    yield bundle_row(folder)


def table(found: Sequence[Row]) -> str:
    """The rows as a table in Markdown."""
    head = "| what | here | rival | ratio | must reach |\n|---|---|---|---|---|\n"
    lines = [
        f"| {row.what} | {row.ours} | {row.rival} | {row.ratio} | {row.bar} |" for row in found
    ]
    return head + "\n".join(lines) + "\n"


def main(arguments: Sequence[str]) -> None:
    """Print the table; with ``--write`` put it into the page of the documentation."""
    with tempfile.TemporaryDirectory() as folder:
        found = []
        for row in rows(Path(folder)):
            say(f"{row.what}: {row.ours} | {row.rival} | {row.ratio} | {row.bar}")
            found.append(row)
    text = table(found)
    print(text)
    if "--write" in arguments:
        how = f"medians of {ROUNDS} or more, least and most in brackets"
        bench_page.put("measured", how, text)
