"""The staff page in a real browser: every task of it by keyboard alone."""

import csv
import json
import re

import pytest
from playwright.sync_api import Page, expect

from engine.links import read_link
from engine.model.guide import Guide
from engine.respond import conversation_of
from tests.browser.conftest import NewPage
from tests.browser.held_replies import can_hold, hold, let_go

LETTERS = ("coa", "whole", "2", "15", "yes", "no")
PATH = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
LINK = re.compile(r"https://\S+")
MOST_TABS = 40
CHOOSE, LEAVE, REPLACE = "choose the first line", "Backspace", "Enter"
HAS_OWN = """(wanted) => {
    const own = document.querySelector("[data-own]").dataset.own;
    return own === wanted || own === wanted + "#";
}"""


@pytest.fixture
def staff(new_page: NewPage) -> Page:
    """The staff page with its engine ready."""
    page = new_page(permissions=["clipboard-read", "clipboard-write"])
    can_hold(page)
    page.goto("/staff/")
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    return page


def enter(page: Page, *texts: str) -> None:
    for text in texts:
        page.keyboard.type(text)
        page.keyboard.press("Enter")


def tab_to(page: Page, selector: str) -> None:
    """Press the Tab key until the element has the focus."""
    for _ in range(MOST_TABS):
        if page.evaluate("(s) => document.activeElement.matches(s)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{selector} cannot be reached with the Tab key")


def link_of(page: Page) -> str:
    found = LINK.search(page.locator("#rig-text").input_value())
    assert found is not None
    return found[0]


def has_answer(page: Page) -> None:
    expect(page.locator(".rig-paste")).to_have_attribute("data-status", "recommended")


def test_an_answer_is_entered_and_its_message_copied_by_keyboard_alone(staff: Page) -> None:
    enter(staff, *LETTERS)
    has_answer(staff)
    staff.keyboard.press("Control+Enter")
    expect(staff.locator("#rig-copied")).not_to_be_empty()
    copied = staff.evaluate("navigator.clipboard.readText()")
    assert copied == staff.locator("#rig-text").input_value()
    assert PATH in copied
    presses = sum(len(text) + 1 for text in LETTERS) + 1
    assert presses < 60, "at a key a second it takes longer than a minute"


def test_a_copy_made_right_after_the_last_letter_has_that_letter(staff: Page) -> None:
    enter(staff, *LETTERS)
    has_answer(staff)
    staff.evaluate(
        """() => {
            const note = document.getElementById("rig-note");
            note.value = "Bring the plate";
            note.dispatchEvent(new Event("input", {bubbles: true}));
            document.getElementById("rig-copy").click();
        }"""
    )
    expect(staff.locator("#rig-copied")).not_to_be_empty()
    assert "note=Bring%20the%20plate" in staff.evaluate("navigator.clipboard.readText()")


def test_keys_typed_before_the_engine_is_ready_are_not_lost(page: Page) -> None:
    page.goto("/staff/")
    enter(page, *LETTERS)
    expect(page.locator(".rig-paste")).to_have_attribute("data-status", "recommended")
    assert PATH in link_of(page)


def test_arrow_keys_move_the_mark_and_screen_readers_are_told(staff: Page) -> None:
    field = staff.locator("#rig-typed")
    expect(field).to_be_focused()
    staff.keyboard.press("ArrowDown")
    staff.keyboard.press("ArrowDown")
    expect(field).to_have_attribute("aria-activedescendant", "rig-option-1")
    expect(staff.locator("#rig-option-1")).to_have_attribute("aria-selected", "true")
    staff.keyboard.press("Enter")
    expect(staff.locator(".rig-given dd").first).to_contain_text("30-amp cord")
    expect(field).to_be_focused()


