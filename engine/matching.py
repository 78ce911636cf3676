"""The words of a caller -> the answers that they may mean, the best match of all of them first."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import IntEnum

from engine.conversation import Conversation
from engine.load_rows import rows_of
from engine.load_rows_typed import beside_usual, usual_with, with_more
from engine.loads_said import as_load, counted, heavy_in, is_name, loads_in
from engine.model.answers import UNSURE, Answers, LoadList, Value
from engine.model.guide import Choice, Question
from engine.needs import applies, implied
from engine.tree import options
from engine.typed.answers import read_answer, says_money
from engine.typed.heard import (
    Hearing,
    as_product,
    heard,
    is_figure,
    is_said,
    meant_by,
    says_more,
    says_nothing,
    says_unsure,
    spans_in_days,
    words_of,
)
from engine.typed.words import EACH_DAY, SAYS_NOTHING
from engine.wording.sentences import Untold

MOST_OFFERED = 9
NAMED_FROM = 3
"""Letters of a question's name from which it is taken for named beside other words."""


@dataclass(frozen=True, slots=True)
class Suggestion:
    """One thing that the text may mean.

    answers: those given so far and this one; None where it only says what could be typed
    fill: what to put into the field where more must be typed
    problem: why the text cannot be used, and what could be
    sure: whether all that was typed says it and nothing else as well; else somebody must choose it
    """

    label: str
    about: str
    answers: Answers | None = None
    fill: str = ""
    problem: str = ""
    sure: bool = True


class How(IntEnum):
    """How a text says an answer; what comes first is meant rather than what comes after."""

    ANSWERS = 1
    """All its words name a choice of the question that is open."""
    LOOSELY = 2
    """The same, by several of the names of the choice, or beside those of the question."""
    VALUE = 3
    """A value, by the name of its question or by its unit."""
    APPLIANCE = 4
    """An appliance goes by this name."""
    OTHER = 5
    """All its words name a choice of another question."""
    BY_HINT = 6
    """Its words stand in what is said about a choice of the question that is open."""
    TO_FILL = 7
    """It begins the name of a question that takes a value."""
    UNREADABLE = 8
    """It names a question, and its value cannot be read."""
    BEGINS_OTHER = 9
    """Its words begin those of a choice of another question."""
    BEGINS_APPLIANCE = 10
    """Its words begin those of an appliance."""


Rank = tuple[int, ...]
Ranked = Iterator[tuple[Rank, Suggestion]]


def matching(conversation: Conversation, given: Answers, typed: str) -> tuple[Suggestion, ...]:
    """What these words may mean; where none has all of them, what has most, and none is sure."""
    words = meant_by(typed)
    following = conversation.next_question(given)
    if following and says_unsure(typed):
        return tuple(
            each
            for each in choices_of(conversation, given, following)
            if each.answers and each.answers.choice(following.id) == UNSURE
        )
    found = [
        *_choices(conversation, given, words, following),
        *_values(conversation, given, typed, words),
        *_appliances(conversation, given, typed, words),
    ]
    found.sort(key=lambda pair: pair[0])
    ordered = [suggestion for _, suggestion in found]
    heavy = _heavy(conversation, given, typed, following)
    if heavy and not any(rank[0] == How.ANSWERS and each.sure for rank, each in found):
        others = [each for each in ordered if each.answers != heavy.answers]
        ordered = [heavy, *(replace(each, sure=False) for each in others)]
    if not any(each.answers or each.fill for each in ordered):
        ordered = [*_nearest(conversation, given, words, following), *ordered]
    return tuple(ordered)


def choices_of(
    conversation: Conversation, given: Answers, question: Question
) -> Iterator[Suggestion]:
    """The choices of a question, "not sure" among them where it may be answered so."""
    for _, suggestion in _offered(conversation, given, question):
        yield suggestion


def _offered(
    conversation: Conversation, given: Answers, question: Question
) -> Iterator[tuple[Choice, Suggestion]]:
    unsure = Choice(id=UNSURE, label=conversation.guide.wording.page["not-sure"])
    known = {choice.id: choice for choice in question.choices}
    for choice_id in options(question) if question.where != "detail" else known:
        choice = known.get(choice_id, unsure)
        yield choice, Suggestion(choice.label, question.ask, _with(given, question, choice_id))


def _asked(conversation: Conversation, given: Answers) -> Iterator[Question]:
    """The questions that have a meaning beside these answers, the next one first."""
    values = implied(conversation.guide, given)
    first = conversation.next_question(given)
    if first is not None:
        yield first
    for question in conversation.guide.questions:
        if question is not first and applies(question, values):
            yield question


