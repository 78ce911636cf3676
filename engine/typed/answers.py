"""One typed answer -> a value, by the kind of its question; a message where it cannot be read."""

import difflib
import re
from collections.abc import Callable, Collection, Iterable, Mapping

from engine.model.answers import (
    UNSURE,
    Bay,
    ExistingBank,
    LoadItem,
    LoadList,
    Quantity,
    Value,
)
from engine.model.buses import BUSES
from engine.model.guide import Guide, Question
from engine.model.products import InverterCharger
from engine.typed.amounts import LONGEST, digits_of, number_in_front, tidy
from engine.typed.batteries import MOST_OF_ONE, read_bank
from engine.typed.load_names import appliance_called, appliance_named
from engine.typed.outside import lines, one_line
from engine.typed.words import GRAND, HEMISPHERES, MONTHS, THOUSANDS
from engine.units import UnitError, read, read_short
from engine.wording.sentences import Fact, Sentences, Untold
from engine.wording.tongue import plain

LONGEST_TEXT = 600
MOST_LOADS = 40
HOURS_A_DAY = 24
MOST_WATTS = 20_000
NO_LOADS = "none"
"""A list with nothing on it, which cannot be planned for."""
AT_ONCE = {"together": True, "alone": False}
"""Whether a load runs together with others, as it is said in a list."""
_LOAD_SEPARATOR = re.compile(r"[\n;]|,(?!\d{3}(?:\D|$))")
_BAY_SEPARATOR = re.compile(r" (?:x|×|by|\*) | ?(?:x|×|by|\*) ?(?=[0-9.½¼¾])", re.IGNORECASE)
_COUNT = re.compile(r"(.*?) ?[*×] ?([0-9]{1,3})")
_FIGURES_OF_CHOICES = ("V", "A")
_LATITUDE = re.compile(r"([a-z]*) ?([-+−]?[0-9.]{1,12}) ?(?:°|deg|degrees)? ?([a-z]*)")


class ReadingError(Untold):
    """An answer that cannot be used."""


def read_answer(
    guide: Guide, question: Question, typed: str, carried: Collection[str] = ()
) -> Value | None:
    """Read what was typed or chosen; None for an empty answer.

    carried: ids of the appliances that the rig has, one of which a name of several means

    Raises
    ------
    Untold : a ReadingError or UnitError, with the accepted forms among its facts.
    """
    if len(typed.strip()) > LONGEST_TEXT:
        raise ReadingError("too-long", longest=LONGEST_TEXT)
    text = lines(typed) if question.kind == "loads" else one_line(typed)
    if not text:
        return None
    if question.choices:
        return _read_choice(question, text)
    if question.kind == "loads":
        return _read_loads(guide, question, text, carried)
    return _READERS[question.kind](guide, question, text)


def meant(word: str, known: Mapping[str, str]) -> Fact:
    """The fact that asks whether the known word nearest to this one was meant; none is near: ""."""
    near = difflib.get_close_matches(word, list(known), n=1)

    def said(faults: Sentences) -> str:
        return faults.say("did-you-mean", word=known[near[0]]) if near else ""

    return said


def _read_choice(question: Question, text: str) -> str:
    ids = [choice.id for choice in question.choices]
    if question.where != "detail":
        ids.append(UNSURE)
    if text in ids:
        return text
    folded = {choice.lower(): choice for choice in ids}
    if text.lower() in folded:
        return folded[text.lower()]
    for choice in ids:
        if _same_figure(text, choice):
            return choice
    hint = meant(text.lower(), folded)
    raise ReadingError("not-a-choice", text=text, choices=", ".join(ids), hint=hint)


def _same_figure(text: str, choice: str) -> bool:
    """Whether a choice such as 12V was typed in another way: "12 v", "12 volts"."""
    for unit in _FIGURES_OF_CHOICES:
        try:
            return read(text, unit) == read(choice, unit)
        except UnitError:
            continue
    return False


def _quantity(text: str, unit: str, bare: str) -> Quantity:
    found = read_short(text, unit, bare)
    return Quantity(found.value, found.text)


def _within(question: Question, value: float, shown: str) -> None:
    for bound, wrong in ((question.low, -1), (question.high, 1)):
        if bound:
            limit = read(bound, question.unit, question.bare) if question.unit else float(bound)
            if (value - limit) * wrong > 0:
                raise ReadingError(
                    "below-limit" if wrong < 0 else "above-limit", text=shown, limit=bound
                )


