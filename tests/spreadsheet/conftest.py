"""A content folder of one's own, and its catalog as a workbook."""

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from guide.content_folder import CONTENT
from guide.spreadsheet.export import export

Cells = Callable[[Any, Callable[[str], int]], object]


@pytest.fixture(scope="session")
def exported(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's catalog as a workbook; nobody changes it."""
    book = tmp_path_factory.mktemp("book") / "shop.xlsx"
    export(CONTENT, book)
    return book


@pytest.fixture
def content(tmp_path: Path) -> Path:
    """A copy of the demo's content."""
    return Path(shutil.copytree(CONTENT, tmp_path / "content"))


@pytest.fixture
def book(exported: Path, tmp_path: Path) -> Callable[[str, Cells], Path]:
    """Make a workbook in which a sheet is edited, by a function that gets it and its columns."""

    def make(family: str, change: Cells) -> Path:
        read = load_workbook(exported)
        page = read[family]
        heads = [str(cell.value).partition(" [")[0] for cell in page[1]]
        change(page, lambda key: heads.index(key) + 1)
        place = tmp_path / "edited.xlsx"
        read.save(place)
        return place

    return make