def test_what_is_not_sure_holds_up_what_was_typed_after_it(staff: Page) -> None:
    hold(staff, "message.type === 'result'")
    enter(staff, "coa", "whole", "2", "AC", "I don't know", "no")
    let_go(staff)
    expect(staff.locator("#rig-held")).to_contain_text("I don't know · no")
    expect(staff.locator("#rig-typed")).to_have_value("AC")
    staff.keyboard.press("ArrowDown")
    staff.keyboard.press("Enter")
    has_answer(staff)
    assert PATH.replace("softstart=yes", "softstart=unsure") in link_of(staff)
    expect(staff.locator("#rig-held")).to_be_hidden()


def test_enter_on_nothing_takes_nothing(staff: Page) -> None:
    staff.keyboard.press("Enter")
    enter(staff, "coa")
    expect(staff.locator(".rig-given dt")).to_have_count(1)


def test_backspace_in_the_empty_field_takes_back_the_last_answer(staff: Page) -> None:
    enter(staff, "coa", "whole")
    expect(staff.locator(".rig-given dt")).to_have_count(2)
    staff.keyboard.press("Backspace")
    expect(staff.locator(".rig-given dt")).to_have_count(1)
    assert link_of(staff).partition("#")[0].endswith("/guide/rig=coach-50/")


def test_what_cannot_be_read_stays_in_the_field_with_its_reason(staff: Page) -> None:
    enter(staff, "coa", "cable 15 kg")
    expect(staff.locator("#rig-options .rig-fault")).to_contain_text("got a weight")
    expect(staff.locator("#rig-typed")).to_have_value("cable 15 kg")


VAN_LOADS = "fridge-12v,lights,pump,fan,phones,laptop,router,induction-hob,coffee-maker"
COACH_LOADS = "fridge-residential,lights,pump,tv,router,phones,alarms,coffee-maker"
CALLERS = {
    "rig=rig-30/scope=whole/heavy=1/biggest=aircon-15k/softstart=no/#nights=3&solar=400W": (
        *("30 amp travel trailer", "the whole rig", "just one at a time", "fifteen thousand BTU"),
        *("no soft start", "three nights", "400 watts of solar"),
    ),
    "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/#ambient=95F": (
        *("50 amp coach", "everything", "two ACs", "15,000 BTU", "yes", "no 240"),
        *("fridge", LEAVE, "95 degrees at the unit"),
    ),
    f"rig=van/scope=some/heavy=1/biggest=cooking/#loads={VAN_LOADS}&cable=12ft": (
        *("camper van, no inlet", "a few outlets", "one at a time", "microwave", "coffee"),
        "12 ft of cable",
    ),
    "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=unsure/v240=no/"
    "#have=2x100Ah-agm": (
        *("I don't know", "three straight blades", "whole rig", "two at once", "roof air", CHOOSE),
        *("I don't know", "nothing on 240", "2 100 Ah AGM batteries"),
    ),
    f"rig=coach-50/scope=whole/heavy=0/v240=no/#loads={COACH_LOADS}&month=7": (
        *("tv and coffee", "fifth wheel", "the whole thing", "nothing heavy", "no", "July"),
    ),
    "rig=rig-30/scope=whole/heavy=1/biggest=aircon-13k5/softstart=yes/#bank=48V": (
        *("class C motorhome", "whole rig", "two", "13.5", "they said it has one"),
        *("actually one at a time", REPLACE, "48 volts"),
    ),
}
"""What each of six callers says, in order, and the answers that it comes to."""


def test_six_callers_are_entered_in_their_own_words_and_nothing_changes_silently(
    staff: Page,
) -> None:
    keys = 0
    for wanted, said in CALLERS.items():
        staff.evaluate("location.hash = '#'")
        expect(staff.locator(".rig-given")).to_have_count(0)
        for words in said:
            if words == CHOOSE:
                unsure = staff.locator("#rig-options [data-link]:not([data-sure])")
                expect(unsure.first).to_be_visible()
                expect(staff.locator("#rig-staff")).to_have_attribute("aria-busy", "false")
                keys += press(staff, "ArrowDown", "Enter")
            elif words in (LEAVE, REPLACE):
                expect(staff.locator("#rig-asks [data-at]")).to_have_count(1)
                expect(staff.locator("#rig-staff")).to_have_attribute("aria-busy", "false")
                keys += press(staff, words)
                expect(staff.locator("#rig-asks [data-at]")).to_have_count(0)
            else:
                staff.keyboard.type(words)
                keys += press(staff, "Enter")
        staff.wait_for_function(HAS_OWN, arg=wanted)
    assert keys / len(CALLERS) <= 20


