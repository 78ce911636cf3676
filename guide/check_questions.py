"""Faults of the questions: those that the engine misses, and names that lead nowhere."""

import re
from collections.abc import Iterator
from dataclasses import replace

from engine.kept import kept
from engine.links import NO_QUESTIONS, read_pairs
from engine.model.answers import UNSURE
from engine.model.guide import Guide, Question
from engine.typed.answers import read_answer
from engine.wording.sentences import Untold
from guide.check_usual import usual_cases
from guide.content_read import ContentRead, ids_of, unknown
from guide.fault import Fault, Named
from guide.reading import Place, Record
from guide.setup import ROOT

QUESTIONS: dict[str, str] = {
    **dict.fromkeys(("rig", "scope", "heavy", "biggest", "softstart", "v240"), "path"),
    **dict.fromkeys(("tools", "space"), "answer"),
    **dict.fromkeys(
        (
            *("loads", "nights", "cable", "bank", "chemistry", "house", "have", "ambient", "bay"),
            *("mount", "gap", "shore", "gen", "altitude", "alt", "drive", "solar"),
            *("place", "climate", "lat", "month", "coldest", "payload", "aim", "budget"),
            *("beside", "beside-too"),
        ),
        "detail",
    ),
}
"""The questions that the engine reads, and where each is asked; others only lead to them."""
OF_RIGS = "cord"
"""The question that is read where a kind of rig has `cords`, and may be left out."""
OF_CHOICES = ("choice", "aim")
"""The kinds of question that are answered by one of its choices."""
PICTURES = ROOT / "site_src" / "theme" / "assets" / "pictures"
ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]{0,59}")
ID_WHY = "ids stand in links and in names of files"
ID_MEND = "Write letters, digits and hyphens only, up to sixty."


def questions(content: ContentRead) -> Iterator[Fault]:
    """Faults of all questions: missing ones, and those of each."""
    ids = ids_of(content.questions)
    by_id = {record.id: record.value for record in content.questions}
    renamed = any(name in NO_QUESTIONS for name in ids)  # told below, and the mend of both
    for name, where in QUESTIONS.items():
        if ids and name not in ids and not renamed:
            yield Fault(
                f"questions/{_file_of(where)}.yaml",
                1,
                1,
                f"question “{name}”",
                "the engine reads it, and it is missing",
                f"Add it, with where: {where}.",
                (Named("question", name), *_led_nowhere(content)),
            )
    for record in content.questions:
        if record.value is not None:
            yield from _question(record, record.value)
            yield from _links(record, record.value, ids, by_id)
            yield from _stands_for(content, record, record.value)
            yield from usual_cases(content, record, record.value)
            if record.value.page:
                pages = ids_of(content.explanations)
                yield from unknown(record, ("page",), record.value.page, pages, "explanation")


@kept("never", None)
def pictures() -> tuple[str, ...]:
    """The pictures that a choice may have, by their names."""
    return tuple(sorted(file.stem for file in PICTURES.glob("*.svg")))


def _led_nowhere(content: ContentRead) -> Iterator[Named]:
    """Questions that the engine does not read, and that lead to none that it reads."""
    for record in content.questions:
        leads = record.value and any(choice.means for choice in record.value.choices)
        if record.id and record.id not in (*QUESTIONS, OF_RIGS) and not leads:
            yield Named("question", record.id, new=True)


def _question(record: Record[Question], question: Question) -> Iterator[Fault]:
    """Faults of one question by itself."""
    if record.id in NO_QUESTIONS:
        why = f"links name their {record.id} so"
        yield record.fault(("id",), f"“{record.id}”", why, "Give the question another id.")
    where = QUESTIONS.get(record.id, question.where)
    if question.where != where:
        why = f"the engine reads it at “{where}”"
        yield record.fault(("where",), f"“{record.id}”, where", why, f"Write {where}.")
    if question.kind in OF_CHOICES and not question.choices:
        yield record.fault((), f"“{record.id}”", "it has no choices", "Add choices.")
    seen: set[str] = set()
    for at, choice in enumerate(question.choices):
        what = f"“{record.id}”, choice “{choice.id[:80]}”"
        if not ID.fullmatch(choice.id):
            yield record.fault(("choices", at, "id"), what, ID_WHY, ID_MEND)
        if choice.id == UNSURE:
            why = "it is always accepted and never listed"
            yield record.fault(("choices", at, "id"), what, why, "Take it out.")
        elif choice.id in seen:
            mend = "Give one of them another id."
            yield record.fault(("choices", at, "id"), what, "it stands there already", mend)
        seen.add(choice.id)
        if choice.picture:
            place = ("choices", at, "picture")
            yield from unknown(record, place, choice.picture, pictures(), "picture")


def _links(
    record: Record[Question],
    question: Question,
    ids: list[str],
    by_id: dict[str, Question | None],
) -> Iterator[Fault]:
    """Names in one question that lead to no question or choice."""
    for at, choice in enumerate(question.choices):
        for name in choice.means:
            yield from unknown(record, ("choices", at, "means", name), name, ids, "question")
    for name, accepted in question.only_with.items():
        yield from unknown(record, ("only_with", name), name, ids, "question")
        other = by_id.get(name)
        if other is None:
            continue
        choices = [*(choice.id for choice in other.choices), UNSURE]
        for at, choice_id in enumerate(accepted):
            known_as = f"choice of “{name}”"
            yield from unknown(record, ("only_with", name, at), choice_id, choices, known_as)


def _stands_for(
    content: ContentRead, record: Record[Question], question: Question
) -> Iterator[Fault]:
    """A question whose every choice names another answer must lead to all of those answers."""
    meant = [set(choice.means) for choice in question.choices]
    for name in set.intersection(*meant) & set(question.only_with) if meant else ():
        reached = {choice.means[name] for choice in question.choices}
        for missing in (each for each in choices_of(content, name) if each not in reached):
            fault = record.fault(
                ("choices",),
                f"“{record.id}”",
                f"no choice of it leads to “{missing}” of “{name}”",
                f"Add a choice with means: {{{name}: {missing}}}.",
            )
            yield replace(fault, names=(Named(f"choice of “{name}”", missing, new=True),))


def _file_of(where: str) -> str:
    return {"path": "short-path", "answer": "answer-page"}.get(where, "details")


def choices_of(content: ContentRead, question_id: str) -> list[str]:
    """The choices of a question; none where it could not be read."""
    for record in content.questions:
        if record.id == question_id and record.value is not None:
            return [choice.id for choice in record.value.choices]
    return []


def unread_answers(guide: Guide, content: ContentRead) -> list[Fault]:
    """Defaults and implied answers that the engine cannot read."""
    found: list[Fault] = []
    for record in content.questions:
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
            except Untold as error:
                what = f"question “{record.id}”, {path[0]} “{text}”"
                why, mend = "it cannot be read as an answer", error.told(guide.wording.faults)
                found.append(record.fault(path, what, why, mend))
    return found


def unread_tries(guide: Guide, content: ContentRead) -> list[Fault]:
    """Answers that coverage shall try and that the engine cannot read."""
    record = content.coverage
    return [
        record.fault(("tries", at), f"“{pairs}”", "it cannot be read as answers", fault.message)
        for at, pairs in enumerate(record.value.tries if record.value else ())
        for fault in read_pairs(guide, pairs.split()).faults
    ]
