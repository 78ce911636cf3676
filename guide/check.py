"""Faults between files: ids that are used twice, and names that lead nowhere."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

from engine.advice.cautions import RULES
from engine.advice.checks import CHECKS
from engine.advice.layouts import LAYOUTS
from engine.model.guide import (
    Appliance,
    Caution,
    CheckWords,
    Guide,
    LayoutWords,
    Planning,
    Priorities,
    Question,
    Rig,
    Shop,
)
from engine.reading import ReadingError, read_answer
from engine.standards import awg
from engine.standards.interrupt import FUSE_FAMILIES
from engine.standards.services import SERVICES
from guide.fault import Fault, suggest
from guide.reading import Place, Record

DOCS = Path(__file__).resolve().parent.parent / "site_src" / "docs"
UNSURE = "unsure"
_PLACEHOLDER = re.compile(r"\{([^}]*)\}")
_GAUGES = ("awg", "smallest_awg", "largest_awg", "dc_largest_awg")

CHECK_FACTS = ("value", "limit", "margin")
CAUTION_FACTS: dict[str, tuple[str, ...]] = {
    "one-source-two-legs": ("leg1_a", "leg2_a", "neutral_a"),
    "no-240-off-battery": ("loads_240",),
    "shore-limit": ("shore_a", "limit_a", "charge_a"),
    "high-short-circuit": ("short_ka",),
    "alternator": ("limit_a",),
    "closed-space": ("continuous_w",),
    "water-heater-on-inverter": ("limit_a",),
    "multi-unit": ("units",),
}
"""What a caution's text may have filled in, by its rule; other rules fill in nothing."""

QUESTIONS: dict[str, str] = {
    **dict.fromkeys(("rig", "scope", "heavy", "biggest", "softstart", "v240"), "path"),
    **dict.fromkeys(("tools", "space"), "answer"),
    **dict.fromkeys(
        (
            *("loads", "nights", "cable", "bank", "chemistry", "have", "ambient", "bay"),
            *("mount", "gap", "shore", "gen", "altitude", "alt", "drive", "solar"),
            *("lat", "month", "payload"),
        ),
        "detail",
    ),
}
"""The questions that the engine reads, and where each is asked; others only lead to them."""


@dataclass(frozen=True)
class Parts:
    """Everything that was read, with its places; what is broken stands in it without a value."""

    shop: Record[Shop]
    questions: list[Record[Question]]
    rigs: list[Record[Rig]]
    appliances: list[Record[Appliance]]
    planning: Record[Planning]
    priorities: Record[Priorities]
    catalogue: dict[str, list[Record[Any]]]
    cautions: list[Record[Caution]]
    layouts: list[Record[LayoutWords]]
    checks: list[Record[CheckWords]]
    parts: Record[dict[str, str]]
    page: Record[dict[str, str]]


def faults_of(parts: Parts) -> list[Fault]:
    """All faults that only show when the files are held against each other and the engine."""
    products = [record for records in parts.catalogue.values() for record in records]
    lists: tuple[list[Record[Any]], ...] = (
        parts.questions,
        parts.rigs,
        parts.appliances,
        products,
        parts.cautions,
        parts.layouts,
        parts.checks,
    )
    found = [fault for records in lists for fault in _used_twice(records)]
    subjects: tuple[Callable[[Parts], Iterator[Fault]], ...] = (
        _questions,
        _rigs,
        _appliances,
        _planning,
        _priorities,
        _catalogue,
        _cautions,
        _wording,
    )
    return found + [fault for subject in subjects for fault in subject(parts)]


def unread_answers(guide: Guide, parts: Parts) -> list[Fault]:
    """Defaults and implied answers that the engine cannot read."""
    found: list[Fault] = []
    for record in parts.questions:
        question = guide.question(record.id)
        written: list[tuple[Place, Question, str]] = [(("default",), question, question.default)]
        written += [
            (("choices", at, "means", name), guide.question(name), text)
            for at, choice in enumerate(question.choices)
            for name, text in choice.means.items()
        ]
        for path, asked, text in written:
            try:
                read_answer(guide, asked, text)
            except ReadingError as error:
                what = f"question “{record.id}”, {path[0]} “{text}”"
                found.append(record.fault(path, what, "it cannot be read as an answer", str(error)))
    return found


def _used_twice(records: Iterable[Record[Any]]) -> Iterator[Fault]:
    first: dict[str, Record[Any]] = {}
    for record in records:
        if record.id and record.id in first:
            earlier = first[record.id]
            line = earlier.nodes[()].start_mark.line + 1
            yield record.fault(
                (),
                f"id “{record.id}”",
                f"it stands already in {earlier.file}, line {line}",
                "Give one of them another id.",
            )
        first.setdefault(record.id, record)


