"""Unit beside unit, and the page of the whole range."""

import re
import xml.etree.ElementTree as ET

import pytest
from markupsafe import escape

from engine.links import read_link
from engine.model.guide import Guide
from engine.pages.answer.other_units import comparison_of, shape_of
from engine.pages.units_page import cases_of, draw_range, table_of
from engine.respond import respond_to
from tests.pages.conftest import Case, case_of

SVG = "{http://www.w3.org/2000/svg}"
PATH = "rig=van/scope=whole/heavy=1/biggest=cooking/"


def test_two_or_three_different_units_stand_side_by_side_the_recommended_first(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        found = comparison_of(guide, case.advice, case.answers)
        assert found is not None, case.link
        ids = [column.unit.id for column in found.columns]
        assert 2 <= len(ids) <= 3
        assert len(set(ids)) == len(ids)
        assert ids[0] == case.design.candidate.inverter.id
        assert [column.recommended for column in found.columns] == [True] + [False] * (len(ids) - 1)
        assert all(column.verdict for column in found.columns)


def test_what_differs_comes_first_and_what_is_the_same_second(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        found = comparison_of(guide, case.advice, case.answers)
        assert found is not None
        assert found.differs
        assert all(len(set(line.texts)) > 1 for line in found.differs)
        assert all(len(set(line.texts)) == 1 for line in found.same)
        labels = [line.label for line in (*found.differs, *found.same)]
        assert len(set(labels)) == len(labels)


@pytest.mark.parametrize(
    ("asked", "shown"),
    [
        ("beside=flat-12v-3200va", ["flat-12v-3200va"]),
        (
            "beside=Flat 3200, 12 V&beside-too=twin-24v-3200va",
            ["flat-12v-3200va", "twin-24v-3200va"],
        ),
        ("beside-too=split-48v-6400va", ["split-48v-6400va"]),
    ],
)
def test_the_units_that_a_visitor_names_are_shown(
    guide: Guide, asked: str, shown: list[str]
) -> None:
    case = case_of(guide, PATH, asked)
    assert case is not None
    found = comparison_of(guide, case.advice, case.answers)
    assert found is not None
    assert [column.unit.id for column in found.columns][1:] == shown


@pytest.mark.parametrize("gone", ["tall-3000-48", "Tall 3000, 48 V"])
def test_a_link_to_a_unit_that_is_no_longer_sold_shows_and_names_its_successor(
    guide: Guide, gone: str
) -> None:
    case = case_of(guide, PATH, f"beside={gone}")
    assert case is not None
    found = comparison_of(guide, case.advice, case.answers)
    assert found is not None
    assert [column.unit.id for column in found.columns][1:] == ["tall-48v-3200va"]
    page = respond_to(guide, PATH, f"beside={gone}")
    assert "Tall 3000, 48 V is no longer sold; Tall 3200, 48 V replaces it." in page.html
    assert '<option value="tall-48v-3200va" selected' in page.html
    assert "is no longer sold" not in respond_to(guide, PATH, "beside=tall-48v-3200va").html


def test_a_unit_that_does_not_fit_says_why(guide: Guide) -> None:
    case = case_of(guide, PATH, "beside=split-48v-6400va")
    assert case is not None
    found = comparison_of(guide, case.advice, case.answers)
    assert found is not None
    assert "2 legs" in found.columns[1].verdict


def test_each_unit_has_a_card_and_what_differs_from_the_first_is_bold(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases[::10]:
        found = comparison_of(guide, case.advice, case.answers)
        assert found is not None
        cards = case.page.html.partition('<div class="rig-units">')[2].split('class="rig-unit"')[1:]
        assert len(cards) == len(found.columns)
        for place, (card, column) in enumerate(zip(cards, found.columns, strict=True)):
            assert f"<h3>{escape(column.name)}</h3>" in card
            values = re.findall(r"<dd>(<strong>)?(.*?)(?:</strong>)?</dd>", card)
            assert [text for _, text in values[: len(found.differs)]] == [
                escape(line.texts[place]) for line in found.differs
            ]
            assert [bool(bold) for bold, _ in values[: len(found.differs)]] == [
                line.texts[place] != line.texts[0] for line in found.differs
            ]
        assert f"The same in all: {escape(found.alike)}" in case.page.html


def test_naming_a_unit_changes_nothing_else(guide: Guide) -> None:
    plain, asked = case_of(guide, PATH), case_of(guide, PATH, "beside=flat-12v-3200va")
    assert plain is not None and asked is not None
    assert plain.design == asked.design


def test_an_unknown_unit_is_named_with_the_nearest(guide: Guide) -> None:
    answers = read_link(guide, PATH, "beside=flat-300-12")
    assert [fault.question for fault in answers.faults] == ["beside"]
    assert "flat-12v-3200va" in answers.faults[0].message
    page = respond_to(guide, PATH, "beside=flat-300-12")
    assert page.answer.status == "recommended"
    assert "flat-300-12" in page.html


def test_the_form_offers_every_unit(guide: Guide) -> None:
    html = respond_to(guide, PATH).html
    for unit in guide.catalogue.inverters:
        assert f'<option value="{unit.id}"' in html


def test_the_pictures_keep_one_scale(guide: Guide, cases: tuple[Case, ...]) -> None:
    for case in cases[::10]:
        found = comparison_of(guide, case.advice, case.answers)
        assert found is not None
        boxes = [
            (float(box.get("width") or 0), float(box.get("height") or 0))
            for box in ET.fromstring(found.picture.svg).iter(f"{SVG}rect")
            if box.get("fill-opacity")
        ]
        scale = boxes[0][0] / found.columns[0].unit.width
        for (width, height), column in zip(boxes, found.columns, strict=True):
            assert width == pytest.approx(column.unit.width * scale, abs=0.2)
            assert height == pytest.approx(column.unit.height * scale, abs=0.2)


def test_the_range_page_shows_every_unit_and_draws_every_case(guide: Guide) -> None:
    page = draw_range(guide)
    assert {row[0] for row in table_of(guide).rows} == {
        unit.name for unit in guide.catalogue.inverters
    }
    assert all(unit.name in page.html for unit in guide.catalogue.inverters)
    start = page.html.index("<svg")
    svg = page.html[start : page.html.index("</svg>") + len("</svg>")]
    drawn = [box for box in ET.fromstring(svg).iter(f"{SVG}rect") if box.get("fill-opacity")]
    assert len(drawn) == len(cases_of(guide))


def test_the_range_page_offers_opened_units_with_condition_and_count(guide: Guide) -> None:
    offers = {row[0]: row[-1] for row in table_of(guide).rows}
    opened = [unit for unit in guide.catalogue.inverters if unit.open_box]
    assert opened
    for unit in guide.catalogue.inverters:
        assert ("opened" in offers[unit.name]) == bool(unit.open_box)
        for offer in unit.open_box:
            assert offer.condition in offers[unit.name]
            assert f"({offer.count} left)" in offers[unit.name]


def test_a_shape_is_named_by_its_longer_side(guide: Guide) -> None:
    shapes = {unit.id: shape_of(unit) for unit in guide.catalogue.inverters}
    assert shapes["tall-12v-3200va"] == "tall"
    assert shapes["flat-12v-3200va"] == "flat"
