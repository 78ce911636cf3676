"""A shelf with very many products: the same choices, found without working out every one."""

import re
from collections.abc import Iterator
from dataclasses import fields

import pytest

from engine.advice.judge.consider import consider
from engine.advice.judge.supplied import Supplies
from engine.conversation import Conversation
from engine.links import read_pairs
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.products import Catalogue
from engine.model.result import Only, Outcome
from engine.pages.answer.advice_view import MOST_TOLD
from engine.respond import conversation_of, respond
from tests.grown import with_products, with_rigs
from tests.guide.shops import demo


@pytest.fixture(scope="module")
def many() -> Guide:
    return with_products(demo(), 400)


def outcomes(guide: Guide, details: str = "") -> Iterator[Outcome]:
    """Some ways through the short path, with details besides."""
    conversation = Conversation(guide)
    more = read_pairs(guide, details.split()).values
    for way in list(conversation.completions(Answers({})))[::19]:
        yield conversation.outcome(Answers({**way.values, **more}))


def test_the_shelf_grows_and_no_product_is_like_another(many: Guide) -> None:
    for kind in fields(Catalogue):
        shelf = getattr(many.catalogue, kind.name)
        assert len(set(shelf)) == len({each.id for each in shelf}) == len(shelf)
    assert sum(len(getattr(many.catalogue, kind.name)) for kind in fields(Catalogue)) >= 400


@pytest.mark.parametrize("details", ["", "nights=4", "chemistry=agm", "ambient=20F", "bank=48V"])
def test_the_cheapest_of_all_banks_is_found(many: Guide, details: str) -> None:
    compared = 0
    for outcome in outcomes(many, details):
        best = outcome.best
        if best is None or best.design is None:
            continue
        alone, supplies = [], Supplies(many, outcome.needs)
        for place, battery in enumerate(many.catalogue.batteries):
            # The shelf stays whole: beside 24 or 48 V the rig's own 12 V needs a battery too.
            found = consider(many, outcome.needs, best.candidate, supplies, Only(battery))
            if found.design is not None:
                count = found.design.bank.count
                cost = (count * battery.price, count * battery.mass, place)
                alone.append((cost, battery.id, count))
        bank = best.design.bank
        assert min(alone)[1:] == (bank.battery.id, bank.count)
        compared += 1
    assert compared > 2


def test_a_page_tells_of_the_nearest_and_says_how_many_more_there_are(many: Guide) -> None:
    answers = read_pairs(many, ["rig=van", "scope=whole", "heavy=1", "biggest=cooking"])
    html = respond(many, answers, changes=False).html
    told = html.partition('id="rig-considered-title"')[2].partition("</ul>")[0]
    named = re.findall("<li><strong>(.*?)</strong>", told)
    assert sum(len(re.findall(r"\d × ", each)) for each in named) == MOST_TOLD
    found = conversation_of(many).outcome(answers).considered
    others = len({(each.candidate.layout, each.candidate.inverter.id) for each in found}) - 1
    assert many.wording.page.say("considered-more", count=others - MOST_TOLD) in told


def test_a_wider_tree_keeps_its_questions() -> None:
    wide = with_rigs(demo(), 3)
    conversation = Conversation(wide)
    ways = sum(1 for _ in conversation.completions(Answers({})))
    assert ways == 3 * sum(1 for _ in Conversation(demo()).completions(Answers({})))
    answers = read_pairs(wide, ["rig=coach-50-2", "scope=whole", "heavy=0"])
    question = conversation.next_question(answers)
    assert question is not None
    assert question.id == "v240"
