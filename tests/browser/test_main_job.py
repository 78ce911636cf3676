"""The main job in a real browser: a customer from the first question to answer and details."""

import json
import re
import subprocess
import sys

import pytest
from playwright.sync_api import Page, expect

from engine.model.guide import Guide
from engine.respond import conversation_of, respond_to
from engine.tree import states
from tests.browser.conftest import NewPage, wait_for_engine
from tests.browser.fields import field_of

PHONE = {"width": 390, "height": 844}
DESK = {"width": 1280, "height": 800}
TAPS = ("coach-50", "whole", "2", "aircon-15k", "yes", "no")
ANSWER = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
STATES_COMPARED = 30

# Sends requests to a fresh worker of the page's own engine and gives back the replies' texts.
ASK_MANY = """async ({address, requests}) => {
    const worker = new Worker(new URL("engine-worker.js", address), {type: "module"});
    const replies = new Map();
    const started = new Promise((resolve, reject) => {
        worker.addEventListener("message", ({data}) => {
            if (data.type === "state") data.state === "ready" ? resolve() : reject(data.detail);
            if (data.type === "reply" && data.final) replies.get(data.id)(data.html);
            if (data.type === "error") replies.get(data.id)("error: " + data.detail);
        });
    });
    worker.postMessage({type: "start", address});
    await started;
    const found = [];
    for (const request of requests) {
        found.push(await new Promise((resolve) => {
            replies.set(request.id, resolve);
            worker.postMessage({type: "ask", ...request});
        }));
    }
    worker.terminate();
    return found;
}"""


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
def test_a_customer_taps_from_the_first_question_to_the_answer_without_scripts(
    new_page: NewPage, viewport: dict[str, int]
) -> None:
    page = new_page(java_script_enabled=False, viewport=viewport)
    page.goto("/guide/")
    for choice in TAPS:
        expect(page.locator("#rig-answer [data-choice=unsure]")).to_be_visible()
        page.locator(f"#rig-answer [data-choice='{choice}']").click()
    assert page.url.endswith(ANSWER)
    expect(page.locator("#rig-answer")).to_have_attribute("data-status", "recommended")
    expect(page.locator(".rig-plate .rig-warned a").first).to_be_visible()
    assert_no_sideways_scroll(page)


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
def test_back_and_change_lead_to_earlier_questions(
    new_page: NewPage, viewport: dict[str, int]
) -> None:
    page = new_page(java_script_enabled=False, viewport=viewport)
    page.goto("/guide/rig=coach-50/scope=whole/heavy=1/")
    page.locator(".rig-back a").first.click()
    assert page.url.endswith("/guide/rig=coach-50/scope=whole/")
    page.locator(".rig-given a").first.click()
    assert page.url.endswith("/guide/#scope=whole")
    expect(page.locator("#rig-answer [data-choice=van]")).to_be_visible()


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
def test_a_customer_refines_the_answer_through_the_detail_form(
    new_page: NewPage, guide: Guide, viewport: dict[str, int]
) -> None:
    page = new_page(viewport=viewport)
    page.goto(f"/guide/{ANSWER}")
    wait_for_engine(page)
    field_of(page, '"loads.add"').fill("Tie press: 90 W: 0.3 h")
    field_of(page, '"loads.add"').press("Enter")
    expect(page.get_by_role("group", name="Tie press").get_by_label("Watts")).to_have_value("90")
    field_of(page, "cable").fill("9 ft")
    page.locator("#rig-details [name=cable]").press("Tab")
    expect(page).to_have_url(re.compile("aircon-[^&]*,Tie%20press:90W:0.3h&cable=9ft"))
    expect(page.locator("#rig-changes li").first).to_be_attached()
    fragment = page.evaluate("location.hash.slice(1)")
    native = respond_to(guide, ANSWER, fragment)
    assert native.answer.status == "recommended"
    drawn = page.evaluate(f"window.__rig.ask({fragment!r}, null).then((reply) => reply.html)")
    assert drawn == native.bordered
    expect(field_of(page, '"loads.add"')).to_have_value("")
    assert_no_sideways_scroll(page)


def test_a_row_is_ticked_off_by_keyboard_and_given_back(page: Page) -> None:
    page.goto(f"/guide/{ANSWER}")
    wait_for_engine(page)
    television = field_of(page, '"loads.tv.use"')
    television.focus()
    page.keyboard.press("Space")
    expect(page).to_have_url(re.compile("#loads=(?!.*tv)"))
    expect(page.locator('[name="loads.tv.watts"]')).to_have_count(0)
    expect(television).to_be_focused()
    page.locator("[data-rig-undo]").click()
    expect(page.locator('[name="loads.tv.watts"]')).to_have_value("50")
    expect(television).to_be_checked()
    assert "loads=" not in page.url


