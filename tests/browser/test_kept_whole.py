"""What is kept on a device is one edition, as it was published, whatever the host sends."""

from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from engine.model.guide import Guide
from site_src.build.offline import write_offline
from tests.browser.conftest import Host, NewPage, wait_for_engine
from tests.browser.part_of_site import one_page

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
KEEP_MS = 240_000
LOGIN = b"<!doctype html><title>Log in</title><p>Please log in."
CACHES = "caches.keys().then((names) => names.length)"
WHAT_IS_KEPT = """async () => {
    const [name] = await caches.keys();
    const all = await (await caches.open(name)).keys();
    return all.map((each) => new URL(each.url).pathname);
}"""
DROP = """async (path) => {
    const [name] = await caches.keys();
    const cache = await caches.open(name);
    for (const each of await cache.keys()) {
        if (new URL(each.url).pathname === path) await cache.delete(each);
    }
}"""
DAMAGE = """async (path) => {
    const [name] = await caches.keys();
    const cache = await caches.open(name);
    for (const each of await cache.keys()) {
        if (new URL(each.url).pathname === path) await cache.put(each, new Response("damaged"));
    }
}"""


@pytest.fixture
def small(site: Path, guide: Guide, tmp_path: Path) -> Path:
    """What one answer page needs, so that keeping it is quick."""
    return one_page(site, tmp_path / "site", guide, ANSWER.strip("/"))


def keep(page: Page, state: str) -> Locator:
    """Press "keep on this device", wait for how it ends, and return where it is said."""
    page.locator("[data-rig-do=keep]").click()
    place = page.locator(".rig-offline")
    expect(place).to_have_attribute("data-state", state, timeout=KEEP_MS)
    return place.locator("[role=status]")


def open_afresh(page: Page, address: str) -> None:
    """Open an address also where only its details differ from what is open."""
    page.goto("about:blank")
    page.goto(address)


@pytest.mark.parametrize(
    ("file", "body", "why"),
    [
        ("assets/guide.css", LOGIN, "keep-foreign"),
        ("assets/guide.css", b"/* of another edition */", "keep-changed"),
        ("assets/engine/page.js", None, "keep-missing"),
        (f"{ANSWER.strip('/')}/index.html", LOGIN, "keep-changed"),
    ],
)
def test_what_is_needed_and_is_not_the_list_s_is_named_and_nothing_called_kept(
    small: Path, host: Host, new_page: NewPage, guide: Guide,
    file: str, body: bytes | None, why: str,
) -> None:  # fmt: skip
    page = new_page(alone=True)
    with host(small) as at:
        page.goto(f"{at}/404.html")
        good = (small / file).read_bytes()
        if body is None:
            (small / file).unlink()
        else:
            (small / file).write_bytes(body)
        said = keep(page, "broken")
        expect(said).to_contain_text(file)
        expect(said).to_contain_text(guide.wording.page[why])
        assert f"/{file}" not in page.evaluate(WHAT_IS_KEPT)
        (small / file).write_bytes(good)
        keep(page, "kept")


def test_what_nobody_needs_offline_may_be_missing(
    small: Path, host: Host, new_page: NewPage
) -> None:
    page = new_page(alone=True)
    (small / "assets/engine/python_stdlib.zip").unlink()
    card = next((small / "assets/cards").glob("*.png"))
    card.write_bytes(LOGIN)
    with host(small) as at:
        page.goto(f"{at}{ANSWER}")
        keep(page, "kept")
        kept = page.evaluate(WHAT_IS_KEPT)
    assert not [each for each in kept if "stdlib" in each or card.name in each]
    page.context.set_offline(True)
    open_afresh(page, f"{at}{ANSWER}#cable=9ft")
    expect(page.locator("#rig-details [name=cable]")).to_have_value("9ft")


