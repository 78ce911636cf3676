"""A customer asks for an estimate: all of it is read first, and nothing is sent before a tap."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from http.server import BaseHTTPRequestHandler, HTTPServer
from threading import Thread
from urllib.parse import parse_qs

import pytest
from playwright.sync_api import Page, expect

from engine.model.guide import Guide
from engine.pages.request import request_html
from engine.respond import conversation_of
from site_src.build.policy import policy
from tests.browser.conftest import Held, NewPage

PATH = "/guide/rig=van/scope=whole/heavy=0/"


@contextmanager
def form_service() -> Iterator[tuple[str, list[dict[str, list[str]]]]]:
    """A shop's own service on this machine, and what it got."""
    got: list[dict[str, list[str]]] = []

    class Service(BaseHTTPRequestHandler):
        def do_POST(self) -> None:  # the library calls it so
            length = int(self.headers["Content-Length"])
            got.append(parse_qs(self.rfile.read(length).decode()))
            self.send_response(200)
            self.send_header("Content-Type", "text/plain")
            self.end_headers()
            self.wfile.write(b"Thank you")

        def log_message(self, *_args: object) -> None:
            """Print nothing."""

    server = HTTPServer(("127.0.0.1", 0), Service)
    Thread(target=server.serve_forever, daemon=True).start()
    try:
        yield f"http://127.0.0.1:{server.server_port}/ask", got
    finally:
        server.shutdown()


@pytest.fixture
def asked(new_page: NewPage) -> Page:
    """The dialog of an answer with details, open."""
    page = new_page()
    page.goto(f"{PATH}#cable=9ft")
    page.locator("[data-rig-request]").click()
    expect(page.locator("#rig-request")).to_be_visible()
    return page


def test_the_request_is_read_before_it_is_mailed(asked: Page, requests: list[str]) -> None:
    dialog = asked.locator("#rig-request")
    expect(dialog.locator("#rig-request-title")).to_be_focused()  # it is read from its first line
    expect(dialog.locator("#rig-request-title")).to_be_in_viewport()
    expect(dialog).to_contain_text("9ft")
    expect(dialog).to_contain_text("not a quote")
    mail = dialog.locator("a[href^='mailto:']").get_attribute("href") or ""
    assert "cable%3D9ft" in mail or "cable=9ft" in mail
    assert all(not url.startswith("mailto") for url in requests)
    dialog.locator("[data-rig-close]").click()
    expect(dialog).to_be_hidden()


def test_a_form_reaches_the_shops_own_service_only_when_it_is_pressed(
    new_page: NewPage, guide: Guide, own_origins: list[str]
) -> None:
    page = new_page(alone=True)
    with form_service() as (address, got):
        own_origins.append(address.removesuffix("/ask"))
        terms = replace(guide.shop.estimate, form=address)
        theirs = replace(guide, shop=replace(guide.shop, estimate=terms))
        drawn = request_html(conversation_of(theirs), f"{PATH.removeprefix('/guide/')}#cable=9ft")
        page.set_content(drawn)
        page.locator("[name=contact]").fill("Ann, 555-0101")
        assert got == []
        with page.context.expect_page() as opened:
            page.locator("[type=submit]").click()
        expect(opened.value.locator("body")).to_contain_text("Thank you")
    (sent,) = got
    assert sent["contact"] == ["Ann, 555-0101"]
    assert "cable=9ft" in sent["link"][0] and "not a quote" in sent["text"][0]


def test_where_nothing_fits_the_request_says_so_and_how_to_reach_the_shop(guide: Guide) -> None:
    drawn = request_html(conversation_of(guide), "rig=van/scope=whole/heavy=0/#budget=500")
    assert guide.wording.page["request-none"] in drawn
    assert f"mailto:{guide.shop.email}" in drawn and guide.shop.phone in drawn
    assert "<form" not in drawn


def test_a_request_tapped_before_the_engine_finds_that_nothing_fits_says_so(page: Page) -> None:
    lists = Held(page, "**/engine-*.json")
    page.goto(f"{PATH}#budget=500")
    lists.wait_for(page, 1)
    page.locator("[data-rig-request]").click()
    lists.let_go()
    dialog = page.locator("#rig-request")
    expect(dialog).to_be_visible()
    expect(dialog).to_contain_text("No setup we sell fits")


def test_a_request_without_an_engine_points_at_the_words_for_that(lone_page: Page) -> None:
    lone_page.route("**/engine-worker.js*", lambda route: route.abort())
    lone_page.goto(PATH)
    lone_page.locator("[data-rig-request]").click()
    place = lone_page.locator("[data-rig-engine]")
    expect(place).to_be_focused()
    expect(place).to_be_in_viewport()
    expect(place).not_to_be_empty()


def test_a_page_may_send_a_form_to_the_shops_address_only() -> None:
    assert "form-action 'none'" in policy("", engine=True)
    assert "form-action https://forms.example/a" in policy(
        "", engine=True, form="https://forms.example/a"
    )


def test_an_open_request_is_what_is_printed(asked: Page) -> None:
    asked.emulate_media(media="print")
    expect(asked.locator("#rig-request-title")).to_be_visible()
    expect(asked.locator("#rig-request button")).to_be_hidden()
    expect(asked.locator("main")).to_be_hidden()
