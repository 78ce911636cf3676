"""YAML text -> the engine's dataclasses; every text with a unit becomes a number by its field."""

import re
from collections.abc import Iterable
from dataclasses import MISSING, dataclass, field, fields, is_dataclass
from types import UnionType
from typing import (
    Annotated,
    Any,
    Generic,
    Literal,
    TypeVar,
    cast,
    get_args,
    get_origin,
    get_type_hints,
)

from babel.numbers import list_currencies
from pydantic import TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from engine.kept import kept
from engine.model.fields import Named, Points, Unit
from engine.units import UnitError, read
from guide.content_file import UNSEEN_MEND, unseen_in
from guide.fault import Fault, nearest, suggest
from guide.metric import gauge_of
from guide.quantities import MONEY, examples, first_example, why_not
from guide.yaml_text import (
    MappingNode,
    MarkedYAMLError,
    Node,
    ScalarNode,
    SequenceNode,
    YAMLError,
    nodes_of,
)

T = TypeVar("T")
Place = tuple[str | int, ...]
Message = str | dict[str, str]
"""A sentence, or the forms of one that counts something: {one: …, other: …}."""
_MERGE = "tag:yaml.org,2002:merge"
OFFER = ("stock", "delivery", "successor", "as_of", "open_box")
"""Keys that "<<" does not take over: they are true of one article, not of those made after it."""
BEYOND = 1e300
"""No number of the content comes near; neither do infinities nor "nan" stand below it."""
MOST_VALUES = 100_000
"""Values in one entry; a few lines of "&" and "*" can say millions."""
MOST_FAULTS = 1000
"""Faults in one list after which the rest of it is left unread."""
CURRENCIES = tuple(sorted(list_currencies()))
_CURRENCY = re.compile(rf"(?<=[\d.½¼¾ ])(?:{'|'.join(CURRENCIES)})\b", re.IGNORECASE)
_POINT = re.compile(r"\sat\s")


class OtherCurrencyError(Exception):
    """A price is in this currency, which is not the shop's."""


class _Broken:
    """Stands for a value whose fault has been told already."""


_BROKEN = _Broken()


@dataclass(frozen=True)
class Record(Generic[T]):
    """One object of a file; its value is None where a fault keeps it from being built."""

    file: str
    value: T | None
    id: str
    nodes: dict[Place, Node]

    def fault(self, path: Place, what: str, why: str, mend: str) -> Fault:
        """A fault at the key or value of this path, or at the nearest place above it."""
        while path not in self.nodes:
            path = path[:-1]
        return _fault(self.file, self.nodes[path], what, why, mend)


@kept("never", 128)  # by the whole text: after an edit the files that stayed are not read again
def compose(file: str, text: str) -> Node | Fault:
    """The YAML nodes of a text, with the place of each; no value is interpreted here."""
    try:
        node = nodes_of(text)
    except MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        line, column = (mark.line + 1, mark.column + 1) if mark else (1, 1)
        if "nesting depth" in str(error.problem):
            return _too_deep(file, line, column)
        return Fault(
            file,
            line,
            column,
            "this is not YAML",
            str(error.problem or error.context),
            "Look at this line and the one above: indent, colon, quotes.",
        )
    except RecursionError:
        return _too_deep(file, 1, 1)
    except (YAMLError, ValueError, OverflowError) as error:  # of signs that are none
        what, mend = "this is not YAML", "Look for signs that cannot be seen."
        return Fault(file, 1, 1, what, " ".join(str(error).split()), mend)
    if node is None:
        return Fault(file, 1, 1, "the file is empty", "it must hold content", "Write its content.")
    return node


def _too_deep(file: str, line: int, column: int) -> Fault:
    why, mend = "its lists and mappings lie too deep in each other", "Write it flat."
    return Fault(file, line, column, "this file", why, mend)


