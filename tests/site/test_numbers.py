"""The numbers of an answer on their own page: nothing is lost, both pages lead to each other."""

import re

import pytest

from engine.links import NUMBERS, read_link
from engine.model.guide import Guide
from engine.respond import Page, respond_to
from site_src.build.numbers import PLACE, parted
from tests.guide.shops import demo

COACH = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-13k5/softstart=no/v240=yes/"
LINK = re.compile(r' href="([^"]*)"')


@pytest.fixture(scope="module")
def guide() -> Guide:
    """The authored guide."""
    return demo()


@pytest.fixture(scope="module")
def page(guide: Guide) -> Page:
    """A full answer."""
    return respond_to(guide, COACH)


def numbers_in(html: str) -> str:
    """What stands where the numbers of an answer belong."""
    return html.partition(f'<div id="{PLACE}">')[2]


def test_what_leaves_the_answer_stands_on_the_page_of_its_numbers(guide: Guide, page: Page) -> None:
    rest, beside = parted(guide, page, page.html)
    assert beside is not None
    words = guide.wording.page
    link = f'<p><a href="{NUMBERS}">{words["numbers-all"]}</a></p>'
    moved = numbers_in(beside.html).partition("</div>\n</section>\n<p")[0]
    again = rest.replace(link, moved).replace(f'href="{NUMBERS}#', 'href="#')
    assert again.replace('href="./#', 'href="#') == page.html
    assert moved.count("rig-workings") > 4
    assert "rig-workings" not in rest


def test_links_between_both_pages_name_the_other_one(guide: Guide, page: Page) -> None:
    rest, beside = parted(guide, page, page.html)
    assert beside is not None
    for html, other, there in ((rest, f"{NUMBERS}#", beside.html), (beside.html, "./#", rest)):
        found = LINK.findall(html)
        crossing = {each.removeprefix(other) for each in found if each.startswith(other)}
        assert len(crossing) > 5
        assert {each for each in crossing if f' id="{each}"' not in there} == set()


def test_a_page_without_numbers_stays_as_it_is(guide: Guide) -> None:
    for path in ("", "rig=unsure/plug=unsure/"):
        page = respond_to(guide, path)
        assert parted(guide, page, page.html) == (page.html, None)


def test_the_address_of_the_numbers_stands_for_their_answer(guide: Guide) -> None:
    assert read_link(guide, COACH + NUMBERS) == read_link(guide, COACH)
