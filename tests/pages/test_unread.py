"""What of a link could not be read: told above the verdict, and every figure that rests on it."""

import json
import re

import pytest

from engine.answer_text import as_data, as_text
from engine.browser import reply
from engine.links import read_link
from engine.model.guide import Guide
from engine.pages.unread import MOST_TOLD
from engine.respond import Page, respond_to

PAIR = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
MARK = "based on an assumption"
READ = "for the parts of this link that we could read"
ROW = re.compile(r"<dt>([^<]*)</dt><dd>((?:(?!</dd>).)*)</dd>", re.DOTALL)
BROKEN = {
    "cable": "25fet",
    "nights": "lots",
    "ambient": "hot",
    "chemistry": "nimh",
    "loads": "warp drive",
    "bay": "small",
    "solar": "400 lb",
    "month": "Brumaire",
    "bank": "36V",
}


def marked(page: Page) -> set[str]:
    """The labels of the rows that bear the mark."""
    return {label for label, text in ROW.findall(page.html) if MARK in text}


def test_a_fault_stands_above_the_verdict_as_it_was_typed_with_what_is_used(guide: Guide) -> None:
    html = respond_to(guide, PAIR, "cable=25fet").html
    told, verdict = html.index("rig-unread"), html.index('class="rig-kicker"')
    assert told < verdict
    before = html[told:verdict]
    assert f"{guide.question('cable').ask} “25fet”" in before
    assert "Used instead: 5 ft." in before
    assert f"Recommended for you, {READ}" in html


def test_what_was_typed_into_the_form_is_not_called_a_link(guide: Guide) -> None:
    request = {"id": 1, "path": PAIR, "fragment": "", "form": {"cable": "25fet"}}
    html = json.loads(reply(json.dumps(request), guide))["html"]
    assert guide.wording.page["typed-faults"] in html
    assert "Recommended for you, for the details that we could read" in html
    assert "this link" not in html[html.index("rig-unread") : html.index("<h1")]
    again = {**request, "fragment": "cable=25fet", "form": None}
    html = json.loads(reply(json.dumps(again), guide))["html"]
    assert guide.wording.page["link-faults"] in html


def test_the_figures_that_rest_on_the_cables_length_are_marked_and_no_others(guide: Guide) -> None:
    labels = marked(respond_to(guide, PAIR, "cable=25fet"))
    numbers = guide.wording.numbers
    assert {numbers["length"], numbers["lost"], numbers["terminal"]} <= labels
    assert not {numbers["gives"], numbers["need"], numbers["bank-gives"]} & labels


@pytest.mark.parametrize("fragment", ["", "cable=25ft", "have=2x100Ah-12V-lifepo4-3y"])
def test_what_was_read_is_not_marked(guide: Guide, fragment: str) -> None:
    page = respond_to(guide, PAIR, fragment)
    assert MARK not in page.html
    assert READ not in page.html


@pytest.mark.parametrize("name", BROKEN)
def test_nothing_of_a_broken_detail_is_silent(guide: Guide, name: str) -> None:
    page = respond_to(guide, PAIR, f"{name}={BROKEN[name]}")
    assert f"“{BROKEN[name]}”" in page.html[: page.html.index("rig-kicker")]
    assert READ in page.html
    again = respond_to(guide, page.path, page.fragment)
    assert again.html == page.html


@pytest.mark.parametrize("name", sorted(set(BROKEN) - {"bay", "solar", "month", "bank"}))
def test_a_default_that_carries_figures_marks_some(guide: Guide, name: str) -> None:
    assert marked(respond_to(guide, PAIR, f"{name}={BROKEN[name]}"))


def test_page_terminal_and_data_say_it_in_the_same_words(guide: Guide) -> None:
    answers = read_link(guide, PAIR, "cable=25fet&cabel=3ft")
    page = respond_to(guide, PAIR, "cable=25fet&cabel=3ft")
    text, data = as_text(guide, page.answer), as_data(guide, page.answer)
    assert len(data["faults"]) == len(answers.faults) == 2
    for fault in data["faults"]:
        assert fault["says"] in text
        assert fault["says"] in page.html.replace("&#39;", "'")
    assert data["verdict"] in text
    assert data["verdict"] in page.html
    assert MARK in text
    assert {row["label"] for row in data["rests_on_assumption"]} == marked(page)


def test_staff_read_the_same_and_the_message_says_it(guide: Guide) -> None:
    asked = {"id": 1, "kind": "message", "link": f"{PAIR}#cable=25fet", "note": ""}
    html = json.loads(reply(json.dumps(asked), guide))["html"]
    (line,) = (fault["says"] for fault in data_of(guide, "cable=25fet")["faults"])
    assert line in html
    assert READ in html
    assert "This counts only what we could read of your link." in html
    assert "cable=25fet" in html


def data_of(guide: Guide, fragment: str) -> dict[str, list[dict[str, str]]]:
    return as_data(guide, respond_to(guide, PAIR, fragment).answer)


def test_a_field_that_is_mended_ends_the_fault_and_others_stay(guide: Guide) -> None:
    form = {"cable": "9 ft"}
    asked = {"id": 1, "path": PAIR, "fragment": "cable=25fet&cabel=3ft", "form": form}
    for beneath in (False, True):
        found = json.loads(reply(json.dumps({**asked, "beneath": beneath}), guide))
        assert "25fet" not in found["html"]
        assert "cabel" in found["html"]
        assert sorted(found["fragment"].split("&")) == ["cabel=3ft", "cable=9ft"]


def test_of_many_faults_a_few_are_told_and_the_rest_counted(guide: Guide) -> None:
    html = respond_to(guide, PAIR, "&".join(f"q{each}=1" for each in range(90))).html
    box = html[html.index("rig-unread") : html.index("rig-kicker")]
    assert box.count("<li>") == MOST_TOLD + 1
    assert f"{90 - MOST_TOLD} more like these." in box
