"""A slow or costly line: the engine is offered with its size, and a cut download goes on."""

import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, Route, expect

from engine.model.guide import Guide
from guide.server import Handler
from guide.setup import ROOT
from tests.browser.conftest import ENGINE, Held, Host, NewPage, wait_for_engine, wait_for_idle
from tests.browser.fields import field_of

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
LINE = ROOT / "site_src" / "shell" / "line.js"
MEMORY = re.compile(r"engine-\w+\.memory\.gz")
SLOW = {
    "offline": False,
    "latency": 150,
    "downloadThroughput": 1_600_000 / 8,
    "uploadThroughput": 750_000 / 8,
    "connectionType": "wifi",
}
SAYS = "Object.defineProperty(navigator, 'connection', {{ value: {} }})"
COSTLY = SAYS.format('{ saveData: true, effectiveType: "4g" }')
SILENT = SAYS.format("undefined")
"""As in browsers that say nothing of the line."""
FIRST_HALF = """async ([list, tag]) => {
    const { files } = await (await fetch(list)).json();
    const address = new URL(files.snapshot.name, new URL(list, location)).href;
    const whole = await (await fetch(address)).arrayBuffer();
    const half = whole.slice(0, whole.byteLength / 2);
    const headers = { ETag: tag, "Content-Length": half.byteLength };
    const store = await caches.open("rig-guide-engine");
    await store.put(`${address}?from=0`, new Response(half, { headers }));
    return [half.byteLength, (await fetch(address, { method: "HEAD" })).headers.get("ETag")];
}"""


@pytest.fixture
def costly(new_page: NewPage) -> Page:
    """A page on a line whose data cost something."""
    page = new_page(alone=True)
    page.add_init_script(COSTLY)
    return page


def offers(page: Page, button: str) -> None:
    """Expect the one button beside the form to say this."""
    expect(page.locator(".rig-engine .rig-fetch")).to_have_text(button)
    expect(page.locator(".rig-engine .rig-fetch")).to_be_visible()


@pytest.mark.parametrize("details", ["", "#cable=25ft"])
def test_a_line_that_measures_slow_is_asked_first(
    new_page: NewPage, requests: list[str], guide: Guide, details: str
) -> None:
    page = new_page(alone=True, measures=True)
    page.add_init_script(SILENT)
    session = page.context.new_cdp_session(page)
    session.send("Network.enable")
    session.send("Network.emulateNetworkConditions", SLOW)
    page.goto(ANSWER + details)
    offers(page, guide.wording.page["engine-do-load"])
    told = page.locator("[data-rig-engine]").inner_text()
    pattern = re.escape(guide.wording.page["engine-offer"])
    pattern = pattern.replace(r"\{size\}", r"\d+\.\d").replace(r"\{time\}", r"\d+ \w+")
    assert re.match(pattern, told), told
    assert (guide.wording.page["engine-offer-waits"] in told) == bool(details)
    expect(page.locator("main > .rig-fetch")).to_be_visible(visible=bool(details))
    wait_for_idle(page)
    assert not [url for url in requests if ENGINE in url or MEMORY.search(url)]


@pytest.mark.parametrize(
    "link", [COSTLY, SAYS.format('{ effectiveType: "3g" }')], ids=["saves data", "3g"]
)
def test_what_is_typed_waits_for_the_button(
    new_page: NewPage, requests: list[str], guide: Guide, link: str
) -> None:
    page = new_page(alone=True)
    page.add_init_script(link)
    page.goto(ANSWER)
    field_of(page, "cable").fill("25 ft")
    page.locator("#rig-details [name=cable]").press("Enter")
    waits = guide.wording.page["engine-offer-waits"]
    expect(page.locator("[data-rig-engine]")).to_contain_text(waits)
    wait_for_idle(page)
    assert not [url for url in requests if ENGINE in url]
    page.locator(".rig-engine .rig-fetch").click()
    page.wait_for_function("() => location.hash === '#cable=25ft'")
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    expect(page.locator(".rig-engine .rig-fetch")).to_be_hidden()