def _read_quantity(_guide: Guide, question: Question, text: str) -> Quantity:
    quantity = _quantity(text, question.unit, question.bare)
    _within(question, quantity.value, text)
    return quantity


def _read_count(_guide: Guide, question: Question, text: str) -> Quantity:
    """A number alone, or with what is counted: "2 days"."""
    try:
        value = read(text, question.unit, question.bare) if question.unit else _number(text)
    except UnitError as fault:
        raise ReadingError("not-a-number", text=text, accepts=question.accepts) from fault
    return _counted(question, value, text)


def _number(text: str) -> float:
    found = number_in_front(tidy(text)) if len(text) <= LONGEST else None
    if found is None or found.rest:
        raise UnitError("unclear", text=text, examples="")
    return found.value


def _counted(question: Question, value: float, text: str) -> Quantity:
    _within(question, value, text)
    return Quantity(value, digits_of(value))


def _read_latitude(guide: Guide, question: Question, text: str) -> Quantity:
    """Degrees, north without a sign: "40", "40 N", "33.9° S"."""
    found = _LATITUDE.fullmatch(tidy(text).lower())
    named = "".join(filter(None, (found[1], found[3]))) if found else ""
    if found is None or named not in HEMISPHERES or (named and found[2][0] in "-−"):
        return _read_count(guide, question, text)
    count = _read_count(guide, question, found[2])
    return _counted(question, count.value * HEMISPHERES[named], text)


def _read_month(guide: Guide, question: Question, text: str) -> Quantity:
    """A month by its number, its name or the beginning of that."""
    name = text.lower().rstrip(".")
    for number, month in enumerate(MONTHS, 1):
        if len(name) >= 3 and month.startswith(name):
            return _counted(question, float(number), text)
    return _read_count(guide, question, text)


def load_lines(text: str) -> list[str]:
    """The loads of a list, each as it was typed."""
    return [row.strip() for row in _LOAD_SEPARATOR.split(text) if row.strip()]


def _read_loads(guide: Guide, question: Question, text: str, carried: Collection[str]) -> LoadList:
    if text == NO_LOADS:
        raise ReadingError("no-loads")
    rows = load_lines(text)
    if not rows:
        raise ReadingError("not-understood", text=text, accepts=question.accepts)
    if len(rows) > MOST_LOADS:
        raise ReadingError("too-many-loads", most=MOST_LOADS)
    items = tuple(_read_load(guide, question, row, carried) for row in rows)
    return load_list(items)


def load_list(items: tuple[LoadItem, ...]) -> LoadList:
    """These loads with the text that stands for them in links."""
    return LoadList(items, ",".join(load_text(item) for item in items))


def name_and_count(head: str) -> tuple[str, int]:
    """The name of a load and how many there are: "fan*2"."""
    counted = _COUNT.fullmatch(head)
    return (counted[1].strip(), int(counted[2])) if counted else (head, 1)


def _read_load(guide: Guide, question: Question, row: str, carried: Collection[str]) -> LoadItem:
    head, *rest = [part.strip() for part in row.split(":")]
    name, count = name_and_count(head)
    if not name or not 1 <= count <= MOST_OF_ONE:
        raise ReadingError("not-understood", text=row, accepts=question.accepts)
    # With its watts, another word has always been a load of the visitor's own, in old links too.
    appliance = appliance_named(guide, name) or (
        "" if _gives_watts(rest) else appliance_called(guide, name, carried)
    )
    watts: Quantity | None = None
    hours: Quantity | None = None
    bus = ""
    at_once: bool | None = None
    for part in rest:
        if part.lower() in BUSES and not appliance:
            bus = part.lower()
            continue
        if part.lower() in AT_ONCE:
            at_once = AT_ONCE[part.lower()]
            continue
        try:
            if watts is None and hours is None:
                watts = _quantity(part, "W", "")
                continue
        except UnitError:
            pass
        hours = _quantity(part, "h", "h")
        if not 0 <= hours.value <= HOURS_A_DAY:
            raise ReadingError("hours-a-day", text=row, low=0, high=HOURS_A_DAY)
    if not appliance and watts is None:
        names = {each.lower(): each for each in _names(guide)}
        hint = meant(name.lower(), names)
        raise ReadingError("needs-watts", name=name, accepts=question.accepts, hint=hint)
    if watts is not None and not 0 < watts.value <= MOST_WATTS:
        raise ReadingError("watts-between", text=row, low=0, high=plain(MOST_WATTS))
    label = guide.appliance(appliance).name if appliance else re.sub(r"[,;:*=&\n]", " ", name)
    return LoadItem(appliance, label, count, watts, hours, bus, at_once)


