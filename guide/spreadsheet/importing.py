"""A table held against the content: all that it would do, then, if asked, the files written."""

import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from engine.model.guide import Guide
from guide.fault import ContentError, Fault, suggest
from guide.load import load_guide
from guide.outliers import Outlier, outliers
from guide.spreadsheet.book import ReadSheet, families_in
from guide.spreadsheet.columns import FAMILIES
from guide.spreadsheet.differences import CellFault, Differences, differences
from guide.spreadsheet.export import currency_of
from guide.spreadsheet.shelf import Entry, read_shelf
from guide.yaml_text import Node

TEN = 10.0


@dataclass(frozen=True)
class Import:
    """What a table does: by family, with all faults, what to look at, and both editions.

    still: faults of the content that were there before and stay, as while a new shop is filled
    old, new: the guide before and after it; None where there is a fault, as in a new shop
    """

    folder: Path
    families: tuple[Differences, ...]
    faults: tuple[str, ...]
    still: tuple[str, ...]
    look_at: tuple[str, ...]
    old: Guide | None
    new: Guide | None

    @property
    def changed(self) -> bool:
        """Whether any file would be written."""
        return any(each.edits for each in self.families)

    def write(self) -> list[str]:
        """Write the changed files; return their names."""
        if self.faults:
            raise ValueError("a table with faults is not written")
        written = [each for each in self.families if each.edits]
        for each in written:
            (self.folder / each.shelf.file).write_text(each.text, encoding="utf-8")
        return [each.shelf.file for each in written]


def plan_import(folder: Path, sheets: list[ReadSheet], *, discontinue: bool = False) -> Import:
    """Everything that a table would change, nothing of it written.

    Raises
    ------
    ContentError : if a file of the catalog cannot be read.
    """
    found = [
        differences(read_shelf(folder, family), sheet, currency_of(folder), discontinue=discontinue)
        for family, sheet in families_in(sheets)
    ]
    unknown = _unknown(sheets, found)
    return finish(folder, found, unknown)


def finish(folder: Path, found: list[Differences], faults: list[CellFault]) -> Import:
    """Read the content as it would be, and tell what is wrong with it by sheet and cell."""
    told = [str(each) for each in (*faults, *(one for each in found for one in each.faults))]
    old, before = _loaded(folder)
    known, after, new = {_same(fault) for fault in before}, before, old
    if any(each.edits for each in found):
        with edited(folder, found) as copy:  # a wrong cell is left out, so that others are read
            new, after = _loaded(copy)
            told += _in_table(copy, found, [each for each in after if _same(each) not in known])
    still = tuple(str(each) for each in after if _same(each) in known)
    new = None if told else new
    look_at = _look_at(old, new, found) if new and new is not old else ()
    return Import(folder, tuple(found), tuple(told), still, look_at, old, new)


def _loaded(folder: Path) -> tuple[Guide | None, tuple[Fault, ...]]:
    try:
        return load_guide(folder), ()
    except ContentError as error:
        return None, error.faults


def _same(fault: Fault) -> tuple[str, ...]:
    """A fault without its line, which moves."""
    return fault.file, fault.what, fault.why


@contextmanager
def edited(folder: Path, found: list[Differences]) -> Iterator[Path]:
    """A copy of the content in which the changes are made."""
    with tempfile.TemporaryDirectory() as place:
        copy = Path(shutil.copytree(folder, Path(place) / "content"))
        for each in found:
            if each.edits:
                (copy / each.shelf.file).write_text(each.text, encoding="utf-8")
        yield copy


def _unknown(sheets: list[ReadSheet], found: list[Differences]) -> list[CellFault]:
    known = {id(sheet) for _, sheet in families_in(sheets)}
    faults = [
        CellFault(each.name, "the sheet", "no family is called so", suggest(each.name, FAMILIES))
        for each in sheets
        if id(each) not in known
    ]
    if not found and not faults:
        mend = f"Name a sheet as one of: {', '.join(FAMILIES)}."
        faults.append(CellFault("this table", "its sheets", "there is none to read", mend))
    return faults


def _in_table(copy: Path, found: list[Differences], faults: list[Fault]) -> Iterator[str]:
    """Faults of the changed content, each told by the cell that brought it where one did."""
    shelves = {each.shelf.file: (each, read_shelf(copy, each.shelf.family)) for each in found}
    for fault in faults:
        place = ""
        if fault.file in shelves:
            each, shelf = shelves[fault.file]
            entries = (one for one in shelf.entries.values() if _covers(one.node, fault))
            place = next((_cell(each, entry, fault) for entry in entries), "")
        yield f"{place}: {fault.what}: {fault.why}. {fault.mend}" if place else str(fault)


def _cell(each: Differences, entry: Entry, fault: Fault) -> str:
    """The cell of a fault, or the row that the table brought; "" where it was there before."""
    for keys, value in entry.values.items():
        if value.node is not None and _covers(value.node, fault):
            place = each.places.get((entry.id, ".".join(keys)))
            if place:
                return place
    key = fault.what.strip("“”").replace(" › ", ".")
    if place := each.places.get((entry.id, key)):  # a cell that says nothing
        return place
    brought = entry.id in each.new or any(name == entry.id for name, _ in each.places)
    return each.rows.get(entry.id, "") if brought else ""


def _covers(node: Node, fault: Fault) -> bool:
    at = fault.line - 1, fault.column - 1
    start, end = node.start_mark, node.end_mark
    return bool((start.line, start.column) <= at < (end.line, end.column))


def _look_at(old: Guide | None, new: Guide, found: list[Differences]) -> tuple[str, ...]:
    """Prices that become ten times what they were, and what is far from its kind since."""
    told = list(_tenfold(old, new, found)) if old else []
    before = outliers(old.catalogue) if old else []
    seen = {(each.family, each.id, each.key) for each in before}
    by_family = {each.shelf.family: each for each in found}
    for each in outliers(new.catalogue):
        if each.family in by_family and (each.family, each.id, each.key) not in seen:
            told.append(_of(each, by_family[each.family]))
    return tuple(told)


def _of(each: Outlier, found: Differences) -> str:
    place = found.places.get((each.id, each.key)) or found.shelf.file
    return f"{place}: “{each.id}”, {each.key}: {each.why}"


def _tenfold(old: Guide, new: Guide, found: list[Differences]) -> Iterator[str]:
    for each in found:
        for change in each.changes:
            if change.key != "price":
                continue
            before, now = old.article(change.id), new.article(change.id)
            one, other = getattr(before, "price", 0.0), getattr(now, "price", 0.0)
            if one and other and not 1 / TEN < other / one < TEN:
                yield f"{change.place}: “{change.id}”, price: {change.before} → {change.now}"
