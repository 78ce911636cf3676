"""The words of a caller -> the answers that they may mean, the best match of all of them first."""

from dataclasses import replace

from engine.conversation import Conversation
from engine.model.answers import UNSURE, Answers
from engine.suggested_choices import nearest, suggested_choices, suggested_heavy
from engine.suggested_loads import suggested_loads
from engine.suggested_values import suggested_values
from engine.suggestions import How, Suggestion, choices_of
from engine.typed.heard import meant_by, says_unsure


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
    if not any(each.answers or each.fill for each in ordered):
        ordered = [*nearest(conversation, given, words, following), *ordered]
    return tuple(ordered)
