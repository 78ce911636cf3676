"""The words of a caller -> the choices that they name, whole or nearly."""

from collections.abc import Iterator
from dataclasses import replace

from engine.conversation import Conversation
from engine.loads_said import heavy_in
from engine.model.answers import UNSURE, Answers
from engine.model.guide import Choice, Question
from engine.suggestions import How, Rank, Ranked, Suggestion, asked, offered_by, with_answer
from engine.typed.heard import Hearing, heard, is_said, says_more, words_of


def suggested_choices(
    conversation: Conversation, given: Answers, words: tuple[str, ...], following: Question | None
) -> Ranked:
    """The choices that all the words name; hints count only for the question that is open.

    Where they name several equally well, none is sure.
    """
    found: list[tuple[Rank, Suggestion]] = []
    for place, question in enumerate(asked(conversation, given)):
        usual = question.usual_in(given.choice("rig"))
        for choice, suggestion in offered_by(conversation, given, question):
            how, match = _naming(question, choice, words, question is following)
            if how:
                ranked = (how, -match.whole, choice.id == UNSURE, place, choice.id != usual)
                found.append((tuple(map(int, ranked)), suggestion))
    for rank, suggestion in found:
        equal = sum(other[:3] == rank[:3] for other, _ in found)
        yield rank, replace(suggestion, sure=equal == 1 and rank[0] != How.BY_HINT)


def suggested_heavy(
    conversation: Conversation, given: Answers, typed: str, following: Question | None
) -> Suggestion | None:
    """How many heavy loads run at once, by naming each of them while that is asked."""
    said = heavy_in(conversation.guide, typed)
    if said is None or following is None or following.id != "heavy":
        return None
    most = following.choices[-1]
    chosen = next((each for each in following.choices if each.id == str(said.count)), most)
    answers = with_answer(given, following, chosen.id)
    return Suggestion(chosen.label, following.ask, answers, sure=said.sure)


def nearest(
    conversation: Conversation, given: Answers, words: tuple[str, ...], following: Question | None
) -> Iterator[Suggestion]:
    """What has some of the words whole, most first; what it lacks is said, and it is not sure."""
    page = conversation.guide.wording.page
    found = []
    for place, question in enumerate(asked(conversation, given)):
        for choice, suggestion in offered_by(conversation, given, question):
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
        loose = heard(words, (*every, *names_of(question)) if match.whole else every)
        if not loose.lacks:
            return How.LOOSELY, loose
        far = heard(words, (*every, *names_of(question), *words_of(choice.hint)))
        return (None if far.lacks else How.BY_HINT), far
    named = heard(match.lacks, names_of(question))
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


def names_of(question: Question) -> tuple[str, ...]:
    return words_of(" ".join((question.id, question.ask, *question.also)))
