"""What a caller says that runs -> the loads, as a list holds them, and how many are heavy."""

from dataclasses import dataclass

from engine.model.buses import LEG
from engine.model.guide import Guide
from engine.typed.heard import meant_by
from engine.typed.load_names import appliance_called, name_key
from engine.typed.words import BOTH, SEVERAL, TOGETHER


@dataclass(frozen=True, slots=True)
class Heavy:
    """How many heavy loads were named in a row.

    sure: whether it was said that they run together, or how many of one there are
    """

    count: int
    sure: bool


def loads_in(guide: Guide, typed: str) -> list[str]:
    """Each load that is named in a row, as a list holds it; none unless all are known."""
    parts = (part for part in SEVERAL.split(TOGETHER.sub(" ", typed)) if part.strip())
    found = [_called(guide, meant_by(part)) for part in parts]
    return found if all(found) else []


def heavy_in(guide: Guide, typed: str) -> Heavy | None:
    """How many heavy loads on 120 V are named in a row; None where fewer than two loads are."""
    found = loads_in(guide, typed)
    if len(found) < 2:
        return None
    pairs = [each.partition("*") for each in found]
    heavy = [
        int(count or 1)
        for name, _, count in pairs
        if guide.appliance(name).heavy and guide.appliance(name).bus is LEG
    ]
    counted = any(count for _, _, count in pairs)
    return Heavy(sum(heavy), counted or bool(TOGETHER.search(typed))) if heavy else None


def is_name(words: tuple[str, ...], names: tuple[str, ...]) -> bool:
    """Whether the words are one of the names, in the singular or the plural."""
    key = name_key(" ".join(words))
    return bool({key, key.removesuffix("s")} & set(map(name_key, names)))


def counted(words: tuple[str, ...], names: tuple[str, ...]) -> tuple[str, tuple[str, ...]]:
    """How many of a thing, "" where that is not said, and what it is called.

    names: those of the thing, one of which may begin with a number
    """
    first = BOTH.get(words[0], words[0]) if words else ""
    is_counted = len(words) > 1 and first.isdecimal() and not is_name(words, names)
    return (first, words[1:]) if is_counted else ("", words)


def as_load(appliance_id: str, count: str) -> str:
    """A load of a list, with its count where there is more than one."""
    return f"{appliance_id}*{count}" if count not in ("", "1") else appliance_id


def _called(guide: Guide, words: tuple[str, ...]) -> str:
    """The load that people call so, as a list holds it; "" where there is none."""
    count, called = counted(words, ())
    found = appliance_called(guide, " ".join(called))
    return as_load(found, count) if found else ""