def test_the_focus_stays_among_the_rows_when_one_of_them_goes(page: Page) -> None:
    page.goto(f"/guide/{ANSWER}#loads=aircon-15k,press:90W:1h")
    wait_for_engine(page)
    press = field_of(page, '"loads.own.use"')
    press.focus()
    page.keyboard.press("Space")
    expect(press).to_have_count(0)
    expect(page.locator("#rig-loads")).to_be_focused()


def test_a_choice_of_tools_is_answered_at_once(page: Page) -> None:
    page.goto("/guide/rig=rig-30/scope=whole/heavy=1/biggest=heating/#space=shallow")
    wait_for_engine(page)
    expect(page.locator("#rig-section-terminals")).to_contain_text("push-in")
    field_of(page, "space", "[value=open]").check()
    expect(page.locator("#rig-section-terminals")).to_contain_text("screw")


def test_a_link_shows_the_same_answer_in_a_fresh_browser(new_page: NewPage) -> None:
    first = new_page()
    first.goto(f"/guide/{ANSWER}")
    wait_for_engine(first)
    field_of(first, "cable").fill("4.5 m")
    first.locator("#rig-details [name=cable]").press("Enter")
    expect(first).to_have_url(re.compile(r"#cable=4\.5m$"))
    expect(first.locator("#rig-changes li").first).to_be_attached()
    second = new_page(alone=True)
    second.goto(first.url)
    expect(second.locator("#rig-details [name=cable]")).to_have_value("4.5m")
    expect(second.locator("#rig-changes li").first).to_be_attached()
    for part in (".rig-facts", ".rig-parts", ".rig-checks", "#rig-changes"):
        assert second.locator(part).inner_text() == first.locator(part).inner_text()


def test_bad_input_is_told_at_its_field_and_nothing_is_lost(page: Page) -> None:
    page.goto(f"/guide/{ANSWER}")
    wait_for_engine(page)
    field_of(page, "nights").fill("3")
    field_of(page, "cable").fill("15 kg")
    page.locator("#rig-details [name=cable]").press("Tab")
    fault = page.locator("#rig-cable-fault")
    expect(fault).to_contain_text("Expected a length, got a weight")
    expect(fault).to_contain_text("15 ft")
    field = field_of(page, "cable")
    expect(field).to_have_value("15 kg")
    expect(field).to_have_attribute("aria-invalid", "true")
    described = field.get_attribute("aria-describedby") or ""
    assert "rig-cable-fault" in described
    expect(page.locator("#rig-details [name=nights]")).to_have_value("3")
    expect(page.locator("#rig-details .rig-faults a")).to_have_attribute("href", "#rig-cable")


def test_what_a_link_says_wrongly_is_reported_in_words_and_the_rest_used(page: Page) -> None:
    page.goto(f"/guide/{ANSWER}#cabel=15ft&nights=2&space=attic")
    expect(page.locator(".rig-faults").first).to_contain_text(
        "no question “cabel”. Did you mean “cable”?"
    )
    expect(page.locator("#rig-answer")).to_contain_text("“attic” is not one of the choices")
    expect(page.locator("#rig-details [name=nights]")).to_have_value("2")


def test_the_browser_draws_the_same_bytes_as_the_build(new_page: NewPage, guide: Guide) -> None:
    # The policy forbids the worker that this test starts.
    page = new_page(bypass_csp=True, many=True)
    paths = states(conversation_of(guide))
    step = max(1, len(paths) // STATES_COMPARED)
    chosen = paths[::step]
    assert len(chosen) >= STATES_COMPARED
    page.goto(f"/guide/{ANSWER}")
    wait_for_engine(page)
    address = page.evaluate(
        "new URL(document.querySelector('main').dataset.engine, "
        "document.querySelector('script[src*=page]').src).href"
    )
    requests = [
        {"id": index, "path": path, "fragment": "", "form": None}
        for index, path in enumerate(chosen)
    ]
    drawn = page.evaluate(ASK_MANY, {"address": address, "requests": requests})
    for path, html in zip(chosen, drawn, strict=True):
        assert html == respond_to(guide, path).bordered, path


def test_the_command_line_gives_the_figures_of_the_page(page: Page) -> None:
    pairs = [*ANSWER.strip("/").split("/"), "cable=9ft", "nights=2"]
    command = [sys.executable, "-m", "guide.cli", "answer", *pairs, "--json"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    answer = json.loads(done.stdout)
    page.goto(f"/guide/{answer['link']}")
    expect(page.locator("#rig-details [name=nights]")).to_have_value("2")
    total = f"${answer['recommendation']['parts_price']:,.0f}"
    expect(page.locator(".rig-parts tfoot")).to_contain_text(total)
    rows = page.locator(".rig-parts tbody tr:not(.rig-group)")
    expect(rows).to_have_count(len(answer["parts"]))
    for check in answer["checks"]:
        assert check["passed"]


def assert_no_sideways_scroll(page: Page) -> None:
    """The page is not wider than its window."""
    wide = page.evaluate("document.documentElement.scrollWidth - window.innerWidth")
    assert wide <= 0
