"""A feed of prices and stock: item numbers with what changes every day, and nothing else."""

from pathlib import Path

from guide.fault import nearest
from guide.spreadsheet.book import Read, ReadSheet
from guide.spreadsheet.columns import FAMILIES, columns_of
from guide.spreadsheet.differences import CellFault, Change, Differences, quantity_of, same
from guide.spreadsheet.export import currency_of
from guide.spreadsheet.importing import Import, finish
from guide.spreadsheet.patch import add, exchange
from guide.spreadsheet.shelf import Entry, is_number, read_shelf

ARTICLE = ("article", "article number", "item", "item number", "id", "sku")
PRICE, STOCK = ("price",), ("stock", "in stock", "quantity")
DISCONTINUED, OUT, IN = "discontinued", "out-of-stock", "in-stock"


def plan_prices(folder: Path, sheets: list[ReadSheet]) -> Import:
    """What a feed would change, nothing of it written.

    Raises
    ------
    ContentError : if a file of the catalog cannot be read.
    """
    feed = _Feed(folder, currency_of(folder))
    for sheet in sheets:
        feed.read(sheet)
    return finish(folder, list(feed.found.values()), feed.faults)


class _Feed:
    """The files that a feed changes, and its faults."""

    def __init__(self, folder: Path, currency: str) -> None:
        self.currency = currency
        self.faults: list[CellFault] = []
        self.found = {family: Differences(read_shelf(folder, family)) for family in FAMILIES}
        self.entries: dict[str, tuple[Differences, Entry]] = {
            entry.id: (each, entry)
            for each in self.found.values()
            for entry in each.shelf.entries.values()
        }
        self.columns = {
            (family, column.key): column for family in FAMILIES for column in columns_of(family)
        }
        self.seen: set[str] = set()

    def read(self, sheet: ReadSheet) -> None:
        """Every row of one table."""
        heads: dict[str, int] = {}
        for at, head in enumerate(sheet.heads):
            name = head.text.partition("[")[0].strip().lower()
            if name in heads and name in (*ARTICLE, *PRICE, *STOCK):
                why, mend = "this column is here twice", "Take one of them out."
                self.faults.append(CellFault(head.place, f"“{head.text}”", why, mend))
            heads.setdefault(name, at)
        article, price, stock = (
            next((heads[name] for name in names if name in heads), None)
            for names in (ARTICLE, PRICE, STOCK)
        )
        if article is None or (price is None and stock is None):
            why = "a feed has the columns “article”, and “price” or “stock” or both"
            self.faults.append(
                CellFault(sheet.name, "the headings", why, "Write them in its first row.")
            )
            return
        for row in sheet.rows:
            found = self._entry(row[article])
            if found is None:
                continue
            if price is not None and price < len(row) and row[price].text:
                self._set(*found, "price", row[price], row[price].text)
            if stock is not None and stock < len(row) and row[stock].text:
                self._set(*found, "stock", row[stock], self._stock(found[1], row[stock].text))

    def _entry(self, cell: Read) -> tuple[Differences, Entry] | None:
        found = self.entries.get(cell.text)
        if found is None:
            near = nearest(cell.text, self.entries)
            mend = f"Did you mean “{near[0]}”?" if near else "Write an item number of the catalog."
            why = "this shop has no such article"
            self.faults.append(CellFault(cell.place, f"“{cell.text}”", why, mend))
        elif cell.text in self.seen:
            mend = "Take one of them out."
            self.faults.append(CellFault(cell.place, f"“{cell.text}”", "it is here twice", mend))
            found = None
        self.seen.add(cell.text)
        return found

    def _stock(self, entry: Entry, text: str) -> str:
        """A count or a word as the content has it; what is discontinued stays so."""
        value = entry.values.get(("stock",))
        if value and value.text == DISCONTINUED:
            return DISCONTINUED
        if is_number(text):
            return IN if float(text) > 0 else OUT
        return text.lower().replace(" ", "-")

    def _set(self, each: Differences, entry: Entry, key: str, cell: Read, text: str) -> None:
        column = self.columns[each.shelf.family, key]
        if key == "price":
            text = quantity_of(text, each.shelf.unit_of(column, self.currency))
        before = entry.text(column) or (IN if key == "stock" else "")
        if same(before, text, column):
            return
        value = entry.values.get(column.path)
        own = value.node if value else None
        each.edits += exchange(own, column, text) if own else [add(entry, column, text)]
        each.places[entry.id, key] = cell.place
        each.rows[entry.id] = cell.place
        each.changes.append(Change(entry.id, key, before, text, cell.place))
