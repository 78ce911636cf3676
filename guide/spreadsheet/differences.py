"""What a table says that the content files do not: changes, new products, gone ones, and faults."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from engine.typed.amounts import number_in_front
from guide.fault import suggest
from guide.metric import gauge_of
from guide.spreadsheet.book import Read, ReadSheet
from guide.spreadsheet.columns import OFFERS, WANTED, Column, columns_of
from guide.spreadsheet.edit import Edit, applied
from guide.spreadsheet.opened import EXAMPLE, OfferError, cell_of, offers_of
from guide.spreadsheet.patch import add, append, exchange, take_out
from guide.spreadsheet.shelf import Entry, Shelf, is_number, number_and_unit

FORMULA_MEND = "If it is a formula, save the workbook in a spreadsheet program first."
INHERITED_MEND = "Change it in the entry from which it is taken, or write it into the file itself."
STOCK, ID, OPENED = ("stock",), ("id",), ("open_box",)


@dataclass(frozen=True, slots=True)
class CellFault:
    """A mistake in a table: sheet and cell, what, why, and how to mend it."""

    place: str
    what: str
    why: str
    mend: str

    def __str__(self) -> str:
        return f"{self.place}: {self.what}: {self.why}. {self.mend}"


@dataclass(frozen=True, slots=True)
class Change:
    """A value that becomes another one; `before` is "" for one that was not there."""

    id: str
    key: str
    before: str
    now: str
    place: str


@dataclass
class Differences:
    """One family: what differs, the edits that make the file say the same, and where each stands.

    places: the cell of each value that is written, by id and key; that of a whole row by its id
    """

    shelf: Shelf
    changes: list[Change] = field(default_factory=list)
    new: list[str] = field(default_factory=list)
    gone: list[str] = field(default_factory=list)
    faults: list[CellFault] = field(default_factory=list)
    edits: list[Edit] = field(default_factory=list)
    places: dict[tuple[str, str], str] = field(default_factory=dict)
    rows: dict[str, str] = field(default_factory=dict)

    @property
    def text(self) -> str:
        """The file as it is after the import."""
        return applied(self.shelf.source, self.edits)

    def fail(self, read: Read, what: str, why: str, mend: str) -> None:
        """Note a fault of a cell."""
        self.faults.append(CellFault(read.place, what, why, mend))


def differences(
    shelf: Shelf, sheet: ReadSheet, currency: str, *, discontinue: bool = False
) -> Differences:
    """Compare a table with its file.

    A column that the table lacks stays as it is. A row that it lacks is told, and kept unless
    `discontinue` is asked for; no entry is ever deleted, since links may name it.
    """
    found = Differences(shelf)
    columns = _columns(found, sheet)
    if all(column.path != ID for column, _ in columns.values()):
        head = sheet.heads[0] if sheet.heads else Read(None, sheet.name)
        found.fail(head, "the headings", "there is no column “id”", "Add one with item numbers.")
        return found
    units = {
        column.path: unit or shelf.unit_of(column, currency) for column, unit in columns.values()
    } | {OPENED: currency}
    new: list[dict[Column, str]] = []
    for row in sheet.rows:
        cells = {columns[at][0]: cell for at, cell in enumerate(row) if at in columns}
        texts = {
            column: text
            for column, cell in cells.items()
            if (text := _text(found, cell, column, units[column.path])) is not None
        }
        name, first = next((texts[column], cells[column]) for column in cells if column.path == ID)
        if not any(texts.values()):
            continue  # a row of what is needed, not filled in yet
        if not name:
            found.fail(
                first, "“id”", "this row has none", "Write its item number, or clear the row."
            )
        elif name in found.rows:
            why = f"“{name}” stands in {found.rows[name]}, too"
            found.fail(first, "“id”", why, "Take one of the rows out.")
        else:
            found.rows[name] = first.place
            if entry := shelf.entries.get(name):
                _changed(found, entry, texts, cells)
            else:
                new.append(_new(found, name, texts, cells))
    _gone(found, discontinue)
    if new:
        found.edits.append(append(shelf, new))
    return found


def _columns(found: Differences, sheet: ReadSheet) -> dict[int, tuple[Column, str]]:
    """The known columns of a table by their place, each with the unit of its heading."""
    known = {column.key: column for column in columns_of(found.shelf.family)}
    columns: dict[int, tuple[Column, str]] = {}
    for at, head in ((at, head) for at, head in enumerate(sheet.heads) if head.text != WANTED):
        key, _, rest = head.text.partition("[")
        column = known.get(key.strip().lower().replace(" ", "_"))
        if column is None and head.text:
            found.fail(head, f"“{head.text}”", "no such column is known here", suggest(key, known))
        elif column in [each for each, _ in columns.values()]:
            found.fail(head, f"“{head.text}”", "this column is here twice", "Take one of them out.")
        elif column is not None:
            columns[at] = column, rest.rstrip("] ")
    return columns


def _text(found: Differences, cell: Read, column: Column, unit: str) -> str | None:
    """A cell as the content files write it; None where it says nothing that can be written."""
    text = " ".join(cell.text.split())
    if column.kind == OFFERS:
        try:
            return cell_of(offers_of(cell.text, unit))
        except OfferError as error:
            why = f"“{error}” is no offer of opened units"
            found.fail(cell, f"“{column.key}”", why, f"Write a line for each, as {EXAMPLE}.")
            return None
    if column.kind == "quantity" and unit:
        return quantity_of(text, unit)
    return text.lower() if column.kind == "flag" else text


def quantity_of(text: str, unit: str) -> str:
    """A number alone with its unit, however a spreadsheet shows it; any other text as it is.

    >>> quantity_of("1,399.00", "USD"), quantity_of("399,50", "USD"), quantity_of("30 cm", "in")
    ('1399.00 USD', '399.50 USD', '30 cm')
    """
    if is_number(text):
        return f"{text} {unit}"
    number = number_in_front(text)
    return f"{number.digits} {unit}" if number and not number.rest else text


def same(one: str, other: str, column: Column) -> bool:
    """Whether two texts say the same: 1.30 USD and 1.3 USD, 2/0 and 70 mm2's gauge do not matter.

    >>> price = Column(("price",), "quantity", "money")
    >>> same("1.30 USD", "1.3 USD", price), same("1.30 USD", "1.3 EUR", price)
    (True, False)
    """
    if one == other:
        return True
    if column.kind == "quantity":
        (first, unit), (second, its) = number_and_unit(one), number_and_unit(other)
        return bool(first and second) and unit == its and float(first) == float(second)
    if column.kind == "number" and is_number(one) and is_number(other):
        return float(one) == float(other)
    if column.kind in ("list", "curve"):
        return one.replace(" ", "").strip(";,") == other.replace(" ", "").strip(";,")
    if column.path[-1].endswith("awg"):
        return gauge_of(one) == gauge_of(other)
    return False


def _changed(
    found: Differences, entry: Entry, texts: dict[Column, str], cells: dict[Column, Read]
) -> None:
    for column, text in texts.items():
        before = entry.text(column)
        if same(before, text, column):
            continue
        value = entry.values.get(column.path)
        what = f"“{entry.id}”, {column.key}"
        if value is not None and value.node is None:
            why = f"“{before}” is taken over from another entry (gray), and “{text}” stands here"
            found.fail(cells[column], what, why, INHERITED_MEND)
            continue
        if not text and (column.needed or len(column.path) > 1):
            why, mend = "it is needed", f"Write it; it was “{before}”. {FORMULA_MEND}"
            found.fail(cells[column], what, why, mend)
            continue
        if value is None and len(column.path) > 1:
            why, mend = "it is part of what this entry takes over", INHERITED_MEND
            found.fail(cells[column], what, why, mend)
            continue
        found.edits += _edits(found.shelf, entry, column, text)
        found.places[entry.id, column.key] = cells[column].place
        found.changes.append(Change(entry.id, column.key, before, text, cells[column].place))


def _edits(shelf: Shelf, entry: Entry, column: Column, text: str) -> list[Edit]:
    value = entry.values.get(column.path)
    if value is None or value.node is None:
        return [add(entry, column, text)]
    if not text:
        return [take_out(entry, column, shelf.source)]
    return exchange(value.node, column, text)


def _new(
    found: Differences, name: str, texts: dict[Column, str], cells: dict[Column, Read]
) -> dict[Column, str]:
    found.new.append(name)
    found.places |= {(name, column.key): cell.place for column, cell in cells.items()}
    needed_lists = {column for column in texts if column.kind == "list" and column.needed}
    return {column: text for column, text in texts.items() if text or column in needed_lists}


def _gone(found: Differences, discontinue: bool) -> None:
    stock = next(each for each in columns_of(found.shelf.family) if each.path == STOCK)
    for entry in _kept_alive(found):
        found.gone.append(entry.id)
        if discontinue:
            found.edits += _edits(found.shelf, entry, stock, "discontinued")


def _kept_alive(found: Differences) -> Iterator[Entry]:
    """The entries that are sold and that the table lacks."""
    for entry in found.shelf.entries.values():
        value = entry.values.get(STOCK)
        if entry.id not in found.rows and not (value and value.text == "discontinued"):
            yield entry
