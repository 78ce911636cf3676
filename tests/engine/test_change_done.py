"""What the last change of the details did: said from the two answers, as the parts have it."""

import json

import pytest

from engine.browser import reply
from engine.links import read_link
from engine.model.guide import Guide
from engine.respond import respond

COACH = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"


def did(guide: Guide, since: str, fragment: str) -> str:
    """What the engine says to a page that showed one answer and asks for the other."""
    asked = {"id": 1, "path": COACH, "fragment": fragment, "form": None, "since": since}
    return str(json.loads(reply(json.dumps(asked), guide))["did"])


def price_and_cable(guide: Guide, fragment: str) -> tuple[float, str]:
    """The sum of the parts, and the size of the battery cable."""
    advice = respond(guide, read_link(guide, COACH, fragment), changes=False).answer.advice
    assert advice is not None
    assert advice.best.design is not None
    return advice.best.design.parts_price, advice.best.design.dc.cable.size


@pytest.mark.parametrize("longer", ["cable=15ft", "cable=20ft"])
def test_a_longer_cable_is_told_with_its_price_and_both_sizes(guide: Guide, longer: str) -> None:
    short = "bank=24V"
    fragment = f"{short}&{longer}"
    (less, thin), (more, thick) = price_and_cable(guide, short), price_and_cable(guide, fragment)
    assert thin != thick
    assert more > less
    amount = f"${round(more - less, -1):,.0f}"
    assert did(guide, short, fragment) == f"{amount} more; {thin} AWG → {thick} AWG"
    assert did(guide, fragment, short) == f"{amount} less; {thick} AWG → {thin} AWG"


def test_what_changes_nothing_says_so(guide: Guide) -> None:
    assert did(guide, "", "note=hello") == guide.wording.page["did-nothing"]


def test_a_change_after_which_nothing_fits_and_the_way_back_are_told(guide: Guide) -> None:
    words = guide.wording.page
    assert did(guide, "", "payload=100lb") == words["did-none-fits"]
    assert did(guide, "payload=100lb", "") == words["did-fits"]
    assert did(guide, "payload=100lb", "payload=90lb") == ""


def test_who_does_not_ask_is_not_told(guide: Guide) -> None:
    asked = {"id": 1, "path": COACH, "fragment": "cable=15ft", "form": None}
    assert json.loads(reply(json.dumps(asked), guide))["did"] == ""
    quick = {**asked, "since": "", "whole": False}
    assert json.loads(reply(json.dumps(quick), guide))["did"] == ""
