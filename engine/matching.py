"""The words of a caller -> the answers that they may mean, the best match of all of them first."""

from dataclasses import replace

from engine.conversation import Conversation
from engine.model.answers import UNSURE, Answers
from engine.suggested_choices import nearest, suggested_choices, suggested_heavy
from engine.suggested_loads import suggested_loads
from engine.suggested_values import batteries_to_fill, suggested_values
from engine.suggestions import How, Suggestion, choices_of
from engine.typed.heard import meant_by, says_more, says_unsure, words_of
from engine.typed.words import CORRECTIONS, SEVERAL

MOST_FACTS = 4


def matching(conversation: Conversation, given: Answers, typed: str) -> tuple[Suggestion, ...]:
    """What these words may mean; where none has all of them, what has most, and none is sure.

    Several facts in a row are taken together where each of them alone is sure.
    """
    said = CORRECTIONS.sub("", typed) or typed
    found = _meant(conversation, given, said)
    if not found or not (found[0].sure and found[0].answers):
        several = _several(conversation, given, said)
        found = (several, *found) if several else found
    return found


def _meant(conversation: Conversation, given: Answers, typed: str) -> tuple[Suggestion, ...]:
    """What these words may mean as one fact."""
    words = meant_by(typed)
    following = conversation.next_question(given)
    if following and says_unsure(typed):
        return tuple(
            each
            for each in choices_of(conversation, given, following)
            if each.answers and each.answers.choice(following.id) == UNSURE
        )
    found = [
        *suggested_choices(conversation, given, words, following),
        *suggested_values(conversation, given, typed, words),
        *suggested_loads(conversation, given, typed, words),
    ]
    found.sort(key=lambda pair: pair[0])
    ordered = [suggestion for _, suggestion in found]
    heavy = suggested_heavy(conversation, given, typed, following)
    if heavy and not any(rank[0] == How.ANSWERS and each.sure for rank, each in found):
        others = [each for each in ordered if each.answers != heavy.answers]
        ordered = [heavy, *(replace(each, sure=False) for each in others)]
    if any(each.answers or each.fill for each in ordered):
        return tuple(ordered)
    batteries = batteries_to_fill(conversation, given, typed)
    if batteries:
        return (batteries,)
    return (*nearest(conversation, given, words, following), *ordered)


def _is_new(before: Answers, after: Answers, name: str) -> bool:
    return name not in before.values or before.text(name) != after.text(name)


def _several(conversation: Conversation, given: Answers, typed: str) -> Suggestion | None:
    """All facts of a sentence; None where one is not sure, a mere yes or no, or undoes another."""
    parts = [part for part in SEVERAL.split(typed) if part.strip()]
    if not 1 < len(parts) <= MOST_FACTS or not all(says_more(words_of(part)) for part in parts):
        return None
    answers, labels, said = given, [], set[str]()
    for part in parts:
        first = next(iter(_meant(conversation, answers, part)), None)
        if first is None or not first.sure or first.answers is None:
            return None
        new = {name for name in first.answers.values if _is_new(answers, first.answers, name)}
        if said & new:
            return None
        answers, said = first.answers, said | new
        labels.append(first.label)
    return Suggestion("; ".join(labels), conversation.guide.wording.page["staff-several"], answers)
