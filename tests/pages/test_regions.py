"""The borders by which a page renews only the parts of an answer that differ."""

import re
from html.parser import HTMLParser
from itertools import product

import pytest

from engine.links import read_link
from engine.model.guide import Guide
from engine.pages.render import BORDERS
from engine.respond import Page, respond

PAIR = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
OPEN = "rig=rig-30/scope=some/heavy=unsure/biggest=unsure/softstart=unsure/"
PATHS = (PAIR, OPEN, "rig=van/scope=whole/heavy=0/")
DETAILS = (
    "",
    "cable=9ft",
    "cable=fifteen",
    "payload=400lb",
    "chemistry=agm&nights=2",
    "solar=400W&alt=180A&gen=2200W&have=2x100Ah-12V-lifepo4-3y",
    "note=a--<!--end-->--b",
)
VOID = {"br", "circle", "ellipse", "hr", "img", "input", "line", "path", "polygon", "rect", "wbr"}


class Balance(HTMLParser):
    """Follows how deep a text goes into elements, and what stands outside of them."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.depth = 0
        self.outside = ""
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, _attrs: object) -> None:
        self.depth += tag not in VOID

    def handle_startendtag(self, tag: str, _attrs: object) -> None:
        pass

    def handle_endtag(self, tag: str) -> None:
        self.depth -= tag not in VOID
        assert self.depth >= 0, "an element ends in a part in which it did not begin"

    def handle_data(self, data: str) -> None:
        if not self.depth:
            self.outside += data


def page_of(guide: Guide, path: str, fragment: str, whole: bool = True) -> Page:
    return respond(guide, read_link(guide, path, fragment), changes=whole, takeaway=whole)


def texts_of(page: Page) -> list[str]:
    return re.split("|".join(map(re.escape, BORDERS)), page.bordered)


@pytest.mark.parametrize(("path", "fragment"), list(product(PATHS, DETAILS)))
def test_each_part_is_whole_elements_between_two_marks(
    guide: Guide, path: str, fragment: str
) -> None:
    page = page_of(guide, path, fragment)
    borders = re.findall("|".join(map(re.escape, BORDERS)), page.bordered)
    assert borders == list(BORDERS) * (len(borders) // 2), "borders come in pairs and never nest"
    assert borders
    for part in texts_of(page)[1::2]:
        found = Balance(part)
        assert (found.depth, found.outside.strip()) == (0, ""), part


@pytest.mark.parametrize("fragment", DETAILS)
def test_what_is_shown_has_no_mark(guide: Guide, fragment: str) -> None:
    page = page_of(guide, PAIR, fragment)
    assert re.sub("<!--[^>]*-->", "", page.bordered) == page.html
    assert "<!--" not in page.html


def test_the_first_reply_and_the_whole_one_differ_in_parts_only(guide: Guide) -> None:
    quick, whole = (texts_of(page_of(guide, PAIR, "", whole)) for whole in (False, True))
    assert quick[::2] == whole[::2]
    assert quick[1::2] != whole[1::2]


@pytest.mark.parametrize(
    ("fragment", "most"),
    [
        ("lat=30", 0.06),
        ("altitude=5000ft", 0.1),
        ("cable=9ft", 0.52),
        ("bank=12V", 0.2),
        ("have=200Ah", 0.6),
    ],
)
def test_a_detail_that_matters_little_changes_little(
    guide: Guide, fragment: str, most: float
) -> None:
    before, after = (texts_of(page_of(guide, PAIR, each, whole=False)) for each in ("", fragment))
    assert before[::2] == after[::2], "around the parts nothing changes"
    changed = sum(len(new) for old, new in zip(before, after, strict=True) if old != new)
    assert 0 < changed < most * sum(map(len, after))
