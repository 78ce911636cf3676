"""YAML text -> nodes with their places, or plain values; by libyaml, which takes a twentieth."""

import re
from pathlib import Path
from typing import Any, ClassVar

import yaml
from yaml.error import MarkedYAMLError, YAMLError
from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

Fastest: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
"""The compiled one; where the package came without it, the one in Python reads the same."""

__all__ = (
    "MappingNode", "MarkedYAMLError", "Node", "ScalarNode", "SequenceNode", "YAMLError",
    "nodes_of", "values_of",
)  # fmt: skip

PLAIN = (
    ("tag:yaml.org,2002:bool", r"true|True|TRUE|false|False|FALSE", "tTfF"),
    ("tag:yaml.org,2002:int", r"[-+]?[0-9]+", "-+0123456789"),
    ("tag:yaml.org,2002:float", r"[-+]?([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][-+]?[0-9]+)?",
     "-+0123456789."),
    ("tag:yaml.org,2002:null", r"~|null|Null|NULL|", ["~", "n", "N", ""]),
    ("tag:yaml.org,2002:merge", r"<<", "<"),
)  # fmt: skip
"""What a value without quotes is: YAML 1.2.2, 10.3.2 (core schema), and "<<"; all else is text."""


class _Loader(Fastest):  # type: ignore[misc]
    """Reads by YAML 1.2, where "no" and "12:30" are text."""

    yaml_implicit_resolvers: ClassVar[dict[str, list[tuple[str, re.Pattern[str]]]]] = {}


for _tag, _pattern, _first in PLAIN:
    _Loader.add_implicit_resolver(_tag, re.compile(rf"(?:{_pattern})\Z"), _first)


def nodes_of(text: str) -> Node | None:
    """The nodes of a text, None of an empty one; YAMLError tells what it is that is no YAML."""
    return yaml.compose(text, Loader=_Loader)


def values_of(file: Path) -> Any:
    """The values of a file, merged keys put in."""
    return yaml.load(file.read_text("utf-8"), Loader=_Loader)