def _choices(
    conversation: Conversation, given: Answers, words: tuple[str, ...], following: Question | None
) -> Ranked:
    """The choices that all the words name; hints count only for the question that is open.

    Where they name several equally well, none is sure.
    """
    found: list[tuple[Rank, Suggestion]] = []
    for place, question in enumerate(_asked(conversation, given)):
        usual = question.usual_in(given.choice("rig"))
        for choice, suggestion in _offered(conversation, given, question):
            how, match = _naming(question, choice, words, question is following)
            if how:
                ranked = (how, -match.whole, choice.id == UNSURE, place, choice.id != usual)
                found.append((tuple(map(int, ranked)), suggestion))
    for rank, suggestion in found:
        equal = sum(other[:3] == rank[:3] for other, _ in found)
        yield rank, replace(suggestion, sure=equal == 1 and rank[0] != How.BY_HINT)


def _heavy(
    conversation: Conversation, given: Answers, typed: str, following: Question | None
) -> Suggestion | None:
    """How many heavy loads run at once, by naming each of them while that is asked."""
    said = heavy_in(conversation.guide, typed)
    if said is None or following is None or following.id != "heavy":
        return None
    most = following.choices[-1]
    chosen = next((each for each in following.choices if each.id == str(said.count)), most)
    answers = _with(given, following, chosen.id)
    return Suggestion(chosen.label, following.ask, answers, sure=said.sure)


def _naming(
    question: Question, choice: Choice, words: tuple[str, ...], is_open: bool
) -> tuple[How | None, Hearing]:
    """How the words name a choice, and how well."""
    names = _names_of(choice, words)
    match = min((heard(words, name) for name in names), key=lambda each: len(each.lacks))
    every = tuple(word for name in names for word in name)
    if is_open:
        if not match.lacks:
            return How.ANSWERS, match
        loose = heard(words, (*every, *_names(question)) if match.whole else every)
        if not loose.lacks:
            return How.LOOSELY, loose
        far = heard(words, (*every, *_names(question), *words_of(choice.hint)))
        return (None if far.lacks else How.BY_HINT), far
    named = heard(match.lacks, _names(question))
    says = says_more(word for word in words if word not in match.lacks)
    if named.lacks or not (says or (named.whole and match.whole)):
        return None, match
    if match.begun or named.begun:
        return How.BEGINS_OTHER, match
    return How.OTHER, match


def _names_of(choice: Choice, words: tuple[str, ...]) -> list[tuple[str, ...]]:
    """What a choice goes by: its own words, and these with each of its other names."""
    own = words_of(f"{choice.id} {choice.label}")
    others = [words_of(phrase) for phrase in choice.also if is_said(phrase, words)]
    return [own, *((*own, *name) for name in others)]


def _names(question: Question) -> tuple[str, ...]:
    return words_of(" ".join((question.id, question.ask, *question.also)))


def _values(
    conversation: Conversation, given: Answers, typed: str, words: tuple[str, ...]
) -> Ranked:
    """Values: of a question that is named before or after it, else of all that its unit fits.

    Where several are named, or several fit, none is sure.
    """
    unnamed, named = [], []
    typed = spans_in_days(typed)
    for place, question in enumerate(_asked(conversation, given)):
        if question.choices:
            continue
        spoken = _as_spoken(question, typed)
        value = _beside_name(question, spoken)
        if value is None:
            suggestion = _by_unit(conversation, given, question, spoken)
            if suggestion and suggestion.answers:
                unnamed.append(((int(How.VALUE), 1, place), suggestion))
        elif not value:
            fill = Suggestion(
                question.ask, question.accepts or question.why, fill=f"{question.id} "
            )
            first = not question.id.startswith(words[0])
            yield (int(How.TO_FILL), int(first), place), fill
        else:
            suggestion = _value(conversation, given, question, value)
            if not suggestion.answers:
                whole = _value(conversation, given, question, spoken)
                suggestion = whole if whole.answers else suggestion
            if suggestion.answers:
                named.append(((int(How.VALUE), 0, place), suggestion))
            else:
                yield (int(How.UNREADABLE), 0, place), suggestion
    for equal in (named, unnamed):
        for rank, suggestion in equal:
            yield rank, replace(suggestion, sure=len(equal) == 1)


def _as_spoken(question: Question, typed: str) -> str:
    """A text as a question reads it: its hours are those of a day, its watts those of several."""
    if question.unit == "h":
        return EACH_DAY.sub("", typed)
    return as_product(typed) if question.unit == "W" else typed


def _by_unit(
    conversation: Conversation, given: Answers, question: Question, typed: str
) -> Suggestion | None:
    """What a text says of a question that it does not name; None where it says nothing of it."""
    words = words_of(typed)
    if question.kind == "money":
        says = says_money(conversation.guide, typed)
    else:
        figures = [is_figure(word) for word in words]
        says = not all(figures) and (question.kind == "month" or any(figures))
    if question.kind == "loads" or not says:
        return None
    return _value(conversation, given, question, typed)


