"""Text from outside: read by one reader, bounded, and shown only as signs that can be seen."""

import json
from functools import partial
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine import answer_text
from engine.browser import reply
from engine.completion import complete, read_any
from engine.links import LONGEST_LINK, MOST_PAIRS, read_fields, read_link, read_pairs
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.pages.staff.staff import message_html
from engine.respond import conversation_of, respond, respond_to
from engine.typed.outside import BROKEN, lines, one_line
from tests import hostile
from tests.counted import calls_of
from tests.random_texts import PIECES, random_texts

LINKS = tuple(hostile.links())
LONG = tuple(
    (hostile.PATH, f"{name}={'%E4%B8%AD' * length}{rest}")
    for name, length, rest in (
        ("note", 300, ""), ("loads", 590, ":90W"), ("cable", 590, ""), ("have", 590, ""),
        ("note", 2000, "&loads=kettle"),
    )
)  # fmt: skip
"""Links whose answers are too long for a QR code once each sign is written as bytes."""
WORK = 2_000
"""Calls of Python functions that one link may cost; a good one with many answers costs 600."""


def hidden(text: str) -> set[str]:
    """Signs of a text that cannot be shown, but for ends of lines and spaces that join."""
    return {sign for sign in text if not sign.isprintable() and sign not in "\n\xa0"}


def told(answers: Answers) -> str:
    """All that is said or kept of the answers of a link."""
    faults = (f"{each.question}{each.typed}{each.message}" for each in answers.faults)
    texts = (answers.text(name) for name in answers.values)
    return "\n".join((*faults, *texts, answers.note, answers.edition))


@given(st.text(st.characters(codec=None), max_size=200))
@settings(max_examples=500)
def test_any_text_becomes_one_line_of_signs_that_can_be_shown(text: str) -> None:
    line = one_line(text)
    assert line.isprintable()
    assert line == one_line(line) == line.strip()
    assert "  " not in line
    assert hidden(lines(text)) == set()


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("15\u00a0ft\u200b\ufeff", "15 ft"),
        ("15\u202eft", f"15{BROKEN}ft"),
        ("\x1b[31mred", f"{BROKEN}[31mred"),
        ("e\u0301\u0302\u0303\u0304", "e\u0301\u0302"),
        ("a\ud800b", f"a{BROKEN}b"),
    ],
)
def test_what_pasting_brings_goes_and_what_hides_is_shown_as_broken(typed: str, shown: str) -> None:
    assert one_line(typed) == shown


@pytest.mark.parametrize("at", range(0, len(LINKS), 50))
def test_hostile_links_are_read_in_bounds_and_told_in_signs_that_can_be_seen(
    guide: Guide, at: int
) -> None:
    for path, fragment in LINKS[at : at + 50]:
        answers = read_link(guide, path, fragment)
        assert hidden(told(answers)) == set()
        assert len(told(answers)) < 4000
        assert calls_of(partial(read_link, guide, path, fragment)) < WORK


@pytest.mark.parametrize("at", range(5))
def test_hostile_links_have_pages_texts_and_data_without_hidden_signs(
    guide: Guide, at: int
) -> None:
    for path, fragment in (*LINKS[at::40], *LONG[at::5]):
        page = respond(guide, read_link(guide, path, fragment))
        assert hidden(page.html) == set()
        assert "<script>" not in page.html
        assert "<img src=x" not in page.html
        assert hidden(answer_text.as_text(guide, page.answer)) == set()
        assert hidden(answer_text.as_json(guide, page.answer)) == set()
        again = respond_to(guide, page.path, page.fragment)
        assert again.answer.answers.key() == page.answer.answers.key()


def test_thousands_of_texts_at_random_leave_no_hidden_sign_in_any_field(guide: Guide) -> None:
    random, names = Random(19), [question.id for question in guide.questions]
    read = 0
    for text in random_texts(19, 20_000):
        answers = read_fields(guide, {random.choice(names): text, "note": text})
        assert hidden(told(answers)) == set()
        read += bool(answers.values)
    assert read > 100


@given(st.lists(st.sampled_from([*PIECES, "=", "&", "#", "/", "cable=", "guide/"]), max_size=12))
@settings(max_examples=500)
def test_whatever_staff_type_is_offered_or_refused_in_signs_that_can_be_seen(
    guide: Guide, pieces: list[str]
) -> None:
    text = "".join(pieces)
    conversation = conversation_of(guide)
    for each in complete(conversation, Answers({}), text):
        assert hidden(f"{each.label}{each.about}{each.fill}{each.problem}") == set()
    assert hidden(told(read_any(conversation, text))) == set()


def test_what_staff_write_and_what_a_page_asks_hold_no_hidden_sign(guide: Guide) -> None:
    written = "\x1b[31mCall\u202e me"
    assert hidden(message_html(conversation_of(guide), "rig=van", written)) == set()
    for asked in (
        {"path": "rig=van/", "fragment": f"cable={written}", "form": {"cable": written}},
        {"kind": "complete", "link": "", "text": written},
        {"kind": "message", "link": "rig=van/", "note": written},
        {"kind": "compare", "link": written, "kept": written},
        {"kind": "home", "link": written},
        {"kind": "visits", "visits": [{"link": written, "when": written, "contact": written}]},
        {"kind": "piece", "piece": "drop", "fields": {"current": written, "run": written}},
    ):
        found = json.loads(reply(json.dumps(asked), guide))
        assert "refused" not in found
        shown = "".join(str(text) for text in found.values())
        assert hidden(shown.replace("\r\n", "\n")) == set()


def test_a_link_of_very_many_answers_is_cut_with_a_word(guide: Guide) -> None:
    answers = read_pairs(guide, (f"a{at}=1" for at in range(100_000)))
    assert len(answers.faults) == MOST_PAIRS + 1
    assert any(f"more than {MOST_PAIRS} answers" in fault.message for fault in answers.faults)
    assert respond(guide, answers).answer.status == "ask"


def test_a_very_long_link_is_refused_whole(guide: Guide) -> None:
    answers = read_link(guide, "rig=van/", "cable=" + "1" * LONGEST_LINK)
    assert not answers.values
    assert [f"longer than {LONGEST_LINK} characters" in each.message for each in answers.faults]


def test_the_longest_good_link_is_not_too_long() -> None:
    longest = "é" * 600
    typed = {"loads": longest, "note": longest[:300], "have": longest}
    assert sum(len(text.encode()) * 3 for text in typed.values()) < LONGEST_LINK


def test_there_are_at_least_three_hundred_hostile_links() -> None:
    assert len(set(LINKS)) >= 300
