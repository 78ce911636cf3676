"""Faults between files: ids that are used twice, and names that lead nowhere."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import fields, replace
from typing import Any

from engine.advice.judge.cautions import RULES
from engine.advice.judge.checks import CHECKS
from engine.advice.plan.layouts import LAYOUTS
from engine.model.buses import LEGS
from engine.model.guide import Planning
from engine.pages.print.sheets import SHEET_RULES
from engine.standards import awg
from engine.standards.battery_chemistry import CHEMISTRIES
from engine.standards.interrupt import FUSE_FAMILIES
from engine.standards.services import SERVICES
from engine.typed.load_names import name_key
from guide.check_estimate import estimates
from guide.check_limits import limits
from guide.check_offers import offers
from guide.check_questions import ID, ID_MEND, ID_WHY, choices_of, questions
from guide.check_renamed import told_once
from guide.check_sentences import sentences
from guide.check_style import unsound
from guide.check_words import words
from guide.content_read import ContentRead, ids_of, unknown
from guide.fault import Fault, Named, nearest
from guide.reading import CURRENCIES, Record

_GAUGES = ("awg", "smallest_awg", "largest_awg", "dc_largest_awg")


def faults_of(content: ContentRead) -> list[Fault]:
    """All faults that only show when the files are held against each other and the engine."""
    products = [record for records in content.catalogue.values() for record in records]
    lists: tuple[list[Record[Any]], ...] = (
        content.questions,
        content.rigs,
        content.appliances,
        products,
        content.cautions,
        content.sheets,
        content.explanations,
        *(records for each in content.languages.values() for records in each.lists()),
    )
    found = [fault for each in lists for find in (_used_twice, _misshapen) for fault in find(each)]
    subjects: tuple[Callable[[ContentRead], Iterator[Fault]], ...] = (
        questions,
        _rigs,
        _appliances,
        _planning,
        _priorities,
        _aims,
        _catalogue,
        _chemistries,
        _shelf,
        _cautions,
        _sheets,
        _currency,
        _wording,
        limits,
        offers,
        estimates,
        words,
        sentences,
        unsound,
    )
    return told_once(content, found + [fault for each in subjects for fault in each(content)])


def _used_twice(records: Iterable[Record[Any]]) -> Iterator[Fault]:
    first: dict[str, Record[Any]] = {}
    for record in records:
        if record.id and record.id in first:
            earlier = first[record.id]
            line = earlier.nodes[()].start_mark.line + 1
            yield record.fault(
                (),
                f"id “{record.id}”",
                f"it is already used in {earlier.file}, line {line}",
                "Give one of them another id.",
            )
        first.setdefault(record.id, record)


def _misshapen(records: Iterable[Record[Any]]) -> Iterator[Fault]:
    """Ids that could not stand in a link, an address or the name of a file."""
    for record in records:
        if record.id and not ID.fullmatch(record.id):
            yield record.fault(("id",), f"id “{record.id[:80]}”", ID_WHY, ID_MEND)


def _rigs(content: ContentRead) -> Iterator[Fault]:
    appliances = ids_of(content.appliances)
    hardest, rig_choices = choices_of(content, "biggest"), choices_of(content, "rig")
    cords = choices_of(content, "cord")
    counts = [int(choice) for choice in choices_of(content, "heavy") if choice.isdigit()]
    for choice in rig_choices:
        if content.rigs and choice not in ids_of(content.rigs):
            mend = f"Add a rig with id: {choice}."
            fault = content.rigs[-1].fault(
                (), f"rig “{choice}”", "it can be chosen and is missing", mend
            )
            names = Named("kind of rig", choice), Named("choice of “rig”", choice, new=True)
            yield replace(fault, names=names)
    for record in content.rigs:
        for fault in unknown(record, ("id",), record.id, rig_choices, "choice of “rig”"):
            yield replace(fault, names=(*fault.names, Named("kind of rig", record.id, new=True)))
        rig = record.value
        if rig is None:
            continue
        yield from unknown(record, ("service",), rig.service, SERVICES, "service")
        for choice, service in rig.cords.items():
            yield from unknown(record, ("cords", choice), choice, cords, "choice of “cord”")
            yield from unknown(record, ("cords", choice), service, SERVICES, "service")
        for name in rig.carries:
            yield from unknown(record, ("carries", name), name, appliances, "appliance")
        for choice, listed in rig.heavy.items():
            yield from unknown(record, ("heavy", choice), choice, hardest, "choice of “biggest”")
            for at, name in enumerate(listed):
                yield from unknown(record, ("heavy", choice, at), name, appliances, "appliance")
            if counts and len(listed) < max(counts):
                yield record.fault(
                    ("heavy", choice),
                    f"“{record.id}”, heavy › {choice}",
                    f"it lists {len(listed)}, and up to {max(counts)} can be asked for at once",
                    "Add appliances.",
                )
        for choice in hardest:
            if choice not in rig.heavy:
                fault = record.fault(
                    ("heavy",),
                    f"“{record.id}”, heavy",
                    f"nothing is listed for the choice “{choice}”",
                    f"Add “{choice}: [first, second, third]”.",
                )
                yield replace(fault, names=(Named("choice of “biggest”", choice, new=True),))


def _appliances(content: ContentRead) -> Iterator[Fault]:
    known = [record.value for record in content.appliances if record.value is not None]
    taken = {name_key(name): each.id for each in known for name in (each.id, each.name)}
    for record in content.appliances:
        if record.value is None:
            continue
        if record.value.caution:
            yield from unknown(record, ("caution",), record.value.caution, RULES, "caution rule")
        for at, name in enumerate(record.value.also):
            owner = taken.get(name_key(name), record.id)
            if owner != record.id or not name_key(name):
                yield record.fault(
                    ("also", at),
                    f"“{record.id}”, also › {name}",
                    f"people who type it get “{owner}”, which is called so"
                    if name_key(name)
                    else "nobody can type it",
                    "Leave it out, or choose another word.",
                )


def _planning(content: ContentRead) -> Iterator[Fault]:
    planning = content.planning.value
    if planning is None:
        return
    of_240 = [
        record.id
        for record in content.appliances
        if record.value is not None and record.value.bus is LEGS
    ]
    yield from unknown(
        content.planning, ("appliance_240",), planning.appliance_240, of_240, "appliance on 240 V"
    )
    figures = [
        each.name for each in fields(Planning) if each.name not in ("source", "appliance_240")
    ]
    for name in planning.source:
        yield from unknown(content.planning, ("source", name), name, figures, "figure")
    for name in figures:
        if name not in planning.source:
            yield content.planning.fault(
                ("source",),
                f"“{name}”",
                "it has no source",
                f"Add “{name}: …” under source; “common practice, no source” is one.",
            )


def _priorities(content: ContentRead) -> Iterator[Fault]:
    seen: set[str] = set()
    priorities = content.priorities.value
    for at, priority in enumerate(priorities.list if priorities else ()):
        if priority.measure in seen:
            yield content.priorities.fault(
                ("list", at, "measure"),
                f"“{priority.measure}”",
                "it is counted already",
                "Take one of them out.",
            )
        seen.add(priority.measure)


def _aims(content: ContentRead) -> Iterator[Fault]:
    """Aims that nobody can choose, that nothing stands for, or that count what has no words."""
    priorities = content.priorities.value
    if priorities is None:
        return
    ids, choices = [each.id for each in priorities.aims], choices_of(content, "aim")
    asked = next((each for each in content.questions if each.id == "aim"), None)
    if asked is not None:
        for at, choice in enumerate(choices):
            yield from unknown(asked, ("choices", at, "id"), choice, ids, "aim in priorities.yaml")
    known = [each.measure for each in priorities.list]
    for at, aim in enumerate(priorities.aims):
        place = ("aims", at)
        yield from unknown(content.priorities, (*place, "id"), aim.id, choices, "choice of “aim”")
        if aim.id in ids[:at]:
            yield content.priorities.fault(
                (*place, "id"), f"“{aim.id}”", "it is there already", "Take one of them out."
            )
        for number, each in enumerate(aim.list):
            yield from unknown(
                content.priorities,
                (*place, "list", number, "measure"),
                each.measure,
                known,
                "measure of the shop's own list",
            )


def _catalogue(content: ContentRead) -> Iterator[Fault]:
    families = sorted({family.name for family in FUSE_FAMILIES})
    for records in content.catalogue.values():
        for record in records:
            product = record.value
            if product is None:
                continue
            for name in _GAUGES:
                size = getattr(product, name, None)
                if size is not None:
                    yield from unknown(record, (name,), size, awg.SIZES, "gauge")
            terminals = getattr(product, "terminals", None)
            for name in ("smallest_awg", "largest_awg") if terminals else ():
                size = getattr(terminals, name)
                yield from unknown(record, ("terminals", name), size, awg.SIZES, "gauge")
            if hasattr(product, "family"):
                yield from unknown(record, ("family",), product.family, families, "fuse family")
            if hasattr(product, "service"):
                yield from unknown(record, ("service",), product.service, SERVICES, "service")


def _chemistries(content: ContentRead) -> Iterator[Fault]:
    """Choices of the kind of battery without a record in the engine."""
    for record in (each for each in content.questions if each.id == "chemistry"):
        for at, choice in enumerate(choices_of(content, record.id)):
            place = ("choices", at, "id")
            yield from unknown(record, place, choice, CHEMISTRIES, "kind of battery")


def _shelf(content: ContentRead) -> Iterator[Fault]:
    """Choices that a customer can make and for which nothing is sold."""
    offered: tuple[tuple[str, str, Callable[[Any], Iterable[str]]], ...] = (
        ("chemistry", "batteries", lambda each: (each.chemistry,)),
        ("bank", "inverters", lambda each: (f"{each.dc_nominal:g}V",)),
        ("mount", "inverters", lambda each: each.mounts),
    )
    by_id = {record.id: record for record in content.questions}
    for name, shelf, kinds in offered:
        records = content.catalogue[shelf]
        if any(each.value is None for each in records):
            continue  # a broken entry is told already, and may be the one that is missing here
        sold = [each.value for each in records if each.value is not None and each.value.sold]
        reached = {kind for product in sold for kind in kinds(product)}
        for at, choice in enumerate(choices_of(content, name)):
            if name == "chemistry" and choice not in CHEMISTRIES:
                continue  # told by itself
            if choice not in reached:
                yield by_id[name].fault(
                    ("choices", at, "id"),
                    f"“{name}”, choice “{choice}”",
                    f"nothing among the {shelf} that are sold is for it",
                    "Take the choice out, or add something that is sold.",
                )


def _cautions(content: ContentRead) -> Iterator[Fault]:
    for record in content.cautions:
        caution = record.value
        if caution is None:
            continue
        yield from unknown(record, ("rule",), caution.rule, RULES, "caution rule")


def _sheets(content: ContentRead) -> Iterator[Fault]:
    for record in content.sheets:
        line = record.value
        if line is None:
            continue
        yield from unknown(record, ("rule",), line.rule, SHEET_RULES, "rule")
        if line.caution:
            yield from unknown(
                record, ("caution",), line.caution, ids_of(content.cautions), "caution"
            )


def _currency(content: ContentRead) -> Iterator[Fault]:
    shop = content.shop.value
    if shop is not None and shop.currency not in CURRENCIES:
        why = f"no currency has the code “{shop.currency}”"
        mend = "Write one of three capital letters, such as USD, EUR or CAD."
        yield content.shop.fault(("currency",), "“currency”", why, mend)


def _wording(content: ContentRead) -> Iterator[Fault]:
    language = content.shop.value.language if content.shop.value else ""
    if language and content.languages:
        yield from unknown(
            content.shop, ("language",), language, content.languages, "folder of words"
        )
    for spoken in content.languages.values():
        for known, records, what in (
            (LAYOUTS, spoken.layouts, "layout"),
            (CHECKS, spoken.checks, "check"),
        ):
            for record in records:
                yield from unknown(record, ("id",), record.id, known, what)
            ids = ids_of(records)
            meant = {near for each in ids if each not in known for near in nearest(each, known)}
            for name in known if records else ():
                if name not in ids and name not in meant:
                    yield records[-1].fault(
                        (), f"{what} “{name}”", "it has no words", f"Add an entry with id: {name}."
                    )
