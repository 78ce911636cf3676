"""Rows of the benchmark: bytes that are fetched, and memory that the engine takes."""

import gzip
import shutil
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from playwright.sync_api import Browser, Page

from guide.earlier_engine import BUILT, ENGINE, current_list
from guide.precompress import packed_engine, precompress
from tests.bench_drivers import fresh
from tests.bench_parts import Bench
from tests.bench_processes import is_told, resident_mb
from tests.bench_rows import Bar, Row
from tests.bench_start import SETTLE_S
from tests.bench_taps import ANSWER, CHOICE, TAPS
from tests.browser.serving import served

TEXTS = {".html", ".css", ".js", ".mjs", ".svg", ".json", ".wasm"}
SAVES = "Object.defineProperty(navigator, 'connection', {value: {saveData: true}})"


def rows(bench: Bench) -> Iterator[Row]:
    """Bytes of the short path and of the engine, and its memory."""
    with served(bench.site) as address:
        with fresh() as browser:
            yield from byte_rows(browser, address, bench.site)
        with fresh() as browser:
            yield from memory_rows(browser, address, -(-bench.rounds // 2))


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


def byte_rows(browser: Browser, address: str, site: Path) -> Iterator[Row]:
    """Bytes of the short path and of the engine, as packed with gzip and with Brotli."""

    def walk(page: Page) -> None:
        page.add_init_script(SAVES)
        page.goto(f"{address}/guide/")
        for choice in TAPS:
            page.locator(CHOICE.format(choice)).first.click()
        page.wait_for_load_state("networkidle")

    def calculate(page: Page) -> None:
        page.goto(f"{address}/{ANSWER}")
        page.evaluate("(window.__rig.load(), window.__rig.ready)")

    def start_plain(page: Page) -> None:
        page.goto(f"{address}/plain.html")
        page.evaluate("window.took")

    short = moved(browser, address, walk)
    engine = {
        url: size
        for url, size in moved(browser, address, calculate).items()
        if "/assets/engine/" in url and url not in short
    }
    bare = moved(browser, address, lambda page: page.goto(f"{address}/bare/index.html"))
    what = "bytes of the short path, seven pages; rival: one bare page of the theme"
    short_kb, bare_kb = sum(short.values()) / 1e3, sum(bare.values()) / 1e3
    yield Row(what, [short_kb], [bare_kb], "kB", bar=Bar("median", 350))
    plain = sum(moved(browser, address, start_plain).values()) / 1e6
    what = "bytes of the engine, scripts included, {}; rival: Pyodide, the same libraries as wheels"
    total = sum(engine.values()) / 1e6
    yield Row(what.format("gzip"), [total], [plain], "MB", 2, Bar("median", 9.2))
    saved = brotli_saves(site) / 1e6
    what = "the same where the host has Brotli; rival as before"
    yield Row(what, [total - saved], [plain], "MB", 2, Bar("median", 7.8))


def brotli_saves(site: Path) -> int:
    """How many bytes less the engine is with Brotli, as ``rig-guide build --precompress`` packs."""
    with tempfile.TemporaryDirectory() as folder:
        engine = Path(folder) / ENGINE
        engine.mkdir(parents=True)
        listed = current_list(site)
        if listed is None:
            raise ValueError(f"{site.name} holds no engine")
        for file in (listed, listed.with_name(BUILT), *packed_engine(site)):
            shutil.copyfile(file, engine / file.name)
        made = precompress(Path(folder))
    return made.engine_gzip - made.engine_brotli


def memory_rows(browser: Browser, address: str, rounds: int) -> Iterator[Row]:
    """What starting the engine adds to the browser's memory; only Linux tells."""
    if not is_told():
        return
    added: dict[str, list[float]] = {"ours": [], "plain": []}
    for _ in range(rounds):
        for name, values in added.items():
            context = browser.new_context()
            page = context.new_page()
            page.goto(f"{address}/offline.json")
            time.sleep(SETTLE_S)
            before = resident_mb()
            page.goto(f"{address}/{name}.html")
            page.evaluate("window.took")
            time.sleep(SETTLE_S)
            values.append(resident_mb() - before)
            context.close()
    what = "memory that the engine adds; rival: Pyodide, the same libraries as wheels"
    yield Row(what, added["ours"], added["plain"], "MB", bar=Bar("median", 90))
