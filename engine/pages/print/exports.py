"""The parts list as files: CSV for a spreadsheet, JSON for a program.

CSV after RFC 4180: commas, CR LF, texts with commas or quotes in quotes. A text that a spreadsheet
would take for a formula gets an apostrophe in front. Each article has one line and all its uses.
What is left out stands below, with a quantity of 0 and the reason where the uses are.
"""

import csv
import io
import json
from dataclasses import dataclass

from engine.advice.plan.price import price_range
from engine.answer import Advice
from engine.model.guide import Guide
from engine.model.result import Design
from engine.pages.answer.estimate import Estimate, estimate_of
from engine.pages.answer.parts_view import PartsView

Cell = str | float | bool

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What begins a formula in some spreadsheet, full-width signs included (OWASP, CSV injection)."""

FOLLOWS = frozenset({"price", "currency", "stocked"})
"""What a program gets from the other fields: quantity times price, the list's own, an article."""

COLUMNS = (
    "quantity",
    "unit",
    "article",
    "name",
    "uses",
    "price_each",
    "price",
    "currency",
    "weight_kg",
    "stocked",
    "delivery",
    "have",
)


@dataclass(frozen=True, slots=True)
class Download:
    """A file as it is handed out."""

    name: str
    kind: str
    text: str


def download(guide: Guide, advice: Advice, name: str) -> Download:
    """The parts list as the file of this name.

    Raises
    ------
    ValueError : if it is none of its files.
    """
    files = FILES if estimate_of(guide, advice) is None else {**FILES, **ESTIMATE_FILES}
    if name not in files:
        raise ValueError(f"the parts list is handed out as {', '.join(files)}")
    kind, write = files[name]
    return Download(name, kind, write(guide, advice))


def parts_csv(guide: Guide, advice: Advice) -> str:
    """The parts list as CSV, one line an article, the names of the columns first."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row in _rows(guide, advice):
        writer.writerow([safe(_cell(row[name])) for name in COLUMNS])
    for each in _listed(guide, advice).left_out(advice.outcome.needs):
        absent: dict[str, Cell] = {"quantity": 0.0, "name": each.what, "uses": each.why}
        writer.writerow([safe(absent.get(name, "")) for name in COLUMNS])
    return out.getvalue()


def parts_json(guide: Guide, advice: Advice) -> str:
    """The parts list as JSON with its total and the edition of the guide that it comes from."""
    least, most = price_range(guide, _design(advice))
    return json.dumps(
        {
            "edition": guide.edition,
            "prices_as_of": guide.shop.prices_as_of,
            "invented": guide.shop.invented,
            "currency": guide.shop.currency,
            "parts": [
                {name: cell for name, cell in row.items() if name not in FOLLOWS}
                for row in _rows(guide, advice)
            ],
            "total": round(_design(advice).parts_price, 2),
            "total_from": round(least, 2),
            "total_to": round(most, 2),
            "not_included": [
                {"what": each.what, "why": each.why}
                for each in _listed(guide, advice).left_out(advice.outcome.needs)
            ],
            "weight_kg": round(_design(advice).mass_kg, 2),
        },
        ensure_ascii=False,
        separators=(",", ":"),
    )


FILES = {"parts.csv": ("text/csv", parts_csv), "parts.json": ("application/json", parts_json)}
"""What the parts list is handed out as, each with its kind and what writes it."""


ESTIMATE_COLUMNS = (
    "quantity",
    "unit",
    "article",
    "name",
    "price_each",
    "price",
    "currency",
    "link",
)


def estimate_rows(guide: Guide, advice: Advice) -> list[tuple[Cell, ...]]:
    """The estimate as rows of a table: the names of the columns, each item, then the sums."""
    estimate = Estimate(guide, advice)
    code, page = guide.shop.currency, guide.wording.page
    items: list[tuple[Cell, ...]] = [
        (
            round(order.quantity, 3),
            order.unit or "each",
            order.product,
            order.name,
            round(order.price_each, 2),
            round(order.price, 2),
            code,
            estimate.link(order.product),
        )
        for order in estimate.orders()
    ]
    prices = [estimate.parts_price, estimate.labor_price, estimate.tax_price, estimate.total]
    names = ("parts", "labor", "tax", "total")
    sums = [
        ("", "", "", name, "", price, code, "") for name, price in zip(names, prices, strict=True)
    ]
    terms = ("", "", "", estimate.terms_said(), "", "", "", "")
    fit = ("", "", "", page["message-fit"], "", "", "", "")
    return [ESTIMATE_COLUMNS, *items, *sums, terms, fit]


def estimate_csv(guide: Guide, advice: Advice) -> str:
    """The estimate as CSV."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerows([safe(cell) for cell in row] for row in estimate_rows(guide, advice))
    return out.getvalue()


ESTIMATE_FILES = {"estimate.csv": ("text/csv", estimate_csv)}
"""The files of an estimate, where the shop wants one."""


def safe(value: Cell) -> str:
    """A cell that no spreadsheet takes for a formula.

    >>> safe("=1+1"), safe("Fuse, 300 A"), safe(-1.5), safe(True)
    ("'=1+1", 'Fuse, 300 A', '-1.5', 'yes')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if not isinstance(value, str):
        return f"{value:.10g}"
    return f"'{value}" if value.lstrip(" ").startswith(FORMULA_STARTS) else value


def _design(advice: Advice) -> Design:
    if advice.best.design is None:
        raise ValueError("a recommendation has a design")
    return advice.best.design


def _listed(guide: Guide, advice: Advice) -> PartsView:
    return PartsView(guide, _design(advice))


def _delivery(guide: Guide, article_id: str) -> str:
    """What the shop says of when it comes: in words; "" where nothing needs saying."""
    article = guide.article(article_id)
    if article is None or (article.stock != "out-of-stock" and not article.delivery):
        return ""
    absent = guide.wording.page["out-of-stock"] if article.stock == "out-of-stock" else ""
    return ", ".join(filter(None, (absent, article.delivery)))


def _rows(guide: Guide, advice: Advice) -> tuple[dict[str, Cell | dict[str, float]], ...]:
    return tuple(
        {
            "quantity": round(order.quantity, 3),
            "unit": order.unit or "each",
            "article": order.product,
            "name": order.name,
            "uses": {use.group: round(use.quantity, 3) for use in order.uses},
            "price_each": round(order.price_each, 2),
            "price": round(order.price, 2),
            "currency": guide.shop.currency,
            "weight_kg": round(sum(use.quantity * use.mass_each_kg for use in order.uses), 3),
            "stocked": bool(order.product),
            "have": order.have,
            "delivery": _delivery(guide, order.product),
        }
        for order in _listed(guide, advice).orders()
    )


def _cell(value: Cell | dict[str, float]) -> Cell:
    """A cell of the table: uses in one text, each with how many."""
    if isinstance(value, dict):
        return "; ".join(f"{name} {count:g}" for name, count in value.items())
    return value
