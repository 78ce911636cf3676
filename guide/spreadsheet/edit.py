"""A piece of a text exchanged, and a value as it stands in a YAML file."""

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass

from guide.yaml_text import MappingNode, Node, SequenceNode

PLAIN = re.compile(r"[A-Za-z0-9_+.$-][^\n\t#:,\[\]{}&*!|>'\"%@`]*(?:%)?\Z")
READ_OTHERWISE = re.compile(
    r"-?[\d.]+(?:[eE][-+]?\d+)?\Z|true\Z|false\Z|null\Z|-\Z|-\s", re.IGNORECASE
)


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


def end_of(node: Node) -> int:
    """Where a value ends; a list in lines of its own ends with the last of its members.

    YAML's own mark of such a list stands before whatever comes next, comments between them.
    """
    if isinstance(node, MappingNode) and not node.flow_style:
        return max((end_of(each) for pair in node.value for each in pair), default=0)
    if isinstance(node, SequenceNode) and not node.flow_style:
        return max(map(end_of, node.value), default=0)
    return int(node.end_mark.index)


def number(text: str) -> str:
    """A number or a flag as a file has it; any other text in quotes."""
    return text if PLAIN.match(text) else json.dumps(text, ensure_ascii=False)


def scalar(text: str) -> str:
    """A text as a file has it, in quotes where it would be read as something else."""
    plain = PLAIN.match(text) and not READ_OTHERWISE.match(text) and text == text.strip()
    return text if plain else json.dumps(text, ensure_ascii=False)
