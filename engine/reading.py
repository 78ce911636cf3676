"""One typed answer -> a value, by the kind of its question; a message where it cannot be read."""

import difflib
import re
from collections.abc import Callable

from engine.model.answers import (
    UNSURE,
    Bay,
    ExistingBank,
    LoadItem,
    LoadList,
    Quantity,
    Value,
)
from engine.model.guide import Guide, Question
from engine.units import UnitError, read

LONGEST_TEXT = 600
MOST_LOADS = 40
MOST_OF_ONE = 20
_LOAD_SEPARATOR = re.compile(r"[\n;]|,(?!\d{3}(?:\D|$))")
_BAY_SEPARATOR = re.compile(r"\s*(?:x|×|by|\*)\s*", re.IGNORECASE)
_COUNT = re.compile(r"^(.*?)\s*[*×]\s*(\d+)$")
_SPACE_BEFORE_UNIT = re.compile(r"(?<=\d)\s+(?=(?:Ah|V|volts?|y|yrs?|years?)\b)", re.IGNORECASE)
_BATTERY_BOUNDS = (
    (1.0, 5000.0, "the capacity of one battery in Ah"),
    (2.0, 60.0, "the voltage of one battery"),
    (0.0, 50.0, "the age in years"),
)
_EXISTING = re.compile(r"^(?:(\d+)\s*[x×*]\s*)?(.*)$", re.DOTALL)


class ReadingError(ValueError):
    """An answer that cannot be used; its text says why and what is accepted."""


def read_answer(guide: Guide, question: Question, typed: str) -> Value | None:
    """Read what was typed or chosen; None for an empty answer.

    Raises
    ------
    ReadingError : with the accepted forms in its message.
    """
    text = typed.strip()
    if not text:
        return None
    if len(text) > LONGEST_TEXT:
        raise ReadingError(f"This is longer than {LONGEST_TEXT} characters; please shorten it.")
    if question.kind == "choice":
        return _read_choice(question, text)
    try:
        return _READERS[question.kind](guide, question, text)
    except UnitError as fault:
        raise ReadingError(f"{_sentence(str(fault))}") from fault


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}{'' if text.endswith('.') else '.'}"


def _read_choice(question: Question, text: str) -> str:
    ids = [choice.id for choice in question.choices]
    if question.where != "detail":
        ids.append(UNSURE)
    if text in ids:
        return text
    folded = {choice.lower(): choice for choice in ids}
    if text.lower() in folded:
        return folded[text.lower()]
    near = difflib.get_close_matches(text.lower(), list(folded), n=1)
    hint = f" Did you mean “{folded[near[0]]}”?" if near else ""
    raise ReadingError(f"“{text}” is not one of the choices: {', '.join(ids)}.{hint}")


def compact(text: str) -> str:
    """A quantity's text without spaces and typographic signs, as it stands in links.

    >>> compact("95 °F"), compact("13,500 BTU/h"), compact("5' 6\\"")
    ('95F', '13500BTU/h', '5ft6in')
    """
    text = re.sub(r"(?<=\d),(?=\d{3}(?:\D|$))", "", text)
    text = re.sub(r"(?<=\d),(?=\d)", ".", text)
    for sign, plain in (("°", ""), ("′", "ft"), ("'", "ft"), ("″", "in"), ('"', "in"), ("−", "-")):
        text = text.replace(sign, plain)
    return re.sub(r"\s+", "", text)


def _quantity(text: str, unit: str, bare: str) -> Quantity:
    value = read(text, unit, bare)
    short = compact(text)
    if bare and re.fullmatch(r"[-+]?[\d.]+", short):
        short += {"degF": "F", "degC": "C", "foot": "ft", "inch": "in"}.get(bare, bare)
    return Quantity(value, short)


def _within(question: Question, value: float, shown: str) -> None:
    for bound, wrong in ((question.low, -1), (question.high, 1)):
        if bound:
            limit = read(bound, question.unit) if question.unit else float(bound)
            if (value - limit) * wrong > 0:
                word = "less" if wrong < 0 else "more"
                raise ReadingError(f"“{shown}” is {word} than {bound}, the limit of this guide.")


def _read_quantity(_guide: Guide, question: Question, text: str) -> Quantity:
    quantity = _quantity(text, question.unit, question.bare)
    _within(question, quantity.value, text)
    return quantity


def _read_count(_guide: Guide, question: Question, text: str) -> Quantity:
    if not re.fullmatch(r"[-+]?\d{1,6}(?:\.\d{1,3})?", text):
        raise ReadingError(f"“{text}” is not a number. {question.accepts}")
    value = float(text)
    _within(question, value, text)
    return Quantity(value, compact(text))


def _read_loads(guide: Guide, question: Question, text: str) -> LoadList:
    rows = [row.strip() for row in _LOAD_SEPARATOR.split(text) if row.strip()]
    if len(rows) > MOST_LOADS:
        raise ReadingError(f"More than {MOST_LOADS} loads; please join some of them.")
    items = tuple(_read_load(guide, question, row) for row in rows)
    return LoadList(items, ",".join(_load_text(item) for item in items))


