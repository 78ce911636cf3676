"""The wiring diagram in a browser: moved sideways on a phone; its links by keyboard."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import NewPage

COACH = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-13k5/softstart=no/v240=yes/"
DRAWING = "#rig-svg-diagram"
IN_SIGHT = """each => { const box = each.getBoundingClientRect();
    return box.height > 0 && box.top >= 0 && box.bottom <= innerHeight; }"""


def open_diagram(page: Page) -> None:
    """Open the answer, and the diagram's chapter in it."""
    page.goto(COACH)
    page.locator("#rig-diagram-title").click()


def test_on_a_phone_it_moves_sideways_and_is_whole_where_there_is_room(page: Page) -> None:
    page.set_viewport_size({"width": 360, "height": 800})
    open_diagram(page)
    for width, moves in ((360, True), (1280, False)):
        page.set_viewport_size({"width": width, "height": 800})
        sides, around = (
            page.locator(each).bounding_box() for each in (DRAWING, f".rig-scroll:has({DRAWING})")
        )
        assert sides is not None
        assert around is not None
        assert around["x"] + around["width"] <= width
        assert (sides["width"] > around["width"] + 1) == moves
        assert sides["width"] >= 800, "its letters stay as large as the page's"
        expect(page.locator(".rig-sideways")).to_be_visible(visible=moves)
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_on_paper_it_is_wide_on_one_sheet_whatever_the_screen(page: Page) -> None:
    page.set_viewport_size({"width": 360, "height": 800})
    open_diagram(page)
    page.emulate_media(media="print")
    page.set_viewport_size({"width": 680, "height": 900})
    sides = page.locator(DRAWING).bounding_box()
    assert sides is not None
    assert 0.9 * 680 <= sides["width"] <= 680
    assert sides["height"] <= 0.9 * 267 / 25.4 * 96, (
        "a Letter sheet less its margins, and a heading"
    )


@pytest.mark.parametrize(
    "target",
    ["rig-part-fuse", "rig-number-fuse.main.fuse_minimum_a", "rig-caution-fuse-at-battery"],
)
@pytest.mark.parametrize("scripts", [True, False])
def test_a_symbol_leads_by_keyboard_to_part_number_and_caution(
    new_page: NewPage, scripts: bool, target: str
) -> None:
    # A smooth scroll to the link would still be on its way.
    page = new_page(
        java_script_enabled=scripts,
        viewport={"width": 1280, "height": 800},
        reduced_motion="reduce",
    )
    open_diagram(page)
    link = page.locator(f'{DRAWING} a[href$="#{target}"]').first
    link.focus()
    page.keyboard.press("Enter")
    place = page.locator(f'[id="{target}"]')
    expect(place).to_be_in_viewport()
    if scripts:
        expect(place).to_be_focused()
        assert place.evaluate(IN_SIGHT)


def test_its_links_are_where_a_finger_meets_them(page: Page) -> None:
    page.set_viewport_size({"width": 390, "height": 844})
    open_diagram(page)
    for name in ("2 × Fuse 125 A", "Number: 2 × Fuse 125 A", "Safety warning: 2 × Fuse 125 A"):
        link = page.locator(DRAWING).get_by_role("link", name=name, exact=True)
        target = (link.get_attribute("href") or "").partition("#")[2]
        link.locator("text").first.click()
        expect(page.locator(f'[id="{target}"]')).to_be_in_viewport()


def test_every_link_of_it_is_reached_by_the_tab_key_and_named(page: Page) -> None:
    page.set_viewport_size({"width": 1280, "height": 800})
    open_diagram(page)
    links = page.locator(f"{DRAWING} a")
    count = links.count()
    assert count > 40
    links.first.focus()
    seen = []
    for _ in range(count):
        href = page.evaluate("document.activeElement.getAttribute('href')")
        seen.append(href)
        page.keyboard.press("Tab")
    assert seen == [link.get_attribute("href") for link in links.all()]
    for name in ("2 × Fuse 125 A", "Number: 2 × Fuse 125 A", "Safety warning: 2 × Fuse 125 A"):
        expect(page.locator(DRAWING).get_by_role("link", name=name, exact=True)).to_have_count(1)
