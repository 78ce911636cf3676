"""The parts list as files: read back by other parsers, harmless in a spreadsheet."""

import io
import json
from urllib.parse import unquote

import pandas as pd
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.model.guide import Guide
from engine.pages.answer.parts_view import PartsView
from engine.pages.print.exports import (
    COLUMNS,
    FORMULA_STARTS,
    downloads,
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


def test_the_links_carry_the_files_in_themselves(guide: Guide, tree: tuple[Case, ...]) -> None:
    for file in downloads(guide, tree[0].advice):
        head, _, data = file.address.partition(",")
        assert head == f"data:{file.kind};charset=utf-8"
        assert not set(data) & set("\"'<>#& \r\n")
        assert unquote(data) == file.text
