"""Tables as people edit them: a workbook with a sheet for each family, or a folder of CSV files."""

import csv
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any
from zipfile import BadZipFile

from openpyxl import Workbook, load_workbook
from openpyxl.comments import Comment
from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.utils.exceptions import InvalidFileException
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from guide.fault import Refusal
from guide.spreadsheet.columns import FAMILIES

Content = str | float | int | bool | None
GRAY = PatternFill("solid", fgColor="DDDDDD")
HEAD = PatternFill("solid", fgColor="BFD7EA")
ABOUT = "Read me"
SPARE_ROWS = 500
"""Empty rows below a table whose cells have pick-lists, too."""
HEADS = ("id", "article")
"""What stands in a row of headings; titles may stand in the first rows above it."""
MOST_ABOVE = 10
LONGEST_LIST = 250
"""Signs that a pick-list may hold; a longer one stands in the note only."""


class BookError(Refusal):
    """A file is no table that can be read; says which and why."""


@dataclass(frozen=True, slots=True)
class Head:
    """A column's heading: its text, its note, and what may be picked in its cells."""

    text: str
    note: str
    choices: tuple[str, ...]
    as_text: bool


@dataclass(frozen=True, slots=True)
class Sheet:
    """A table to be written; `gray` are the (row, column) of values taken over from other rows."""

    name: str
    heads: tuple[Head, ...]
    rows: tuple[tuple[Content, ...], ...]
    gray: frozenset[tuple[int, int]]


@dataclass(frozen=True, slots=True)
class Read:
    """A value that was read, and what its place is called."""

    value: Content
    place: str

    @property
    def text(self) -> str:
        """It as text: 12.0 is "12", TRUE is "true"."""
        if self.value is None:
            return ""
        if isinstance(self.value, bool):
            return "true" if self.value else "false"
        if isinstance(self.value, float):
            return f"{self.value:.12g}"
        return str(self.value).strip()


@dataclass(frozen=True, slots=True)
class ReadSheet:
    """A table that was read: its headings and its rows."""

    name: str
    heads: tuple[Read, ...]
    rows: tuple[tuple[Read, ...], ...]


def is_book(path: Path) -> bool:
    """Whether a name is that of a workbook; any other is a folder of CSV files."""
    return path.suffix.lower() == ".xlsx"


def write_tables(path: Path, sheets: Iterable[Sheet], about: Iterable[str]) -> None:
    """Write a workbook or a folder of CSV files, made afresh."""
    if is_book(path):
        _write_book(path, sheets, about)
        return
    path.mkdir(parents=True, exist_ok=True)
    for sheet in sheets:
        with (path / f"{sheet.name}.csv").open("w", encoding="utf-8-sig", newline="") as file:
            writer = csv.writer(file)
            writer.writerow(head.text for head in sheet.heads)
            writer.writerows([Read(each, "").text for each in row] for row in sheet.rows)


def read_tables(path: Path) -> list[ReadSheet]:
    """The tables of a workbook, or of a folder of CSV files.

    Raises
    ------
    BookError : if there is no such file, or it cannot be read.
    """
    try:
        if is_book(path):
            return _read_book(path)
        if path.is_dir():
            return [_read_csv(each) for each in sorted(path.glob("*.csv"))]
        return [_read_csv(path)]
    except FileNotFoundError as error:
        raise BookError(f"there is no {path}") from error
    except (BadZipFile, InvalidFileException, KeyError, OSError, UnicodeDecodeError) as error:
        raise BookError(f"{path} cannot be read as a spreadsheet ({error})") from error


def _write_book(path: Path, sheets: Iterable[Sheet], about: Iterable[str]) -> None:
    book = Workbook()
    first: Any = book.active
    first.title = ABOUT
    first.column_dimensions["A"].width = 100
    for line in about:
        first.append([line])
    for sheet in sheets:
        _write_sheet(book.create_sheet(sheet.name), sheet)
    path.parent.mkdir(parents=True, exist_ok=True)
    book.save(path)


