"""Everything that was read from the content folder, before it is one guide."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from engine.model.guide import (
    Appliance,
    Caution,
    Explanation,
    Planning,
    Priorities,
    Question,
    Rig,
    SheetLine,
    Shop,
)
from guide.coverage_file import CoverageFile
from guide.fault import Fault, Named, suggest
from guide.language import Language
from guide.reading import Place, Record


@dataclass(frozen=True)
class ContentRead:
    """Everything that was read, with its places; what is broken stands in it without a value."""

    shop: Record[Shop]
    questions: list[Record[Question]]
    rigs: list[Record[Rig]]
    appliances: list[Record[Appliance]]
    planning: Record[Planning]
    priorities: Record[Priorities]
    catalogue: dict[str, list[Record[Any]]]
    cautions: list[Record[Caution]]
    sheets: list[Record[SheetLine]]
    explanations: list[Record[Explanation]]
    languages: dict[str, Language]
    coverage: Record[CoverageFile]


def unknown(
    record: Record[Any],
    path: Place,
    name: str,
    known: Iterable[str],
    what: str,
    of: str = "",
) -> Iterator[Fault]:
    """A fault where the name is not known; none where the known ones could not be read.

    of: the list that the name should be in, where the message leaves out whose it is
    """
    known = list(known)
    if known and name not in known:
        where = f"“{record.id}”, {path[0]}" if record.id else f"“{path[0]}”"
        fault = record.fault(path, where, f"there is no {what} “{name}”", suggest(name, known))
        yield replace(fault, names=(Named(of or what, name),))


def ids_of(records: Iterable[Record[Any]]) -> list[str]:
    """The ids of these entries, those of broken ones too."""
    return [record.id for record in records if record.id]