def press(page: Page, *keys: str) -> int:
    for key in keys:
        page.keyboard.press(key)
    return len(keys)


def test_the_entry_outlives_a_reload_and_opens_in_a_page_of_its_own(staff: Page) -> None:
    enter(staff, *LETTERS, "cable 9 ft")
    expect(staff.locator("#rig-text")).to_have_value(re.compile("v240=no/.*cable=9ft"))
    tab_to(staff, "#rig-keep")
    staff.keyboard.press("Enter")
    tab_to(staff, "#rig-note")
    staff.keyboard.type("Bring <b>the plate</b> & call")
    expect(staff.locator("#rig-text")).to_have_value(re.compile("note=Bring%20.*%20call&"))
    tab_to(staff, ".rig-paste a[href^='../guide/']")
    with staff.context.expect_page() as opened:
        staff.keyboard.press("Enter")
    note = opened.value.locator(".rig-note")
    expect(note).to_contain_text("Bring <b>the plate</b> & call")
    expect(note.locator("b")).to_have_count(0)
    opened.value.close()
    staff.reload()
    has_answer(staff)
    expect(staff.locator("#rig-note")).to_have_value("Bring <b>the plate</b> & call")
    expect(staff.locator(".rig-two")).to_be_visible()
    assert "cable=9ft" in link_of(staff)


def test_a_link_put_behind_the_address_is_read_with_its_details(staff: Page) -> None:
    staff.goto(f"/staff/#{PATH}#cable=9ft&note=Call%20me")
    expect(staff.locator("#rig-text")).to_have_value(re.compile("cable=9ft&note=Call%20me"))
    expect(staff.locator("#rig-note")).to_have_value("Call me")


def test_replacing_an_answer_asks_and_a_held_key_agrees_to_nothing(staff: Page) -> None:
    enter(staff, *LETTERS, "one at a time", "cable 9 ft")
    asked = staff.locator("#rig-asks")
    expect(asked).to_contain_text(re.compile(r"\$[\d,]+ → \$[\d,]+"))
    expect(staff.locator("#rig-text")).to_have_value(re.compile("heavy=2/.*cable=9ft"))
    expect(staff.locator("#rig-staff")).to_have_attribute("aria-busy", "false")
    staff.locator("#rig-typed").dispatch_event("keydown", {"key": "Enter", "repeat": True})
    expect(asked.locator("[data-at]")).to_have_count(1)
    staff.keyboard.press("Enter")
    expect(staff.locator("#rig-text")).to_have_value(re.compile("heavy=1/.*cable=9ft"))
    expect(asked.locator("[data-at]")).to_have_count(0)


def test_two_answers_stand_side_by_side_and_one_can_be_dropped(staff: Page) -> None:
    enter(staff, *LETTERS)
    has_answer(staff)
    tab_to(staff, "#rig-keep")
    staff.keyboard.press("Enter")
    expect(staff.locator("#rig-typed")).to_be_focused()
    enter(staff, "cable 25 ft")
    differs = staff.locator(".rig-two tbody").first
    expect(differs).to_contain_text("25ft")
    expect(differs.locator("tr").first.locator("td")).to_have_text(["–", "25ft"])
    tab_to(staff, "#rig-drop")
    staff.keyboard.press("Enter")
    expect(staff.locator(".rig-two")).to_have_count(0)


