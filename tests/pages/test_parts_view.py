"""The parts list as it is read: spares with theirs, its sum between two others, when it comes."""

import csv
import io
import json
from dataclasses import replace

import pytest

from engine.advice.plan.price import OFTEN_THERE, price_range
from engine.model.guide import Guide
from engine.model.products import OpenBox
from engine.pages.answer.parts_view import PART_GROUPS, SPARE, PartsView
from engine.pages.print.exports import parts_csv, parts_json
from engine.wording.tongue import money
from tests.advice.conftest import with_shelf
from tests.pages.conftest import Case


def test_every_article_stands_under_a_heading_once_with_all_its_uses(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    known = {group for groups in PART_GROUPS.values() for group in groups}
    for case in cases:
        view = PartsView(guide, case.design)
        main = [line for line in case.design.parts if not line.group.startswith(SPARE)]
        assert {line.group for line in main} <= known, case.link
        assert sorted(view.orders()) == sorted(case.design.orders), case.link
        rows = view.rows()
        assert [row.article for row in rows] == [order.product for order in view.orders()]
        assert sum(len(row.uses) for row in rows) == len(main), case.link
        spares = [line for line in case.design.parts if line.group.startswith(SPARE)]
        told = sum("spare" in use.text for row in rows for use in row.uses)
        assert told == len(spares), case.link
        for spare in spares:
            of = [line for line in main if line.product == spare.product]
            assert sum(line.quantity for line in of) >= spare.quantity > 0, case.link


def test_each_use_says_why_and_how_many_where_the_quantity_does_not(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        view = PartsView(guide, case.design)
        for row, order in zip(view.rows(), view.orders(), strict=True):
            assert all(row.uses)
            counted = len(order.uses) > 1 or order.pack > 1
            assert all(use.text[0].isdigit() == counted for use in row.uses), (case.link, row)


def test_packs_and_lengths_are_said_in_the_quantity(guide: Guide, tree: tuple[Case, ...]) -> None:
    view = PartsView(guide, tree[0].design)
    said = {row.article: row.quantity for row in view.rows()}
    orders = {order.product: order for order in view.orders()}
    packs = [name for name, order in orders.items() if order.pack > 1]
    assert packs
    for name in packs:
        count, words, *_, size = said[name].split()
        assert (count, words[:4], size) == (
            f"{orders[name].quantity:g}",
            "pack",
            f"{orders[name].pack}",
        )
    assert all(
        "ft" in said[name] or "in" in said[name] for name, o in orders.items() if o.unit == "m"
    )


def test_what_stays_out_has_its_reason(guide: Guide, cases: tuple[Case, ...]) -> None:
    for case in cases:
        absent = PartsView(guide, case.design).left_out(case.needs)
        assert len(absent) > 3
        assert all(each.what and each.why.endswith(".") for each in absent)


def test_the_sum_lies_between_the_least_and_the_most(guide: Guide, cases: tuple[Case, ...]) -> None:
    for case in cases:
        design = case.design
        least, most = price_range(guide, design)
        assert least <= design.parts_price < most
        there = sum(each.price for each in design.orders if each.uses[0].group in OFTEN_THERE)
        assert least <= design.parts_price - there + 1e-9, case.link
        assert most == pytest.approx(design.parts_price * 1.1)
        told = PartsView(guide, design).range
        assert money(least) in told
        assert money(most) in told


def test_opened_articles_lower_the_least_by_as_many_as_there_are(
    guide: Guide, tree: tuple[Case, ...]
) -> None:
    case = next(case for case in tree if case.design.bank.count >= 2)
    battery = case.design.bank.battery
    without = replace(battery, open_box=())
    offer = OpenBox(condition="scratched", price=battery.price - 100.0, count=1)
    opened = replace(battery, open_box=(offer,))

    def least(kind: object) -> float:
        shelf = tuple(kind if e.id == battery.id else e for e in guide.catalogue.batteries)
        return price_range(with_shelf(guide, batteries=shelf), case.design)[0]

    assert least(without) - least(opened) == pytest.approx(100.0)


def test_files_say_when_an_article_comes(guide: Guide, tree: tuple[Case, ...]) -> None:
    case = tree[0]
    inverter = case.design.candidate.inverter
    late = replace(inverter, delivery="three weeks", stock="out-of-stock")
    shelf = tuple(late if e.id == inverter.id else e for e in guide.catalogue.inverters)
    waiting = with_shelf(guide, inverters=shelf)
    told = f"{guide.wording.page['out-of-stock']}, three weeks"
    rows = list(csv.DictReader(io.StringIO(parts_csv(waiting, case.advice))))
    assert [row["delivery"] for row in rows if row["article"] == inverter.id] == [told]
    assert {row["delivery"] for row in rows if row["article"] != inverter.id} == {""}
    parts = json.loads(parts_json(waiting, case.advice))["parts"]
    assert [part["delivery"] for part in parts if part["article"] == inverter.id] == [told]


def test_the_json_says_between_which_sums_and_what_is_not_in_it(
    guide: Guide, tree: tuple[Case, ...]
) -> None:
    data = json.loads(parts_json(guide, tree[0].advice))
    assert data["total_from"] < data["total"] < data["total_to"]
    assert "Labor" in data["not_included"][0]["what"]
    assert all(each["why"] for each in data["not_included"])
    rebuilt = sum(part["quantity"] * part["price_each"] for part in data["parts"])
    assert rebuilt == pytest.approx(data["total"], abs=0.5)
