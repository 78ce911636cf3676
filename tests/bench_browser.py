"""``python -m tests.bench browser``: the site in three browsers, each figure beside its rival.

Ours and the rival take turns in one run, so that whatever else the machine does meets both.
"""

import gzip
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from importlib.metadata import distribution
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from guide import setup_browser, setup_node, site
from guide.load import load_guide
from guide.setup import ROOT, say
from site_src.build.bundle import LIBRARIES, bundle, edition_module
from tests import bench_page
from tests.browser.chromium import launch
from tests.browser.drivers import Driver, firefox, webkit
from tests.browser.serving import served

ROUNDS = 7
REPLIES = 40
TAPS = ("coach-50", "whole", "2", "aircon-15k", "yes", "no")
ANSWER = "guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
TEXTS = {".html", ".css", ".js", ".mjs", ".svg", ".json"}

OURS = """<!doctype html><meta charset="utf-8"><title>ours</title><script type="module">
const began = performance.now();
const worker = new Worker("assets/engine/engine-worker.js", {type: "module"});
worker.postMessage({type: "start", address: new URL("assets/engine/MANIFEST", location).href});
window.took = new Promise((resolve, reject) => {
  worker.onerror = reject;
  worker.onmessage = ({data}) => {
    if (data.state === "ready") resolve([performance.now() - began, data.detail]);
    if (data.state === "failed") reject(new Error(data.detail));
  };
});
</script>"""
PLAIN = """<!doctype html><meta charset="utf-8"><title>plain</title><script type="module">
const began = performance.now();
const worker = new Worker("plain-worker.js", {type: "module"});
window.took = new Promise((resolve, reject) => {
  worker.onerror = reject;
  worker.onmessage = ({data}) => resolve([performance.now() - began, data]);
});
</script>"""
PLAIN_WORKER = """import { loadPyodide } from "./plain/pyodide.mjs";
const wheels = WHEELS;
const [pyodide, ...fetched] = await Promise.all([
  loadPyodide({ indexURL: new URL("./plain/", import.meta.url).href }),
  ...wheels.map((name) => fetch(`plain/${name}`).then((reply) => reply.arrayBuffer())),
]);
for (const wheel of fetched) pyodide.unpackArchive(wheel, "wheel");
pyodide.runPython("import engine.browser, edition");
postMessage("plain");
"""
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


def prepare(folder: Path) -> Path:
    """Build the site and lay the rivals beside it."""
    built = folder / "site"
    site.build(built)
    manifest = next((built / "assets" / "engine").glob("engine-*.json")).name
    (built / "ours.html").write_text(OURS.replace("MANIFEST", manifest), encoding="utf-8")
    plain = built / "plain"
    shutil.copytree(setup_node.packages() / "pyodide", plain)
    wheels = [wheel_of(name, plain) for name in LIBRARIES] + [engine_wheel(plain)]
    (built / "plain.html").write_text(PLAIN, encoding="utf-8")
    worker = PLAIN_WORKER.replace("WHEELS", repr(wheels))
    (built / "plain-worker.js").write_text(worker, encoding="utf-8")
    bare_page(folder, built / "bare")
    return built


def wheel_of(name: str, out: Path) -> str:
    """Write an installed pure library as the wheel that it came in, and return its name."""
    found = distribution(name)
    file = out / f"{name}-{found.version}-py3-none-any.whl"
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as wheel:
        for each in found.files or ():
            if ".." not in each.parts and each.suffix not in {".pyc", ".so", ".c"}:
                wheel.write(str(each.locate()), str(each))
    return file.name


def engine_wheel(out: Path) -> str:
    """Write the engine and its content as a wheel of sources, and return its name."""
    file = out / "rig_power_guide-0-py3-none-any.whl"
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as wheel:
        for each in sorted((ROOT / "engine").rglob("*")):
            if each.is_file() and each.suffix != ".pyc":
                wheel.write(each, str(each.relative_to(ROOT)))
        wheel.writestr("edition.py", edition_module(load_guide(), {}))
    return file.name


def bare_page(folder: Path, out: Path) -> None:
    """Build one short page with the same theme and nothing of ours."""
    docs = folder / "bare-docs"
    docs.mkdir()
    (docs / "index.md").write_text("# What are you fitting out?\n\nA page of words.\n")
    config = folder / "bare.yml"
    config.write_text(
        f"site_name: Bare\ndocs_dir: {docs}\ntheme:\n  name: material\n  font: false\n"
        "plugins:\n  - search\n"
    )
    command = [sys.executable, "-m", "mkdocs", "--quiet", "build", "--config-file", str(config)]
    subprocess.run([*command, "--site-dir", str(out)], check=True)


class Chromium:
    """Chromium with the same two verbs as the other drivers, each page in a fresh profile."""

    def __init__(self, browser: Browser) -> None:
        self.browser = browser
        self.page: Page | None = None

    def open(self, address: str) -> None:
        """Open an address where nothing was opened before."""
        if self.page:
            self.page.context.close()
        self.page = self.browser.new_context().new_page()
        self.page.goto(address)

    def evaluate(self, expression: str) -> object:
        """Return what an expression gives."""
        assert self.page
        return self.page.evaluate(expression)


