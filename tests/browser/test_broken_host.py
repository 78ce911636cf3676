"""A host that sends files otherwise than they were published: told, and the next way tried."""

import gzip
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, Route, expect

from engine.model.guide import Guide
from guide.precompress import precompress
from tests.browser.conftest import Host, NewPage, wait_for_engine

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
DETAILS = "#cable=25ft"
WASM, MEMORY, LIBRARY = "**/pyodide.asm.wasm.gz", "**/*.memory.gz", "**/python_stdlib.zip"
Spoil = Callable[[bytes], bytes]


def flipped(body: bytes) -> bytes:
    """One bit of the middle is another."""
    middle = len(body) // 2
    return body[:middle] + bytes([body[middle] ^ 1]) + body[middle + 1 :]


def half(body: bytes) -> bytes:
    """What comes where an upload is not finished."""
    return body[: len(body) // 2]


def login(_body: bytes) -> bytes:
    """What a network sends that wants to be paid first."""
    return b"<!doctype html><title>Log in</title><p>Please log in."


def flipped_inside(body: bytes) -> bytes:
    """Well compressed, and yet not what the list says."""
    return gzip.compress(flipped(gzip.decompress(body)), 1)


def spoil(page: Page, pattern: str, how: Spoil) -> list[str]:
    """Send such files spoiled; return the addresses of which each was asked for."""
    asked: list[str] = []

    def answer(route: Route) -> None:
        asked.append(route.request.url)
        route.fulfill(body=how(route.fetch().body()))

    page.route(pattern, answer)
    return asked


def test_what_a_host_unpacks_is_taken_as_it_comes(
    site: Path, host: Host, new_page: NewPage, tmp_path: Path
) -> None:
    page = new_page()
    shutil.copytree(site / "assets", tmp_path / "assets", copy_function=os.link)
    shutil.copytree(site / ANSWER.strip("/"), tmp_path / ANSWER.strip("/"))
    packed = list((tmp_path / "assets" / "engine").glob("*.gz"))
    for file in packed:
        content = gzip.decompress(file.read_bytes())
        file.unlink()
        file.write_bytes(content)
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    with host(tmp_path) as address:
        page.goto(address + ANSWER + DETAILS)
        wait_for_engine(page)
        expect(page.locator("#rig-details [name=cable]")).to_have_value("25ft")
    expect(page.locator("main")).to_have_attribute("data-started", "startFromMemory")
    assert len(packed) == sum("the host unpacked" in line for line in said) == 2


def test_copies_in_brotli_are_taken_where_a_host_sends_them(
    site: Path, host: Host, new_page: NewPage, tmp_path: Path
) -> None:
    page = new_page()
    shutil.copytree(site / "assets", tmp_path / "assets", copy_function=os.link)
    shutil.copytree(site / ANSWER.strip("/"), tmp_path / ANSWER.strip("/"))
    precompress(tmp_path, effort=1)
    encodings: dict[str, str] = {}
    page.on(
        "response",
        lambda reply: encodings.update(
            {reply.url.split("#")[0]: reply.headers.get("content-encoding", "")}
        ),
    )
    with host(tmp_path) as address:
        page.goto(address + ANSWER + DETAILS)
        wait_for_engine(page)
    expect(page.locator("main")).to_have_attribute("data-started", "startFromMemory")
    packed = {url: how for url, how in encodings.items() if url.endswith(".gz")}
    assert list(packed.values()) == ["br", "br"], packed
    assert encodings[address + ANSWER] == "br"


@pytest.mark.parametrize(
    ("how", "why"),
    [
        (flipped, "engine-changed"),
        (flipped_inside, "engine-changed"),
        (half, "engine-cut"),
        (login, "engine-foreign"),
    ],
)
def test_a_spoiled_wasm_is_told_with_its_cause_after_both_ways(
    page: Page, guide: Guide, how: Spoil, why: str
) -> None:
    asked = spoil(page, WASM, how)
    page.goto(ANSWER + DETAILS)
    expect(page.locator("main")).to_have_attribute("data-state", "failed")
    said = guide.wording.page
    expect(page.locator(".rig-pending")).to_contain_text(said[why])
    expect(page.locator("[data-rig-engine]")).to_contain_text(said[why])
    assert len(asked) == 2


def test_a_wasm_that_was_spoiled_once_is_fetched_again_past_what_the_browser_kept(
    page: Page,
) -> None:
    bodies: list[bytes] = []

    def first_spoiled(route: Route) -> None:
        body = route.fetch().body()
        bodies.append(body)
        route.fulfill(body=flipped(body) if len(bodies) == 1 else body)

    page.route(WASM, first_spoiled)
    page.goto(ANSWER + DETAILS)
    wait_for_engine(page)
    expect(page.locator("#rig-details [name=cable]")).to_have_value("25ft")
    main = page.locator("main")
    expect(main).to_have_attribute("data-started", "startPlain")
    assert "pyodide.asm.wasm.gz differs" in (main.get_attribute("data-reason") or "")


@pytest.mark.parametrize("pattern", [LIBRARY, "**/edition-*.zip", "**/*.whl"])
def test_the_plain_start_checks_what_it_loads_too(page: Page, guide: Guide, pattern: str) -> None:
    page.route(MEMORY, lambda route: route.fulfill(status=404))
    spoil(page, pattern, flipped)
    page.goto(ANSWER + DETAILS)
    expect(page.locator("main")).to_have_attribute("data-state", "failed")
    expect(page.locator(".rig-pending")).to_contain_text(guide.wording.page["engine-changed"])


def test_a_host_that_answers_everything_with_a_web_page_is_named_as_that(
    page: Page, guide: Guide
) -> None:
    spoil(page, "**/engine-*.json", login)
    page.goto(ANSWER + DETAILS)
    expect(page.locator("main")).to_have_attribute("data-state", "failed")
    expect(page.locator(".rig-pending")).to_contain_text(guide.wording.page["engine-foreign"])