def _beside_name(question: Question, typed: str) -> str | None:
    """What is typed beside the question's name; None where it is not named."""
    pieces = typed.split()
    spoken = [" ".join(words_of(piece)) for piece in pieces]
    if len(pieces) == 1 and question.kind != "loads":
        begins = heard(spoken, _names(question))
        return "" if spoken[0] and not begins.lacks and not is_figure(spoken[0]) else None
    names = words_of(" ".join((question.id, *question.also)))
    if question.kind == "loads":
        return " ".join(pieces[1:]) if spoken[0] in names else None
    rest, named, before = [], False, ""
    for piece, word in zip(pieces, spoken, strict=True):
        can_name = word in names or (len(word) >= NAMED_FROM and word not in SAYS_NOTHING)
        match = heard((word,), names) if can_name else None
        if match and not match.lacks and not is_figure(word):
            named = True
        elif not says_nothing(word, before):
            rest.append(piece)
        before = word
    return " ".join(rest) if named else None


def _value(
    conversation: Conversation, given: Answers, question: Question, value: str
) -> Suggestion:
    """A question with this value, or why it cannot be read."""
    guide = conversation.guide
    try:
        if question.kind == "loads":
            return _more(conversation, given, question, value, value)
        read = read_answer(guide, question, value)
    except Untold as fault:
        problem = fault.told(guide.wording.faults)
        return Suggestion(question.ask, guide.wording.page["staff-cannot"], problem=problem)
    if read is None:
        return Suggestion(question.ask, guide.wording.page["staff-cannot"])
    answers = _with(given, question, read)
    return Suggestion(answers.text(question.id), question.ask, answers)


def _appliances(
    conversation: Conversation, given: Answers, typed: str, words: tuple[str, ...]
) -> Ranked:
    """The appliances that people call so, each to be added to the loads; several are one line."""
    guide = conversation.guide
    question = next((each for each in guide.questions if each.kind == "loads"), None)
    if question is None or not says_more(words):
        return
    several = loads_in(guide, typed)
    if len(several) > 1:
        more = ",".join(several)
        names = ", ".join(guide.appliance(each.partition("*")[0]).name for each in several)
        yield (int(How.APPLIANCE), 0), _more(conversation, given, question, more, names)
    rig = next((each for each in guide.rigs if each.id == implied(guide, given).get("rig")), None)
    found = []
    for place, appliance in enumerate(guide.appliances):
        names_of_it = (appliance.id, appliance.name, *appliance.also)
        count, called = counted(words, names_of_it)
        exactly = is_name(called, names_of_it)
        if not exactly and all(heard(called, words_of(name)).lacks for name in names_of_it):
            continue
        how = How.APPLIANCE if exactly and not count else How.BEGINS_APPLIANCE
        rank = (how, not exactly, rig is None or appliance.id not in rig.carries, place)
        found.append((tuple(map(int, rank)), appliance, as_load(appliance.id, count)))
    found.sort(key=lambda each: each[0])
    for ranked, appliance, more in found[:MOST_OFFERED]:  # each takes a while to work out
        try:
            yield ranked, _more(conversation, given, question, more, appliance.name)
        except Untold:  # more of it than a list may have
            continue


def _more(
    conversation: Conversation, given: Answers, question: Question, more: str, name: str
) -> Suggestion:
    """More loads beside those that are listed or assumed."""
    guide = conversation.guide
    page = guide.wording.page
    if conversation.next_question(given) is None:
        before = {row.appliance for row in rows_of(guide, given) if row.in_use}
        read = read_answer(guide, question, with_more(guide, given, more))
        added = [each.name for each in guide.appliances if each.id == more and more in before]
        label = page.say("staff-again-load" if added else "staff-add-load", name=name)
        if read is None:  # nothing beside what is assumed
            return Suggestion(label, question.ask, given)
        return Suggestion(label, question.ask, _with(given, question, read))
    read_answer(guide, question, more)
    listed = given.text(question.id)
    text = f"{listed},{more}" if listed else usual_with(more)
    value = LoadList((), text, beside_usual(text))
    return Suggestion(
        page.say("staff-add-load", name=name), question.ask, _with(given, question, value)
    )


def _nearest(
    conversation: Conversation, given: Answers, words: tuple[str, ...], following: Question | None
) -> Iterator[Suggestion]:
    """What has some of the words whole, most first; what it lacks is said, and it is not sure."""
    page = conversation.guide.wording.page
    found = []
    for place, question in enumerate(_asked(conversation, given)):
        for choice, suggestion in _offered(conversation, given, question):
            every = [word for name in _names_of(choice, words) for word in name]
            match = heard(words, every)
            told = says_more(word for word in words if word not in match.lacks)
            if match.whole and (told or question is following):
                about = page.say("staff-not-heard", words=", ".join(match.lacks))
                loose = replace(suggestion, problem=about, sure=False)
                found.append(((-match.whole, question is not following, place), loose))
    found.sort(key=lambda pair: pair[0])
    for _, suggestion in found:
        yield suggestion


def _with(given: Answers, question: Question, value: Value) -> Answers:
    return Answers({**given.values, question.id: value}, given.faults)