def _write_sheet(page: Worksheet, sheet: Sheet) -> None:
    for number, head in enumerate(sheet.heads, start=1):
        cell: Any = page.cell(1, number, head.text)
        cell.font, cell.fill, cell.alignment = Font(bold=True), HEAD, Alignment(wrap_text=True)
        if head.note:
            cell.comment = Comment(head.note, "rig-guide")
        letter = get_column_letter(number)
        page.column_dimensions[letter].width = _width(head, number, sheet)
        listed = f'"{",".join(head.choices)}"'
        if head.choices and len(listed) < LONGEST_LIST:
            pick = DataValidation("list", formula1=listed, allow_blank=True, showErrorMessage=True)
            page.add_data_validation(pick)
            pick.add(f"{letter}2:{letter}{len(sheet.rows) + SPARE_ROWS}")
    for place, row in enumerate(sheet.rows):
        for number, value in enumerate(row):
            if value is not None:
                _write_cell(page.cell(place + 2, number + 1), value, sheet, place, number)
    page.freeze_panes = "B2"
    page.auto_filter.ref = page.dimensions


def _write_cell(cell: Any, value: Content, sheet: Sheet, place: int, number: int) -> None:
    cell.value = value
    if sheet.heads[number].as_text:
        cell.data_type, cell.number_format = "s", "@"
    if (place, number) in sheet.gray:
        cell.fill = GRAY


def _width(head: Head, number: int, sheet: Sheet) -> float:
    texts = [str(row[number - 1]) for row in sheet.rows[:40] if row[number - 1] is not None]
    return min(60, 2 + max(len(head.text) * 0.7, *(len(each) for each in texts or [""])))


def _read_book(path: Path) -> list[ReadSheet]:
    book = load_workbook(path, read_only=True, data_only=True)
    try:
        return [
            _read_rows(page.title, _places(page.title), page.iter_rows())
            for page in book.worksheets
            if page.title != ABOUT
        ]
    finally:
        book.close()


Placed = Callable[[int, int], str]
"""The name of a cell by its row and its column, which count from 1."""


def _places(title: str) -> Placed:
    return lambda row, column: f"{title}!{get_column_letter(column)}{row}"


def _read_rows(name: str, placed: Placed, rows: Iterable[Iterable[Any]]) -> ReadSheet:
    table = [
        tuple(
            Read(_content(cell.value), placed(place, number))
            for number, cell in enumerate(row, start=1)
        )
        for place, row in enumerate(rows, start=1)
    ]
    return _sheet(name, table)


def _content(value: object) -> Content:
    if isinstance(value, date):  # a program made a day of 2026-01-31, or of a gauge such as 1/0
        return str(value)[:10]
    if isinstance(value, str | float | int) or value is None:
        return value
    return str(value)


def _read_csv(path: Path) -> ReadSheet:
    with path.open(encoding="utf-8-sig", newline="") as file:
        sample = file.readline()
        file.seek(0)
        between = max(",;\t", key=sample.count)
        table = [
            tuple(
                Read(_number(each), f"{path.name}:{place}:{number}")
                for number, each in enumerate(row, start=1)
            )
            for place, row in enumerate(csv.reader(file, delimiter=between), start=1)
        ]
    return _sheet(path.stem, table)


def _number(text: str) -> Content:
    return text.strip() or None


def _sheet(name: str, table: list[tuple[Read, ...]]) -> ReadSheet:
    rows = [row for row in table if any(cell.text for cell in row)]
    above = next((at for at, row in enumerate(rows[:MOST_ABOVE]) if _is_head(row)), 0)
    return ReadSheet(name, rows[above] if rows else (), tuple(rows[above + 1 :]))


def _is_head(row: tuple[Read, ...]) -> bool:
    return any(cell.text.lower() in HEADS for cell in row)


def families_in(sheets: Iterable[ReadSheet]) -> Iterator[tuple[str, ReadSheet]]:
    """The sheets that are named as a family is."""
    for sheet in sheets:
        name = sheet.name.strip().lower().replace("-", "_").replace(" ", "_")
        if name in FAMILIES:
            yield name, sheet
