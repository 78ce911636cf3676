"""What the staff page and show mode ask of the engine: messages, notes, comparisons, visits."""

import csv
import html
import io
import json
import re
from typing import Any
from urllib.parse import parse_qs, unquote, urlsplit

import pytest

from engine.advice.plan.price import price_range
from engine.browser import reply
from engine.links import LONGEST_NOTE, read_link
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.pages.staff.message import LONGEST_TEXT
from engine.respond import conversation_of, respond_to

VAN = "rig=van/scope=whole/heavy=0/"
COACH = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
OPEN = "rig=coach-50/scope=whole/"
TEXT = re.compile(r'<textarea id="rig-text"[^>]*>(.*?)</textarea>', re.DOTALL)


def ask(guide: Guide, kind: str, **fields: object) -> dict[str, Any]:
    answer: dict[str, Any] = json.loads(reply(json.dumps({"id": 4, "kind": kind, **fields}), guide))
    assert answer.pop("id") == 4
    return answer


def message(guide: Guide, link: str, note: str | None = "") -> tuple[str, str]:
    found = TEXT.search(ask(guide, "message", link=link, note=note)["html"])
    assert found is not None
    sentence, _, address = html.unescape(found[1]).rpartition("\n")
    return sentence, address


def page_of(guide: Guide, address: str) -> str:
    """The HTML of the page that a public address opens."""
    parts = urlsplit(address)
    assert parts.netloc == guide.shop.site
    path = parts.path.removeprefix("/guide/")
    return respond_to(guide, path, parts.fragment).html


def test_a_request_of_an_unknown_kind_is_refused_in_words(guide: Guide) -> None:
    with pytest.raises(ValueError, match="complete, asks, message, compare"):
        reply('{"id": 1, "kind": "guess"}', guide)


def test_the_message_names_set_up_bank_and_price_of_the_answer_its_link_opens(guide: Guide) -> None:
    sentence, address = message(guide, f"{VAN}#cable=9ft")
    best = respond_to(guide, VAN, "cable=9ft").answer.advice
    assert best is not None and best.best.design is not None
    assert best.best.candidate.inverter.name in sentence
    assert best.best.design.bank.battery.name in sentence
    for each in price_range(guide, best.best.design):
        assert f"${round(each, -1):,.0f}" in sentence
    assert "planning figure, not a quote" in sentence
    assert sentence.startswith(f"{guide.shop.name}, {guide.shop.phone}")
    assert address.startswith(f"https://{guide.shop.site}/guide/{VAN}#cable=9ft")
    assert page_of(guide, address) == respond_to(guide, VAN, "cable=9ft").html


@pytest.mark.parametrize("link", ["", OPEN, "rig=van/scope=unsure/heavy=2/biggest=cooking/", COACH])
def test_every_kind_of_answer_has_a_sentence(guide: Guide, link: str) -> None:
    sentence, address = message(guide, link)
    assert len(sentence) > 20
    assert "{" not in sentence
    assert page_of(guide, address)


def test_a_note_travels_in_the_link_and_stands_escaped_on_the_answer(guide: Guide) -> None:
    note = "<b>Call</b> me & bring “it”; 5=5#x"
    _, address = message(guide, VAN, note)
    shown = page_of(guide, address)
    block = re.search(r'<div class="rig-note".*?</div>', shown, re.DOTALL)
    assert block is not None
    assert html.unescape(block[0]).count(note) == 1
    assert "<b>" not in block[0]
    assert guide.wording.page["note-title"] in block[0]


def test_a_note_changes_nothing_else_of_the_answer(guide: Guide) -> None:
    plain = respond_to(guide, VAN, "cable=9ft")
    noted = respond_to(guide, VAN, "cable=9ft&note=hello")
    assert noted.fragment == "cable=9ft&note=hello"
    assert noted.answer.advice is not None and plain.answer.advice is not None
    assert noted.answer.advice.best.design == plain.answer.advice.best.design


def test_a_note_outlives_a_change_in_the_detail_form(guide: Guide) -> None:
    asked = {"id": 1, "path": VAN, "fragment": "note=hello", "form": {"cable": "9 ft"}}
    assert json.loads(reply(json.dumps(asked), guide))["fragment"] == "cable=9ft&note=hello"


def test_a_long_note_is_cut_and_that_is_said(guide: Guide) -> None:
    answers = read_link(guide, VAN, f"note={'x' * 1000}")
    assert answers.note == "x" * LONGEST_NOTE
    assert [fault.message for fault in answers.faults] == [
        f"The note is cut after {LONGEST_NOTE} characters."
    ]
    _, address = message(guide, VAN, "x" * 1000)
    assert read_link(guide, "", urlsplit(address).fragment).faults == ()


def test_a_note_keeps_no_line_breaks_and_shows_where_a_sign_turned_the_text(guide: Guide) -> None:
    assert read_link(guide, VAN, "note=a%0Ab%E2%80%AEc").note == "a b\ufffdc"


def test_the_link_of_an_unfinished_call_goes_on_with_its_details_and_note(guide: Guide) -> None:
    drawn = ask(guide, "message", link=f"{OPEN}#cable=9ft&loads=usual,tv", note="hello")["html"]
    assert guide.wording.page["staff-goes-on"] in drawn
    _, address = message(guide, f"{OPEN}#cable=9ft&loads=usual,tv", "hello")
    assert f"/guide/{OPEN}#loads=usual,tv&cable=9ft&note=hello&" in address


