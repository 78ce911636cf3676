"""The words of one language, as its folder holds them: sentences, grammar, texts of the content."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields, replace
from typing import Any, TypeVar

from babel import Locale
from babel.plural import PluralRule, _PythonCompiler

from engine.model.guide import CheckWords, Guide, LayoutWords, Question, Wording
from engine.wording.sentences import Sentences
from engine.wording.tongue import Grammar
from guide.reading import Message, Record

T = TypeVar("T")
WORDS = "words"
"""The folder that has a folder for each language."""
LISTS: dict[str, type[Any]] = {"layouts": LayoutWords, "checks": CheckWords}
"""Files of words that are lists, and what they list."""
ROOMS = tuple(each.name for each in fields(Wording) if each.name not in ("grammar", *LISTS))
"""Files that hold sentences by key."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceText:
    """The words of one choice."""

    label: str
    hint: str = ""
    brief: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class QuestionText:
    """The words of one question; choices by their ids."""

    id: str
    ask: str
    why: str
    unsure: str = ""
    accepts: str = ""
    topic: str = ""
    choices: dict[str, ChoiceText] = field(default_factory=dict)


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionText:
    """The words of one caution."""

    id: str
    title: str
    text: str
    do: str
    who: str
    source: str
    card: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetText:
    """The words of one line of a printed list."""

    id: str
    do: str
    who: str
    part: str = ""
    planned: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ApplianceText:
    """The words of one appliance."""

    id: str
    name: str
    plain: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RigText:
    """The words of one kind of vehicle."""

    id: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ExplanationText:
    """The title of one explanatory page."""

    id: str
    title: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PriorityText:
    """What one priority says; its id is its measure."""

    id: str
    say: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Unwanted:
    """Words that the guide does not use in this language, and what it says instead.

    words: whole words in any letter case
    pattern: a regular expression over text in small letters, beside or in place of them
    unless: expressions that are right all the same, each with its reason
    wrong, right: examples of both, on which the tests try it
    """

    id: str
    say: str
    why: str
    wrong: tuple[str, ...]
    right: tuple[str, ...]
    words: tuple[str, ...] = ()
    pattern: str = ""
    unless: dict[str, str] = field(default_factory=dict)


TEXTS: dict[str, tuple[type[Any], str]] = {
    "questions": (QuestionText, "questions"),
    "cautions": (CautionText, "cautions"),
    "sheets": (SheetText, "sheets"),
    "loads": (ApplianceText, "appliances"),
    "rigs": (RigText, "rigs"),
    "explanations": (ExplanationText, "explanations"),
    "priorities": (PriorityText, "priorities"),
}
"""Files by which a language says what the content says in its own: what they hold, of what."""
STYLE = "style"
"""The file of unwanted words, which a language may have."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Language:
    """One language as it was read, with its places; what is broken stands in it without a value.

    texts: the content's own texts in this language; empty where the content is written in it
    style: words that it does not use; empty where nobody listed any
    """

    name: str
    layouts: list[Record[LayoutWords]]
    checks: list[Record[CheckWords]]
    grammar: Record[Grammar]
    rooms: dict[str, Record[dict[str, Message]]]
    texts: dict[str, list[Record[Any]]]
    style: list[Record[Unwanted]]

    def lists(self) -> tuple[list[Record[Any]], ...]:
        """Every file of it that lists entries by id."""
        return (self.layouts, self.checks, *self.texts.values(), self.style)


def sentences_of(messages: dict[str, Message]) -> Sentences:
    """The sentences of one file; of what is counted, every form."""
    texts = {
        key: each if isinstance(each, str) else each["other"] for key, each in messages.items()
    }
    forms = {
        key: {form: text for form, text in each.items() if form != "other"}
        for key, each in messages.items()
        if isinstance(each, dict)
    }
    return Sentences(texts, forms)


def with_plural(grammar: Grammar) -> Grammar:
    """The grammar with its published plural rules, as Python that the engine evaluates."""
    return replace(grammar, plural=plural_rules(grammar.plural_of))


def plural_rules(language: str) -> dict[str, str]:
    """When each form of this language but "other" is used, as Python about n, i, v, w, f and t.

    Raises
    ------
    LookupError : if no rules are published for it.

    >>> plural_rules("en")
    {'one': '((i == 1) and (v == 0))'}
    """
    try:
        rule: PluralRule = Locale.parse(language).plural_form
    except Exception as fault:  # the library raises many kinds for what is no language
        raise LookupError(language) from fault
    return {form: python(condition) for form, condition in rule.abstract}


class _Rules(_PythonCompiler):
    """Compiles a rule to Python that needs no function."""

    def compile_mod(self, of: Any, by: Any) -> str:
        return f"({python(of)} % {python(by)})"

    def compile_relation(self, _method: str, expr: Any, ranges: Any) -> str:
        value = python(expr)
        bounds = [(python(low), python(high)) for low, high in ranges[1]]
        tests = [
            f"{value} == {low}" if low == high else f"({value} in range({low}, {int(high) + 1}))"
            for low, high in bounds
        ]
        return f"({' or '.join(tests)})"


def python(condition: Any) -> str:
    """A condition of a plural rule as Python."""
    return str(_Rules().compile(condition))  # type: ignore[no-untyped-call]


def spoken(guide: Guide, texts: Mapping[str, Iterable[Record[Any]]]) -> Guide:
    """The guide with its content's own texts in another language, by their ids."""
    said: dict[str, Any] = {}
    for kind, records in texts.items():
        own = TEXTS[kind][1]
        by_id: dict[str, Any] = {record.id: record.value for record in records}
        if kind == "priorities":
            ranked = guide.priorities
            said[own] = replace(
                ranked, list=tuple(replace(e, say=by_id[e.measure].say) for e in ranked.list)
            )
        else:
            said[own] = tuple(_worded(each, by_id[each.id]) for each in getattr(guide, own))
    return replace(guide, **said)


def _worded(record: T, text: Any) -> T:
    words = {each.name: getattr(text, each.name) for each in fields(text)}
    if isinstance(record, Question):
        named = text.choices
        words["choices"] = tuple(
            replace(
                each,
                label=named[each.id].label,
                hint=named[each.id].hint,
                brief=named[each.id].brief,
            )
            for each in record.choices
        )
    return replace(record, **words)  # type: ignore[type-var]  # every record is a dataclass
