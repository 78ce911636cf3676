"""What "a question matters" means, written out plainly and slowly, beside the engine's own way."""

from collections.abc import Callable, Iterator
from itertools import product

from engine.model.answers import UNSURE
from engine.model.guide import Guide, Question

Values = dict[str, str]
Outcome = Callable[[Values], object]


def has_meaning(question: Question, values: Values) -> bool:
    """Whether the answers that the question goes with are given."""
    return all(values.get(name) in accepted for name, accepted in question.only_with.items())


def complete(guide: Guide, values: Values) -> Iterator[Values]:
    """Every way to answer what is open or unsure; what then has no meaning is left out."""
    questions = [each for each in guide.questions if each.where == "path"]
    free = [each for each in questions if values.get(each.id, UNSURE) == UNSURE]
    seen = set()
    for chosen in product(*([choice.id for choice in each.choices] for each in free)):
        found = {**values, **dict(zip((each.id for each in free), chosen, strict=True))}
        for question in questions:
            if not has_meaning(question, found):
                found.pop(question.id, None)
        key = tuple(sorted(found.items()))
        if key not in seen:
            seen.add(key)
            yield found


def matters(guide: Guide, values: Values, question: Question, outcome: Outcome) -> bool:
    """Whether two choices lead to different outcomes for some way to answer the rest alike."""
    found = []
    for choice in question.choices:
        own = {question.id, *choice.means}
        for whole in complete(guide, {**values, question.id: choice.id, **choice.means}):
            rest = {name: value for name, value in whole.items() if name not in own}
            found.append((choice.id, rest, outcome(whole)))
    return any(
        one[0] != two[0]
        and one[2] != two[2]
        and all(two[1].get(name, value) == value for name, value in one[1].items())
        for place, one in enumerate(found)
        for two in found[:place]
    )


def asked(guide: Guide, values: Values, outcome: Outcome) -> Question | None:
    """The first open question that matters, of those that have a meaning here."""
    for question in guide.questions:
        if question.where != "path" or question.id in values:
            continue
        if has_meaning(question, values) and matters(guide, values, question, outcome):
            return question
    return None
