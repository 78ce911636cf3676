"""Rows of the benchmark: what is seen after opening a page, a tap, and a change of the form."""

import json
import time
from collections.abc import Iterator, Sequence
from itertools import chain

from playwright.sync_api import Browser, Page

from engine.browser import reply
from engine.model.guide import Guide
from guide.load import load_guide
from tests.bench_drivers import PHONE, fresh
from tests.bench_parts import Bench
from tests.bench_rows import Bar, Row
from tests.bench_second import KEPT
from tests.browser.serving import served

READING_S = 3.0
TAPS = ("coach-50", "whole", "2", "aircon-15k", "yes", "no")
LAST_QUESTION = "guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/"
MORE_ANSWERS = 4
"""How often the last question is opened and answered again: one answer a path says little."""
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
CHOICE = "#rig-answer [data-choice='{}']"
BARE_LINK = "article p a"
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


CLOSED = """() => [...document.querySelectorAll(".rig-chapter > details:not([open])")].map(
    (fold) => fold.parentElement.getAttribute("aria-labelledby"))"""


def rows(bench: Bench) -> Iterator[Row]:
    """Everything between opening the first question and reading an answer anew."""
    with served(bench.site) as address:
        yield paint_row(bench, address)
        with served(bench.site, KEPT) as keeping, fresh() as browser:
            yield from tap_rows(browser, keeping, bench.rounds)
        with fresh() as browser:
            yield from reply_rows(browser, address)


def paint_row(bench: Bench, address: str) -> Row:
    """First question painted, beside a bare page of the theme; either comes first by turns."""
    took: dict[str, list[float]] = {"guide/": [], "bare/index.html": []}
    with fresh() as browser:
        for turn in range(8 * bench.rounds):
            pages = list(took.items())
            for path, values in pages if turn % 2 else pages[::-1]:
                context = browser.new_context(viewport=PHONE)
                page = context.new_page()
                page.goto(f"{address}/{path}", wait_until="load")
                values.append(page.evaluate(PAINTED))
                context.close()
    what = "first question: largest paint; rival: a bare page of the theme"
    ours, bare = took.values()
    return Row(what, ours, bare, bar=Bar("ratio", 1.10))


def tap_rows(browser: Browser, address: str, rounds: int) -> Iterator[Row]:
    """From a tap to the next page's first paint, along the short path and between bare pages."""
    took: list[float] = []
    answers: list[float] = []
    bare: list[float] = []
    for _ in range(rounds):
        context = browser.new_context(viewport=PHONE)
        page = context.new_page()
        page.goto(f"{address}/guide/")
        for choice in TAPS:
            asked = answers if choice is TAPS[-1] else took
            asked.append(tap(page, CHOICE.format(choice)))
        for _ in range(MORE_ANSWERS):
            page.goto(f"{address}/{LAST_QUESTION}")
            answers.append(tap(page, CHOICE.format(TAPS[-1])))
        page.goto(f"{address}/bare/index.html")
        bare += [tap(page, BARE_LINK) for _ in TAPS]
        context.close()
    for what, ours, bar in (
        ("next question", took, Bar("ratio of p95", 1.10)),
        ("answer, a far longer page,", answers, Bar("p95", 80)),
        ("answer, held to the bare page,", answers, Bar("ratio of p95", 1.30)),
    ):
        told = f"tap to {what} painted, no engine; rival: a link between bare pages of the theme"
        yield Row(told, ours, bare, bar=bar, tail=True)


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
    closed = page.evaluate(CLOSED)
    for fragment in chain.from_iterable((detail, "") for detail in DETAILS):
        took.append(page.evaluate(REPLY, fragment))
        native.append(natively(guide, fragment, closed))
    page.context.close()
    for place, (what, most) in enumerate(
        (
            ("detail form: the new answer in the page", 25),
            ("detail form: with what would change it", 120),
        )
    ):
        ours, rival = [each[place] for each in took], [each[place] for each in native]
        told = f"{what}; rival: computing it in CPython, no page"
        yield Row(told, ours, rival, bar=Bar("p95", most), tail=True)


def natively(guide: Guide, fragment: str, later: Sequence[str] = ()) -> tuple[float, float]:
    """Milliseconds that this Python takes for a reply, and for it with what would change it."""
    asked = {"id": 1, "path": ANSWER.removeprefix("guide/"), "fragment": fragment, "form": None}
    began = time.perf_counter()
    reply(json.dumps({**asked, "whole": False, "later": later}), guide)
    first = time.perf_counter()
    reply(json.dumps({**asked, "whole": True}), guide)
    return 1000 * (first - began), 1000 * (time.perf_counter() - began)
