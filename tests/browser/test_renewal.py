"""A reply renews what differs, leaves the rest in place, and ends up as a fresh page would."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import (
    NewPage,
    wait_for_engine,
    wait_for_idle,
    wait_for_rehearsal,
)
from tests.browser.fields import field_of

ANSWER = "/guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
STEPS = (
    "cable=9ft",
    "cable=nine",
    "chemistry=agm&nights=2",
    "payload=400lb",
    "have=2x100Ah-12V-lifepo4-3y&solar=400W",
    "tools=crimper&alt=180A",
)

# What a reader has: texts and fields, without what only the script and the reader's hands put in.
AS_READ = """() => {
    const copy = document.getElementById("rig-answer").cloneNode(true);
    const walker = document.createTreeWalker(copy, NodeFilter.SHOW_COMMENT);
    const marks = [];
    while (walker.nextNode()) marks.push(walker.currentNode);
    for (const mark of marks) mark.remove();
    for (const part of copy.querySelectorAll("[data-rig-keep]")) part.remove();
    for (const part of copy.querySelectorAll("details[open]")) part.open = false;
    const fields = document.querySelectorAll("#rig-details [name]");
    const typed = [...fields].map((field) => [field.name, field.checked, field.value]);
    for (const element of [copy, ...copy.querySelectorAll("*")]) {
        const names = element.getAttributeNames().sort();
        const values = names.map((name) => element.getAttribute(name));
        for (const name of names) element.removeAttribute(name);
        names.forEach((name, at) => element.setAttribute(name, values[at]));
    }
    const html = copy.outerHTML.replace(/>\\s+</g, "><");
    return {html, typed, title: document.title, address: location.href};
}"""

COUNT_CALLS = """
window.__sent = [];
window.__results = 0;
const heard = new WeakSet();
const post = Worker.prototype.postMessage;
Worker.prototype.postMessage = function (message) {
    window.__sent.push([message.type, message.kind ?? ""]);
    if (!heard.has(this)) {
        heard.add(this);
        this.addEventListener("message", ({data}) => {
            window.__results += data.type === "result";
        });
    }
    return post.call(this, message);
};
"""


@pytest.fixture
def page(new_page: NewPage) -> Page:
    """A page whose engine rehearses."""
    return new_page(rehearses=True)


def ask(page: Page, fragment: str) -> None:
    page.evaluate("(fragment) => window.__rig.ask(fragment, null)", fragment)


def test_a_page_changed_step_by_step_is_the_page_opened_anew(new_page: NewPage) -> None:
    page, other = new_page(), new_page()
    page.goto(ANSWER)
    wait_for_engine(page)
    for fragment in STEPS:
        ask(page, fragment)
    for last in ("", STEPS[1], STEPS[4]):  # each is opened anew, which takes a start
        ask(page, last)
        other.goto("about:blank")
        other.goto(f"{ANSWER}#{last}")
        wait_for_engine(other)
        ask(other, last)
        assert page.evaluate(AS_READ) == other.evaluate(AS_READ), last


def test_what_a_detail_leaves_as_it_is_stays_in_place(page: Page) -> None:
    page.goto(ANSWER)
    wait_for_engine(page)
    ask(page, "lat=41")
    page.evaluate(
        """() => document.querySelectorAll("#rig-answer :is(svg, dl, details)").forEach(
            (element) => { element.marked = true; })"""
    )
    ask(page, "lat=30")
    same, all_of_them = page.evaluate(
        """() => {
            const found = [...document.querySelectorAll("#rig-answer :is(svg, dl, details)")];
            return [found.filter((element) => element.marked).length, found.length];
        }"""
    )
    assert all_of_them > 40
    assert same >= 0.9 * all_of_them


def test_what_a_hand_opened_stays_open_where_it_changes(page: Page) -> None:
    page.goto(ANSWER)
    wait_for_engine(page)
    ask(page, "cable=9ft")
    opened = page.locator(".rig-numbers details").last
    opened.evaluate("(part) => { part.open = true; }")
    before = opened.inner_text()
    field_of(page, "cable").focus()
    ask(page, "cable=19ft")
    expect(opened).not_to_have_text(before)
    assert opened.evaluate("(part) => part.open")
    expect(page.locator("#rig-details [name=cable]")).to_be_focused()


# The engine starts when the browser first has nothing to do; what then waits is held back.
HOLD_REHEARSAL = """
window.__held = [];
let idles = 0;
window.requestIdleCallback = (task) => {
    if (idles++ === 0 || window.__free) setTimeout(task); else window.__held.push(task);
};
"""
RELEASE = "window.__free = true; for (const task of window.__held) task();"


def wait_until_the_rehearsal_ended_early(page: Page) -> None:
    """Three of its four answers came, and the idle moment in which the last is asked for passed."""
    page.wait_for_function("() => window.__results === 3")
    wait_for_idle(page)
    assert page.evaluate("() => window.__sent.filter(([type]) => type === 'call').length") == 3


def test_the_engine_rehearses_unseen(page: Page) -> None:
    page.add_init_script(COUNT_CALLS + HOLD_REHEARSAL)
    page.goto(ANSWER)
    wait_for_engine(page)
    for shown in (True, False):  # what stood beside the answer is in it from now on
        page.locator("#rig-numbers-title").click()
        expect(page.locator(".rig-workings").first).to_be_visible(visible=shown)
        page.wait_for_function("(open) => Boolean(location.hash) === open", arg=shown)
    before = page.evaluate(AS_READ)
    look = page.screenshot(full_page=True)
    page.evaluate(RELEASE)
    wait_for_rehearsal(page)
    assert page.evaluate(AS_READ) == before
    assert page.screenshot(full_page=True) == look
    kinds = [kind for type_, kind in page.evaluate("window.__sent") if type_ == "call"]
    assert kinds == ["page"] * 4


def test_the_first_reply_renews_parts_alone(page: Page) -> None:
    page.goto(ANSWER)
    wait_for_engine(page)
    wait_for_rehearsal(page)
    page.evaluate(
        """() => {
            window.__parsed = [];
            const parse = DOMParser.prototype.parseFromString;
            DOMParser.prototype.parseFromString = function (text, type) {
                window.__parsed.push(String(text).length);
                return parse.call(this, text, type);
            };
        }"""
    )
    ask(page, "lat=30")
    quick, _ = page.evaluate("window.__parsed")
    whole = page.evaluate("document.getElementById('rig-answer').outerHTML.length")
    assert quick < 0.1 * whole


def test_what_was_typed_before_the_engine_was_ready_stays(page: Page) -> None:
    page.add_init_script(COUNT_CALLS)
    page.goto(ANSWER)
    field = field_of(page, "cable")
    field.evaluate("(input) => { input.value = '9 ft'; }")  # as a browser restores it
    wait_for_engine(page)
    wait_until_the_rehearsal_ended_early(page)
    expect(field).to_have_value("9 ft")


def test_a_rehearsal_leaves_the_word_about_a_wrong_detail(page: Page) -> None:
    page.add_init_script(COUNT_CALLS + HOLD_REHEARSAL)
    page.goto(ANSWER)
    wait_for_engine(page)
    field = field_of(page, "cable")
    field.fill("15 kg")
    field.press("Tab")
    fault = page.locator("#rig-cable-fault")
    expect(fault).to_be_visible()
    expect(page.locator("main")).to_have_attribute("data-state", "ready")
    page.evaluate(RELEASE)
    wait_until_the_rehearsal_ended_early(page)
    expect(fault).to_be_visible()
    expect(field).to_have_value("15 kg")


def test_paper_waits_for_the_whole_reply(page: Page) -> None:
    page.add_init_script(
        "window.print = () => { window.__printed ="
        " document.querySelectorAll('#rig-answer .rig-sheet').length; }"
    )
    page.goto(ANSWER)
    wait_for_engine(page)
    sheets = page.locator("#rig-answer .rig-sheet").count()
    assert sheets > 0
    page.evaluate(
        """() => {
            window.__rig.ask("lat=30", null);
            document.querySelector("[data-rig-print]").click();
        }"""
    )
    page.wait_for_function("() => window.__printed !== undefined")
    assert page.evaluate("window.__printed") == sheets


def test_who_asks_first_is_not_kept_waiting_by_a_rehearsal(page: Page) -> None:
    page.add_init_script(COUNT_CALLS)
    page.goto(f"{ANSWER}#lat=30")
    wait_for_engine(page)
    sent = page.evaluate("window.__sent.map(([type]) => type)")
    assert sent.index("ask") < (sent.index("call") if "call" in sent else len(sent))


def test_what_was_scrolled_sideways_stays_where_it_is(new_page: NewPage) -> None:
    page = new_page(
        rehearses=True, viewport={"width": 200, "height": 640}
    )  # large letters on a small phone
    page.goto(ANSWER)
    wait_for_engine(page)
    wait_for_rehearsal(page)
    page.locator("#rig-parts-title").click()  # its chapter opens, which lies around the region
    table = page.locator(".rig-parts .rig-scroll")
    far = table.evaluate("(part) => { part.scrollLeft = 20; return part.scrollLeft; }")
    assert far > 0
    before = table.inner_text()
    ask(page, "tools=crimper&cable=9ft")
    assert table.inner_text() != before
    assert table.evaluate("(part) => part.scrollLeft") == far


ASK_TWICE = """async (between) => {
    const main = document.querySelector("main");
    const shown = [];
    main.addEventListener("rig-shown", ({detail}) => shown.push(detail.fragment));
    const older = window.__rig.ask("lat=30", null);
    if (between) await new Promise(
        (resolve) => main.addEventListener("rig-shown", resolve, {once: true}));
    const newer = window.__rig.ask("lat=41", null);
    return {older: await older, newer: (await newer).fragment, shown};
}"""


@pytest.mark.parametrize(
    ("between", "shown"), [(False, ["lat=41"] * 2), (True, ["lat=30", "lat=41", "lat=41"])]
)
def test_a_newer_request_makes_the_older_void(page: Page, between: bool, shown: list[str]) -> None:
    page.goto(ANSWER)
    wait_for_engine(page)
    wait_for_rehearsal(page)
    told = page.evaluate(ASK_TWICE, between)
    assert told == {"older": None, "newer": "lat=41", "shown": shown}
