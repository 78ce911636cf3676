"""Each symbol of the wiring diagram leads to its part, its number and its caution on the page."""

import re
import xml.etree.ElementTree as ET

import pytest

from engine.advice.explain import STEPS
from engine.model.guide import Guide
from engine.pages.drawings.diagram import diagram_of
from engine.pages.drawings.diagram_links import LEADS, POINTED, part_id
from tests.pages.conftest import Case

SVG = "{http://www.w3.org/2000/svg}"
DRAWING = re.compile(r'<svg[^>]* id="rig-svg-diagram".*?</svg>', re.DOTALL)
OF_THE_RIG = {"shore", "main-panel", "panel"}
"""What is there already, and stands in the parts list only where it is not."""


@pytest.fixture(scope="module")
def pages(cases: tuple[Case, ...]) -> list[tuple[Case, str]]:
    """Some pages of the tree, and all with details."""
    some = (*cases[::8], *(each for each in cases if not each.link.endswith("#")))
    return [(each, each.page.html) for each in some]


def drawing_of(page: str) -> ET.Element:
    """The diagram of a page."""
    (found,) = DRAWING.findall(page)
    return ET.fromstring(found)


def test_every_link_leads_to_one_place_on_its_page(pages: list[tuple[Case, str]]) -> None:
    for case, page in pages:
        ids = re.findall(r' id="([^"]+)"', page)
        assert len(ids) == len(set(ids)), case.link
        drawing = drawing_of(page)
        targets = {link.get("href", "") for link in drawing.iter(f"{SVG}a")}
        assert targets
        assert targets <= {f"#{each}" for each in ids}, case.link


def test_each_label_leads_to_part_number_and_caution(pages: list[tuple[Case, str]]) -> None:
    seen = set()
    for case, page in pages:
        bought = {part_id(line.group) for line in case.design.parts}
        drawing = drawing_of(page)
        for group in drawing.iter(f"{SVG}g"):
            label = group.get("data-part")
            if not label:
                continue
            seen.add(label)
            targets = [link.get("href", "#")[1:] for link in group.iter(f"{SVG}a")]
            for kind in ("number", "caution"):
                where = [each for each in targets if each.startswith(f"rig-{kind}-")]
                assert len(where) == 1, (case.link, label, kind)
            parts = {each for each in targets if each.startswith("rig-part-")}
            assert parts or label in OF_THE_RIG, (case.link, label)
            assert (part_id(label) in parts) == (part_id(label) in bought), (case.link, label)
    assert seen >= set(LEADS) - {"breaker-main", "breaker-joint"}


def test_each_symbol_is_within_the_link_of_its_part(pages: list[tuple[Case, str]]) -> None:
    for case, page in pages:
        drawing = drawing_of(page)
        placed = list(drawing.iter(f"{SVG}use"))
        linked = [use for link in drawing.iter(f"{SVG}a") for use in link.iter(f"{SVG}use")]
        free = {use.get("href", "").partition("diagram-")[2] for use in placed if use not in linked}
        assert free <= {"source", "inlet", "ground"}, case.link


def test_every_link_has_a_name_of_its_own(pages: list[tuple[Case, str]]) -> None:
    for case, page in pages:
        drawing = drawing_of(page)
        names: dict[str, str] = {}
        for link in drawing.iter(f"{SVG}a"):
            name = link.get("aria-label") or " ".join(
                text.text or "" for text in link.iter(f"{SVG}text")
            )
            assert name.strip(), (case.link, link.get("href"))
            target = link.get("href", "")
            assert names.setdefault(name, target) == target, (case.link, name)


def test_a_drawing_by_itself_has_no_links(guide: Guide, cases: tuple[Case, ...]) -> None:
    picture = diagram_of(guide, cases[0].needs, cases[0].design)
    assert "<a " not in picture.svg


def test_no_number_is_pointed_at_that_nobody_has(guide: Guide) -> None:
    """A step or row that was renamed would silently lose its link."""
    rows = guide.wording.numbers
    for each in POINTED:
        assert each in STEPS or rows.pattern(each), each
