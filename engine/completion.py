"""Typed text -> the answers it may mean: type-ahead for whoever enters answers by keyboard."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from engine.conversation import Conversation
from engine.links import LONGEST_LINK, read_link, read_pairs
from engine.load_rows_typed import with_more
from engine.model.answers import UNSURE, Answers, Value
from engine.model.guide import Question
from engine.needs import applies, implied
from engine.tree import options
from engine.typed.answers import read_answer
from engine.typed.outside import one_line
from engine.wording.sentences import Untold

MOST_OFFERED = 9
_WORD = re.compile(r"[^\W_]+")
_IN_A_LINK = re.compile(r"(?:^|/)guide/(?P<rest>\S*)$")
_PATH = re.compile(r"(?:[\w-]+=[^/#\s]+/)*")


@dataclass(frozen=True, slots=True)
class Suggestion:
    """One thing that the text may mean.

    answers: those given so far and this one; None where it only says what could be typed
    fill: what to put into the field where more must be typed
    problem: why the text cannot be used, and what could be
    """

    label: str
    about: str
    answers: Answers | None = None
    fill: str = ""
    problem: str = ""


def complete(conversation: Conversation, answers: Answers, text: str) -> tuple[Suggestion, ...]:
    """What the text may mean beside these answers, likeliest first.

    Nothing typed offers the choices of the next question. A link of the guide, or pairs
    question=value, are taken whole.
    """
    typed = one_line(text[:LONGEST_LINK])
    given = Answers(answers.values, answers.faults)
    if not typed:
        question = conversation.next_question(given)
        return tuple(_choices_of(conversation, given, question)) if question else ()
    if "=" in typed or _IN_A_LINK.search(typed):
        return (_taken_whole(conversation, given, typed),)
    found = [
        *_choices(conversation, given, typed),
        *_typed(conversation, given, typed),
        *_appliances(conversation, given, typed),
    ]
    found.sort(key=lambda pair: pair[0])
    return tuple(suggestion for _, suggestion in found[:MOST_OFFERED])


def is_link(text: str) -> bool:
    """Whether a text is an address of the guide, or its part below the guide, and no pair alone."""
    typed = one_line(text)
    path = typed.partition("#")[0]
    below = bool(_PATH.fullmatch(path)) and ("/" in path or "#" in typed)
    return bool(_IN_A_LINK.search(typed)) or below


def read_any(conversation: Conversation, text: str) -> Answers:
    """The answers of a whole address, of its part below the guide, or of pairs in a line."""
    typed = one_line(text)
    inside = _IN_A_LINK.search(typed)
    rest = inside["rest"] if inside else typed
    path, _, fragment = rest.partition("#")
    if inside or fragment or _PATH.fullmatch(path):
        return read_link(conversation.guide, path, fragment)
    return read_pairs(conversation.guide, rest.split())


def _taken_whole(conversation: Conversation, given: Answers, typed: str) -> Suggestion:
    read = read_any(conversation, typed)
    page = conversation.guide.wording.page
    problem = " ".join(fault.message for fault in read.faults)
    if not read.values:
        return Suggestion(typed, page["staff-a-link"], problem=problem or page["staff-no-link"])
    joined = Answers({**given.values, **read.values}, (*given.faults, *read.faults))
    label = ", ".join(f"{name}={read.text(name)}" for name in read.values)
    return Suggestion(label, problem or page["staff-a-link"], answers=joined)


def _asked(conversation: Conversation, given: Answers) -> Iterator[Question]:
    """The questions that have a meaning beside these answers, the next one first."""
    values = implied(conversation.guide, given)
    first = conversation.next_question(given)
    if first is not None:
        yield first
    for question in conversation.guide.questions:
        if question is not first and applies(question, values):
            yield question


def _choices_of(
    conversation: Conversation, given: Answers, question: Question
) -> Iterator[Suggestion]:
    labels = {choice.id: choice.label for choice in question.choices}
    for choice_id in options(question) if question.where != "detail" else labels:
        label = labels.get(choice_id, conversation.guide.wording.page["not-sure"])
        yield Suggestion(label, question.ask, _with(given, question, choice_id))


def _choices(
    conversation: Conversation, given: Answers, typed: str
) -> Iterator[tuple[tuple[int, ...], Suggestion]]:
    """The choices in which every typed word begins a word, with their rank."""
    wanted = _words(typed)
    following = conversation.next_question(given)
    for place, question in enumerate(_asked(conversation, given)):
        if not question.choices:
            continue
        hints = {choice.id: choice.hint for choice in question.choices}
        for suggestion in _choices_of(conversation, given, question):
            chosen = suggestion.answers.choice(question.id) if suggestion.answers else ""
            near = _words(f"{chosen} {suggestion.label}")
            far = near | _words(f"{question.id} {question.ask} {hints.get(chosen, '')}")
            if wanted and _all_begin(wanted, far):
                other = question is not following
                rank = (other, other and chosen == UNSURE, not _all_begin(wanted, near), place)
                yield tuple(map(int, rank)), suggestion


def _typed(
    conversation: Conversation, given: Answers, typed: str
) -> Iterator[tuple[tuple[int, ...], Suggestion]]:
    """Questions that take a typed value, named by the first word: "cable 15 ft"."""
    name, _, value = typed.partition(" ")
    page = conversation.guide.wording.page
    for place, question in enumerate(_asked(conversation, given)):
        if question.choices:
            continue
        by_id = question.id.startswith(name.lower())
        if not by_id and not _all_begin(_words(name), _words(question.ask)):
            continue
        rank = (1, int(not by_id), -int(by_id), place)
        if not value.strip():
            accepts = question.accepts or question.why
            yield rank, Suggestion(question.ask, accepts, fill=f"{question.id} ")
            continue
        try:
            whole = _whole(conversation, given, question, value)
            read = read_answer(conversation.guide, question, whole)
        except Untold as fault:
            yield (
                rank,
                Suggestion(
                    question.ask,
                    page["staff-cannot"],
                    problem=fault.told(conversation.guide.wording.faults),
                ),
            )
        else:
            if read is not None:
                answers = _with(given, question, read)
                yield rank, Suggestion(answers.text(question.id), question.ask, answers)


def _appliances(
    conversation: Conversation, given: Answers, typed: str
) -> Iterator[tuple[tuple[int, ...], Suggestion]]:
    """The appliances that people call so, each to be added to the loads."""
    guide, wanted = conversation.guide, _words(typed)
    question = next((each for each in _asked(conversation, given) if each.kind == "loads"), None)
    if question is None or not wanted or conversation.next_question(given) is not None:
        return
    for place, appliance in enumerate(guide.appliances):
        if not any(_all_begin(wanted, _words(name)) for name in (appliance.name, *appliance.also)):
            continue
        read = read_answer(guide, question, with_more(guide, given, appliance.id))
        if read is not None:
            label = guide.wording.page.say("staff-add-load", name=appliance.name)
            yield (2, 0, 0, place), Suggestion(label, question.ask, _with(given, question, read))


def _whole(conversation: Conversation, given: Answers, question: Question, value: str) -> str:
    """A load joins those that are listed or assumed; any other value takes the place of the old."""
    if question.kind != "loads":
        return value
    if conversation.next_question(given) is None:
        return with_more(conversation.guide, given, value)
    listed = given.text(question.id)
    return f"{listed},{value}" if listed else value


def _with(given: Answers, question: Question, value: Value) -> Answers:
    return Answers({**given.values, question.id: value}, given.faults)


def _words(text: str) -> set[str]:
    return {word.lower() for word in _WORD.findall(text.replace(",", ""))}


def _all_begin(wanted: set[str], words: set[str]) -> bool:
    return all(any(word.startswith(each) for word in words) for each in wanted)


def without(answers: Answers, question_id: str) -> Answers:
    """The answers without one of them."""
    kept = {name: value for name, value in answers.values.items() if name != question_id}
    return Answers(kept, answers.faults)
