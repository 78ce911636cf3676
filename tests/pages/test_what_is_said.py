"""What is said fits the rig: one battery, one leg, batteries at hand, links that stay true."""

import re
from html import unescape

from engine.links import read_link
from engine.model.guide import Guide
from engine.needs import applies, implied
from engine.respond import conversation_of, respond_to

VAN = "rig=van/scope=some/heavy=0/"
COACH = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
CHANGES = re.compile(r'<section id="rig-changes".*?</section>', re.DOTALL)


def test_one_battery_has_one_fuse_and_one_leg_is_not_the_busier(guide: Guide) -> None:
    one = respond_to(guide, VAN, "have=1x100Ah-12V-lifepo4-3y")
    several = respond_to(guide, COACH)
    assert "at each battery</text>" not in one.html
    assert "at the battery</text>" in one.html
    assert "on the busier leg" not in one.html
    assert "on the busier leg" in several.html


def test_where_nothing_fits_their_batteries_are_not_passed_over(guide: Guide) -> None:
    page = respond_to(guide, VAN, "bay=8inx8inx4in&have=2x100Ah-12V-lifepo4-3y")
    assert page.answer.status == "none-fits"
    assert "Your batteries were tried with every unit, too (2x100Ah-12V-lifepo4-3y)" in page.html
    assert "Your batteries" not in respond_to(guide, VAN, "bay=8inx8inx4in").html


def test_too_heavy_is_said_in_pounds(guide: Guide) -> None:
    page = respond_to(guide, VAN, "payload=20lb")
    assert page.answer.status == "none-fits"
    assert re.search(r"Short by \d+ lb \(", page.html)


def test_what_would_change_it_leads_on_with_what_applies_there(guide: Guide) -> None:
    found = CHANGES.search(respond_to(guide, COACH, "shore=30A&alt=200A").html)
    assert found is not None
    asked = {question.id: question for question in guide.questions}
    for link in re.findall(r'href="(?:\.\./)*([^"]*)"', found[0]):
        path, _, fragment = unescape(link).partition("#")
        answers = read_link(guide, path, fragment)
        values = implied(guide, answers)
        walked = conversation_of(guide).walk(answers).values
        carried = [name for name in answers.values if name not in walked]
        assert carried
        assert all(applies(asked[name], values) for name in carried), link