def read_record(
    file: str, node: Node, kind: type[T], faults: list[Fault], currency: str = "USD"
) -> Record[T]:
    """One object of a dataclass, or of a mapping such as dict[str, str].

    currency: that of every price; "" takes any
    """
    reading = _Reading(file, faults, currency)
    try:
        data = reading.value(node, kind, ())
    except (RecursionError, OverflowError):
        why, mend = "it repeats other entries too often or too deep", "Write it without & and *."
        data = reading.fail(node, "this entry", why, mend)
    name = data.get("id", "") if isinstance(data, dict) else ""
    value = None if isinstance(data, _Broken) else reading.build(kind, data)
    return Record(file, value, name if isinstance(name, str) else "", reading.nodes)


def read_records(
    file: str, node: Node, kind: type[T], faults: list[Fault], currency: str = "USD"
) -> list[Record[T]]:
    """The objects of a file that is a list."""
    if not isinstance(node, SequenceNode):
        faults.append(
            _fault(file, node, "the file", "it must be a list", 'Begin each entry with "- id: …".')
        )
        return []
    records = []
    before = len(faults)
    for item in node.value:
        if len(faults) - before > MOST_FAULTS:
            break
        records.append(read_record(file, item, kind, faults, currency))
    return records


def _fault(file: str, node: Node, what: str, why: str, mend: str) -> Fault:
    mark = node.start_mark
    return Fault(file, mark.line + 1, mark.column + 1, what, why, mend)


@kept("never", None)
def _hints(kind: type[Any]) -> dict[str, Any]:
    return get_type_hints(kind, include_extras=True)


@kept("never", None)
def _required(kind: type[Any]) -> tuple[str, ...]:
    return tuple(
        each.name
        for each in fields(kind)
        if each.default is MISSING and each.default_factory is MISSING
    )


@kept("never", None)
def _adapter(kind: Any) -> TypeAdapter[Any]:
    return TypeAdapter(kind)


