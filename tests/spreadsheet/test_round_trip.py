"""The catalog goes out to a spreadsheet and comes back without a change of a byte."""

from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from guide import cli
from guide.content_folder import CONTENT
from guide.spreadsheet.book import read_tables
from guide.spreadsheet.columns import FAMILIES, columns_of
from guide.spreadsheet.export import export
from guide.spreadsheet.importing import plan_import
from guide.spreadsheet.shelf import read_shelf
from tests.guide.shops import other_shop


@pytest.mark.parametrize("name", ["shop.xlsx", "shop.csv"])
def test_what_was_exported_changes_nothing(name: str, tmp_path: Path) -> None:
    target = tmp_path / name
    assert export(CONTENT, target) == sum(
        len(read_shelf(CONTENT, family).entries) for family in FAMILIES
    )
    found = plan_import(CONTENT, read_tables(target))
    assert (found.faults, found.changed) == ((), False)
    assert len(found.families) == len(FAMILIES)
    assert [each.text for each in found.families] == [
        (CONTENT / each.shelf.file).read_text("utf-8") for each in found.families
    ]


def test_the_catalog_of_a_metric_shop_in_another_currency_comes_back_too(tmp_path: Path) -> None:
    folder = other_shop(tmp_path / "other")
    assert export(folder, tmp_path / "other.xlsx") > 100
    found = plan_import(folder, read_tables(tmp_path / "other.xlsx"))
    assert (found.faults, found.changed) == ((), False)
    heads = [cell.value for cell in load_workbook(tmp_path / "other.xlsx")["cables"][1]]
    assert "price [CAD/m]" in heads


def test_a_sheet_has_units_pick_lists_notes_and_gray_cells(exported: Path) -> None:
    page = load_workbook(exported)["inverters"]
    heads: dict[str, Any] = {str(cell.value): cell for cell in page[1]}
    assert len(heads) == len(columns_of("inverters"))
    assert "mass [kg]" in heads
    assert "price [USD]" in heads
    assert "1850 W at 30 degC" in str(page.cell(2, heads["continuous"].column).value)
    note = heads["id"].comment
    assert note is not None
    assert "never change it" in note.text
    picked = {each.formula1 for each in page.data_validations.dataValidation}
    assert '"in-stock,out-of-stock,discontinued"' in picked
    mass = heads["mass [kg]"].column
    shelf = read_shelf(CONTENT, "inverters")
    for row, entry in enumerate(shelf.entries.values(), start=2):
        own = entry.values[("mass",)].node is not None
        fill = page.cell(row, mass).fill.fgColor.rgb
        assert (fill == "00000000") == own, entry.id


def test_the_commands_export_and_find_nothing_to_write(
    content: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    book, folder = str(tmp_path / "shop.xlsx"), ["--content", str(content)]
    assert cli.main(["catalogue", "export", book, *folder]) == 0
    assert cli.main(["catalogue", "import", book, *folder]) == 0
    assert "Nothing to write" in capsys.readouterr().out


def test_what_is_no_spreadsheet_is_refused_in_words(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    broken = tmp_path / "broken.xlsx"
    broken.write_text("no workbook", "utf-8")
    for name in (broken, tmp_path / "none.xlsx", tmp_path / "none.csv"):
        assert cli.main(["catalogue", "import", str(name)]) == 2
        assert name.name in capsys.readouterr().err