def test_a_customers_link_is_pasted_and_changed(staff: Page, guide: Guide) -> None:
    enter(staff, f"https://{guide.shop.site}/guide/{PATH}#nights=1", "cable 9 ft")
    expect(staff.locator("#rig-text")).to_have_value(re.compile("cable=9ft"))
    fragment = link_of(staff).partition("#")[2]
    answers = read_link(guide, PATH, fragment)
    assert conversation_of(guide).link(answers) == f"{PATH}#nights=1&cable=9ft"


def test_lines_are_found_and_marked_and_marks_stay_only_on_demand(page: Page) -> None:
    page.goto("/staff/answers/")
    tab_to(page, "#rig-filter")
    page.keyboard.type('coach whole three "v240: yes"')
    visible = page.locator(".rig-all tbody tr:visible")
    assert 0 < visible.count() < page.locator(".rig-all tbody tr").count()
    for text in visible.all_inner_texts():
        assert "coach" in text and "Three" in text and "v240: Yes" in text
    path = visible.first.get_attribute("data-path")
    tab_to(page, f"tr[data-path='{path}'] input")
    page.keyboard.press("Space")
    assert page.evaluate("localStorage.length") == 0
    page.locator("#rig-filter").focus()
    tab_to(page, "#rig-keep-marks")
    page.keyboard.press("Space")
    page.reload()
    expect(page.locator(f"tr[data-path='{path}'] input")).to_be_checked()
    assert page.locator(".rig-all tbody input:checked").count() == 1
    tab_to(page, "#rig-keep-marks")
    page.keyboard.press("Space")
    assert page.evaluate("localStorage.length") == 0


def test_a_mark_of_a_line_that_changed_since_is_not_taken(page: Page) -> None:
    page.goto("/staff/answers/")
    path = page.locator(".rig-all tbody tr").first.get_attribute("data-path") or ""
    old = json.dumps({path: "00000000"})
    page.evaluate("(text) => localStorage.setItem('rig-marks', text)", old)
    page.reload()
    row = page.locator(f"tr[data-path='{path}']")
    expect(row.locator("input")).not_to_be_checked()
    expect(row).to_contain_text("changed since")


def test_visits_are_saved_as_csv_and_wiped(staff: Page) -> None:
    kept = [{"link": PATH, "when": "2026-05-01 10:00", "contact": "=1+1"}]
    staff.evaluate("(text) => localStorage.setItem('rig-visits', text)", json.dumps(kept))
    staff.reload()
    tab_to(staff, "#rig-visits-save")
    with staff.expect_download() as waiting:
        staff.keyboard.press("Enter")
    text = waiting.value.path().read_text(encoding="utf-8-sig")
    (row,) = csv.DictReader(text.splitlines())
    assert row["contact"] == "'=1+1"
    assert PATH in row["link"]
    staff.on("dialog", lambda dialog: dialog.accept())
    tab_to(staff, "#rig-visits-wipe")
    staff.keyboard.press("Enter")
    expect(staff.locator("#rig-visits")).to_be_hidden()
    assert staff.evaluate("localStorage.length") == 0


@pytest.mark.parametrize("address", ["/staff/", "/staff/answers/", "/staff/tree/", "/show/"])
@pytest.mark.parametrize("width", [390, 1280])
def test_no_page_is_wider_than_its_window(new_page: NewPage, address: str, width: int) -> None:
    page = new_page(viewport={"width": width, "height": 844})
    page.goto(address)
    assert page.evaluate("document.documentElement.scrollWidth - window.innerWidth") <= 0


def test_an_estimate_is_saved_as_a_file(staff: Page) -> None:
    enter(staff, *LETTERS)
    has_answer(staff)
    staff.locator(".rig-estimate summary").click()
    with staff.expect_download() as waiting:
        staff.locator(".rig-estimate [data-rig-file]").click()
    rows = list(csv.DictReader(waiting.value.path().read_text("utf-8-sig").splitlines()))
    assert rows[-1]["name"] and any(row["name"] == "total" for row in rows)