def _read_load(guide: Guide, question: Question, row: str) -> LoadItem:
    head, *rest = [part.strip() for part in row.split(":")]
    counted = _COUNT.match(head)
    name, count = (counted[1].strip(), int(counted[2])) if counted else (head, 1)
    if not name or not 1 <= count <= MOST_OF_ONE:
        raise ReadingError(f"“{row}” is not understood. {question.accepts}")
    known = {appliance.id: appliance.id for appliance in guide.appliances}
    known |= {appliance.name.lower(): appliance.id for appliance in guide.appliances}
    appliance = known.get(name.lower(), "")
    watts: Quantity | None = None
    hours: Quantity | None = None
    for part in rest:
        try:
            if watts is None and hours is None:
                watts = _quantity(part, "W", "")
                continue
        except UnitError:
            pass
        hours = _quantity(part, "h", "h")
        if not 0 <= hours.value <= 24:
            raise ReadingError(f"“{row}”: hours a day lie between 0 and 24.")
    if not appliance and watts is None:
        near = difflib.get_close_matches(name.lower(), list(known), n=1)
        hint = f" Did you mean “{near[0]}”?" if near else ""
        raise ReadingError(
            f"“{name}” is not in this guide's list, so it needs its watts. {question.accepts}{hint}"
        )
    if watts is not None and not 0 < watts.value <= 20_000:
        raise ReadingError(f"“{row}”: watts lie between 0 and 20,000.")
    label = guide.appliance(appliance).name if appliance else re.sub(r"[,;:*=&\n]", " ", name)
    return LoadItem(appliance, label, count, watts, hours)


def _load_text(item: LoadItem) -> str:
    text = item.appliance or item.name
    if item.count != 1:
        text += f"*{item.count}"
    for part in (item.watts, item.hours):
        if part is not None:
            text += f":{part.text}"
    return text


def _read_bay(_guide: Guide, question: Question, text: str) -> Bay:
    sides = [side for side in _BAY_SEPARATOR.split(text) if side]
    if len(sides) != 3:
        raise ReadingError(f"“{text}” is not height × width × depth. {question.accepts}")
    unit = next(
        (side.lstrip("0123456789., ") for side in reversed(sides) if side.strip("0123456789., ")),
        "",
    )
    quantities = [
        _quantity(side if side.strip("0123456789., ") else f"{side}{unit}", "m", question.bare)
        for side in sides
    ]
    for quantity in quantities:
        if not 0.02 <= quantity.value <= 5:
            raise ReadingError(f"“{text}”: each side lies between 1 in and 16 ft.")
    height, width, depth = (quantity.value for quantity in quantities)
    return Bay(height, width, depth, "x".join(quantity.text for quantity in quantities))


def _read_existing(_guide: Guide, question: Question, text: str) -> ExistingBank:
    counted = _EXISTING.match(text)
    count = int(counted[1]) if counted and counted[1] else 1
    joined = _SPACE_BEFORE_UNIT.sub("", counted[2] if counted else text)
    tokens = re.split(r"[\s,_-]+", joined)
    found: dict[str, float] = {}
    chemistry = ""
    for token in filter(None, tokens):
        if token.lower() in ("lifepo4", "agm", "flooded"):
            chemistry = token.lower()
            continue
        spelled = re.sub(r"(?<=\d)y(?:ears?|rs?)?$", " year", token, flags=re.IGNORECASE)
        for unit in ("Ah", "V", "year"):
            try:
                found[unit] = read(spelled, unit)
                break
            except UnitError:
                continue
        else:
            raise ReadingError(f"“{token}” is not understood. {question.accepts}")
    if not chemistry or "Ah" not in found or "V" not in found or not 1 <= count <= MOST_OF_ONE:
        raise ReadingError(f"“{text}” is not complete. {question.accepts}")
    age = found.get("year", 0.0)
    for value, (low, high, what) in zip(
        (found["Ah"], found["V"], age), _BATTERY_BOUNDS, strict=True
    ):
        if not low <= value <= high:
            raise ReadingError(f"“{text}”: {what} lies between {low:g} and {high:g}.")
    short = f"{count}x{found['Ah']:g}Ah-{found['V']:g}V-{chemistry}-{age:g}y"
    return ExistingBank(count, found["Ah"], found["V"], chemistry, age, short)


def _read_unit(guide: Guide, _question: Question, text: str) -> str:
    """The id of an inverter-charger of the catalogue, from its id or its name."""
    known = {unit.id.lower(): unit.id for unit in guide.catalogue.inverters}
    known |= {unit.name.lower(): unit.id for unit in guide.catalogue.inverters}
    if text.lower() in known:
        return known[text.lower()]
    near = difflib.get_close_matches(text.lower(), list(known), n=1)
    hint = f" Did you mean “{known[near[0]]}”?" if near else ""
    raise ReadingError(f"“{text}” is no unit of this catalogue.{hint}")


_READERS: dict[str, Callable[[Guide, Question, str], Value]] = {
    "quantity": _read_quantity,
    "count": _read_count,
    "loads": _read_loads,
    "bay": _read_bay,
    "existing-bank": _read_existing,
    "unit": _read_unit,
}
