"""A shop edits a price, compares, builds; a link sent before opens with the right notice."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from engine.conversation import Conversation
from engine.links import read_link
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.tree import follow
from guide import cli
from guide.load import load_guide
from tests.browser.serving import served
from tests.conftest import OtherSite
from tests.guide.shops import SENT_ON

PATH = "guide/rig=tourer/heavy=1/biggest=stove/scope=whole/"


@pytest.fixture(scope="module")
def sent(other_shop_site: OtherSite) -> Path:
    """The content as it was when the link was sent."""
    return other_shop_site.sent


@pytest.fixture(scope="module")
def today(other_shop_site: OtherSite) -> Path:
    """The content after the price was edited, with the former edition kept."""
    return other_shop_site.today


@pytest.fixture(scope="module")
def old_site(other_shop_site: OtherSite) -> Iterator[str]:
    """Where today's site is served."""
    with served(other_shop_site.site) as address:
        yield address


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
    assert "price: Plover 3400, 24 V: CA$1,090 → CA$1,990: moves " in said
    assert unit(load_guide(today)) in said


def test_the_old_link_opens_with_what_became_of_it(
    page: Page, old_site: str, sent: Path, today: Path, requests: list[str]
) -> None:
    page.goto(f"{old_site}/{PATH}#edition={load_guide(sent).edition}")
    told = page.locator("#rig-answer .rig-notice")
    expect(told).to_be_visible()
    expect(told).to_contain_text(f"from our edition of {SENT_ON}. With the same answers it was")
    expect(told).to_contain_text(unit(load_guide(sent)))
    expect(told).to_contain_text("costs CA$1,990; it was CA$1,090")
    expect(page.locator("#rig-answer .rig-layout")).to_contain_text(unit(load_guide(today)))
    leave_out(requests, old_site)


def test_a_link_of_today_opens_without_a_notice(
    page: Page, old_site: str, today: Path, requests: list[str]
) -> None:
    page.goto(f"{old_site}/{PATH}#edition={load_guide(today).edition}")
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    expect(page.locator("#rig-answer .rig-notice")).to_have_count(0)
    leave_out(requests, old_site)


def test_the_second_shop_is_walked_from_its_first_page_to_an_answer_and_an_explanation(
    page: Page, old_site: str, today: Path, requests: list[str]
) -> None:
    conversation, answers = Conversation(load_guide(today)), Answers({})
    page.goto(f"{old_site}/index.html")
    page.locator("a.rig-choice[href='guide/index.html']").click()
    while (question := conversation.next_question(answers)) is not None:
        expect(page.locator("main h1")).to_have_text(question.ask)
        page.locator("main .rig-choices a.rig-choice").first.click()
        answers = follow(conversation, answers, question, question.choices[0].id)
    expect(page).to_have_url(f"{old_site}/guide/{conversation.place(answers)[0]}")
    expect(page.locator("#rig-answer")).to_contain_text("CA$")
    page.goto(f"{old_site}/explained/heavy-loads.html")
    expect(page.locator("article")).to_contain_text("Roof cooler")
    expect(page.locator("[data-rig-piece=start]")).to_be_visible()
    leave_out(requests, old_site)


def leave_out(requests: list[str], address: str) -> None:
    """Requests to today's site stay with the site that is watched."""
    requests[:] = [url for url in requests if not url.startswith(f"{address}/")]
