"""The preview that a message shows of a link: title, words and a drawn card."""

import html
import re
from pathlib import Path

import pytest
from PIL import Image

from engine.answer import answer_of
from engine.links import read_link
from engine.model.guide import Guide
from engine.respond import conversation_of, respond_to
from engine.tree import states
from site_src.build.cards import FOLDER, SIZE, card_of, draw

META = re.compile(r'<meta property="og:([a-z:_]+)" content="([^"]*)">')
MOST_CARD_BYTES = 12_000
MOST_CARDS_BYTES = 400_000


@pytest.fixture(scope="module")
def previews(site: Path) -> dict[str, dict[str, str]]:
    """The preview of every page of the guide, by its path."""
    return {
        f"{file.parent.relative_to(site / 'guide').as_posix()}/".removeprefix("./"): {
            name: html.unescape(text) for name, text in META.findall(file.read_text("utf-8"))
        }
        for file in (site / "guide").rglob("index.html")
    }


def test_every_page_has_a_preview_with_a_card_that_is_there(
    guide: Guide, site: Path, previews: dict[str, dict[str, str]]
) -> None:
    assert set(previews) == set(states(conversation_of(guide)))
    for path, found in previews.items():
        assert {"title", "description", "image", "image:alt"} <= set(found), path
        assert all(found.values()), path
        start = f"https://{guide.shop.site}/{FOLDER}/"
        assert found["image"].startswith(start)
        assert (site / FOLDER / found["image"].removeprefix(start)).is_file()


def test_a_preview_says_the_recommendation(
    guide: Guide, previews: dict[str, dict[str, str]]
) -> None:
    recommended, conversation = 0, conversation_of(guide)
    for path in states(conversation)[::7]:
        advice = answer_of(conversation, read_link(guide, path), changes=False).advice
        if advice is None or advice.best.design is None:
            continue
        recommended += 1
        candidate, bank = advice.best.candidate, advice.best.design.bank
        found = previews[path]
        unit = f"{candidate.units} × {candidate.inverter.maker} {candidate.inverter.name}"
        assert unit in found["title"]
        assert unit in found["image:alt"]
        assert guide.layout_words(candidate.layout).name in found["image:alt"]
        assert f"{bank.count} × {bank.battery.maker} {bank.battery.name}" in found["description"]
    assert recommended > 10


def test_cards_are_few_small_pictures_of_one_size(site: Path) -> None:
    files = sorted((site / FOLDER).iterdir())
    assert 20 < len(files) < 80
    assert sum(file.stat().st_size for file in files) <= MOST_CARDS_BYTES
    for file in files:
        with Image.open(file) as picture:
            assert (picture.format, picture.size) == ("PNG", SIZE)
        assert file.stat().st_size <= MOST_CARD_BYTES


def test_equal_recommendations_share_a_card_and_others_look_different(guide: Guide) -> None:
    paths = (
        "rig=van/scope=whole/heavy=0/",
        "rig=van/scope=some/heavy=0/",
        "rig=rig-30/scope=some/heavy=0/",
        "",
    )
    cards = [card_of(guide, respond_to(guide, path)) for path in paths]
    assert cards[1].name == cards[2].name
    assert len({draw(card).tobytes() for card in cards}) == 3
    assert draw(cards[0]).tobytes() == draw(cards[0]).tobytes()


def test_the_page_for_unknown_addresses_needs_no_place_of_its_own(site: Path, guide: Guide) -> None:
    page = (site / "404.html").read_text("utf-8")
    assert guide.wording.page["lost"] in html.unescape(page)
    for address in re.findall(r'(?:href|src)="([^"#]+)', page):
        assert address == "/" or address.startswith("./"), address  # from the root, the base