def _gives_watts(parts: list[str]) -> bool:
    for part in parts:
        try:
            _quantity(part, "W", "")
        except UnitError:
            continue
        return True
    return False


def _names(guide: Guide) -> Iterable[str]:
    for appliance in guide.appliances:
        yield from (appliance.id, appliance.name, *appliance.also)


def load_text(item: LoadItem) -> str:
    """One load of a list as links hold it."""
    text = item.appliance or item.name
    if item.count != 1:
        text += f"*{item.count}"
    for part in (item.watts, item.hours):
        if part is not None:
            text += f":{part.text}"
    said = next((word for word, is_so in AT_ONCE.items() if is_so is item.at_once), "")
    return text + "".join(f":{part}" for part in (item.bus, said) if part)


def _read_bay(_guide: Guide, question: Question, text: str) -> Bay:
    sides = [side for side in _BAY_SEPARATOR.split(tidy(text)) if side]
    if len(sides) != 3:
        raise ReadingError("not-a-bay", text=text, accepts=question.accepts)
    alone = [number is not None and not number.rest for number in map(number_in_front, sides)]
    bare = question.bare
    for side, is_alone in zip(sides, alone, strict=True):
        if not is_alone:
            bare = re.split(r"[0-9.]", _quantity(side, "m", question.bare).text)[-1]
    quantities = [_quantity(side, "m", bare) for side in sides]
    for quantity in quantities:
        if not 0.02 <= quantity.value <= 5:
            raise ReadingError("side-between", text=text, low="1 in", high="16 ft")
    height, width, depth = (quantity.value for quantity in quantities)
    return Bay(height, width, depth, "x".join(quantity.text for quantity in quantities))


def _read_existing(_guide: Guide, question: Question, text: str) -> ExistingBank:
    return read_bank(text, question.accepts)


def _read_unit(guide: Guide, _question: Question, text: str) -> str:
    """The id of an inverter-charger, from its id or its name; one that has a successor is known."""
    sold = _ids_of(guide.catalogue.inverters)
    units = (each for each in guide.discontinued if isinstance(each, InverterCharger))
    known = _ids_of(each for each in units if each.successor) | sold
    if text.lower() in known:
        return known[text.lower()]
    raise ReadingError("no-such-unit", text=text, hint=meant(text.lower(), sold))


def _ids_of(units: Iterable[InverterCharger]) -> dict[str, str]:
    """The id of each unit by its id and by its name, in small letters."""
    each_twice = ((text, unit.id) for unit in units for text in (unit.id, unit.name))
    return {text.lower(): unit_id for text, unit_id in each_twice}


def _signs_of_money(guide: Guide) -> re.Pattern[str]:
    code = guide.shop.currency
    words = (code, guide.wording.grammar.signs.get(code, code))
    return re.compile("|".join(map(re.escape, words)), re.IGNORECASE)


def says_money(guide: Guide, text: str) -> bool:
    """Whether a text says by a sign or a word that it means a sum of money."""
    return bool(_signs_of_money(guide).search(text)) or text.lower().endswith(GRAND)


def _read_money(guide: Guide, question: Question, text: str) -> Quantity:
    """A sum in the shop's currency: "4000", "$4,000", "4,000 USD", "$4k", "five grand"."""
    bare = _signs_of_money(guide).sub(" ", text)
    found = number_in_front(tidy(bare)) if len(text) <= LONGEST else None
    if found is None or found.rest.lower() not in ("", *THOUSANDS):
        raise ReadingError("not-a-number", text=text, accepts=question.accepts)
    return _counted(question, found.value * (1000 if found.rest else 1), text)


_READERS: dict[str, Callable[[Guide, Question, str], Value]] = {
    "quantity": _read_quantity,
    "count": _read_count,
    "latitude": _read_latitude,
    "month": _read_month,
    "bay": _read_bay,
    "existing-bank": _read_existing,
    "unit": _read_unit,
    "money": _read_money,
}
