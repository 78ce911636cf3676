"""Changes of single values in the text of a catalog file; every other sign of it stays as it is.

A file is not written anew from what was read: its comments, anchors, quotes and line breaks are the
owner's. Each value is exchanged at its place, and a new entry is put behind the last.
"""

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass

from guide.spreadsheet.columns import CURVE, LIST, Column
from guide.spreadsheet.shelf import Entry, Shelf
from guide.yaml_text import Node

PLAIN = re.compile(r"[A-Za-z0-9_+.$-][^\n\t#:,\[\]{}&*!|>'\"%@`]*(?:%)?\Z")
READ_OTHERWISE = re.compile(
    r"-?[\d.]+(?:[eE][-+]?\d+)?\Z|true\Z|false\Z|null\Z|-\Z|-\s", re.IGNORECASE
)
INDENT = "  "


@dataclass(frozen=True, slots=True)
class Edit:
    """A piece of a text that is exchanged: from and to, in signs, and what takes its place."""

    start: int
    end: int
    text: str


def applied(source: str, edits: Iterable[Edit]) -> str:
    """The text with these edits made, which do not overlap; those at one place keep their order."""
    pieces, done = [], 0
    for edit in sorted(edits, key=lambda each: each.start):
        pieces += [source[done : edit.start], edit.text]
        done = edit.end
    return "".join([*pieces, source[done:]])


def exchange(node: Node, column: Column, text: str) -> Edit:
    """A value of an entry's own, exchanged."""
    return Edit(node.start_mark.index, node.end_mark.index, written(column, text))


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
    start, end = key.start_mark.index, value.end_mark.index
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
        return f"[{', '.join(_scalar(each, column) for each in _members(text, CURVE))}]"
    if column.kind == "list":
        return f"[{', '.join(_scalar(each, column) for each in _members(text, LIST))}]"
    return _scalar(text, column)


def _members(text: str, between: str) -> list[str]:
    return [each.strip() for each in text.split(between.strip()) if each.strip()]


def _scalar(text: str, column: Column) -> str:
    if column.kind in ("number", "flag"):
        return text if PLAIN.match(text) else json.dumps(text, ensure_ascii=False)
    plain = PLAIN.match(text) and not READ_OTHERWISE.match(text) and text == text.strip()
    return text if plain else json.dumps(text, ensure_ascii=False)