def _unknown(
    record: Record[Any],
    path: Place,
    name: str,
    known: Iterable[str],
    what: str,
) -> Iterator[Fault]:
    """A fault where the name is not known; none where the known ones could not be read."""
    known = list(known)
    if known and name not in known:
        where = f"“{record.id}”, {path[0]}" if record.id else f"“{path[0]}”"
        yield record.fault(path, where, f"there is no {what} “{name}”", suggest(name, known))


def _ids(records: Iterable[Record[Any]]) -> list[str]:
    return [record.id for record in records if record.id]


def _questions(parts: Parts) -> Iterator[Fault]:
    ids = _ids(parts.questions)
    by_id = {record.id: record.value for record in parts.questions}
    for name, where in QUESTIONS.items():
        if ids and name not in ids:
            yield Fault(
                f"questions/{_file_of(where)}.yaml",
                1,
                1,
                f"question “{name}”",
                "the engine reads it, and it is missing",
                f"Add it, with where: {where}.",
            )
    for record in parts.questions:
        if record.value is not None:
            yield from _question(record, record.value)
            yield from _links(record, record.value, ids, by_id)


def _question(record: Record[Question], question: Question) -> Iterator[Fault]:
    """Faults of one question by itself."""
    where = QUESTIONS.get(record.id, question.where)
    if question.where != where:
        why = f"the engine reads it at “{where}”"
        yield record.fault(("where",), f"“{record.id}”, where", why, f"Write {where}.")
    if question.kind == "choice" and not question.choices:
        yield record.fault((), f"“{record.id}”", "it has no choices", "Add choices.")
    seen: set[str] = set()
    for at, choice in enumerate(question.choices):
        what = f"“{record.id}”, choice “{choice.id}”"
        if choice.id == UNSURE:
            why = "it is always accepted and never listed"
            yield record.fault(("choices", at, "id"), what, why, "Take it out.")
        elif choice.id in seen:
            mend = "Give one of them another id."
            yield record.fault(("choices", at, "id"), what, "it stands there already", mend)
        seen.add(choice.id)
    if question.page and not (DOCS / question.page).is_file():
        pages = sorted(page.relative_to(DOCS).as_posix() for page in DOCS.rglob("*.md"))
        yield from _unknown(record, ("page",), question.page, pages, "page")


def _links(
    record: Record[Question],
    question: Question,
    ids: list[str],
    by_id: dict[str, Question | None],
) -> Iterator[Fault]:
    """Names in one question that lead to no question or choice."""
    for at, choice in enumerate(question.choices):
        for name in choice.means:
            yield from _unknown(record, ("choices", at, "means", name), name, ids, "question")
    for name, accepted in question.only_with.items():
        yield from _unknown(record, ("only_with", name), name, ids, "question")
        other = by_id.get(name)
        if other is None:
            continue
        choices = [*(choice.id for choice in other.choices), UNSURE]
        for at, choice_id in enumerate(accepted):
            known_as = f"choice of “{name}”"
            yield from _unknown(record, ("only_with", name, at), choice_id, choices, known_as)


def _file_of(where: str) -> str:
    return {"path": "short-path", "answer": "answer-page"}.get(where, "details")


def _choices(parts: Parts, question_id: str) -> list[str]:
    for record in parts.questions:
        if record.id == question_id and record.value is not None:
            return [choice.id for choice in record.value.choices]
    return []


def _rigs(parts: Parts) -> Iterator[Fault]:
    appliances = _ids(parts.appliances)
    hardest, rig_choices = _choices(parts, "biggest"), _choices(parts, "rig")
    counts = [int(choice) for choice in _choices(parts, "heavy") if choice.isdigit()]
    for choice in rig_choices:
        if parts.rigs and choice not in _ids(parts.rigs):
            mend = f"Add a rig with id: {choice}."
            yield parts.rigs[-1].fault(
                (), f"rig “{choice}”", "it can be chosen and is missing", mend
            )
    for record in parts.rigs:
        yield from _unknown(record, ("id",), record.id, rig_choices, "choice of “rig”")
        rig = record.value
        if rig is None:
            continue
        yield from _unknown(record, ("service",), rig.service, SERVICES, "service")
        for name in rig.carries:
            yield from _unknown(record, ("carries", name), name, appliances, "appliance")
        for choice, listed in rig.heavy.items():
            yield from _unknown(record, ("heavy", choice), choice, hardest, "choice of “biggest”")
            for at, name in enumerate(listed):
                yield from _unknown(record, ("heavy", choice, at), name, appliances, "appliance")
            if counts and len(listed) < max(counts):
                yield record.fault(
                    ("heavy", choice),
                    f"“{record.id}”, heavy › {choice}",
                    f"it lists {len(listed)}, and up to {max(counts)} can be asked for at once",
                    "Add appliances.",
                )
        for choice in hardest:
            if choice not in rig.heavy:
                yield record.fault(
                    ("heavy",),
                    f"“{record.id}”, heavy",
                    f"nothing is listed for the choice “{choice}”",
                    f"Add “{choice}: [first, second, third]”.",
                )