@pytest.mark.parametrize("address", ["/staff/", "/show/", "/guide/rig=van/nowhere=1/"])
def test_pages_that_live_of_the_engine_ask_too(
    costly: Page, requests: list[str], guide: Guide, address: str
) -> None:
    costly.goto(address)
    button = costly.locator(".rig-fetch").first
    expect(button).to_have_text(guide.wording.page["engine-do-load"])
    wait_for_idle(costly)
    assert not [url for url in requests if ENGINE in url]
    button.click()
    expect(costly.locator("main")).to_have_attribute("data-state", "ready")


def test_loading_can_be_stopped_and_goes_on(costly: Page, guide: Guide) -> None:
    page, said = costly, guide.wording.page
    memory = Held(page, MEMORY)
    page.goto(ANSWER + "#cable=25ft")
    page.locator(".rig-engine .rig-fetch").click()
    memory.wait_for(page, 1)
    offers(page, said["engine-do-stop"])
    page.locator(".rig-engine .rig-fetch").click()
    offers(page, said["engine-do-load"])
    expect(page.locator("main")).to_have_attribute("data-state", "offered")
    stopped = said["engine-stopped"].partition("{size}")[0]
    expect(page.locator("[data-rig-engine]")).to_contain_text(stopped)
    memory.let_go()
    page.locator(".rig-engine .rig-fetch").click()
    expect(page.locator("#rig-details [name=cable]")).to_have_value("25ft")
    expect(page.locator("main")).to_have_attribute("data-state", "ready")


