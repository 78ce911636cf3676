"""The catalog of a content folder as tables."""

import re
from collections.abc import Iterator
from pathlib import Path

from guide.content_file import read_text
from guide.spreadsheet.book import Content, Head, Sheet, write_tables
from guide.spreadsheet.columns import FAMILIES, OFFERS, Column, columns_of
from guide.spreadsheet.shelf import Shelf, is_number, number_and_unit, read_shelf

CURRENCY = re.compile(r"^currency:\s*[\"']?([A-Z]{3})\b", re.MULTILINE)
ABOUT = (
    "This is the shop's catalog, a sheet for each family and a row for each product.",
    "Change a cell, add a row, or leave columns out; then: rig-guide catalogue import FILE",
    "Units stand in the headings. A cell may have its own unit: 30 cm in a column of inches.",
    "Gray cells are taken over from another entry of the file (its <<). Change them in the file.",
    "Points of a curve stand in one cell: 1850 W at 30 degC; 1630 W at 45 degC",
    "A row that is missing here is not deleted: write “discontinued” into its stock instead.",
)


def export(folder: Path, target: Path) -> int:
    """Write the whole catalog to a workbook or a folder of CSV files; return how many products.

    Raises
    ------
    ContentError : if a file of the catalog cannot be read.
    """
    currency = currency_of(folder)
    shelves = [read_shelf(folder, family) for family in FAMILIES]
    write_tables(target, (sheet_of(shelf, currency) for shelf in shelves), ABOUT)
    return sum(len(shelf.entries) for shelf in shelves)


def currency_of(folder: Path) -> str:
    """The currency that a shop writes its prices in, whatever fault its content has elsewhere."""
    text = read_text(folder / "shop.yaml", "shop.yaml")
    found = CURRENCY.search(text) if isinstance(text, str) else None
    return found[1] if found else ""


def sheet_of(shelf: Shelf, currency: str) -> Sheet:
    """One family as a table."""
    columns = columns_of(shelf.family)
    units = [shelf.unit_of(column, currency) for column in columns]
    rows, gray = [], set()
    for place, entry in enumerate(shelf.entries.values()):
        row: list[Content] = []
        for number, (column, unit) in enumerate(zip(columns, units, strict=True)):
            value = entry.values.get(column.path)
            row.append(_cell(value.text, column, unit) if value else None)
            if value and value.node is None:
                gray.add((place, number))
        rows.append(tuple(row))
    heads = tuple(map(_head, columns, units))
    return Sheet(shelf.family, heads, tuple(rows), frozenset(gray))


def heading(column: Column, unit: str) -> str:
    """What stands above a column: its key, and the unit of its numbers."""
    return f"{column.key} [{unit}]" if column.kind == "quantity" and unit else column.key


def _head(column: Column, unit: str) -> Head:
    choices = column.choices if column.kind in ("choice", "flag") else ()
    note = " ".join(_notes(column))
    return Head(
        heading(column, unit), note, choices, column.kind in ("text", "choice", "list", OFFERS)
    )


def _notes(column: Column) -> Iterator[str]:
    if column.key == "id":
        yield "The item number; it is part of links, so never change it."
    if column.needed:
        yield "Needed."
    if column.note:
        yield column.note
    elif column.choices:
        yield f"One of: {', '.join(column.choices)}."


def _cell(text: str, column: Column, unit: str) -> Content:
    """A value as it stands in a cell: a number where its unit is that of the heading."""
    if column.kind == "quantity":
        number, own = number_and_unit(text)
        return _plain(number) if number and own == unit else text
    if column.kind == "number" and is_number(text):
        return _plain(text)
    if column.kind == "flag" and text in ("true", "false"):
        return text == "true"
    return text


def _plain(number: str) -> float | int:
    return float(number) if "." in number else int(number)
