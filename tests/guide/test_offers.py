"""Stock and offers: what each does to recommendations, parts lists and pages."""

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from engine.answer import answer_of
from engine.answer_text import as_json, as_text
from engine.conversation import Conversation
from engine.links import read_pairs
from engine.model.guide import Guide
from engine.model.products import OpenBox
from engine.model.result import Considered
from engine.respond import respond
from guide.load import load_guide
from tests.guide.shops import demo, edited

ASKED = "rig=van scope=whole heavy=1 biggest=cooking"


def best(guide: Guide, asked: str = ASKED) -> Considered:
    conversation = Conversation(guide)
    found = conversation.outcome(read_pairs(guide, asked.split())).best
    assert found is not None
    return found


def changed(guide: Guide, shelf: str, name: str, **fields: Any) -> Guide:
    """The guide with one article of a shelf changed."""
    articles = tuple(
        replace(each, **fields) if each.id == name else each
        for each in getattr(guide.catalogue, shelf)
    )
    return replace(guide, catalogue=replace(guide.catalogue, **{shelf: articles}))


def weighing(guide: Guide, counts: float) -> Guide:
    """The guide whose shop counts so much for each article that must be waited for."""
    measures = tuple(
        replace(each, counts=counts) if each.measure == "waiting" else each
        for each in guide.priorities.list
    )
    return replace(guide, priorities=replace(guide.priorities, list=measures))


def test_a_unit_out_of_stock_gives_way_as_far_as_the_shop_counts_waiting() -> None:
    unit = best(demo()).candidate.inverter.id
    out = changed(demo(), "inverters", unit, stock="out-of-stock")
    assert best(weighing(out, 0.0)).candidate.inverter.id == unit
    assert best(weighing(out, 5000.0)).candidate.inverter.id != unit


def test_a_battery_out_of_stock_gives_way_too() -> None:
    design = best(demo()).design
    assert design is not None
    out = changed(demo(), "batteries", design.bank.battery.id, stock="out-of-stock")
    other = best(weighing(out, 5000.0)).design
    assert other is not None
    assert other.bank.battery.id != design.bank.battery.id


def test_of_two_parts_that_will_do_the_one_in_stock_is_taken() -> None:
    guide = demo()
    part = guide.catalogue.monitors[0]
    twin = replace(part, id="twin-monitor", price=part.price + 100)
    more = replace(guide, catalogue=replace(guide.catalogue, monitors=(part, twin)))
    for stock, taken in (("in-stock", part.id), ("out-of-stock", twin.id)):
        design = best(changed(more, "monitors", part.id, stock=stock)).design
        assert design is not None
        assert taken in {line.product for line in design.parts}


def test_what_is_out_of_stock_is_said_at_the_top_and_in_the_parts_list() -> None:
    unit = best(demo()).candidate.inverter
    out = changed(demo(), "inverters", unit.id, stock="out-of-stock", delivery="three weeks")
    out = weighing(out, 0.0)
    page = out.wording.page
    html = respond(out, read_pairs(out, ASKED.split())).html
    assert page.say("stock-some", names=unit.name) in html
    assert page["out-of-stock"] in html
    assert page.say("delivery", delivery="three weeks") in html
    inside = respond(demo(), read_pairs(demo(), ASKED.split())).html
    assert page["out-of-stock"] not in inside


def test_opened_units_are_offered_and_do_not_change_the_recommendation() -> None:
    unit = best(demo()).candidate.inverter
    opened = OpenBox(condition="opened for a look", price=1.0, count=2)
    offered = changed(demo(), "inverters", unit.id, open_box=(opened,))
    assert best(offered).score == best(demo()).score
    answers = read_pairs(offered, ASKED.split())
    html = respond(offered, answers).html
    assert "$1 each (2 left): opened for a look" in html
    answer = answer_of(Conversation(offered), answers)
    parts = json.loads(as_json(offered, answer))["parts"]
    line = next(each for each in parts if each["product"] == unit.id)
    assert line["open_box"] == [{"condition": "opened for a look", "price": 1.0, "count": 2}]
    assert line["stock"] == "in-stock"


def test_the_condition_of_an_opened_unit_is_escaped() -> None:
    unit = best(demo()).candidate.inverter
    opened = OpenBox(condition="<b>bent</b>", price=1.0, count=1)
    offered = changed(demo(), "inverters", unit.id, open_box=(opened,))
    assert "<b>bent</b>" not in respond(offered, read_pairs(offered, ASKED.split())).html


def test_what_is_discontinued_is_in_no_answer_and_stays_known(tmp_path: Path) -> None:
    unit = best(demo()).candidate.inverter
    gone = f"  id: {unit.id}\n  stock: discontinued\n  successor: flat-24v-3200va\n"
    folder = edited(tmp_path, ("catalogue/inverters.yaml", f"  id: {unit.id}\n", gone))
    guide = load_guide(folder)
    assert unit.id not in {each.id for each in guide.catalogue.inverters}
    article = guide.article(unit.id)
    assert article is not None
    assert (article.sold, article.successor) == (False, "flat-24v-3200va")
    now = guide.in_its_place("tall-3000-24")
    assert now is not None and now.id == "flat-24v-3200va", "the successor of its successor"
    conversation = Conversation(guide)
    outcome = conversation.outcome(read_pairs(guide, ASKED.split()))
    assert unit.id not in {each.candidate.inverter.id for each in outcome.considered}


def test_what_is_made_after_an_article_does_not_take_over_its_stock(tmp_path: Path) -> None:
    first = "  price: 16 USD\n"
    out = f"{first}  stock: out-of-stock\n  delivery: a month\n"
    guide = load_guide(edited(tmp_path, ("catalogue/fans.yaml", first, out)))
    stock = {each.id: each.stock for each in guide.catalogue.fans}
    assert stock.pop("fan-12-small") == "out-of-stock"
    assert set(stock.values()) == {"in-stock"}


@pytest.mark.parametrize("asked", ["", "rig=van", ASKED])
def test_a_link_without_an_edition_has_no_notice(asked: str) -> None:
    conversation = Conversation(demo())
    answer = answer_of(conversation, read_pairs(demo(), asked.split()))
    assert "edition" not in as_text(demo(), answer).lower()
