"""Explained pages show figures of what a shop has, and name nothing of the demo by its id."""

import re
from dataclasses import fields, replace
from pathlib import Path

import pytest
from jinja2 import Environment, nodes

from engine.model.guide import Guide
from engine.model.products import Catalogue
from guide.check_pages import DOCS, PICTURES, filled_faults
from site_src.build.examples import Examples, LackingError
from site_src.build.explained import Filler
from site_src.build.page_faults import page_faults
from tests.guide.shops import demo

SOURCES = [
    *sorted(DOCS.glob("explained/*.md")),
    DOCS / "index.md",
    *sorted(PICTURES.glob("*.html")),
]
NAMED_CAUTION = re.compile(r'caution\("([^"]+)"')
GO = re.compile(r"\{\{ go\(")


def constants(source: str) -> set[str]:
    """Every text that a page hands to what fills it."""
    tree = Environment(autoescape=True).parse(source)  # parsed only; nothing is drawn
    return {str(each.value) for each in tree.find_all(nodes.Const)}


@pytest.mark.parametrize("file", SOURCES, ids=lambda file: file.stem)
def test_a_page_names_nothing_of_the_demo_by_its_id(file: Path) -> None:
    guide = demo()
    shelves = [getattr(guide.catalogue, each.name) for each in fields(Catalogue)]
    ids = {each.id for shelf in shelves for each in (*shelf, *guide.discontinued)}
    # an id of one plain word is what people call the thing, too
    ids |= {each.id for each in guide.appliances if "-" in each.id}
    ids -= {each.id for each in guide.cautions}
    given = constants(file.read_text("utf-8"))
    assert not given & ids
    assert not [text for text in given if text.startswith("rig=")]


def test_the_demo_has_every_link_and_every_warning_of_its_pages(guide: Guide) -> None:
    filler, known = Filler(guide), {each.id for each in guide.cautions}
    for file in DOCS.glob("explained/*.md"):
        source = file.read_text("utf-8")
        filled = filler.fill(source, file.relative_to(DOCS).as_posix())
        assert filled.count('class="rig-go"') == len(GO.findall(source)), file.stem
        assert set(NAMED_CAUTION.findall(source)) <= known, file.stem


def test_a_choice_is_the_nearest_of_what_there_is(guide: Guide) -> None:
    pick = Examples(guide)
    units = {each.id: each for each in guide.catalogue.inverters}
    found = units[pick.unit("3000 VA", "12 V")]
    assert (found.output, found.dc_nominal) == ("one-leg", 12.0)
    others = [each for each in units.values() if each.dc_nominal == 12.0]
    assert abs(found.apparent - 3000.0) == min(abs(each.apparent - 3000.0) for each in others)
    assert list(pick.units("3000 VA")) == ["12 V", "24 V", "48 V"]
    only_24 = tuple(each for each in units.values() if each.dc_nominal == 24.0)
    shop = replace(guide, catalogue=replace(guide.catalogue, inverters=only_24))
    assert list(Examples(shop).units("3000 VA")) == ["24 V"]
    assert Examples(shop).unit("3000 VA", "12 V") == Examples(shop).unit("3000 VA", "24 V")


def test_what_a_shop_has_nothing_for_is_told_with_page_figure_and_mend(guide: Guide) -> None:
    trailers = tuple(each for each in guide.rigs if each.service == "30")
    found = page_faults(replace(guide, rigs=trailers))
    told = {fault.file.rpartition("/")[2]: fault for fault in found}
    assert set(told) == {"whole-or-some.md"}
    fault = told["whole-or-some.md"]
    line = (DOCS / "explained" / "whole-or-some.md").read_text("utf-8").splitlines()[fault.line - 1]
    assert fault.what.strip("“”") in line
    assert "service is “50”" in fault.why
    assert "rigs.yaml" in fault.mend


def test_a_shop_without_batteries_is_told_so_and_not_shown_a_traceback(guide: Guide) -> None:
    shop = replace(guide, catalogue=replace(guide.catalogue, batteries=()))
    with pytest.raises(LackingError, match="this shop sells no battery"):
        Examples(shop).battery("12 V", "100 Ah")
    told = {fault.file: fault.why for fault in page_faults(shop)}
    assert told["site_src/docs/explained/fuses.md"] == "this shop sells no battery"


def test_check_asks_what_a_build_would_trip_over(guide: Guide) -> None:
    shop = replace(guide, rigs=guide.rigs[:1])
    assert filled_faults(shop) == page_faults(shop) != []
