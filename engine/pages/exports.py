"""The parts list as files: CSV for a spreadsheet, JSON for a program.

CSV after RFC 4180: commas, CR LF, texts with commas or quotes in quotes. A text that a spreadsheet
would take for a formula gets an apostrophe in front.
"""

import csv
import io
import json
from dataclasses import dataclass
from urllib.parse import quote

from engine.answer import Advice
from engine.model.guide import Guide
from engine.model.result import PartLine

FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What begins a formula in some spreadsheet, full-width signs included (OWASP, CSV injection)."""

_SAFE_IN_ADDRESS = ",:/()=+@$!*"

COLUMNS = (
    "group",
    "article",
    "name",
    "quantity",
    "unit",
    "price_each",
    "price",
    "currency",
    "weight_each_kg",
    "stocked",
    "why",
)


@dataclass(frozen=True, slots=True)
class Download:
    """A file that a link carries in itself, so that it needs neither script nor network."""

    name: str
    kind: str
    text: str

    @property
    def address(self) -> str:
        """The file as a data address; not as base64, which no web server can compress well."""
        return f"data:{self.kind};charset=utf-8,{quote(self.text, safe=_SAFE_IN_ADDRESS)}"


def downloads(guide: Guide, advice: Advice) -> tuple[Download, Download]:
    """The parts list as both files."""
    return (
        Download("parts.csv", "text/csv", parts_csv(guide, advice)),
        Download("parts.json", "application/json", parts_json(guide, advice)),
    )


def parts_csv(guide: Guide, advice: Advice) -> str:
    """The parts list as CSV, one line an article, the names of the columns first."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for row in _rows(guide, advice):
        writer.writerow([safe(row[name]) for name in COLUMNS])
    return out.getvalue()


def parts_json(guide: Guide, advice: Advice) -> str:
    """The parts list as JSON with its total and the edition of the guide that it comes from."""
    return json.dumps(
        {
            "edition": guide.edition,
            "prices_as_of": guide.shop.prices_as_of,
            "invented": guide.shop.invented,
            "currency": guide.shop.currency,
            "parts": list(_rows(guide, advice)),
            "total": round(sum(line.price for line in _lines(advice)), 2),
            "weight_kg": round(
                sum(line.quantity * line.mass_each_kg for line in _lines(advice)), 2
            ),
        },
        ensure_ascii=False,
        separators=(",", ":"),
    )


def safe(value: str | float | bool) -> str:
    """A cell that no spreadsheet takes for a formula.

    >>> safe("=1+1"), safe("Fuse, 300 A"), safe(-1.5), safe(True)
    ("'=1+1", 'Fuse, 300 A', '-1.5', 'yes')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    if not isinstance(value, str):
        return f"{value:g}"
    return f"'{value}" if value.lstrip(" ").startswith(FORMULA_STARTS) else value


def _lines(advice: Advice) -> tuple[PartLine, ...]:
    if advice.best.design is None:
        raise ValueError("a recommendation has a design")
    return advice.best.design.parts


def _rows(guide: Guide, advice: Advice) -> tuple[dict[str, str | float | bool], ...]:
    return tuple(
        {
            "group": line.group,
            "article": line.product,
            "name": line.name,
            "quantity": round(line.quantity, 3),
            "unit": line.unit or "each",
            "price_each": round(line.price_each, 2),
            "price": round(line.price, 2),
            "currency": guide.shop.currency,
            "weight_each_kg": round(line.mass_each_kg, 3),
            "stocked": bool(line.product),
            "why": guide.wording.parts[line.group],
        }
        for line in _lines(advice)
    )