class Cuts(Handler):
    """A line that breaks in the middle of the engine's memory, once; what was asked is noted."""

    asked: Sequence[Any] = []

    def copyfile(self, source: Any, outputfile: Any) -> None:
        if not MEMORY.search(self.path):
            super().copyfile(source, outputfile)
            return
        body = source.read()
        type(self).asked = [*self.asked, (self.headers["Range"], self.headers["If-Range"])]
        is_first = len(self.asked) == 1
        outputfile.write(body[: len(body) // 2] if is_first else body)
        self.close_connection = True


class CutsOnce(Cuts):
    """So with ranges."""


class KnowsNoRanges(Cuts):
    """So without them."""

    def may_be_cut(self, tag: str) -> bool:
        del tag
        return False


@pytest.mark.parametrize("handler", [CutsOnce, KnowsNoRanges])
def test_a_download_that_is_cut_goes_on_where_it_stopped(
    handler: type[Cuts], site: Path, host: Host, new_page: NewPage
) -> None:
    page = new_page(alone=True)
    handler.asked = []
    with host(site, handler=handler) as address:
        page.goto(address + ANSWER)
        wait_for_engine(page)
    expect(page.locator("main")).to_have_attribute("data-started", "startFromMemory")
    (first, _), (second, tag) = handler.asked
    half = next((site / "assets" / "engine").glob("*.memory.gz")).stat().st_size // 2
    assert first is None
    assert 0 < int(second.removeprefix("bytes=").removesuffix("-")) <= half
    assert re.fullmatch(r'"[^"]+"', tag)


@pytest.fixture
def asked_for(costly: Page) -> list[dict[str, str]]:
    """The headers of each request for the engine's memory."""
    heads: list[dict[str, str]] = []

    def note(route: Route) -> None:
        heads.append(route.request.headers)
        route.continue_()

    costly.context.route(MEMORY, note)
    return heads


@pytest.mark.parametrize("is_same", [True, False], ids=["the same file", "another since"])
def test_what_was_kept_of_a_download_is_not_fetched_again(
    costly: Page, asked_for: list[dict[str, str]], is_same: bool
) -> None:
    page = costly
    page.goto(ANSWER)
    list_at = f"/assets/engine/{engine_of(page)}"
    half, tag = page.evaluate(FIRST_HALF, [list_at, '"another"'])
    if is_same:
        page.evaluate(FIRST_HALF, [list_at, tag])
    asked_for.clear()
    page.reload()
    page.locator(".rig-engine .rig-fetch").click()
    wait_for_engine(page)
    expect(page.locator("main")).to_have_attribute("data-started", "startFromMemory")
    assert [each.get("range") for each in asked_for] == [f"bytes={half}-"]
    assert [each.get("if-range") for each in asked_for] == [tag if is_same else '"another"']


def test_after_a_long_download_a_reload_fetches_nothing_and_asks_nothing(
    costly: Page, asked_for: list[dict[str, str]]
) -> None:
    page = costly
    page.context.route("**/engine-fetch.js", all_are_long)
    page.goto(ANSWER)
    page.evaluate(OF_ANOTHER_EDITION)
    page.locator(".rig-engine .rig-fetch").click()
    wait_for_engine(page)
    page.wait_for_function(WHOLE, arg=f"/assets/engine/{engine_of(page)}")
    assert len(asked_for) == 1
    page.reload()
    wait_for_engine(page)
    expect(page.locator("main")).to_have_attribute("data-started", "startFromMemory")
    assert len(asked_for) == 1


OF_ANOTHER_EDITION = """caches.open("rig-guide-engine").then((store) =>
    store.put("/assets/engine/engine-000000000000.memory.gz?from=0", new Response("old")))"""
WHOLE = """async (list) => {
    const { files } = await (await fetch(list)).json();
    const store = await caches.open("rig-guide-engine");
    const kept = {};
    for (const request of await store.keys()) {
        const name = request.url.split("/").at(-1).split("?")[0];
        const size = (await (await store.match(request)).arrayBuffer()).byteLength;
        kept[name] = (kept[name] ?? 0) + size;
    }
    const { snapshot, wasm } = files;
    const isWhole = [snapshot, wasm].every(({ name, bytes }) => kept[name] === bytes);
    return isWhole && Object.keys(kept).length === 2;
}"""


def engine_of(page: Page) -> str:
    """The name of the page's list of the engine's files."""
    return page.locator("main").get_attribute("data-engine") or ""


def all_are_long(route: Route) -> None:
    """Send the script that fetches the engine as if every download took long."""
    text = route.fetch().text()
    assert "LONG_MS = 3000" in text
    body = text.replace("LONG_MS = 3000", "LONG_MS = -1")
    route.fulfill(body=body, content_type="text/javascript")


JUDGED = """async (came) => {
    const { isDear, secondsFor } = await import("/assets/engine/line.js");
    performance.getEntriesByType = (kind) => (kind === "resource" ? came : []);
    return [isDear(10e6), Math.round(secondsFor(10e6) ?? -1)];
}"""


def came(size: int, start: int, end: int, moved: int | None = None) -> dict[str, int]:
    """How a file came: its bytes, from its first to its last in milliseconds."""
    return {
        "encodedBodySize": size,
        "transferSize": size if moved is None else moved,
        "requestStart": start,
        "responseStart": start,
        "responseEnd": end,
    }


@pytest.mark.parametrize(
    ("files", "judged"),
    [
        ([], [False, -1]),
        ([came(40_000, 0, 20)], [False, 5]),
        ([came(40_000, 0, 400)], [True, 100]),
        ([came(40_000, 0, 400, moved=0)], [False, -1]),  # out of a cache
        ([came(10_000, 0, 400)], [False, -1]),  # too little to tell
        ([came(20_000, 0, 200), came(20_000, 100, 400)], [True, 100]),  # they share the line
        ([came(500, 0, 100), came(40_000, 200, 600)], [True, 88]),  # half a round trip is waiting
        ([came(40_000, 0, 400), came(40_000, 500, 520)], [False, 5]),  # the device was busy
    ],
)
def test_a_line_is_judged_by_what_came_over_it(
    new_page: NewPage, files: list[dict[str, int]], judged: list[object]
) -> None:
    page = new_page(alone=True)
    page.add_init_script(SILENT)
    page.route("**/line.js", lambda route: route.fulfill(path=LINE))
    page.goto("/404.html")
    assert page.evaluate(JUDGED, files) == judged
