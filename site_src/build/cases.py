"""The worked examples of `tests/published/worked`, and what the engine itself makes of each.

An entry names a function, what goes in, and what a source says comes out. `from` names the document
of `tests/published/documents.yaml` that says so; an entry without it was worked by hand. Several
entries of one kind stand under `cases` below what they share. In `with`, `{module:Class: {field:
value}}` is an object, `{module:NAME: [key, …]}` what stands there, and `{call: …, with: …}` what a
function makes of it. `then` is called with the result, `take` is a field of it, `times` a factor.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path
from typing import Any, Literal

from engine.standards.awg import SIZES, area_m2
from guide.setup import ROOT
from guide.yaml_text import values_of

Label = Literal["table", "library", "measurement"]
Seen = Literal["itself", "copies", "memory"]

PUBLISHED = ROOT / "tests" / "published"
WORKED, DOCUMENTS = "worked", "documents.yaml"
NEEDED = {"name", "call", "with", "gives"}
OPTIONAL = {"source", "from", "then", "take", "times", "within", "unit", "why"}
NEAR = 0.1
"""Share by which a figure may miss its document's without a word."""


class CaseError(ValueError):
    """An entry that is not written as the others are; says in which file and how to mend it."""


@dataclass(frozen=True, slots=True)
class Document:
    """Who says so: a law, a table, another library's own result, a measurement.

    year, edition : as printed; a dash where the copy names none
    own : whether this shop measured it on a rig
    """

    title: str
    publisher: str
    year: str
    edition: str
    label: Label
    seen: Seen
    own: bool = False


@dataclass(frozen=True, slots=True)
class Case:
    """One worked example; `gives` is the document's own figure, in the unit of the function."""

    file: str
    name: str
    call: str
    gives: Any
    arguments: Mapping[str, Any] = field(default_factory=dict)
    document: Document | None = None
    source: str = ""
    then: str = ""
    take: str = ""
    times: Any = 1.0
    within: float | None = None
    unit: str = ""
    why: str = ""


def documents(folder: Path = PUBLISHED) -> dict[str, Document]:
    """The documents that cases rest on, by their id."""
    return {name: Document(**each) for name, each in _read(folder / DOCUMENTS).items()}


def cases(folder: Path = PUBLISHED) -> list[Case]:
    """Every case of every file, in the order of files and entries.

    Raises
    ------
    CaseError : if a key is missing, unknown, or names no document.
    """
    known = documents(folder)
    return [
        _case(file.stem, entry, known)
        for file in sorted((folder / WORKED).glob("*.yaml"))
        for entry in _entries(_read(file))
    ]


def found(case: Case) -> Any:
    """What the engine makes of a case."""
    made = _called(case.call, case.arguments)
    if case.then:
        made = _named(case.then)(made)
    if case.take:
        made = getattr(made, case.take)
    return made if case.times == 1.0 else made * _taken(case.times)


def ratio(case: Case, made: Any) -> float | None:
    """The engine's figure over the document's; of two gauges, that of their copper."""
    if isinstance(case.gives, str) and case.gives in SIZES:
        return area_m2(made) / area_m2(case.gives)
    if isinstance(case.gives, bool) or not isinstance(case.gives, int | float):
        return None
    return float(made) / case.gives


def _entries(read: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    for entry in read:
        if "cases" not in entry:
            yield entry
            continue
        shared = {name: value for name, value in entry.items() if name != "cases"}
        for each in entry["cases"]:
            together = {**shared.get("with", {}), **each.get("with", {})}
            yield {**shared, **each, "with": together}


def _case(file: str, entry: dict[str, Any], known: dict[str, Document]) -> Case:
    where = f"{WORKED}/{file}.yaml: “{entry.get('name', '?')}”"
    if odd := set(entry) - NEEDED - OPTIONAL:
        raise CaseError(f"{where} has {', '.join(sorted(odd))}, which no case has: take it out")
    if missing := NEEDED - set(entry):
        raise CaseError(f"{where} lacks {', '.join(sorted(missing))}: write it")
    if "from" in entry and entry["from"] not in known:
        raise CaseError(f"{where} names no document of {DOCUMENTS}: {entry['from']}; add it there")
    rest = {name: value for name, value in entry.items() if name not in ("from", "with")}
    document = known[entry["from"]] if "from" in entry else None
    return Case(file=file, document=document, arguments=entry["with"], **rest)


def _read(file: Path) -> Any:
    return values_of(file)


def _named(place: str) -> Any:
    """What `module:name` stands for."""
    module, _, name = place.partition(":")
    return getattr(import_module(module), name)


def _called(place: str, arguments: Mapping[str, Any]) -> Any:
    return _named(place)(**{name: _taken(value) for name, value in arguments.items()})


def _taken(value: Any) -> Any:
    """A value as kernels take it: sequences as tuples; mappings as this file's docstring says."""
    if isinstance(value, list):
        return tuple(map(_taken, value))
    if not isinstance(value, Mapping):
        return value
    if "call" in value:
        return _called(value["call"], value.get("with", {}))
    ((place, inner),) = value.items()
    if isinstance(inner, Mapping):
        return _called(place, inner)
    there = _named(place)
    for key in inner:
        there = there[key] if isinstance(there, Mapping | tuple) else getattr(there, key)
    return there
