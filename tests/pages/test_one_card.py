"""Every end of the tree has one card, the same chapters, and says who advises."""

import re
from html import unescape

import pytest

from engine.model.guide import Guide
from engine.pages.answer.advice_view import AdviceView
from engine.pages.words import candidate_name
from engine.past import link_of
from engine.respond import Page, conversation_of, respond_to

WHOLE = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
ENDS = {
    "recommended": (WHOLE, ""),
    "not sure": ("rig=van/scope=unsure/heavy=0/", ""),
    "nothing fits": ("rig=van/scope=whole/heavy=1/biggest=cooking/", "payload=60lb"),
    "nothing fits by a detail": ("rig=van/scope=some/heavy=0/", "bay=8inx8inx4in"),
    "nothing fits where not sure": ("rig=van/scope=unsure/heavy=0/", "payload=20lb"),
}
SHARE = re.compile(r'<button type="button" data-rig-share data-link="([^"]*)" data-text="([^"]*)"')


def ends(guide: Guide) -> dict[str, Page]:
    return {name: respond_to(guide, *link) for name, link in ENDS.items()}


@pytest.mark.parametrize("name", ENDS)
def test_each_end_has_the_card_its_verdict_contact_and_share_in_it(guide: Guide, name: str) -> None:
    html = ends(guide)[name].html
    card = html[html.index('class="rig-plate"') : html.index('id="rig-details-title"')]
    parts = ("rig-kicker", "data-rig-share", "<h1", "rig-contact")
    places = [card.index(each) for each in parts]
    assert places == sorted(places)
    assert html.count("<h1") == 1
    assert '<section class="rig-chapter rig-given"' in html


@pytest.mark.parametrize("name", ENDS)
def test_what_is_shared_is_the_public_link_and_what_the_answer_is(guide: Guide, name: str) -> None:
    page = ends(guide)[name]
    assert (page.answer.advice is None) == name.startswith("nothing")
    found = SHARE.search(page.html)
    assert found is not None
    link, text = map(unescape, found.groups())
    assert link == link_of(conversation_of(guide), page.answer.answers)
    if page.answer.advice is None:
        assert text == guide.wording.page["share-none-fits"]
    else:
        view = AdviceView(guide, page.answer.advice)
        assert view.headline in text
        assert view.bank in text


def test_nothing_fits_has_the_changes_in_its_card_and_the_bar_in_its_form(guide: Guide) -> None:
    html = ends(guide)["nothing fits by a detail"].html
    card, _, rest = html.partition('id="rig-details-title"')
    assert guide.wording.page["mends"] in card
    assert '<div class="rig-bar">' in rest
    for chapter in ("nearest", "considered"):
        assert f'<section class="rig-chapter rig-{chapter}"' in rest


def test_the_shop_says_that_it_sells_and_what_counts_most_in_its_ranking(guide: Guide) -> None:
    page = respond_to(guide, WHOLE)
    assert page.answer.advice is not None
    found = re.search(r'<p class="rig-fair">(.*?) <a href="([^"]*)"', page.html)
    assert found is not None
    counted = dict(page.answer.advice.best.contributions)
    named = sorted(counted, key=lambda each: -counted[each])[:3]
    assert "We sell what we recommend." in found[1]
    places = [unescape(found[1]).index(each.say) for each in named]
    assert places == sorted(places)
    assert found[2].endswith("/owner/priorities.html")


def test_the_next_best_is_a_link_that_sets_it_beside_the_recommended(guide: Guide) -> None:
    page = respond_to(guide, WHOLE)
    assert page.answer.advice is not None
    other = page.answer.advice.runner_up
    assert other is not None
    name = candidate_name(guide, other.candidate)
    found = re.search(rf'<a href="[^"]*#([^"]*)">{re.escape(name)}</a>', page.html)
    assert found is not None
    there = respond_to(guide, WHOLE, unescape(found[1]))
    compared = there.html.partition("rig-compare")[2]
    assert other.candidate.inverter.name in compared
    assert not there.answer.answers.faults