@dataclass
class _Reading:
    """The reading of one object: its nodes by path, and which of them are at fault."""

    file: str
    faults: list[Fault]
    currency: str
    nodes: dict[Place, Node] = field(default_factory=dict)
    merged: dict[int, dict[str, tuple[Node, Node]]] = field(default_factory=dict)
    broken: bool = False

    def fail(self, node: Node, what: str, why: str, mend: str) -> _Broken:
        self.faults.append(_fault(self.file, node, what, why, mend))
        self.broken = True
        return _BROKEN

    def value(self, node: Node, hint: Any, path: Place) -> Any:
        """Plain data in the shape that the type hint asks for."""
        self.nodes[path] = node
        if len(self.nodes) > MOST_VALUES:
            raise OverflowError
        if get_origin(hint) is Annotated:
            marker = get_args(hint)[1]
            if isinstance(marker, Unit):
                return self.quantity(node, marker.symbol, path)
            if isinstance(marker, Named):
                return self.named(node, marker, path)
            return self.curve(node, marker, path)
        if hint == Message:
            hint = dict[str, str] if isinstance(node, MappingNode) else str
        if is_dataclass(hint) or get_origin(hint) is dict:
            return self.mapping(node, hint, path)
        if get_origin(hint) is tuple:
            return self.sequence(node, get_args(hint)[0], path)
        return self.scalar(node, hint, path)

    def mapping(self, node: Node, hint: Any, path: Place) -> Any:
        if not isinstance(node, MappingNode):
            return self.fail(
                node, _name(path), "it must hold keys with values", "Write key: value lines."
            )
        hints = _hints(cast(Any, hint)) if is_dataclass(hint) else None
        data: dict[str, Any] = {}
        misspelt: set[str] = set()
        for key_node, value_node in self.pairs(node):
            key = str(key_node.value)
            if hints is not None and key not in hints:
                why = "this key is not known here"
                self.fail(key_node, _name((*path, key)), why, suggest(key, hints))
                misspelt.update(nearest(key, hints))
                continue
            kind = hints[key] if hints is not None else get_args(hint)[1]
            data[key] = self.value(value_node, kind, (*path, key))
        for name in _required(cast(Any, hint)) if hints is not None else ():
            if hints is not None and name not in data and name not in misspelt:
                mend = f"Add “{name}: …”{_example(hints[name])}."
                self.fail(node, _name((*path, name)), "this key is missing", mend)
        return data

    def pairs(self, node: MappingNode) -> Iterable[tuple[Node, Node]]:
        """Keys and values; those of "<<" are among them where the mapping has none of its own."""
        found = self.merged.get(id(node))
        if found is None:
            self.merged[id(node)] = {}  # what a mapping takes over of itself is nothing
            own = self.own(node)
            taken = {name: p for name, p in self.taken_over(node).items() if name not in own}
            found = self.merged[id(node)] = taken | own
        return found.values()

    def taken_over(self, node: MappingNode) -> dict[str, tuple[Node, Node]]:
        """What a mapping takes over from others by "<<", the later over the earlier."""
        found: dict[str, tuple[Node, Node]] = {}
        for key, value in node.value:
            if key.tag != _MERGE:
                continue
            for source in value.value if isinstance(value, SequenceNode) else [value]:
                if not isinstance(source, MappingNode):
                    why, mend = "it takes over what holds no keys", "Name an entry with its &."
                    self.fail(source, "“<<”", why, mend)
                    continue
                found |= {str(pair[0].value): pair for pair in self.pairs(source)}
        return {name: pair for name, pair in found.items() if name not in OFFER}

    def own(self, node: MappingNode) -> dict[str, tuple[Node, Node]]:
        """The keys and values of a mapping itself."""
        seen: dict[str, tuple[Node, Node]] = {}
        for key, value in node.value:
            if key.tag == _MERGE:
                continue
            name = str(key.value)
            if name in seen:
                self.fail(
                    key,
                    f"“{name}”",
                    f"this key stands here twice, first in line "
                    f"{seen[name][0].start_mark.line + 1}",
                    "Take one of them out.",
                )
            seen[name] = (key, value)
        return seen

    def sequence(self, node: Node, hint: Any, path: Place) -> Any:
        if not isinstance(node, SequenceNode):
            return self.fail(node, _name(path), "it must be a list", "Write it as [first, second].")
        return [self.value(item, hint, (*path, at)) for at, item in enumerate(node.value)]

    def text(self, node: Node, path: Place) -> str | _Broken:
        if not isinstance(node, ScalarNode):
            return self.fail(node, _name(path), "it must be a single value", "Write one value.")
        if node.value == "" and not node.style:
            return self.fail(node, _name(path), "it has no value", 'Write one; "" is empty text.')
        text = str(node.value)
        if why := unseen_in(text):
            return self.fail(node, _name(path), why, UNSEEN_MEND)
        return text

    def scalar(self, node: Node, hint: Any, path: Place) -> Any:
        text = self.text(node, path)
        if isinstance(text, _Broken):
            return text
        numbers = {type(choice) for choice in get_args(hint)} if _is_choice(hint) else {hint}
        if int in numbers or float in numbers:
            return self.plain_number(node, text, int if int in numbers else float, path)
        if path and str(path[-1]).endswith("awg"):
            return gauge_of(text)
        return {"true": True, "false": False}.get(text, text) if bool in numbers else text

    def plain_number(self, node: Node, text: str, kind: type[int | float], path: Place) -> Any:
        """A number without a unit; any other text is left to pydantic, which refuses it."""
        try:
            number = kind(text)
        except ValueError:
            return text
        if abs(number) < BEYOND:
            return number
        why = f"“{text[:40]}” is no number that can be computed with"
        return self.fail(node, _name(path), why, "Write a number without a unit.")

    def quantity(self, node: Node, unit: str, path: Place) -> Any:
        text = self.text(node, path)
        return text if isinstance(text, _Broken) else self.number(node, text, unit, path)

    def number(self, node: Node, text: str, unit: str, path: Place) -> float | _Broken:
        try:
            value = read(self.price(text) if MONEY in unit else text, unit)
        except UnitError as error:
            accepted = examples(unit, self.currency)
            return self.fail(node, _name(path), why_not(error, self.currency), f"Write {accepted}.")
        except OtherCurrencyError as other:
            why = f"“{text}” is in {other}, and this shop's currency is {self.currency}"
            mend = f"Write it in {self.currency}, or change “currency” in shop.yaml."
            return self.fail(node, _name(path), why, mend)
        if value < 0 and unit != "degC":
            return self.fail(node, _name(path), f"“{text}” is below zero", "Write zero or more.")
        if value > 1 and unit == "share":
            alone = text.replace(".", "", 1).isdigit() and value <= 100
            mend = f"Write {text} %." if alone else "Write 100 % or less."
            return self.fail(node, _name(path), f"“{text}” is over 100 %", mend)
        return value

    def price(self, text: str) -> str:
        """A price with the unit that stands for the shop's currency, whatever that is."""

        def put_in(found: re.Match[str]) -> str:
            if self.currency and found[0].upper() != self.currency:
                raise OtherCurrencyError(found[0].upper())
            return MONEY

        return _CURRENCY.sub(put_in, text, count=1)

    def named(self, node: Node, marker: Named, path: Place) -> str | _Broken:
        text = self.text(node, path)
        if isinstance(text, _Broken) or text in marker.table:
            return text
        mend = suggest(text, marker.table)
        return self.fail(node, _name(path), f"“{text}” is not one of the choices", mend)

    def curve(self, node: Node, marker: Points, path: Place) -> Any:
        if not isinstance(node, SequenceNode) or not node.value:
            example = f"[{first_example(marker.value)} at {first_example(marker.where)}, …]"
            return self.fail(node, _name(path), "it must be a list of points", f"Write {example}.")
        points: list[tuple[float, float]] = []
        for item in node.value:
            text = self.text(item, path)
            parts = _POINT.split(text) if isinstance(text, str) else []
            if len(parts) != 2:
                example = f"{first_example(marker.value)} at {first_example(marker.where)}"
                self.fail(item, _name(path), f"“{text}” is no point", f"Write {example}.")
                continue
            value = self.number(item, parts[0], marker.value, path)
            where = self.number(item, parts[1], marker.where, path)
            if isinstance(value, _Broken) or isinstance(where, _Broken):
                continue
            if points and where <= points[-1][0]:
                self.fail(
                    item,
                    _name(path),
                    f"“{parts[1]}” does not come after the point before it",
                    "Sort the points so that what stands after “at” rises.",
                )
            points.append((where, value))
        return points

    def build(self, kind: Any, data: Any) -> Any:
        """The object itself; pydantic has the last word on every value."""
        if self.broken:
            return None
        try:
            return _adapter(kind).validate_python(data)
        except ValidationError as error:
            for each in error.errors(include_url=False):
                self.refuse(each)
            return None

    def refuse(self, error: ErrorDetails) -> None:
        path = error["loc"]
        while path not in self.nodes:
            path = path[:-1]
        given = f"“{error['input']}”"
        if error["type"] == "literal_error":
            expected = re.findall(r"'([^']*)'|(\d+)", str(error.get("ctx", {}).get("expected")))
            words = [text or number for text, number in expected]
            mend, why = suggest(str(error["input"]), words), f"{given} is not one of the choices"
        elif error["type"].startswith("int"):
            mend, why = "Write a whole number without a unit.", f"{given} is no whole number"
        elif error["type"].startswith("float"):
            mend, why = "Write a number without a unit.", f"{given} is no number"
        elif error["type"].startswith("bool"):
            mend, why = "Write true or false.", f"{given} is neither true nor false"
        else:
            mend, why = "Write it as the entries beside it.", error["msg"]
        self.fail(self.nodes[path], _name(path), why, mend)


def _name(path: Place) -> str:
    words = [f"entry {part + 1}" if isinstance(part, int) else part for part in path]
    return f"“{' › '.join(words)}”" if words else "this entry"


def _is_choice(hint: Any) -> bool:
    return get_origin(hint) is Literal or isinstance(hint, UnionType)


def _example(hint: Any) -> str:
    if get_origin(hint) is Annotated:
        marker = get_args(hint)[1]
        if isinstance(marker, Unit):
            return f" with {examples(marker.symbol)}"
        if isinstance(marker, Named):
            return f" with one of: {', '.join(marker.table)}"
        return f" with [{first_example(marker.value)} at {first_example(marker.where)}, …]"
    if get_origin(hint) is Literal:
        return f" with one of: {', '.join(str(choice) for choice in get_args(hint))}"
    return ""
