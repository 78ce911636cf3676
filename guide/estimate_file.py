"""The estimate of an answer as a spreadsheet: the rows of its CSV, with sums that are numbers."""

from pathlib import Path

from openpyxl import Workbook
from openpyxl.styles import Font

from engine.answer import Answer
from engine.model.guide import Guide
from engine.pages.answer.estimate import estimate_of
from engine.pages.print.exports import estimate_csv, estimate_rows, safe
from guide.fault import Refusal

WIDTHS = {"A": 10, "C": 24, "D": 60, "E": 12, "F": 12, "H": 48}


class NoEstimateError(Refusal):
    """There is no estimate of an answer: nothing fits, or the shop wants none."""


def write_estimate(guide: Guide, answer: Answer, file: Path) -> None:
    """Write the estimate as XLSX, or as CSV where the file's name says so.

    Raises
    ------
    NoEstimateError : if there is none.
    """
    if answer.advice is None:
        raise NoEstimateError("only an answer with a setup has an estimate")
    if estimate_of(guide, answer.advice) is None:
        raise NoEstimateError("shop.yaml has no “estimate”; write its “days” there")
    if file.suffix.lower() == ".csv":
        file.write_text(estimate_csv(guide, answer.advice), encoding="utf-8-sig", newline="")
        return
    book = Workbook()
    sheet = book.worksheets[0]
    for row in estimate_rows(guide, answer.advice):
        sheet.append([safe(cell) if isinstance(cell, str) else cell for cell in row])
    for cell in sheet[1]:
        cell.font = Font(bold=True)
    for column, width in WIDTHS.items():
        sheet.column_dimensions[column].width = width
    book.save(file)
