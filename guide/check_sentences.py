"""Words against the table of sentences: keys, facts, braces, forms; each language alike."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import fields
from string import Formatter
from typing import Any

from guide.content_read import ContentRead, ids_of
from guide.fault import Fault, nearest, suggest
from guide.language import TEXTS, ChoiceText, Language, plural_rules
from guide.reading import Message, Place, Record
from guide.sentences import Said, check_facts, facts_of_rules, sheet_facts, table

GROUP = "group-"
BRACE_MEND = "Close it, or take it out; a brace that is meant to be read is doubled."


def sentences(content: ContentRead) -> Iterator[Fault]:
    """Every fault of the words of every language."""
    for language in content.languages.values():
        for room, record in language.rooms.items():
            if record.value is not None:
                said = {key: each for (of, key), each in table().items() if of == room}
                groups = _groups(content) if room == "page" else {}
                yield from _room(record, said, groups, _forms(language))
        for check in language.checks:
            for name in ("passes", "fails", "accepted") if check.value is not None else ():
                text = getattr(check.value, name)
                yield from faults_of_text(check, (name,), text, check_facts())
        yield from _grammar(language)
        yield from _translated(content, language)
    yield from _cautions(content.cautions, {})
    yield from _sheets(content.sheets)


def _groups(content: ContentRead) -> dict[str, Record[Any]]:
    """Keys that the content itself asks for: the titles of its groups of questions.

    Words that several shops share may have more of them.
    """
    return {
        f"{GROUP}{each.value.group}": each
        for each in content.questions
        if each.value is not None and each.value.where != "path" and each.value.group
    }


def _forms(language: Language) -> tuple[str, ...]:
    if language.grammar.value is None:
        return ()
    try:
        return (*plural_rules(language.grammar.value.plural_of), "other")
    except LookupError:
        return ()


def _grammar(language: Language) -> Iterator[Fault]:
    record = language.grammar
    grammar = record.value
    if grammar is None:
        return
    if not _forms(language):
        what, why = "“plural_of”", f"no plural rules are published for “{grammar.plural_of}”"
        yield record.fault(("plural_of",), what, why, "Write the code of a language, such as en.")
    for name, facts in (
        ("and_last", ("first", "last")),
        ("or_last", ("first", "last")),
        ("money", ("sign", "amount")),
        ("money_by_code", ("amount", "code")),
    ):
        yield from faults_of_text(record, (name,), getattr(grammar, name), facts, facts)


def _room(
    record: Record[dict[str, Message]],
    said: dict[str, Said],
    groups: dict[str, Record[Any]],
    forms: Collection[str],
) -> Iterator[Fault]:
    messages = record.value or {}
    lacking = [key for key in (*said, *groups) if key not in messages]
    told: set[str] = set()  # a misspelt key is one mistake, and its mend is one
    for key, message in messages.items():
        if key in said:
            yield from _message(record, key, message, said[key], forms)
        elif key not in groups and not key.startswith(GROUP):
            meant = nearest(key, lacking)
            told.update(meant)
            mend = f"Did you mean “{meant[0]}”?" if meant else "Take it out."
            yield record.fault((key,), f"“{key}”", "no page says it", mend)
    for key in (each for each in lacking if each not in told):
        if key in said:
            facts = sorted(said[key].must | said[key].may)
            having = f" It may have {_braced(facts)} in it." if facts else ""
            why = f"{said[key].file} says it, and it has no words"
        else:
            having, why = "", f"{groups[key].file} has questions in this group, and it has no words"
        yield record.fault((), f"“{key}”", why, f"Add “{key}: …”.{having}")


def _message(
    record: Record[Any], key: str, message: Message, said: Said, forms: Collection[str]
) -> Iterator[Fault]:
    facts = (*sorted(said.must | said.may),)
    if isinstance(message, str):
        yield from faults_of_text(record, (key,), message, facts, said.must)
        return
    if not said.counts:
        why, mend = "it counts nothing, and has forms for numbers", "Write one sentence."
        yield record.fault((key,), f"“{key}”", why, mend)
        return
    for form, text in message.items():
        if forms and form not in forms:
            why = f"this language has no form “{form}” for counted things"
            yield record.fault((key, form), f"“{key}”, {form}", why, suggest(form, forms))
        yield from faults_of_text(record, (key, form), text, facts, said.must)
    strange = any(form not in forms for form in message)  # told above, and the mend of both
    for form in () if strange else forms:
        if form not in message:
            why = f"its form “{form}” is missing"
            yield record.fault((key,), f"“{key}”", why, f"Add “{form}: …”.")


def faults_of_text(
    record: Record[Any],
    path: Place,
    text: str,
    facts: Collection[str],
    must: Iterable[str] = (),
) -> Iterator[Fault]:
    """What of a text could not be filled in with these facts; those of `must` stand in it."""
    name = ", ".join(str(part) for part in path)
    what = f"“{record.id}”, {name}" if record.id else f"“{name}”"
    try:
        fields = list(Formatter().parse(text))
    except ValueError:
        yield record.fault(path, what, "a brace stands in it alone", BRACE_MEND)
        return
    found = [each for _, each, _, _ in fields if each is not None]
    for _, fact, form, conversion in fields:
        if fact is None:
            continue
        if fact not in facts:
            why = f"nothing fills in “{{{fact}}}” here"
            yield record.fault(path, what, why, suggest(fact, facts))
        elif form or conversion:
            why = f"“{{{fact}}}” comes with its form, and this asks for another"
            yield record.fault(path, what, why, f"Write {{{fact}}} alone.")
    meant = {near for fact in found if fact not in facts for near in nearest(fact, facts)}
    for fact in sorted(set(must) - set(found) - meant):
        why = f"“{{{fact}}}” is worked out for this text and is not in it"
        yield record.fault(path, what, why, f"Write {{{fact}}} into it.")


def _braced(facts: Iterable[str]) -> str:
    return ", ".join(f"{{{fact}}}" for fact in facts)


def _cautions(records: Iterable[Record[Any]], rules: Mapping[str, str]) -> Iterator[Fault]:
    """The texts of cautions; rules: those of their ids, where the records have none."""
    for record in records:
        caution = record.value
        if caution is None:
            continue
        rule = str(rules.get(caution.id) or getattr(caution, "rule", ""))
        facts = facts_of_rules().get(rule, ())
        for name in ("text", "do", "card"):
            yield from faults_of_text(record, (name,), getattr(caution, name), facts)
        for name in ("title", "who"):
            yield from faults_of_text(record, (name,), getattr(caution, name), ())


def _sheets(records: Iterable[Record[Any]]) -> Iterator[Fault]:
    for record in records:
        if record.value is None:
            continue
        yield from faults_of_text(record, ("planned",), record.value.planned, sheet_facts())
        for name in ("do", "who", "part"):
            yield from faults_of_text(record, (name,), getattr(record.value, name), ())


def _translated(content: ContentRead, language: Language) -> Iterator[Fault]:
    """The content's own texts in another language: every id, no other, and the same facts."""
    if not language.texts:
        return
    folder = language.grammar.file.rpartition("/")[0]
    for kind in TEXTS:
        own = _written(content, kind)
        records = language.texts.get(kind)
        if records is None:
            why, mend = "it is missing, and other texts of this language are there", "Write it."
            yield Fault(f"{folder}/{kind}.yaml", 1, 1, "the file", why, mend)
            continue
        for record in records:
            if record.id not in own:
                why = f"there is no “{record.id}” in {kind}"
                yield record.fault(("id",), f"“{record.id}”", why, suggest(record.id, own))
            elif record.value is not None:
                yield from _same(record, own[record.id])
        for name in own:
            if name not in ids_of(records):
                what, why = f"“{name}”", "it has no words in this language"
                yield Fault(
                    f"{folder}/{kind}.yaml", 1, 1, what, why, f"Add an entry with id: {name}."
                )
    if "cautions" in language.texts:
        rules = {each.id: each.value.rule for each in content.cautions if each.value is not None}
        yield from _cautions(language.texts["cautions"], rules)
    if "sheets" in language.texts:
        yield from _sheets(language.texts["sheets"])


