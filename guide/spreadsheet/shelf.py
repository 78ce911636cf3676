"""A catalog file as its entries: the text of each value, where it stands, and whose it is."""

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

from guide.content_file import read_text
from guide.fault import ContentError, Fault
from guide.load import CATALOGUE_FILES
from guide.reading import OFFER, compose
from guide.spreadsheet.columns import CURVE, LIST, Column, columns_of
from guide.spreadsheet.opened import cell_of, said_by
from guide.yaml_text import MappingNode, Node, ScalarNode, SequenceNode

MERGE = "tag:yaml.org,2002:merge"
Keys = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Value:
    """What an entry says under a key: its text, and its place where the entry itself says it.

    node: None where it is taken over by "<<", or where no single cell can stand for it
    """

    text: str
    node: Node | None


@dataclass(frozen=True, slots=True)
class Entry:
    """One product: its values by their keys, its own node, and where an own key may be added."""

    id: str
    values: dict[Keys, Value]
    node: MappingNode

    def text(self, column: Column) -> str:
        """What stands in a column of it; "" where nothing does."""
        found = self.values.get(column.path)
        return found.text if found else ""


@dataclass(frozen=True)
class Shelf:
    """One family: its file, the text of it, and its entries by id, in their order."""

    family: str
    file: str
    source: str
    entries: dict[str, Entry]

    def unit_of(self, column: Column, currency: str) -> str:
        """The unit that most entries write a column in, else the one that the program holds it in.

        It stands in the header, so that cells are plain numbers.
        """
        units = Counter(
            unit
            for entry in self.entries.values()
            if (unit := number_and_unit(entry.text(column))[1])
        )
        held = {"share": "%", "money": currency}.get(column.unit, column.unit)
        return units.most_common(1)[0][0] if units else held.replace("money", currency)


def read_shelf(folder: Path, family: str) -> Shelf:
    """The entries of one family.

    Raises
    ------
    ContentError : if the file is no YAML list of entries.
    """
    name = CATALOGUE_FILES[family]
    text = read_text(folder / name, name)
    if isinstance(text, Fault):
        raise ContentError([text])
    found = compose(name, text)
    if isinstance(found, Fault):
        raise ContentError([found])
    items = found.value if isinstance(found, SequenceNode) else []
    entries = [_entry(item, family) for item in items if isinstance(item, MappingNode)]
    return Shelf(family, name, text, {each.id: each for each in entries if each.id})


def place_in(folder: Path, family: str, article: str, key: str) -> str:
    """File, line and column of a value, or of the entry that takes it over."""
    shelf = read_shelf(folder, family)
    entry = shelf.entries[article]
    value = entry.values.get((key,))
    mark = (value.node if value and value.node else entry.node).start_mark
    return f"{shelf.file}:{mark.line + 1}:{mark.column + 1}"


def number_and_unit(text: str) -> tuple[str, str]:
    """A plain number and the unit behind it; ("", "") where the text is no such thing.

    >>> number_and_unit("12.5 in"), number_and_unit("1850 W at 30 degC"), number_and_unit("2/0")
    (('12.5', 'in'), ('', ''), ('', ''))
    """
    number, _, unit = text.partition(" ")
    if not unit or " " in unit or not is_number(number):
        return "", ""
    return number, unit


def is_number(text: str) -> bool:
    """Whether a text is a plain decimal number."""
    digits = text.removeprefix("-").replace(".", "", 1)
    return digits.isascii() and digits.isdigit()


def _entry(node: MappingNode, family: str) -> Entry:
    values: dict[Keys, Value] = {}
    wanted = {column.path for column in columns_of(family)}
    for keys, value in _taken(node, set()).items():
        if keys in wanted:
            values[keys] = value
    found = values.get(("id",))
    return Entry(found.text if found and found.node else "", values, node)


def _taken(node: MappingNode, seen: set[int]) -> dict[Keys, Value]:
    """What an entry says and takes over, the nearest word last."""
    if id(node) in seen:
        return {}
    found: dict[Keys, Value] = {}
    for key, value in node.value:
        if key.tag == MERGE:
            for source in value.value if isinstance(value, SequenceNode) else [value]:
                if isinstance(source, MappingNode):
                    taken = _taken(source, seen | {id(node)})
                    found |= {
                        keys: Value(each.text, None)
                        for keys, each in taken.items()
                        if keys[0] not in OFFER
                    }
    for key, value in node.value:
        if key.tag != MERGE:
            found = {keys: each for keys, each in found.items() if keys[0] != key.value}
            found |= _own(str(key.value), key, value)
    return found


def _own(name: str, key: Node, value: Node) -> dict[Keys, Value]:
    # an alias is the node that it names, which stands before its key
    here = value.start_mark.index >= key.end_mark.index
    if isinstance(value, MappingNode):
        return {
            (name, *keys): Value(each.text, each.node if here else None)
            for keys, each in _taken(value, set()).items()
        }
    if isinstance(value, SequenceNode) and all(
        isinstance(each, MappingNode) for each in value.value
    ):
        return {(name,): Value(cell_of(said_by(value)), value if here else None)}
    if isinstance(value, SequenceNode):
        members = [str(each.value) for each in value.value]
        between = CURVE if any(" at " in each for each in members) else LIST
        here = here and bool(value.flow_style)
        return {(name,): Value(between.join(members), value if here else None)}
    if isinstance(value, ScalarNode):
        return {(name,): Value(str(value.value), value if here else None)}
    return {}
