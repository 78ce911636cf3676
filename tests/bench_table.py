"""A row of the benchmark about the catalog's spreadsheet: thousands of products at once."""

import tempfile
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from guide.content_folder import CONTENT
from guide.spreadsheet.book import Sheet, read_tables, write_tables
from guide.spreadsheet.columns import FAMILIES
from guide.spreadsheet.export import currency_of, sheet_of
from guide.spreadsheet.importing import plan_import
from guide.spreadsheet.shelf import read_shelf
from tests.bench_rows import Row

ROWS = 5_000
GROWN = ("inverters", "batteries", "fuses", "cables", "lugs", "breakers", "hardware", "fans")


def grown() -> Iterator[Sheet]:
    """The demo's tables; some with its first product so often that all have ROWS rows together."""
    sheets = [sheet_of(read_shelf(CONTENT, each), currency_of(CONTENT)) for each in FAMILIES]
    more = ROWS - sum(len(sheet.rows) for sheet in sheets)
    for sheet in sheets:
        count = more // len(GROWN) if sheet.name in GROWN else 0
        copies = [(f"{sheet.name}-{at}", *sheet.rows[0][1:]) for at in range(count)]
        yield replace(sheet, rows=(*sheet.rows, *copies))


def row() -> Row:
    """Measure the row."""
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "many.xlsx"
        write_tables(book, grown(), ())
        began = time.perf_counter()
        found = plan_import(CONTENT, read_tables(book))
        took = time.perf_counter() - began
    if found.faults:
        raise AssertionError(found.faults[0])
    new = sum(len(each.new) for each in found.families)
    return Row(f"import of a workbook, {new:,} new products, checked", [took], unit="s", digits=1)
