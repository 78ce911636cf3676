"""The guide kept on a device: no network, no server, and a newer edition that waits to be asked."""

import hashlib
import json
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import astuple
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import Page, expect

from engine.model.guide import Guide
from guide.server import make_server
from site_src.build.offline import kept_files, write_offline
from tests.browser.conftest import NewPage, wait_for_engine
from tests.browser.fields import field_of
from tests.browser.part_of_site import one_page, some_pages

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
KEEP_MS = 240_000

# Fetches pages and gives the SHA-256 of each by its address.
HASHES = """async (urls) => {
    const found = {};
    for (const url of urls) {
        const reply = await fetch(url).catch(() => null);
        const bytes = reply?.ok ? await reply.arrayBuffer() : new ArrayBuffer(0);
        const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
        found[url] = [...digest].map((each) => each.toString(16).padStart(2, "0")).join("");
    }
    return found;
}"""


@contextmanager
def served(site: Path, port: int = 0) -> Iterator[int]:
    """A server of its own, which a test may stop."""
    with make_server(site, port) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.05,))
        thread.start()
        try:
            yield server.server_port
        finally:
            server.shutdown()
            thread.join()


@pytest.fixture
def own_origin(own_origins: list[str]) -> Callable[[str], None]:
    """Takes requests to the test's own server out of the watch on requests that leave the site."""
    return own_origins.append


@pytest.fixture
def page(lone_page: Page) -> Page:
    """A page in a context of its own: tests look at all that is kept."""
    return lone_page


def keep(page: Page) -> None:
    """Press "keep on this device" and wait until everything is there."""
    page.locator("[data-rig-do=keep]").click()
    expect(page.locator(".rig-offline")).to_have_attribute("data-state", "kept", timeout=KEEP_MS)


def test_nothing_is_kept_before_it_is_asked_for(page: Page) -> None:
    page.goto(ANSWER)
    wait_for_engine(page)
    expect(page.locator("[data-rig-do=keep]")).to_be_visible()
    assert (
        page.evaluate("navigator.serviceWorker.getRegistrations().then((all) => all.length)") == 0
    )
    assert page.evaluate("caches.keys()") == []
    assert page.evaluate("Object.keys(localStorage)") == []
    assert page.context.cookies() == []


def test_kept_with_progress_then_everything_works_with_the_server_gone(
    site: Path, guide: Guide, tmp_path: Path, new_page: NewPage, own_origin: Callable[[str], None]
) -> None:
    part = some_pages(site, tmp_path / "site", guide, ANSWER.strip("/"))
    page = new_page(alone=True)
    told: list[str] = []

    def tell(line: str) -> None:
        told.append(line)

    page.expose_function("tell", tell)
    page.add_init_script(
        """addEventListener("DOMContentLoaded", () => {
            const place = document.querySelector(".rig-offline");
            if (place) new MutationObserver(() => window.tell(place.textContent))
                .observe(place, {childList: true, subtree: true});
        })"""
    )
    with served(part) as port:
        at = f"http://127.0.0.1:{port}"
        own_origin(at)
        page.goto(f"{at}/guide/")
        keep(page)
        page.reload()
    assert any("of" in line and "MB" in line for line in told)
    page.context.set_offline(True)
    wanted = {
        f"{at}/{file.relative_to(part).as_posix().removesuffix('index.html')}": hashlib.sha256(
            file.read_bytes()
        ).hexdigest()
        for file in part.rglob("*.html")
    }
    assert len(wanted) > 100
    assert page.evaluate(HASHES, list(wanted)) == wanted
    page.goto(f"{at}{ANSWER}#cable=9ft")
    expect(page.locator("#rig-details [name=cable]")).to_have_value("9ft")
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    page.goto(f"{at}/explained/cable.html")
    page.locator("#rig-piece-length").fill("4 m")
    page.locator("#rig-piece-length").press("Enter")
    expect(page.locator(".rig-piece-says")).to_contain_text("(4 m)")
    page.goto(f"{at}/index.html")
    page.locator("input.md-search__input").click()
    page.locator("input.md-search__input").press_sequentially("ferrule")
    expect(page.locator(".md-search-result__item").first).to_be_visible()
    page.goto(f"{at}/guide/index.html")
    page.locator("[data-rig-do=remove]").click()
    page.wait_for_function("() => caches.keys().then((names) => names.length === 0)")


def test_every_page_of_the_site_is_kept_and_is_needed(site: Path) -> None:
    listed = {each.name: each for each in kept_files(site)}
    script = (site / "service-worker.js").read_text(encoding="utf-8")
    pages = [file.relative_to(site).as_posix() for file in site.rglob("*.html")]
    assert len(pages) > 1000
    for name in pages:
        assert listed[name].needed
        assert json.dumps(astuple(listed[name]), separators=(",", ":")) in script


