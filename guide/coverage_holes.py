"""Answers for which nothing fits, and what article would fill the hole."""

from collections import defaultdict
from collections.abc import Iterator

from engine.conversation import Conversation
from engine.links import path_of
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.result import Check
from engine.pages.words import check_value
from engine.ways import Signature, Ways
from guide.coverage_file import Finding
from guide.coverage_sweep import Miss, Sweep


def holes(conversation: Conversation, swept: Sweep) -> Iterator[Finding]:
    """Where nothing fits: as few answers as tell it, and what would fill the hole."""
    misses = {way.key(): tried[0].miss for way, tried in zip(swept.ways, swept.tried, strict=True)}
    for prefix in _without_fit(conversation, Answers({}), conversation.ways({})):
        inside = [
            miss
            for concrete in conversation.completions(prefix)
            if (miss := misses[concrete.key()]) is not None
        ]
        pairs = " ".join(path_of(conversation.guide, prefix).split("/")).strip()
        yield Finding(
            f"no-fit:{pairs}",
            f"nothing fits for {pairs or 'any answer'} ({len(inside)} ways)",
            tuple(_would_fill(conversation.guide, inside)),
        )


def _without_fit(conversation: Conversation, prefix: Answers, ways: Ways) -> Iterator[Answers]:
    """The shortest answers after which nothing fits whatever else is said."""
    if all(not signature[0] for signature in _leaves(ways)):
        yield prefix
        return
    if ways.branches:
        question = conversation.path_questions[ways.index]
        for choice, branch in zip(question.choices, ways.branches, strict=True):
            chosen = Answers({**prefix.values, question.id: choice.id})
            yield from _without_fit(conversation, chosen, branch)


def _leaves(ways: Ways) -> Iterator[Signature]:
    if not ways.branches:
        yield ways.signature
    for branch in ways.branches:
        yield from _leaves(branch)


def _would_fill(guide: Guide, misses: list[Miss]) -> Iterator[str]:
    """For each nearest setup, the least change of its figures that would let it fit."""
    wanted: dict[tuple[str, str], dict[str, Check]] = defaultdict(dict)
    for miss in misses:
        for check in miss.failed:
            known = wanted[miss.layout, miss.name].get(check.id)
            if known is None or check.margin < known.margin:
                wanted[miss.layout, miss.name][check.id] = check
    for (_, name), checks in wanted.items():
        lacks = "; ".join(_lack(guide, check) for check in checks.values())
        yield f"It would be filled by something like {name}, but: {lacks}"


def _lack(guide: Guide, check: Check) -> str:
    name = guide.check_words(check.id).name
    if check.unit == "yes":
        return f"“{name}” must hold"
    value, limit = (check_value(guide, each, check.unit) for each in (check.value, check.limit))
    if check.at_most:
        return f"“{name}” needs {value} where it has {limit}"
    return f"“{name}” has {value} where {limit} is the least"
