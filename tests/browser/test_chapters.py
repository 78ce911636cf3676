"""An answer in chapters: what is read at once, what opens, and the bar while one adjusts."""

import pytest
from playwright.sync_api import Page, expect

from engine.model.guide import Guide
from tests.browser.conftest import NewPage, wait_for_engine
from tests.browser.fields import field_of

COACH = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
PHONE = {"width": 390, "height": 844}
DESK = {"width": 1280, "height": 800}
SCREENS = {"phone": (PHONE, 3.5, 1.4), "desk": (DESK, 2.5, 1.0)}
"""Of the whole closed answer, and of its card."""
MOST_WORDS = 420
MOST_STOPS = 12  # from the heading to the first field, its group's line among them
LONGEST = (
    COACH,
    "/guide/rig=coach-50/scope=some/heavy=3/biggest=heating/v240=no/",
    "/guide/rig=rig-30/scope=whole/heavy=3/biggest=aircon-15k/softstart=yes/",
    "/guide/rig=coach-50/scope=some/heavy=2/biggest=aircon-13k5/softstart=no/v240=no/",
    "/guide/rig=van/scope=some/heavy=2/biggest=cooking/",
)
"""A usual one, and those with most words, lines and stops of the whole tree."""


@pytest.mark.parametrize("path", LONGEST)
@pytest.mark.parametrize("window", SCREENS)
def test_closed_an_answer_is_a_few_screens(new_page: NewPage, path: str, window: str) -> None:
    viewport, screens, card = SCREENS[window]
    page = new_page(viewport=viewport)
    page.goto(path)
    wait_for_engine(page)
    box = page.locator(".rig-plate").bounding_box()
    assert box is not None
    assert box["height"] <= card * viewport["height"]
    height = page.evaluate("() => document.documentElement.scrollHeight")
    assert height <= screens * viewport["height"]
    assert len(page.locator("#rig-answer").inner_text().split()) <= MOST_WORDS


@pytest.mark.parametrize("path", LONGEST)
def test_from_the_heading_to_the_form_are_few_stops(page: Page, path: str) -> None:
    page.goto(path)
    wait_for_engine(page)
    page.locator("h1").focus()
    for _ in range(MOST_STOPS):
        page.keyboard.press("Tab")
        if page.evaluate("() => document.activeElement.closest('#rig-details') !== null"):
            return
    pytest.fail("the form is not reached")


def test_no_chapter_lies_in_another_and_each_has_its_figure(page: Page) -> None:
    page.goto(COACH)
    assert page.locator("#rig-answer details details").count() == 0
    chapters = page.locator(".rig-chapter > details > summary")
    assert chapters.count() >= 12
    for place in range(chapters.count()):
        assert chapters.nth(place).locator(".rig-key").inner_text().strip(), place


def test_the_warnings_that_stop_the_work_stand_in_the_first_look(page: Page, guide: Guide) -> None:
    page.goto(COACH)
    first = [each for each in guide.cautions if each.rank in (1, 2)]
    assert len(first) == 2
    shown = page.locator(".rig-plate .rig-warned")
    for caution in first:
        expect(shown.get_by_text(caution.title)).to_be_visible()
    shown.locator("a").click()
    expect(page.locator("#rig-safety-title")).to_be_focused()
    for caution in first:
        expect(page.locator(f"#rig-caution-{caution.id} .rig-do")).to_be_visible()


def test_a_link_to_a_chapter_opens_it(new_page: NewPage) -> None:
    page = new_page()
    page.goto(f"{COACH}#rig-parts-title")
    wait_for_engine(page)
    expect(page.locator(".rig-parts table")).to_be_visible()
    expect(page.locator(".rig-checks ul")).to_be_hidden()


def test_the_address_names_the_chapter_that_was_opened_last(page: Page) -> None:
    page.goto(COACH)
    wait_for_engine(page)
    for title in ("rig-parts-title", "rig-safety-title"):
        page.locator(f"#{title}").click()
        page.wait_for_function("id => location.hash === `#${id}`", arg=title)
    page.locator("#rig-parts-title").click()
    page.locator("#rig-safety-title").click()
    page.wait_for_function("() => location.hash === ''")
    page.goto(f"{COACH}#cable=15ft")
    page.wait_for_function("() => document.querySelector('main').dataset.state === 'ready'")
    page.locator("#rig-parts-title").click()
    expect(page.locator(".rig-parts table")).to_be_visible()
    assert page.evaluate("location.hash") == "#cable=15ft", "what was answered stays"


def test_without_scripts_chapters_open_by_hand(new_page: NewPage) -> None:
    page = new_page(java_script_enabled=False)
    page.goto(COACH)
    expect(page.locator(".rig-parts table")).to_be_hidden()
    page.locator("#rig-parts-title").click()
    expect(page.locator(".rig-parts table")).to_be_visible()


@pytest.mark.parametrize("height", [844, 256])
def test_the_bar_says_what_a_change_did_and_takes_it_back(new_page: NewPage, height: int) -> None:
    page = new_page(viewport={"width": 320, "height": height})
    page.goto(f"{COACH}#bank=24V")
    wait_for_engine(page)
    page.wait_for_function("() => document.querySelector('main').dataset.state === 'ready'")
    before = page.locator(".rig-bar strong").inner_text()
    field = field_of(page, "cable")
    field.fill("15 ft")
    field.press("Tab")
    did = page.locator("[data-rig-did]")
    expect(did).to_have_text("$220 more; 2 AWG → 1 AWG")
    bar, seen = page.locator(".rig-bar").bounding_box(), page.locator(":focus").bounding_box()
    assert bar is not None
    assert seen is not None
    if height > 480:
        assert bar["height"] <= 0.2 * height + 1
        assert bar["y"] + bar["height"] <= height + 1, "it stays in view"
        assert seen["y"] + seen["height"] <= bar["y"] + 1, "the next field is not behind it"
    page.locator("[data-rig-undo]").click()
    expect(page.locator(".rig-bar strong")).to_have_text(before)
    expect(did).to_have_text("$220 less; 1 AWG → 2 AWG")
    expect(field).to_have_value("")
    expect(page.locator("[data-rig-undo]")).to_be_hidden()
