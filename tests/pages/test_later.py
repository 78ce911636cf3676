"""Chapters that a reply puts off: what is left out, and that nothing else of the page differs."""

import json
import re

import pytest

from engine.browser import reply
from engine.links import read_link
from engine.model.guide import Guide
from engine.respond import respond

PAIR = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
BODY = re.compile(r"<!--body ([\w-]+)-->(.*?)<!--body-->", re.DOTALL)
LATER = "<!--later-->"
DETAILS = ("", "cable=9ft", "chemistry=agm&cable=12ft", "tools=crimper&alt=180A&cable=fifteen")


def bodies_of(html: str) -> dict[str, str]:
    """What each chapter holds, by the id of its title."""
    return dict(BODY.findall(html))


def filled(html: str, bodies: dict[str, str]) -> str:
    """A reply with what a page shows already in the place of what is put off."""
    return BODY.sub(
        lambda found: found[0].replace(LATER, bodies[found[1]]) if found[2] == LATER else found[0],
        html,
    )


def first_reply(guide: Guide, fragment: str, later: tuple[str, ...] = (), path: str = PAIR) -> str:
    """The first reply to a change of the form, with the borders of its regions."""
    answers = read_link(guide, path, fragment)
    return respond(guide, answers, changes=False, takeaway=False, later=later).bordered


@pytest.mark.parametrize("fragment", DETAILS)
def test_with_what_was_put_off_it_is_the_same_reply(guide: Guide, fragment: str) -> None:
    all_of_it = first_reply(guide, fragment)
    bodies = bodies_of(all_of_it)
    assert len(bodies) == 10
    short = first_reply(guide, fragment, tuple(bodies))
    assert set(bodies_of(short).values()) == {LATER}
    assert filled(short, bodies) == all_of_it
    assert len(short) < 0.5 * len(all_of_it)


def test_a_chapter_that_is_open_is_not_put_off(guide: Guide) -> None:
    all_of_it = first_reply(guide, "cable=9ft")
    closed = tuple(each for each in bodies_of(all_of_it) if each != "rig-parts-title")
    found = bodies_of(first_reply(guide, "cable=9ft", closed))
    assert found["rig-parts-title"] == bodies_of(all_of_it)["rig-parts-title"]
    assert {found[each] for each in closed} == {LATER}


def test_what_stands_in_a_closed_chapters_line_is_not_put_off(guide: Guide) -> None:
    key = re.compile(r'<span class="rig-key">(.*?)</span>')
    keys = []
    for text in ("cable=9ft", "cable=40ft"):
        all_of_it = first_reply(guide, text)
        keys.append(key.findall(first_reply(guide, text, tuple(bodies_of(all_of_it)))))
        assert keys[-1] == key.findall(all_of_it)
    near, far = keys
    assert near != far


def test_where_nothing_fits_chapters_are_put_off_too(guide: Guide) -> None:
    all_of_it = first_reply(guide, "payload=10lb")
    assert 'data-status="none-fits"' in all_of_it
    short = first_reply(guide, "payload=10lb", tuple(bodies_of(all_of_it)))
    assert filled(short, bodies_of(all_of_it)) == all_of_it != short


def test_the_whole_reply_puts_nothing_off(guide: Guide) -> None:
    for whole in (False, True):
        asked = {"id": 1, "path": PAIR, "fragment": "cable=9ft", "form": None, "whole": whole}
        html = json.loads(reply(json.dumps({**asked, "later": ["rig-parts-title"]}), guide))["html"]
        assert (LATER in html) is not whole


def test_marks_of_chapters_are_not_shown(guide: Guide) -> None:
    page = respond(guide, read_link(guide, PAIR, "cable=9ft"))
    assert "<!--body" in page.bordered
    assert "<!--body" not in page.html
