"""The detail form of an answer page: fields with what was typed, assumed, or not understood."""

import re
from dataclasses import dataclass, field, replace

from engine.load_rows import LoadRow, rows_of
from engine.model.answers import Answers, Quantity
from engine.model.guide import Choice, Guide, Question
from engine.needs import FROM_THE_WEATHER, applies, default_here, implied, weather_for
from engine.units import show

MOST_SAID = 2
MONTHS = tuple(str(number) for number in range(1, 13))
SAYS_LITTLE = re.compile(r"\d*|0 .*")
OTHER_UNIT = re.compile(r" \(\d.*?\)$")


@dataclass(frozen=True, slots=True)
class Field:
    """One field; `value` is what stands in it, `fault` the message beside it ("" for none).

    rows: the loads, where it is their field
    """

    question: Question = field(hash=False)
    value: str
    assumed: str
    fault: str
    choices: tuple[Choice, ...] = field(hash=False)
    rows: tuple[LoadRow, ...] = ()

    @property
    def said(self) -> str:
        """What counts for this field, as it is read in a line; "" where nothing does."""
        labels = {choice.id: choice.label for choice in self.choices}
        return labels.get(self.value, self.value) or self.assumed


@dataclass(frozen=True, slots=True)
class FieldGroup:
    """Fields that belong together, under one heading."""

    id: str
    title: str
    fields: tuple[Field, ...]

    @property
    def key(self) -> str:
        """What stands in its first fields or is assumed there, for the line of a closed group.

        A bare number says nothing without its question, what is none is not worth a word, and the
        same in other units is read once the group is open. Where a question has a name for it, as
        one of two temperatures has, that one stands there alone.
        """
        found = [each for each in self.fields if not SAYS_LITTLE.fullmatch(each.said)]
        named = [each for each in found if each.question.topic]
        if named:
            return f"{named[0].question.topic} {OTHER_UNIT.sub('', named[0].said)}"
        return ", ".join(OTHER_UNIT.sub("", each.said) for each in found[:MOST_SAID])


def form_of(guide: Guide, answers: Answers) -> tuple[FieldGroup, ...]:
    """The questions of answer page and detail form, grouped in the guide's order."""
    faults = {fault.question: fault for fault in answers.faults if fault.question}
    values = implied(guide, answers)
    groups: dict[str, list[Field]] = {}
    for question in guide.questions:
        if question.where == "path" or not applies(question, values):
            continue
        fault = faults.get(question.id)
        found = Field(
            question=question,
            value=fault.typed if fault else _value(guide, answers, question),
            assumed=assumed_text(guide, question, answers),
            fault=fault.message if fault else "",
            choices=choices_of(guide, question),
        )
        if question.kind == "loads":
            found = _with_rows(guide, answers, found)
        groups.setdefault(question.group, []).append(found)
    words = guide.wording.page
    return tuple(
        FieldGroup(group, words.get(f"group-{group}", group), tuple(fields))
        for group, fields in groups.items()
    )


def _with_rows(guide: Guide, answers: Answers, found: Field) -> Field:
    rows = rows_of(guide, answers)
    count = sum(row.in_use for row in rows)
    said = guide.wording.page.count("loads-in-use", count)
    return replace(found, value="", assumed=said, rows=rows)


def _value(guide: Guide, answers: Answers, question: Question) -> str:
    """What stands in the field; for a unit that is no longer sold, the one in its place."""
    text = typed_text(answers, question)
    now = guide.in_its_place(text) if question.kind == "unit" else None
    return now.id if now else text


def choices_of(guide: Guide, question: Question) -> tuple[Choice, ...]:
    """The question's own choices, or the months or units where it asks for one of those."""
    if question.kind == "month":
        page = guide.wording.page
        return tuple(Choice(id=each, label=page.one_of("month-", each, MONTHS)) for each in MONTHS)
    if question.kind != "unit":
        return question.choices
    return tuple(Choice(id=unit.id, label=unit.name) for unit in guide.catalogue.inverters)


def typed_text(answers: Answers, question: Question) -> str:
    """The answer as a person would write it in the field; "" where it is open."""
    value = answers.values.get(question.id)
    if isinstance(value, Quantity):
        return value.text
    return answers.text(question.id)


def assumed_text(guide: Guide, question: Question, answers: Answers) -> str:
    """What is taken while the field is empty, in words; "" where nothing is."""
    if question.id in FROM_THE_WEATHER:
        place, unit = FROM_THE_WEATHER[question.id]
        return show(round(getattr(weather_for(guide, answers), place), 1), unit)
    default = default_here(guide, question, answers)
    if question.kind == "month" and default:
        return guide.wording.page.one_of("month-", default, MONTHS)
    if question.choices and default:
        return question.choice(default).label
    return default.replace("deg", "°")
