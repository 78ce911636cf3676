"""The parts list as files: read back by other parsers, harmless in a spreadsheet."""

import io
import json

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.browser import reply
from engine.model.guide import Guide
from engine.pages.answer.parts_view import PartsView
from engine.pages.print.exports import (
    COLUMNS,
    FORMULA_STARTS,
    parts_csv,
    parts_json,
    safe,
)
from tests.pages.conftest import Case


def rfc_4180(text: str) -> list[list[str]]:
    """Read CSV by the grammar of RFC 4180 alone, refusing whatever is outside of it."""
    rows: list[list[str]] = []
    row: list[str] = []
    at = 0
    while at < len(text):
        if text[at] == '"':
            field, at = "", at + 1
            while True:
                end = text.index('"', at)
                field += text[at:end]
                if text[end + 1 : end + 2] != '"':
                    at = end + 1
                    break
                field, at = field + '"', end + 2
        else:
            end = min(text.index(sign, at) for sign in (",", "\r\n") if sign in text[at:])
            field, at = text[at:end], end
            assert '"' not in field and "\n" not in field and "\r" not in field
        row.append(field)
        if text[at] == ",":
            at += 1
            continue
        assert text[at : at + 2] == "\r\n"
        rows.append(row)
        row, at = [], at + 2
    return rows


def test_the_csv_is_that_of_rfc_4180_and_holds_every_part(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        rows = rfc_4180(parts_csv(guide, case.advice))
        assert tuple(rows[0]) == COLUMNS
        assert all(len(row) == len(COLUMNS) for row in rows)
        listed = PartsView(guide, case.design)
        absent = [each.what for each in listed.left_out(case.needs)]
        names = [order.name for order in listed.orders()]
        assert [row[3] for row in rows[1:]] == names + absent
        assert [row[0] for row in rows[-len(absent) :]] == ["0"] * len(absent)


def test_another_parser_reads_the_same_figures(guide: Guide, tree: tuple[Case, ...]) -> None:
    for case in tree[::10]:
        frame = pd.read_csv(io.StringIO(parts_csv(guide, case.advice)))
        assert list(frame.columns) == list(COLUMNS)
        orders = PartsView(guide, case.design).orders()
        bought = frame[frame["quantity"] > 0]
        assert bought["quantity"].tolist() == pytest.approx(
            [order.quantity for order in orders], abs=0.001
        )
        assert bought["article"].tolist() == [order.product for order in orders]
        assert frame["price"].sum() == pytest.approx(case.design.parts_price, abs=0.5)


def test_the_json_holds_the_parts_the_total_and_the_edition(
    guide: Guide, cases: tuple[Case, ...]
) -> None:
    for case in cases:
        data = json.loads(parts_json(guide, case.advice))
        assert data["edition"] == guide.edition
        assert data["total"] == pytest.approx(case.design.parts_price, abs=0.01)
        assert data["weight_kg"] == pytest.approx(case.design.mass_kg, abs=0.01)
        orders = PartsView(guide, case.design).orders()
        assert [part["article"] for part in data["parts"]] == [each.product for each in orders]
        for part, order in zip(data["parts"], orders, strict=True):
            assert sum(part["uses"].values()) == pytest.approx(order.needed, abs=0.01)


@given(st.text())
def test_no_cell_begins_as_a_formula(text: str) -> None:
    cell = safe(text)
    assert cell in (text, f"'{text}")
    assert not cell.lstrip(" ").startswith(FORMULA_STARTS)


@pytest.mark.parametrize(
    "text", ["=HYPERLINK(1)", "+1", "-1+2", "@SUM(A1)", "\t=1", "\r=1", " =1", "＝1"]
)
def test_a_formula_is_made_a_text(text: str) -> None:
    assert safe(text) == f"'{text}"


def test_a_figure_stays_a_figure() -> None:
    assert safe(-1.5) == "-1.5"
    assert safe(12.0) == "12"


def test_a_file_is_made_when_its_name_is_asked_for(guide: Guide, tree: tuple[Case, ...]) -> None:
    for name, written in (("parts.csv", parts_csv), ("parts.json", parts_json)):
        asked = {"id": 1, "kind": "file", "link": f"{tree[0].page.path}#", "name": name}
        told = json.loads(reply(json.dumps(asked), guide))
        assert (told["name"], told["text"]) == (name, written(guide, tree[0].advice))
    asked = {"id": 1, "kind": "file", "link": f"{tree[0].page.path}#", "name": "parts.xls"}
    assert "parts.csv, parts.json" in json.loads(reply(json.dumps(asked), guide))["refused"]