def test_the_note_of_a_link_stays_until_another_one_is_typed(guide: Guide) -> None:
    assert "note=hello" in message(guide, f"{VAN}#note=hello", None)[1]
    assert "note" not in message(guide, f"{VAN}#note=hello", "")[1]


def test_the_email_has_every_answer_and_the_link_unharmed(guide: Guide) -> None:
    drawn = ask(guide, "message", link=f"{COACH}#cable=9ft", note="a & b")["html"]
    found = re.search(r'href="(mailto:[^"]+)"', drawn)
    assert found is not None
    parts = urlsplit(html.unescape(found[1]))
    body = parse_qs(parts.query)["body"][0]
    assert body.endswith(f"\r\n\r\n{message(guide, f'{COACH}#cable=9ft', 'a & b')[1]}")
    for name in read_link(guide, COACH, "cable=9ft").values:
        assert guide.question(name).ask in body
    for said in (guide.shop.name, guide.shop.phone, "not a quote", "licensed electrician"):
        assert said in body


@pytest.mark.parametrize(
    "note", ["", "Bring the plate.", "Call me about the second air conditioner"]
)
@pytest.mark.parametrize(
    "details", ["", "#cable=9ft&nights=3&ambient=95F", "#have=2x100Ah-lifepo4"]
)
def test_a_text_message_fits_and_has_the_answers_in_few_words(
    guide: Guide, details: str, note: str
) -> None:
    for path in (VAN, COACH, OPEN, "rig=unsure/plug=unsure/scope=unsure/heavy=unsure/"):
        said, address = message(guide, f"{path}{details}", note)
        assert len(f"{said}\n{address}") <= LONGEST_TEXT, path
    said, _ = message(guide, f"{COACH}{details}", "")
    assert "50-amp rig, whole rig on battery" in said or "have" in details


def test_a_note_that_makes_the_link_too_long_stands_in_the_text_instead(guide: Guide) -> None:
    note = "Bring the “plate”; " * 8
    said, address = message(guide, VAN, note)
    assert note.strip() in said and "note=" not in address
    assert len(f"{said}\n{address}") <= LONGEST_TEXT


def test_the_desk_has_the_parts_list_and_its_files_as_the_answer_page_has_them(
    guide: Guide,
) -> None:
    drawn = ask(guide, "message", link=VAN, note="")["html"].partition('class="rig-parts"')[2]
    answered = respond_to(guide, VAN).html
    table = re.compile(r"<table>\n<thead>.*?</table>", re.DOTALL)
    section = answered[answered.index('id="rig-parts-title"') :]
    listed, shown = table.search(drawn), table.search(section)
    assert listed is not None and shown is not None
    assert listed[0] == shown[0]
    files = re.compile(r'<p class="rig-files" data-link="[^"]+">|data-rig-file="[^"]+"')
    assert files.findall(drawn) == files.findall(answered)
    assert len(files.findall(drawn)) == 3
    assert "<table>" not in ask(guide, "message", link=OPEN, note="")["html"]


def test_two_answers_differ_in_what_was_answered_and_what_comes_out(guide: Guide) -> None:
    drawn = ask(guide, "compare", kept=VAN, link=f"{VAN}#cable=25ft")["html"]
    differs, _, same = drawn.partition('class="rig-group"')
    assert guide.question("cable").ask in differs and "25ft" in differs
    assert guide.wording.page["fact-cable"] in differs
    assert guide.question("rig").ask in same
    assert guide.question("rig").ask not in differs


def test_equal_answers_are_called_equal(guide: Guide) -> None:
    drawn = ask(guide, "compare", kept=VAN, link=VAN)["html"]
    assert guide.wording.page["staff-equal"] in drawn
    assert "<table" not in drawn


def test_every_answer_can_be_taken_back_one_by_one(guide: Guide) -> None:
    conversation = conversation_of(guide)
    drawn = ask(guide, "message", link=f"{VAN}#cable=9ft", note="")["html"]
    links = [html.unescape(each) for each in re.findall(r'<button[^>]*data-link="([^"]*)"', drawn)]
    given = read_link(guide, VAN, "cable=9ft")
    assert len(links) == len(given.values)
    assert links[-1] == VAN
    rests = [Answers({k: v for k, v in given.values.items() if k != name}) for name in given.values]
    assert links == [conversation.link(rest) for rest in rests]


def test_visits_read_back_by_another_reader_with_no_formula_in_any_cell(guide: Guide) -> None:
    wild = '=HYPERLINK("http://x","y")\n+1, "quoted"'
    kept = [
        {"link": COACH, "when": "2026-05-01 10:00", "contact": wild},
        {"link": OPEN, "when": "2026-05-01 11:00", "contact": "Ann, 555-0100"},
        {"link": "rubbish", "when": "", "contact": "@x"},
        "no visit at all",
    ]
    rows = list(csv.DictReader(io.StringIO(ask(guide, "visits", visits=kept)["text"], newline="")))
    assert [row["contact"] for row in rows] == [
        '\'=HYPERLINK("http://x","y") +1, "quoted"',
        "Ann, 555-0100",
        "'@x",
    ]
    assert unquote(rows[0]["link"]).startswith(f"https://{guide.shop.site}/guide/{COACH}")
    best = respond_to(guide, COACH).answer.advice
    assert best is not None and best.best.design is not None
    assert float(rows[0]["price"]) == pytest.approx(best.best.design.parts_price, abs=0.005)
    assert rows[1]["price"] == ""
    for row in rows:
        assert not any(cell.startswith(("=", "+", "-", "@")) for cell in row.values())
