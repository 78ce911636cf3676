"""Wording: figures that the engine computes must not be typed, and every caution has a source."""

import re
from collections.abc import Container, Iterator
from typing import Any

from engine.standards.services import SERVICES
from guide.content_read import ContentRead
from guide.fault import Fault
from guide.language import Language
from guide.reading import Place, Record
from guide.sentences import facts_of_rules

UNITS = {
    "W": "a power", "kW": "a power", "watts": "a power",
    "VA": "an apparent power", "kVA": "an apparent power",
    "Wh": "an energy", "kWh": "an energy",
    "A": "a current", "amps": "a current", "kA": "a current",
    "Ah": "a capacity",
    "V": "a voltage", "volts": "a voltage",
    "AWG": "a cable size", "mm": "a length", "in": "a length", "ft": "a length",
    "lb": "a weight", "kg": "a weight",
    "USD": "a price", "EUR": "a price", "CAD": "a price", "dollars": "a price",
}  # fmt: skip
"""Units of what the engine works out, with what they measure."""
KINDS = frozenset({*UNITS.values(), "a price"})

UNITS_OF_FACTS = {
    "a": "a current",
    "ka": "a current",
    "w": "a power",
    "va": "an apparent power",
}
CAUTION_MUST = (
    ("title", "a caution has a title", "Write it."),
    ("text", "a caution says what is the matter", "Write it."),
    ("do", "a caution says what to do", "Write it."),
    (
        "source",
        "a caution names its source",
        "Write it; “common practice, no source” and “from memory” are honest ones.",
    ),
)

# Voltages by which services, batteries and vehicle circuits are called.
VOLTAGES = {"12", "24", "48", "120", "240", "120/240"}
# Services are called by their breaker.
AMPERES = {f"{service.amps:g}" for service in SERVICES.values()}

_FIGURE = re.compile(
    r"(?P<dollars>[$€£¥]\s?\d[\d,.]*)"
    r"|(?<![\w{.,/-])(?P<number>\d[\d,./]*)[\s-]?(?P<unit>" + "|".join(UNITS) + r")(?!\w)"
)
_PLACEHOLDER = re.compile(r"\{[^}]*\}")


def words(content: ContentRead) -> Iterator[Fault]:
    """Typed figures in the wording, and cautions that name no source."""
    for language in content.languages.values():
        yield from _spoken(language)
    for line in content.sheets:
        for name in ("do", "planned") if line.value is not None else ():
            yield from _typed(line, (name,), getattr(line.value, name))
    yield from _cautions(content)


def _spoken(language: Language) -> Iterator[Fault]:
    said: tuple[tuple[list[Record[Any]], tuple[str, ...]], ...] = (
        (language.layouts, ("name", "plain", "shore", "battery")),
        (language.checks, ("name", "passes", "fails", "accepted")),
    )
    for records, names in said:
        for record in records:
            for name in names if record.value is not None else ():
                yield from _typed(record, (name,), getattr(record.value, name))
    for room in language.rooms.values():
        for name, message in (room.value or {}).items():
            for text in [message] if isinstance(message, str) else message.values():
                yield from _typed(room, (name,), text)


def _cautions(content: ContentRead) -> Iterator[Fault]:
    ranks: dict[int, str] = {}
    for record in content.cautions:
        caution = record.value
        if caution is None:
            continue
        for name, why, mend in CAUTION_MUST:
            if not getattr(caution, name).strip():
                yield record.fault((name,), f"“{record.id}”, {name}", why, mend)
        if caution.rank and not caution.card.strip():
            why = "what is ranked stands in the first look, with what to do in a line"
            yield record.fault(("rank",), f"“{record.id}”, card", why, "Write it.")
        earlier = ranks.setdefault(caution.rank, record.id) if caution.rank else record.id
        if earlier != record.id:
            why = f"“{earlier}” has the same rank"
            mend = "Give each a rank of its own, the most harm first."
            yield record.fault(("rank",), f"“{record.id}”, rank", why, mend)
        computed = {UNITS_OF_FACTS[fact.rsplit("_", 1)[-1]] for fact in _measured(caution.rule)}
        for name in ("title", "text", "do", "card"):
            text = getattr(caution, name)
            facts = ", ".join(f"{{{fact}}}" for fact in facts_of_rules().get(caution.rule, ()))
            yield from _typed(record, (name,), text, computed, facts)


def _measured(rule: str) -> Iterator[str]:
    for fact in facts_of_rules().get(rule, ()):
        if fact.rsplit("_", 1)[-1] in UNITS_OF_FACTS:
            yield fact


def _typed(
    record: Record[Any], path: Place, text: str, kinds: Container[str] = KINDS, facts: str = ""
) -> Iterator[Fault]:
    """A fault for each figure in the text, of one of these kinds, that the engine works out."""
    for found in _FIGURE.finditer(text):
        number, unit = found["number"], found["unit"]
        if (unit in ("V", "volts") and number in VOLTAGES) or (
            unit in ("A", "amps") and number in AMPERES
        ):
            continue
        kind = "a price" if found["dollars"] else UNITS[unit]
        if kind not in kinds:
            continue
        what = f"“{record.id}”, {path[0]}" if record.id else f"“{path[0]}”"
        known = facts or ", ".join(_PLACEHOLDER.findall(text))
        mend = f"Write {known} in its place, or take it out." if known else "Say it without."
        why = f"“{found[0]}” is {kind}, which the engine works out for each answer"
        yield record.fault(path, what, why, mend)
