"""Changes of single values in the text of a catalog file; every other sign of it stays as it is.

A file is not written anew from what was read: its comments, anchors, quotes and line breaks are the
owner's. Each value is exchanged at its place, and a new entry is put behind the last.
"""

from collections.abc import Iterable

from guide.spreadsheet.columns import CURVE, LIST, OFFERS, Column
from guide.spreadsheet.edit import Edit, end_of, number, scalar
from guide.spreadsheet.opened import edits_of, offers_of
from guide.spreadsheet.opened import written as written_offers
from guide.spreadsheet.shelf import Entry, Shelf
from guide.yaml_text import Node, SequenceNode

INDENT = "  "


def exchange(node: Node, column: Column, text: str) -> list[Edit]:
    """A value of an entry's own, exchanged."""
    if column.kind == OFFERS and isinstance(node, SequenceNode):
        return list(edits_of(node, offers_of(text)))
    return [Edit(node.start_mark.index, node.end_mark.index, written(column, text))]


def add(entry: Entry, column: Column, text: str) -> Edit:
    """A key that an entry does not have itself, put behind its id.

    Raises
    ------
    KeyError : if the column is part of a nested value, or the entry has no id of its own.
    """
    if len(column.path) > 1:
        raise KeyError(column.key)
    at = entry.values[("id",)].node
    if at is None:
        raise KeyError("id")
    said = f"{column.key}: {written(column, text)}"
    if entry.node.flow_style:
        return Edit(at.end_mark.index, at.end_mark.index, f", {said}")
    first = next(key for key, _ in entry.node.value)
    return Edit(at.end_mark.index, at.end_mark.index, f"\n{' ' * first.start_mark.column}{said}")


def take_out(entry: Entry, column: Column, source: str) -> Edit:
    """A key of an entry's own, taken out with its line or its comma."""
    key, value = next(pair for pair in entry.node.value if str(pair[0].value) == column.path[0])
    start, end = key.start_mark.index, end_of(value)
    if entry.node.flow_style:
        before = len(source[:start].rstrip(" ,"))
        return Edit(before if source[before:start].strip() == "," else start, end, "")
    line = source.rfind("\n", 0, start) + 1
    return Edit(line, source.find("\n", end) + 1 or len(source), "")


def append(shelf: Shelf, entries: Iterable[dict[Column, str]]) -> Edit:
    """New entries behind the last one, each with a line for each value."""
    lines = [line for entry in entries for line in _lines(entry)]
    body = "\n".join(lines) + "\n"
    if not shelf.entries and shelf.source.rstrip().endswith("[]"):
        start = shelf.source.rindex("[]")
        return Edit(start, len(shelf.source), body)
    end = len(shelf.source)
    return Edit(end, end, body if shelf.source.endswith("\n") or not end else "\n" + body)


def _lines(entry: dict[Column, str]) -> Iterable[str]:
    nested: dict[str, list[str]] = {}
    begin = "- "
    for column, text in entry.items():
        if len(column.path) > 1:
            said = f"{column.path[1]}: {written(column, text)}"
            nested.setdefault(column.path[0], []).append(said)
        else:
            yield f"{begin}{column.key}: {written(column, text)}"
            begin = INDENT
    for name, members in nested.items():
        yield f"{INDENT}{name}: {{{', '.join(members)}}}"


def written(column: Column, text: str) -> str:
    """A value as it stands in the file.

    >>> gauge = Column(("awg",), "text")
    >>> written(gauge, "2"), written(gauge, "2/0"), written(gauge, "a, b")
    ('"2"', '2/0', '"a, b"')
    """
    if column.kind == "curve":
        return f"[{', '.join(scalar(each) for each in _members(text, CURVE))}]"
    if column.kind == "list":
        return f"[{', '.join(scalar(each) for each in _members(text, LIST))}]"
    if column.kind == OFFERS:
        return written_offers(offers_of(text))
    return number(text) if column.kind in ("number", "flag") else scalar(text)


def _members(text: str, between: str) -> list[str]:
    return [each.strip() for each in text.split(between.strip()) if each.strip()]