def start_row(name: str, browser: Driver, address: str, bar: str) -> Row:
    """Engine ready, cold: ours and plain Pyodide by turns."""
    took: dict[str, list[float]] = {"ours": [], "plain": []}
    for place in range(ROUNDS):
        for page in ("ours", "plain"):
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


def paint_row(browser: Browser, address: str) -> Row:
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
    return Row(
        "first question: largest paint; rival: a bare page of the theme",
        spread(ours, "ms"),
        spread(bare, "ms"),
        f"{ratio:.2f}",
        "≤ 1.15",
    )


def tap_row(browser: Browser, address: str) -> Row:
    """From a tap to the next page's first paint, along the short path."""
    took = []
    for _ in range(ROUNDS):
        context = browser.new_context(viewport={"width": 390, "height": 844})
        page = context.new_page()
        page.goto(f"{address}/guide/")
        for choice in TAPS:
            link = page.locator(f"#rig-answer [data-choice='{choice}']").first
            with page.expect_navigation():
                tapped = link.evaluate(
                    "(link) => { const now = performance.timeOrigin + performance.now();"
                    " setTimeout(() => link.click()); return now; }"
                )
            took.append(page.evaluate(FIRST_PAINT) - tapped)
        context.close()
    return Row(
        "tap to next question painted, no engine",
        f"{spread(took, 'ms')}, p95 {high(took):.0f} ms",
        "–",
        "–",
        "p95 ≤ 100 ms",
    )


def reply_rows(browser: Browser, address: str) -> Iterator[Row]:
    """Replies to the detail form, and what the engine takes of memory."""
    page = browser.new_context().new_page()
    page.goto(f"{address}/{ANSWER}")
    page.evaluate("window.__rig.ready")
    fragments = [f"cable={5 + place % 20}ft&nights={place % 4}" for place in range(REPLIES)]
    took = [page.evaluate(REPLY, fragment) for fragment in fragments]
    page.context.close()
    for what, values, bar in (
        ("detail form: the new answer in the page", [each[0] for each in took], "p95 ≤ 50 ms"),
        ("detail form: with what would change it", [each[1] for each in took], "–"),
    ):
        yield Row(what, f"{spread(values, 'ms')}, p95 {high(values):.0f} ms", "–", "–", bar)


def moved(browser: Browser, address: str, visit: Callable[[Page], None]) -> dict[str, int]:
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
        page.evaluate("window.__rig.ready")

    short = moved(browser, address, walk)
    engine = {
        url: size
        for url, size in moved(browser, address, calculate).items()
        if "/assets/engine/" in url and url not in short
    }
    total = sum(short.values())
    yield Row("bytes of the short path", f"{total / 1e3:.0f} kB", "–", "–", "≤ 350 kB")
    total = sum(engine.values())
    yield Row("bytes of the engine", f"{total / 1e6:.2f} MB", "–", "–", "≤ 11 MB")


def resident(browser_program: str) -> int:
    """Kilobytes that all processes of a program hold for themselves."""
    total = 0
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            if browser_program in (folder / "cmdline").read_text().replace("\0", " "):
                lines = (folder / "smaps_rollup").read_text().splitlines()
                total += sum(int(line.split()[1]) for line in lines if "Private" in line)
        except OSError:
            continue
    return total


def memory_row(browser: Browser, address: str) -> Row:
    """What starting the engine adds to the browser's memory."""
    if not Path("/proc").exists():
        return Row("memory of the worker", "not measured here", "–", "–", "–")
    context = browser.new_context()
    page = context.new_page()
    program = "--user-data-dir=/tmp/playwright"
    added = []
    for _ in range(ROUNDS):
        page.goto(f"{address}/offline.json")
        time.sleep(0.5)
        before = resident(program)
        page.goto(f"{address}/ours.html")
        page.evaluate("window.took")
        time.sleep(0.5)
        added.append((resident(program) - before) / 1024)
    context.close()
    return Row("memory that the engine adds", spread(added, "MB"), "–", "–", "–")


def bundle_row(folder: Path) -> Row:
    """How long the engine's bundle takes to build."""
    guide, packages, node = load_guide(), setup_node.packages(), setup_node.node()
    took = []
    for place in range(ROUNDS):
        out = folder / f"bundle-{place}"
        out.mkdir()
        began = time.perf_counter()
        bundle(guide, out, packages, node)
        took.append(time.perf_counter() - began)
    return Row("building the engine's bundle", spread(took, "s", 1), "–", "–", "–")


def rows(folder: Path) -> Iterator[Row]:
    """Measure everything."""
    built = prepare(folder)
    with served(built) as address:
        with sync_playwright() as playwright:
            browser = launch(playwright)
            yield start_row("Chromium", Chromium(browser), address, "≤ 0.20")
            yield paint_row(browser, address)
            yield tap_row(browser, address)
            yield from reply_rows(browser, address)
            yield from byte_rows(browser, address)
            yield memory_row(browser, address)
            browser.close()
        for name, find, start, bar in (
            ("Firefox", setup_browser.find_firefox, firefox, "≤ 0.25"),
            ("WebKitGTK", setup_browser.find_webkit, webkit, "≤ 0.20"),
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
