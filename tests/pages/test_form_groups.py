"""The line of a closed group of the form: what counts in it, read without opening it."""

import re

import pytest

from engine.links import read_link
from engine.model.guide import Guide
from engine.pages.form import form_of

PATH = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"


def line_of(guide: Guide, group: str, fragment: str = "") -> str:
    answers = read_link(guide, PATH, fragment)
    return next(each.key for each in form_of(guide, answers) if each.id == group)


@pytest.mark.parametrize(
    ("fragment", "line"),
    [("", "hottest 95 °F"), ("ambient=110degF&coldest=20degF", "hottest 110F")],
)
def test_of_two_temperatures_the_one_that_counts_is_named(
    guide: Guide, fragment: str, line: str
) -> None:
    assert line_of(guide, "place", fragment) == line


def test_a_line_says_what_is_assumed_and_no_bare_number(guide: Guide) -> None:
    for group in form_of(guide, read_link(guide, PATH, "")):
        assert not re.fullmatch(r"[\d., °FC]+", group.key), group.id
    assert line_of(guide, "cable") == line_of(guide, "cable", "cable=")
    assert line_of(guide, "cable") != line_of(guide, "cable", "cable=40ft")
