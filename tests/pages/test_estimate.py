"""The estimate: its sums, until when it holds, its file, and what is sent to ask for it."""

import csv
import html
import io
import json
import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from openpyxl import load_workbook

from engine.advice.judge.ranking import labor_h
from engine.answer import Advice
from engine.browser import reply
from engine.model.guide import Estimate as Terms
from engine.model.guide import Guide
from engine.pages.answer.estimate import Estimate
from engine.respond import respond_to
from guide import cli, cli_answer

COACH = "rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no/"
NONE_FITS = "rig=van/scope=whole/heavy=0/#budget=100"
Ask = Callable[..., dict[str, Any]]


def with_terms(guide: Guide, **terms: Any) -> Guide:
    return replace(guide, shop=replace(guide.shop, estimate=Terms(**terms)))


def advice_of(guide: Guide, link: str = COACH) -> Advice:
    advice = respond_to(guide, link).answer.advice
    assert advice is not None and advice.best.design is not None
    return advice


def ask(guide: Guide, kind: str, **fields: object) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(reply(json.dumps({"id": 1, "kind": kind, **fields}), guide))
    return found


@pytest.mark.parametrize("labor_taxed", [False, True])
def test_total_is_parts_labor_and_tax_on_what_is_taxed(guide: Guide, *, labor_taxed: bool) -> None:
    guide = with_terms(guide, days=30, rate=100.0, tax=0.07, labor_taxed=labor_taxed)
    advice = advice_of(guide)
    assert advice.best.design is not None
    estimate = Estimate(guide, advice)
    parts = round(sum(order.price for order in estimate.orders()), 2)
    hours = round(labor_h(guide, advice.outcome.needs, advice.best.design), 1)
    taxed = parts + (hours * 100.0 if labor_taxed else 0.0)
    assert estimate.parts_price == pytest.approx(parts, abs=0.005)
    assert estimate.total == pytest.approx(parts + hours * 100.0 + taxed * 0.07, abs=0.011)


def test_without_rate_and_tax_neither_is_in_it(guide: Guide) -> None:
    guide = with_terms(guide, days=30)
    estimate = Estimate(guide, advice_of(guide))
    assert len(estimate.sums()) == 2
    assert estimate.total == estimate.parts_price


def test_it_holds_from_the_date_of_its_prices_and_says_it_is_no_quote(guide: Guide) -> None:
    guide = with_terms(guide, days=45)
    said = Estimate(guide, advice_of(guide)).terms_said()
    # January has 31 days and February of 2026 has 28: 15 + 45 - 31 - 28 = 1
    assert guide.shop.prices_as_of == "2026-01-15" and "2026-03-01" in said
    assert "not a quote" in said


def test_items_lead_to_the_shops_store_by_their_numbers(guide: Guide) -> None:
    guide = with_terms(guide, days=1, item_link="https://store.example/{item}?x=1")
    for line in Estimate(guide, advice_of(guide)).lines():
        assert line.link == (f"https://store.example/{line.item}?x=1" if line.item else "")


def test_its_file_has_every_item_and_the_sums(guide: Guide) -> None:
    found = ask(guide, "file", link=COACH, name="estimate.csv")
    rows = list(csv.DictReader(io.StringIO(found["text"], newline="")))
    estimate = Estimate(guide, advice_of(guide))
    items = [row for row in rows if row["quantity"]]
    assert [row["article"] for row in items] == [order.product for order in estimate.orders()]
    sums = {row["name"]: row["price"] for row in rows if row["price"] and not row["quantity"]}
    assert float(sums["total"]) == estimate.total
    prices = sum(float(row["price"]) for row in items)
    assert float(sums["parts"]) == pytest.approx(prices, abs=0.005 * len(items))
    assert any("not a quote" in row["name"] for row in rows)


def test_a_shop_that_wants_none_has_none_anywhere(guide: Guide) -> None:
    guide = with_terms(guide)
    assert "refused" in ask(guide, "file", link=COACH, name="estimate.csv")
    assert ask(guide, "request", link=COACH)["html"] == ""
    assert "rig-estimate" not in ask(guide, "message", link=COACH)["html"]
    assert "data-rig-request" not in respond_to(guide, COACH).html


def test_staff_have_it_with_the_shop_and_the_link(guide: Guide) -> None:
    drawn = ask(guide, "message", link=f"{COACH}#cable=9ft")["html"]
    part = drawn[drawn.index("rig-estimate-text") :]
    assert guide.shop.phone in part and "cable=9ft" in part
    assert 'data-rig-file="estimate.csv"' in part


def test_a_request_shows_all_that_would_be_sent_and_mails_it(guide: Guide) -> None:
    drawn = html.unescape(ask(guide, "request", link=f"{COACH}#cable=9ft")["html"])
    found = re.search(r'href="mailto:([^"?]+)\?([^"]+)"', drawn)
    assert found is not None and found[1] == guide.shop.email
    body = parse_qs(found[2])["body"][0]
    for name in ("rig", "heavy", "cable"):
        assert guide.question(name).ask in body and guide.question(name).ask in drawn
    assert "cable=9ft" in body and "not a quote" in body
    assert "<form" not in drawn
    for note in advice_of(guide).cautions:
        assert note.caution.title in drawn


def test_a_form_sends_the_same_to_the_shops_own_address_only(guide: Guide) -> None:
    guide = with_terms(guide, days=1, form="https://forms.example/rig")
    drawn = ask(guide, "request", link=COACH)["html"]
    assert re.findall(r'<form method="post" action="([^"]+)"', drawn) == [
        "https://forms.example/rig"
    ]
    fields = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', drawn))
    assert urlsplit(html.unescape(fields["link"])).path == f"/guide/{COACH}"
    assert fields["edition"] == guide.edition
    assert "not a quote" in fields["text"]


def test_where_nothing_fits_the_request_says_so_and_how_to_reach_the_shop(guide: Guide) -> None:
    drawn = html.unescape(ask(guide, "request", link=NONE_FITS)["html"])
    assert guide.wording.page["request-none"] in drawn
    assert f"mailto:{guide.shop.email}?" in drawn and guide.shop.phone in drawn
    assert "<form" not in drawn and "$" not in drawn


def test_the_command_line_writes_it_as_a_spreadsheet(guide: Guide, tmp_path: Path) -> None:
    file, pairs = tmp_path / "estimate.xlsx", COACH.strip("/").split("/")
    assert cli.main(["answer", *pairs, "--estimate", str(file)]) == cli_answer.ANSWERED
    rows = list(load_workbook(file).worksheets[0].iter_rows(values_only=True))
    written = list(
        csv.reader(io.StringIO(ask(guide, "file", link=COACH, name="estimate.csv")["text"]))
    )
    assert [list(map(_as_text, row)) for row in rows] == written
    (total,) = (row[5] for row in rows if row[3] == "total")
    assert total == Estimate(guide, advice_of(guide)).total


def _as_text(cell: object) -> str:
    return "" if cell is None else f"{cell:.10g}" if isinstance(cell, float | int) else str(cell)


def test_without_an_estimate_the_command_line_says_why(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    pairs = ("rig=van", "scope=whole", "heavy=0", "budget=100")
    assert cli.main(["answer", *pairs, "--estimate", str(tmp_path / "a.csv")]) == cli.BAD_INPUT
    assert "only an answer with a setup" in capsys.readouterr().err