def _written(content: ContentRead, kind: str) -> dict[str, Any]:
    """What the content itself says, by id."""
    if kind == "priorities":
        ranked = content.priorities.value
        return {each.measure: each for each in ranked.list} if ranked else {}
    records: list[Record[Any]] = getattr(content, TEXTS[kind][1])
    return {record.id: record.value for record in records if record.value is not None}


def _same(record: Record[Any], own: Any) -> Iterator[Fault]:
    """Where one of the two says something and the other does not."""
    if record.value is None:
        return
    for name in (each.name for each in fields(record.value)):
        if name == "id":
            continue
        said, wanted = getattr(record.value, name), getattr(own, name)
        if name == "choices":
            yield from _same_choices(record, said, {each.id: each for each in wanted})
        elif bool(said) != bool(wanted):
            yield record.fault((name,), f"“{record.id}”, {name}", *_why(bool(wanted)))


def _same_choices(
    record: Record[Any], said: dict[str, ChoiceText], own: dict[str, Any]
) -> Iterator[Fault]:
    for name in (*own, *(each for each in said if each not in own)):
        what = f"“{record.id}”, choice “{name}”"
        if name not in said:
            yield record.fault(("choices",), what, *_why(True))
        elif name not in own:
            why = "the question has no such choice"
            yield record.fault(("choices", name), what, why, suggest(name, own))
        elif bool(said[name].hint) != bool(own[name].hint):
            yield record.fault(("choices", name), f"{what}, hint", *_why(bool(own[name].hint)))


def _why(wanted: bool) -> tuple[str, str]:
    if wanted:
        return "the content says something here, and this language nothing", "Write it."
    return "the content says nothing here", "Take it out."


def said_twice(everywhere: Iterable[Said]) -> list[str]:
    """Sentences that two places say with other facts: words could not serve both."""
    first: dict[tuple[str, str], Said] = {}
    found = []
    for said in everywhere:
        known = first.setdefault((said.room, said.key), said)
        if known.must | known.may != said.must | said.may or known.counts != said.counts:
            found.append(
                f"{said.file}:{said.line}: “{said.key}” has other facts in {known.file}, "
                f"line {known.line}"
            )
    return found
