"""Every page's figures, worked out again and held against the built page; and they are live."""

import html
import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import markdown
import pytest

from engine.model.guide import Guide
from guide.check_pages import DOCS, FIGURE, NAMES, pages_of
from site_src.build.explained import Filler
from tests.guide.shops import demo
from tests.site.conftest import words_of

ARTICLE = re.compile(r"<article.*?</article>", re.DOTALL)
# Their text names voltages of services, and no figure beside.
WITHOUT_FIGURES = {
    "index.md",
    "explained/index.md",
    "explained/measuring.md",
    "explained/glossary.md",
    "explained/demo-data.md",
    "explained/measuring-sheet.md",
}
PAGES = [file.relative_to(DOCS).as_posix() for file in pages_of(demo())]


def figures_of(page: str) -> list[str]:
    """Every number with a unit in a page's text, in order."""
    return FIGURE.findall(words_of(page.replace("<", " <")))


@cache
def shops() -> dict[str, Filler]:
    """What fills the pages of the demo, and those of a shop that plans otherwise."""
    return {"demo": Filler(demo()), "other": Filler(other(demo()))}


def filled(shop: str, name: str) -> str:
    """A page drawn anew from the engine, as HTML."""
    source = (DOCS / name).read_text(encoding="utf-8")
    body = re.sub(r"\A---.*?^---\n", "", source, flags=re.DOTALL | re.MULTILINE)
    drawn: str = markdown.markdown(
        shops()[shop].fill(body, name), extensions=["tables", "attr_list", "def_list", "md_in_html"]
    )
    return drawn


@pytest.mark.parametrize("name", PAGES)
def test_the_built_page_shows_the_figures_that_the_engine_gives_now(site: Path, name: str) -> None:
    built = (site / name).with_suffix(".html").read_text(encoding="utf-8")
    article = ARTICLE.search(built)
    assert article, name
    found, wanted = figures_of(article[0]), figures_of(filled("demo", name))
    assert found == wanted
    figures = [each for each in found if not NAMES.search(each)]
    assert bool(figures) != (name in WITHOUT_FIGURES)


def other(guide: Guide) -> Guide:
    """A shop that plans otherwise, with other units, batteries and appliances."""
    catalogue = replace(
        guide.catalogue,
        inverters=tuple(
            replace(
                each,
                idle=each.idle * 1.7,
                mass=each.mass * 1.1,
                charge_current=each.charge_current * 0.7,
                price=each.price * 1.3,
            )
            for each in guide.catalogue.inverters
        ),
        batteries=tuple(
            replace(
                each,
                usable=each.usable * 0.9,
                mass=each.mass * 1.1,
                capacity=each.capacity * 1.2,
                short_circuit=each.short_circuit * 1.3,
                price=each.price * 1.3,
            )
            for each in guide.catalogue.batteries
        ),
    )
    planning = replace(
        guide.planning, drop_limit=0.025, fuse_factor=1.4, vehicle_load=30.0, allowed_rise_k=8.0
    )
    appliances = tuple(
        replace(each, running=each.running * 1.03, hours=each.hours * 0.9)
        for each in guide.appliances
    )
    return replace(guide, catalogue=catalogue, planning=planning, appliances=appliances)


OF_THE_SHOP = (
    "services",
    "whole-or-some",
    "one-or-two-units",
    "sub-panel",
    "heavy-loads",
    "air-conditioner",
    "watts-va-btu",
    "battery-size",
    "lithium-or-lead",
    "battery-voltage",
    "cable",
    "fuses",
    "mounting",
    "shore-and-generator",
    "alternator",
    "solar",
)


@pytest.mark.parametrize("name", OF_THE_SHOP)
def test_a_shop_that_plans_otherwise_gets_other_figures(name: str) -> None:
    file = f"explained/{name}.md"
    assert figures_of(filled("other", file)) != figures_of(filled("demo", file))


def test_figures_are_found_in_text_and_in_tables() -> None:
    page = "<p>It draws 1,480&nbsp;W.</p><td>8,496 VA</td>"
    assert figures_of(html.unescape(page).replace("\xa0", " ")) == ["1,480 W", "8,496 VA"]
