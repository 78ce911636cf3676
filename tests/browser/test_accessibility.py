"""WCAG 2.2 AA on every kind of page: axe in dark on a desk, light on a phone, at 400 % zoom."""

from http import HTTPStatus
from itertools import pairwise
from pathlib import Path

import pytest
from playwright.sync_api import Page, ViewportSize

from engine.links import NUMBERS
from tests.browser import axe
from tests.browser.conftest import Host, NewPage
from tests.browser.kinds import ANSWER, KINDS, Kind
from tests.browser.serving import Lasting

PHONE: ViewportSize = {"width": 390, "height": 844}
DESK: ViewportSize = {"width": 1280, "height": 800}
ENLARGED: ViewportSize = {"width": 320, "height": 256}
"""A window of 1280 × 1024 at 400 %: WCAG 2.2, 1.4.10."""

SMALL = """(least) => [...document.querySelectorAll(
    "a[href], button, summary, select, textarea, input, label.rig-card, [role=option]")]
    .filter((each) => each.checkVisibility({visibilityProperty: true})
        && !each.closest(".md-header, .md-sidebar, .md-search")  // the theme's; axe looks at them
        && getComputedStyle(each).display !== "inline"  // in a sentence: excepted by 2.5.8
        && !(each.matches("input") && each.closest("label")))
    .map((each) => [each.outerHTML.slice(0, 90), each.getBoundingClientRect()])
    .filter(([, box]) => box.width < least || box.height < least)
    .map(([text, box]) => `${text} ${box.width} × ${box.height}`)"""
WIDER = """() => [...document.body.querySelectorAll("*")]
    .filter((each) => each.checkVisibility({visibilityProperty: true})
        && each.getBoundingClientRect().right > innerWidth + 1
        && getComputedStyle(each).position !== "fixed"
        && !each.closest(".rig-scroll, .md-sidebar, .md-search, .highlight, svg"))
    .map((each) => each.outerHTML.slice(0, 90))"""
OUTLINE = """() => [...document.querySelectorAll("h1, h2, h3, h4, h5, h6")]
    .filter((each) => each.checkVisibility())
    .map((each) => [Number(each.tagName[1]), each.innerText.replace("¶", "").trim()])"""
MOVING = """() => [...document.querySelectorAll("*")].flatMap((each) =>
    ["", "::before", "::after"].map((part) => {
        const style = getComputedStyle(each, part);
        const longest = Math.max(...[style.transitionDuration, style.animationDuration]
            .flatMap((text) => text.split(",")).map((text) => parseFloat(text)));
        return longest > 0.01 || style.scrollBehavior === "smooth"
            ? `${each.tagName} ${each.className} ${part}` : "";
    })).filter(Boolean)"""
# Of a long table a few rows stand for all, of a module a few functions: they are drawn alike, and
# axe takes long over each.
SHORTEN = """() => document.querySelectorAll(
    "tbody tr:nth-child(n+13), .doc-children > .doc-object:nth-child(n+3)")
    .forEach((each) => each.remove())"""
LEAST_TARGET, LEAST_SHOWN = 24, 44  # CSS pixels: WCAG 2.2, 2.5.8 and, for show mode, 2.5.5


def opened(new_page: NewPage, kind: Kind, **options: object) -> Page:
    """The page of a kind, without what stands there many times."""
    page = new_page(**options)
    kind.open(page)
    page.evaluate(SHORTEN)
    return page


LOOKED_AT = (
    *(kind for kind in KINDS if kind.name != "answer with details"),
    Kind("numbers beside an answer", f"/{ANSWER}{NUMBERS}"),
)
"""The form with a wrong entry shows the same page as one with details, and more."""


# As a click on the button for it does: pages take the browser's wish only while they load.
MAKE_LIGHT = """() => document.querySelectorAll("[data-md-color-scheme]")
    .forEach((each) => { each.dataset.mdColorScheme = "default"; })"""
PAPER = "() => getComputedStyle(document.body).getPropertyValue('--rig-paper')"


