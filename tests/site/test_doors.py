"""The first page has six doors, and every page has one header."""

import re
from dataclasses import replace
from pathlib import Path

from engine.model.guide import Guide
from guide.check_pages import DOCS, INDEX
from site_src.build.explained import Filler

DOOR = re.compile(r'<a class="rig-choice" href="([^"]+)"')
HEADER = re.compile(r"<header.*?</header>", re.DOTALL)
ANSWER = "guide/rig=van/scope=whole/heavy=0/index.html"


def main_of(page: str) -> str:
    return page.partition("<article")[2].partition("</article>")[0]


def test_the_first_page_has_six_doors_each_to_a_page_that_is_there(
    site: Path, guide: Guide
) -> None:
    page = main_of((site / "index.html").read_text("utf-8"))
    doors = DOOR.findall(page)
    assert len(doors) == len(set(doors)) == 6
    assert doors[0] == "guide/index.html"
    assert "staff/index.html" in doors
    assert all((site / door).is_file() for door in doors)
    links = [each for each in re.findall(r'<a [^>]*href="([^"]+)"', page) if each[0] != "#"]
    assert links == doors
    assert guide.question("rig").ask in page


def test_a_door_to_a_page_that_a_shop_does_not_show_is_left_out(guide: Guide) -> None:
    kept = tuple(each for each in guide.explanations if each.id != "measuring")
    filler = Filler(replace(guide, explanations=kept))
    doors = DOOR.findall(filler.fill((DOCS / INDEX).read_text("utf-8"), INDEX))
    assert len(doors) == 5
    assert "explained/measuring.html" not in doors


def test_name_links_colors_and_search_stand_in_the_header_of_every_page(site: Path) -> None:
    for name in ("index.html", "explained/cable.html", "guide/index.html", ANSWER):
        text = (site / name).read_text("utf-8")
        [header] = [each for each in HEADER.findall(text) if "rig-home" in each]
        places = [header.index(each) for each in ("rig-home", "rig-site", "palette", "earch")]
        assert places == sorted(places), name
        assert ">Learn</a>" in header
