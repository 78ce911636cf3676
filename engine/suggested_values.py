"""The words of a caller -> the values that they give, by a name or by their unit."""

from dataclasses import replace

from engine.conversation import Conversation
from engine.model.answers import Answers
from engine.model.guide import Question
from engine.suggested_choices import names_of
from engine.suggested_loads import more_loads
from engine.suggestions import How, Ranked, Suggestion, asked, with_answer
from engine.typed.answers import read_answer, says_money
from engine.typed.heard import as_product, heard, is_figure, says_nothing, spans_in_days, words_of
from engine.typed.words import COUNTED_BATTERIES, EACH_DAY, LEAD_ACID, SAYS_NOTHING
from engine.wording.sentences import Untold

NAMED_FROM = 3
"""Letters of a question's name from which it is taken for named beside other words."""


def suggested_values(
    conversation: Conversation, given: Answers, typed: str, words: tuple[str, ...]
) -> Ranked:
    """Values: of a question that is named before or after it, else of all that its unit fits.

    Where several are named, or several fit, none is sure.
    """
    unnamed, named = [], []
    typed = spans_in_days(typed)
    for place, question in enumerate(asked(conversation, given)):
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


def batteries_to_fill(conversation: Conversation, given: Answers, typed: str) -> Suggestion | None:
    """Batteries that are counted, without amp hours or their kind: what to type beside it."""
    words = words_of(typed)
    if not COUNTED_BATTERIES.search(" ".join(words)):
        return None
    for question in asked(conversation, given):
        if question.kind == "existing-bank":
            named = LEAD_ACID.sub(
                "", typed if words[0] == question.id else f"{question.id} {typed}"
            )
            about = conversation.guide.wording.page["staff-amp-hours"]
            return Suggestion(question.ask, about, fill=f"{named.strip()} ")
    return None


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
    whole = _value(conversation, given, question, typed)
    if whole.answers:
        return whole
    pieces = typed.split()
    spoken = ["", *(" ".join(words_of(piece)) for piece in pieces)]
    said = [each for at, each in enumerate(pieces) if not says_nothing(spoken[at + 1], spoken[at])]
    return _value(conversation, given, question, " ".join(said)) if said else whole


def _beside_name(question: Question, typed: str) -> str | None:
    """What is typed beside the question's name; None where it is not named."""
    pieces = typed.split()
    spoken = [" ".join(words_of(piece)) for piece in pieces]
    if len(pieces) == 1 and question.kind != "loads":
        begins = heard(spoken, names_of(question))
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
            return more_loads(conversation, given, question, value, value)
        read = read_answer(guide, question, value)
    except Untold as fault:
        problem = fault.told(guide.wording.faults)
        return Suggestion(question.ask, guide.wording.page["staff-cannot"], problem=problem)
    if read is None:
        return Suggestion(question.ask, guide.wording.page["staff-cannot"])
    answers = with_answer(given, question, read)
    return Suggestion(answers.text(question.id), question.ask, answers)
