"""A shop edits a price, compares, builds; a link sent before opens with the right notice."""

import shutil
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from engine.conversation import Conversation
from engine.links import read_link
from engine.model.guide import Guide
from guide import cli
from guide import site as builder
from guide.editions import keep
from guide.load import load_guide
from tests.browser.conftest import ENGINE_START_MS
from tests.guide.shops import other_shop

PATH = "guide/rig=tourer/heavy=1/biggest=stove/scope=whole/"
DEARER = ("catalogue/inverters.yaml", "price: 1090 USD", "price: 1990 USD")


@pytest.fixture(scope="module")
def sent(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The content as it was when the link was sent."""
    return other_shop(tmp_path_factory.mktemp("sent") / "content")


@pytest.fixture(scope="module")
def today(sent: Path) -> Path:
    """The content after the price was edited, with the former edition kept."""
    folder = sent.parent / "today"
    shutil.copytree(sent, folder)
    keep(load_guide(sent), folder)
    name, was, became = DEARER
    text = (folder / name).read_text("utf-8")
    assert was in text
    (folder / name).write_text(text.replace(was, became), "utf-8")
    return folder


@pytest.fixture(scope="module")
def old_site(today: Path) -> Iterator[str]:
    """Where today's site is served."""
    out = today.parent / "site"
    builder.build(out, today)
    with builder.make_server(out, 0) as server:
        thread = threading.Thread(target=server.serve_forever, args=(0.05,))
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}"
        server.shutdown()
        thread.join()


def unit(guide: Guide) -> str:
    """What a link to PATH recommends."""
    best = Conversation(guide).outcome(read_link(guide, PATH.removeprefix("guide/"))).best
    assert best is not None
    return best.candidate.inverter.name


def test_the_comparison_says_which_answers_the_price_moves(
    sent: Path, today: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert unit(load_guide(sent)) != unit(load_guide(today))
    assert cli.main(["compare", str(sent), str(today)]) == 0
    said = capsys.readouterr().out
    assert "price: Plover 3000, 24 V: $1,090 → $1,990: moves " in said
    assert unit(load_guide(today)) in said


def test_the_old_link_opens_with_what_became_of_it(
    browser: Browser, old_site: str, sent: Path, today: Path
) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{old_site}/{PATH}#edition={load_guide(sent).edition}")
    told = page.locator("#rig-answer .rig-notice")
    expect(told).to_be_visible(timeout=ENGINE_START_MS)
    expect(told).to_contain_text("made on 2025-11-03, when the answer was")
    expect(told).to_contain_text(unit(load_guide(sent)))
    expect(told).to_contain_text("costs $1,990; it was $1,090")
    expect(page.locator("#rig-answer h1")).to_contain_text(unit(load_guide(today)))
    context.close()


def test_a_link_of_today_opens_without_a_notice(
    browser: Browser, old_site: str, today: Path
) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{old_site}/{PATH}#edition={load_guide(today).edition}")
    expect(page.locator("main")).to_have_attribute("data-state", "ready", timeout=ENGINE_START_MS)
    expect(page.locator("#rig-answer .rig-notice")).to_have_count(0)
    context.close()