def _appliances(parts: Parts) -> Iterator[Fault]:
    for record in parts.appliances:
        if record.value is not None and record.value.caution:
            yield from _unknown(record, ("caution",), record.value.caution, RULES, "caution rule")


def _planning(parts: Parts) -> Iterator[Fault]:
    planning = parts.planning.value
    if planning is None:
        return
    of_240 = [
        record.id
        for record in parts.appliances
        if record.value is not None and record.value.volts == 240
    ]
    yield from _unknown(
        parts.planning, ("appliance_240",), planning.appliance_240, of_240, "appliance on 240 V"
    )
    figures = [
        each.name for each in fields(Planning) if each.name not in ("source", "appliance_240")
    ]
    for name in planning.source:
        yield from _unknown(parts.planning, ("source", name), name, figures, "figure")
    for name in figures:
        if name not in planning.source:
            yield parts.planning.fault(
                ("source",),
                f"“{name}”",
                "it has no source",
                f"Add “{name}: …” under source; “common practice, no source” is one.",
            )


def _priorities(parts: Parts) -> Iterator[Fault]:
    seen: set[str] = set()
    priorities = parts.priorities.value
    for at, priority in enumerate(priorities.list if priorities else ()):
        if priority.measure in seen:
            yield parts.priorities.fault(
                ("list", at, "measure"),
                f"“{priority.measure}”",
                "it is counted already",
                "Take one of them out.",
            )
        seen.add(priority.measure)


def _catalogue(parts: Parts) -> Iterator[Fault]:
    families = sorted({family.name for family in FUSE_FAMILIES})
    for records in parts.catalogue.values():
        for record in records:
            product = record.value
            if product is None:
                continue
            for name in _GAUGES:
                size = getattr(product, name, None)
                if size is not None:
                    yield from _unknown(record, (name,), size, awg.SIZES, "gauge")
            terminals = getattr(product, "terminals", None)
            for name in ("smallest_awg", "largest_awg") if terminals else ():
                size = getattr(terminals, name)
                yield from _unknown(record, ("terminals", name), size, awg.SIZES, "gauge")
            if hasattr(product, "family"):
                yield from _unknown(record, ("family",), product.family, families, "fuse family")
            if hasattr(product, "service"):
                yield from _unknown(record, ("service",), product.service, SERVICES, "service")


def _cautions(parts: Parts) -> Iterator[Fault]:
    for record in parts.cautions:
        caution = record.value
        if caution is None:
            continue
        yield from _unknown(record, ("rule",), caution.rule, RULES, "caution rule")
        texts = {"text": CAUTION_FACTS.get(caution.rule, ()), "title": (), "do": (), "who": ()}
        yield from _placeholders(record, texts)


def _placeholders(record: Record[Any], allowed: Mapping[str, tuple[str, ...]]) -> Iterator[Fault]:
    for name, facts in allowed.items():
        for placeholder in _PLACEHOLDER.findall(getattr(record.value, name)):
            if placeholder not in facts:
                yield record.fault(
                    (name,),
                    f"“{record.id}”, {name}",
                    f"nothing fills in “{{{placeholder}}}” here",
                    suggest(placeholder, facts),
                )


def _wording(parts: Parts) -> Iterator[Fault]:
    for known, records, what in (
        (LAYOUTS, parts.layouts, "layout"),
        (CHECKS, parts.checks, "check"),
    ):
        for record in records:
            yield from _unknown(record, ("id",), record.id, known, what)
        for name in known if records else ():
            if name not in _ids(records):
                yield records[-1].fault(
                    (), f"{what} “{name}”", "it has no words", f"Add an entry with id: {name}."
                )
    for record in parts.checks:
        if record.value is not None:
            yield from _placeholders(record, {"passes": CHECK_FACTS, "fails": CHECK_FACTS})
