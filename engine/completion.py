"""Typed text -> the answers it may mean: type-ahead for whoever enters answers by keyboard."""

import re
from dataclasses import replace

from engine.conversation import Conversation
from engine.links import LONGEST_LINK, read_link, read_pairs
from engine.load_rows_typed import usual_with
from engine.matching import matching
from engine.model.answers import Answers, LoadList, Value
from engine.suggestions import MOST_OFFERED, Suggestion, choices_of
from engine.typed.outside import one_line

_IN_A_LINK = re.compile(r"(?:^|/)guide/(?P<rest>\S*)$")
_PATH = re.compile(r"(?:[\w-]+=[^/#\s]+/)*")


def complete(conversation: Conversation, answers: Answers, text: str) -> tuple[Suggestion, ...]:
    """What the text may mean beside these answers, best first.

    Nothing typed offers the choices of the next question. A link of the guide, or pairs
    question=value, are taken whole.
    """
    typed = one_line(text[:LONGEST_LINK])
    given = Answers(answers.values, answers.faults)
    if not typed:
        question = conversation.next_question(given)
        return tuple(choices_of(conversation, given, question)) if question else ()
    if "=" in typed or _IN_A_LINK.search(typed):
        return (_taken_whole(conversation, given, typed),)
    return matching(conversation, given, typed)[:MOST_OFFERED]


def is_link(text: str) -> bool:
    """Whether a text is an address of the guide, or its part below the guide, and no pair alone."""
    typed = one_line(text)
    path = typed.partition("#")[0]
    below = bool(_PATH.fullmatch(path)) and ("/" in path or "#" in typed)
    return bool(_IN_A_LINK.search(typed)) or below


def read_any(conversation: Conversation, text: str) -> Answers:
    """The answers of a whole address, of its part below the guide, or of pairs in a line.

    While a question is open, what is usual is not known: loads beside it stay as they were given.
    """
    typed = one_line(text)
    inside = _IN_A_LINK.search(typed)
    rest = inside["rest"] if inside else typed
    path, _, fragment = rest.partition("#")
    if inside or fragment or _PATH.fullmatch(path):
        read = read_link(conversation.guide, path, fragment)
    else:
        read = read_pairs(conversation.guide, rest.split())
    if conversation.next_question(read) is None:
        return read
    return replace(read, values={name: _as_given(each) for name, each in read.values.items()})


def _as_given(value: Value) -> Value:
    if isinstance(value, LoadList) and value.beside:
        return replace(value, text=usual_with(value.beside))
    return value


def _taken_whole(conversation: Conversation, given: Answers, typed: str) -> Suggestion:
    read = read_any(conversation, typed)
    page = conversation.guide.wording.page
    problem = " ".join(fault.message for fault in read.faults)
    if not read.values:
        return Suggestion(typed, page["staff-a-link"], problem=problem or page["staff-no-link"])
    joined = Answers({**given.values, **read.values}, (*given.faults, *read.faults))
    label = ", ".join(f"{name}={read.text(name)}" for name in read.values)
    return Suggestion(label, problem or page["staff-a-link"], answers=joined)


def without(answers: Answers, question_id: str) -> Answers:
    """The answers without one of them."""
    kept = {name: value for name, value in answers.values.items() if name != question_id}
    return Answers(kept, answers.faults)
