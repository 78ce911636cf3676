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


def test_every_line_stands_under_a_heading_once_and_spares_with_theirs(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    known = {group for groups in PART_GROUPS.values() for group in groups}
    for case in cases:
        view = PartsView(guide, case.design)
        rows = [row for _, rows in view.groups() for row in rows]
        main = [line for line in case.design.parts if not line.group.startswith(SPARE)]
        assert {line.group for line in main} <= known, case.link
        assert len(rows) == len(main) == len(view.rows()), case.link
        spares = [line for line in case.design.parts if line.group.startswith(SPARE)]
        assert sum("spare" in row.name for row in rows) == len(spares), case.link
        for spare in spares:
            of = [line for line in main if line.product == spare.product]
            assert sum(line.quantity for line in of) >= spare.quantity > 0, case.link


def test_each_row_says_why_it_is_there(guide: Guide, cases: tuple[Case, ...]) -> None:
    for case in cases:
        assert all(row.why for row in PartsView(guide, case.design).rows())


def test_the_sum_lies_between_the_least_and_the_most(guide: Guide, cases: tuple[Case, ...]) -> None:
    for case in cases:
        design = case.design
        least, most = price_range(guide, design)
        assert least <= design.parts_price < most
        there = sum(line.price for line in design.parts if line.group in OFTEN_THERE)
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
    assert "labour" in data["not_included"]
    rebuilt = sum(part["quantity"] * part["price_each"] for part in data["parts"])
    assert rebuilt == pytest.approx(data["total"], abs=0.5)
