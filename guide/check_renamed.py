"""One fault for an id that was renamed, in place of one for everything that still names it."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from guide.content_read import ContentRead
from guide.fault import Fault, Named
from guide.reading import Place, Record

CHOICE, KIND, QUESTION = "choice of “{}”", "kind of rig", "question"
MOST_PLACES = 4
"""Places that are named beside the first one."""


def told_once(content: ContentRead, faults: list[Fault]) -> list[Fault]:
    """The same faults, those of one unknown id as one.

    Where one id of a list is named and is not there, and one that is there is named nowhere, the
    first became the second: that is told where the second stands. Other faults of one unknown id
    become the first of them, which tells where the others are.
    """
    lists = {each.of for fault in faults for each in fault.names if each.of}
    for of in sorted(lists, key=lambda each: (-len(_about(faults, each)), each != KIND, each)):
        about = _about(faults, of)
        gone = {each.id for fault in about for each in fault.names if each == Named(of, each.id)}
        new = {each.id for fault in about for each in fault.names if each.of == of and each.new}
        if len(gone) == len(new) == 1 and (place := _place(content, of, min(new))):
            faults = [each for each in faults if each not in about]
            faults.append(_renamed(place, f"{of} “{min(new)}”", min(gone), about))
    return list(_together(faults))


def _about(faults: list[Fault], of: str) -> list[Fault]:
    return [fault for fault in faults if any(each.of == of for each in fault.names)]


def _place(content: ContentRead, of: str, name: str) -> tuple[Record[Any], Place] | None:
    """The entry, and the path in it, at which an id of a list is given."""
    entries: list[Record[Any]] = [*(content.rigs if of == KIND else content.questions)]
    if of in (KIND, QUESTION):
        return next(((each, ("id",)) for each in entries if each.id == name), None)
    for record in content.questions:
        if record.value is not None and of == CHOICE.format(record.id):
            at = [each.id for each in record.value.choices].index(name)
            return record, ("choices", at, "id")
    return None


def _renamed(place: tuple[Record[Any], Place], what: str, gone: str, about: list[Fault]) -> Fault:
    record, path = place
    why = f"nothing names it, and “{gone}”, which {_places(about)} need, is not there"
    return record.fault(path, what, why, f"Give it the id “{gone}” again: links name it so.")


def _together(faults: list[Fault]) -> Iterator[Fault]:
    """Faults with one unknown id as the first of them."""
    groups: dict[object, list[Fault]] = {}
    for at, fault in enumerate(faults):
        missing = tuple(each for each in fault.names if not each.new)
        groups.setdefault(missing or at, []).append(fault)
    for group in groups.values():
        first = min(group)  # a value taken over by "<<" has the place of the first one
        others = [each for each in group if (each.file, each.line) != (first.file, first.line)]
        yield replace(first, mend=f"{first.mend} Also: {_places(others)}.") if others else first


def _places(faults: list[Fault]) -> str:
    told = list(dict.fromkeys(f"{each.file}:{each.line}" for each in sorted(faults)))
    more = [f"{len(told) - MOST_PLACES} more"] if len(told) > MOST_PLACES else []
    return ", ".join(told[:MOST_PLACES] + more)