def test_every_kept_file_is_named_by_another(site: Path) -> None:
    names = [each.name for each in kept_files(site) if not each.name.endswith(".html")]
    kinds = (".css", ".js", ".mjs", ".json", ".webmanifest", ".html")
    readers = [
        file
        for file in site.rglob("*")
        if file.suffix in kinds and file.name != "service-worker.js" and "rig=van" not in str(file)
    ]
    texts = "\n".join(file.read_text("utf-8") for file in readers)
    assert [name for name in names if Path(name).name not in texts] == []


def test_what_could_not_be_kept_whole_can_be_removed_and_kept_again(
    site: Path, guide: Guide, tmp_path: Path, new_page: NewPage, own_origin: Callable[[str], None]
) -> None:
    small = tmp_path / "site"
    one_page(site, small, guide, ANSWER.strip("/"))
    page = new_page(alone=True)
    lost = small / "assets" / "search.png"
    lost.write_bytes(b"kept after the rest")
    write_offline(small, "Guide", "Guide", guide.wording.page)
    lost.unlink()
    with served(small) as port:
        at = f"http://127.0.0.1:{port}"
        own_origin(at)
        page.goto(f"{at}{ANSWER}")
        page.locator("[data-rig-do=keep]").focus()
        page.keyboard.press("Enter")
        place = page.locator(".rig-offline")
        expect(place).to_have_attribute("data-state", "broken", timeout=KEEP_MS)
        assert page.evaluate("document.activeElement !== document.body")
        assert page.evaluate("caches.keys()") != []
        page.locator("[data-rig-do=remove]").click()
        page.wait_for_function("() => caches.keys().then((names) => names.length === 0)")
        lost.write_bytes(b"kept after the rest")
        keep(page)


def test_a_newer_edition_waits_until_it_is_asked_for(
    site: Path,
    guide: Guide,
    tmp_path: Path,
    new_page: NewPage,
    own_origin: Callable[[str], None],
) -> None:
    small = tmp_path / "site"
    one_page(site, small, guide, ANSWER.strip("/"))
    page = new_page(alone=True)
    with served(small) as port:
        at = f"http://127.0.0.1:{port}"
        own_origin(at)
        page.goto(f"{at}{ANSWER}")
        wait_for_engine(page)
        keep(page)
        field_of(page, "nights").fill("3")
        newer = small / ANSWER.strip("/") / "index.html"
        newer.write_text(newer.read_text().replace("<h1", '<h1 data-edition="newer"', 1))
        write_offline(small, "Guide", "Guide", guide.wording.page)
        page.evaluate("navigator.serviceWorker.getRegistration().then((one) => one.update())")
        place = page.locator(".rig-offline")
        expect(place).to_have_attribute("data-state", "newer", timeout=KEEP_MS)
        expect(page.locator("#rig-details [name=nights]")).to_have_value("3")
        page.locator("#rig-details [name=nights]").press("Tab")
        page.wait_for_function("() => location.hash === '#nights=3'")
        assert page.locator("h1[data-edition]").count() == 0
        other = page.context.new_page()
        other.goto(f"{at}{ANSWER}")
        assert other.locator("h1[data-edition]").count() == 0
        page.locator("[data-rig-do=use]").click()
        expect(place).to_have_attribute("data-state", "others")
        other.close()
        with page.expect_navigation():
            page.locator("[data-rig-do=use]").click()
        assert urlsplit(page.url).fragment == "nights=3"
        expect(page.locator("h1[data-edition]")).to_have_count(1)
        expect(page.locator("#rig-details [name=nights]")).to_have_value("3")


def test_what_was_removed_can_be_kept_again_from_the_same_page(
    site: Path, guide: Guide, tmp_path: Path, new_page: NewPage, own_origin: Callable[[str], None]
) -> None:
    small = tmp_path / "site"
    one_page(site, small, guide, ANSWER.strip("/"))
    page = new_page(alone=True)
    with served(small) as port:
        at = f"http://127.0.0.1:{port}"
        own_origin(at)
        page.goto(f"{at}{ANSWER}")
        keep(page)
        page.locator("[data-rig-do=remove]").click()
        page.wait_for_function("() => caches.keys().then((names) => names.length === 0)")
        keep(page)
    page.goto("about:blank")  # a fragment alone would open nothing afresh
    page.goto(f"{at}{ANSWER}#cable=9ft")
    expect(page.locator("#rig-details [name=cable]")).to_have_value("9ft")