@pytest.mark.parametrize("kind", LOOKED_AT, ids=lambda kind: kind.name)
def test_axe_finds_nothing_and_nothing_is_cut_off_or_too_small(
    new_page: NewPage, kind: Kind
) -> None:
    page = opened(new_page, kind, color_scheme="dark", viewport=DESK, reduced_motion="reduce")
    found: dict[str, list[str]] = {"desk, dark": axe.faults(page)}
    page.set_viewport_size(PHONE)
    dark = page.evaluate(PAPER)
    page.emulate_media(color_scheme="light", reduced_motion="reduce")
    page.evaluate(MAKE_LIGHT)
    assert page.evaluate(PAPER) != dark
    found["phone, light"] = axe.faults(page)
    least = LEAST_SHOWN if kind.name.startswith("show") else LEAST_TARGET
    found["small targets"] = page.evaluate(SMALL, least)
    page.set_viewport_size(ENLARGED)
    found["400 %"] = axe.faults(page, colours=False)
    assert page.evaluate("() => document.documentElement.scrollWidth") <= ENLARGED["width"]
    found["cut off"] = page.evaluate(WIDER)
    check_outline(page)
    assert {where: faults for where, faults in found.items() if faults} == {}


def check_outline(page: Page) -> None:
    """One first heading, no level left out, no two headings alike: they say where one is."""
    outline = page.evaluate(OUTLINE)
    levels = [level for level, _ in outline]
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))
    texts = [text for _, text in outline]
    assert all(texts)
    assert len(texts) == len(set(texts)), texts


@pytest.mark.parametrize("kind", KINDS[:5] + KINDS[-5:], ids=lambda kind: kind.name)
def test_nothing_moves_for_those_who_asked_for_that(new_page: NewPage, kind: Kind) -> None:
    page = opened(new_page, kind, reduced_motion="reduce")
    assert page.evaluate(MOVING) == []


class Unsearched(Lasting):
    """Has no search, which is large and of no use here; a page that routes would keep no script."""

    def do_GET(self) -> None:  # noqa: N802 - its base's name
        """Send what is asked for."""
        if self.path.endswith("/search_index.json"):
            self.send_error(HTTPStatus.NOT_FOUND)
        else:
            super().do_GET()


MODULES = ("conversation", "standards")
"""Two pages of the reference stand for all: they are made alike from docstrings, and large."""
# What stands around every page of the theme; kinds of page above are looked at with it.
FRAME = (".md-header", ".md-sidebar", ".md-footer", ".md-search")
PLAIN = "decisions"
"""A folder of pages of plain text: they are looked at in one piece, without colours."""
GATHER = """async (addresses) => {
    const place = document.querySelector("article");
    for (const address of addresses) {
        const text = await (await fetch(address)).text();
        const other = new DOMParser().parseFromString(text, "text/html");
        place.append(...other.querySelector("article").childNodes);
    }
    return place.querySelectorAll("h1").length;
}"""


@pytest.mark.parametrize("room", ["explained", "owner", "project"])
def test_axe_finds_nothing_on_any_page_of_the_theme(
    new_page: NewPage, site: Path, host: Host, room: str
) -> None:
    files = [
        file
        for file in sorted((site / room).rglob("*.html"))
        if file.parent.name != "api" or file.stem in MODULES
    ]
    assert len(files) > 5
    page = new_page(color_scheme="dark", viewport=DESK, reduced_motion="reduce")
    found = {}
    addresses = [f"/{file.relative_to(site).as_posix()}" for file in files]
    plain = [each for each in addresses if f"/{PLAIN}/" in each]
    with host(site, handler=Unsearched) as at:
        for address in [each for each in addresses if each not in plain[1:]]:
            page.goto(at + address)
            page.evaluate(SHORTEN)
            if address in plain:
                assert page.evaluate(GATHER, plain[1:]) == len(plain)
            found[address] = axe.faults(page, colours=address not in plain, without=FRAME)
    assert {name: faults for name, faults in found.items() if faults} == {}