def test_a_half_uploaded_edition_leaves_the_older_one_whole(
    small: Path, host: Host, new_page: NewPage, guide: Guide
) -> None:
    page = new_page(alone=True)
    file = small / ANSWER.strip("/") / "index.html"
    older = file.read_bytes()
    with host(small) as at:
        page.goto(f"{at}{ANSWER}")
        wait_for_engine(page)
        keep(page, "kept")
        file.write_bytes(older.replace(b"<h1", b'<h1 data-edition="newer"', 1))
        write_offline(small, "Guide", "Guide", guide.wording.page)  # the list is there already,
        file.write_bytes(older)  # … and the page not yet
        ended = page.evaluate("""async () => {
            const registration = await navigator.serviceWorker.getRegistration();
            await registration.update();
            const worker = registration.installing;
            if (!worker) return "none came";
            return new Promise((resolve) => worker.addEventListener("statechange",
                () => resolve(worker.state)));
        }""")
    assert ended == "redundant"
    page.context.set_offline(True)
    open_afresh(page, f"{at}{ANSWER}#cable=9ft")
    expect(page.locator("#rig-details [name=cable]")).to_have_value("9ft")
    assert page.locator("h1[data-edition]").count() == 0


def test_what_the_device_dropped_is_named_and_fetched_again_with_a_network(
    small: Path, host: Host, new_page: NewPage
) -> None:
    page = new_page(alone=True)
    gone = "/assets/pictures/mark.svg"
    place = page.locator(".rig-offline")
    with host(small) as at:
        page.goto(f"{at}{ANSWER}")
        keep(page, "kept")
        page.evaluate(DROP, gone)
        page.context.set_offline(True)
        page.reload()
        expect(place).to_have_attribute("data-state", "damaged")
        expect(place).to_contain_text(gone.strip("/"))
        page.context.set_offline(False)
        page.reload()
        expect(place).to_have_attribute("data-state", "kept")
        page.wait_for_function(
            f"async (path) => (await ({WHAT_IS_KEPT})()).includes(path)", arg=gone
        )


def test_without_a_network_an_address_of_another_form_is_found(
    small: Path, host: Host, new_page: NewPage
) -> None:
    page = new_page(alone=True)
    with host(small) as at:
        page.goto(f"{at}{ANSWER}")
        keep(page, "kept")
        page.reload()
    page.context.set_offline(True)
    other = "/guide/scope=whole/rig=coach-50/heavy=2/biggest=aircon-15k/softstart=yes/v240=no"
    memory = next((small / "assets" / "engine").glob("*.memory.gz")).name
    for address, way in ((ANSWER.rstrip("/"), "startFromMemory"), (other, "startPlain")):
        page.goto(f"{at}{address}#cable=9ft")
        expect(page.locator("#rig-details [name=cable]")).to_have_value("9ft")
        assert page.evaluate("location.pathname") == ANSWER
        expect(page.locator("main")).to_have_attribute("data-started", way)
        page.evaluate(DAMAGE, f"/assets/engine/{memory}")  # what is whole is not asked for afresh


def test_a_device_that_is_full_says_so_and_can_try_again(
    small: Path, host: Host, new_page: NewPage, guide: Guide
) -> None:
    page = new_page(alone=True)
    with host(small) as at:
        page.goto(f"{at}{ANSWER}")
        session = page.context.new_cdp_session(page)
        quota = {"origin": at, "quotaSize": 1_000_000}
        session.send("Storage.overrideQuotaForOrigin", quota)
        said = keep(page, "broken")
        expect(said).to_contain_text(guide.wording.page["keep-full"])
        session.send("Storage.overrideQuotaForOrigin", {"origin": at})
        keep(page, "kept")


def test_what_was_damaged_on_the_device_is_fetched_again_with_a_network(
    small: Path, host: Host, new_page: NewPage, guide: Guide
) -> None:
    page = new_page(alone=True)
    wasm = "/assets/engine/pyodide.asm.wasm.gz"
    main = page.locator("main")
    with host(small) as at:
        page.goto(f"{at}{ANSWER}")
        keep(page, "kept")
        page.evaluate(DAMAGE, wasm)
        page.context.set_offline(True)
        open_afresh(page, f"{at}{ANSWER}#cable=9ft")
        expect(main).to_have_attribute("data-state", "failed")
        expect(page.locator(".rig-pending")).to_contain_text(guide.wording.page["engine-pending"])
        page.context.set_offline(False)
        page.evaluate("(path) => fetch(path, {cache: 'reload'})", wasm)  # as the engine's worker
    page.context.set_offline(True)
    page.reload()
    expect(page.locator("#rig-details [name=cable]")).to_have_value("9ft")
    expect(main).to_have_attribute("data-started", "startFromMemory")
