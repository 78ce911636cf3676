"""Answers at random, from the guide's own questions: every choice, every detail within its bounds.

The same seed gives the same answers, so that a failing one can be worked out again.
"""

from collections.abc import Callable
from functools import cache
from random import Random

from engine.conversation import Conversation
from engine.links import read_pairs
from engine.model.answers import UNSURE, Answers
from engine.model.guide import Guide, Question
from engine.needs import applies, implied
from engine.units import read

# Some people give a detail or two, some nearly all.
SHARES_OF_DETAILS = (0.1, 0.2, 0.6)


def random_answers(guide: Guide, random: Random) -> Answers:
    """A definite answer to each question of the short path that applies, and some details."""
    pairs = random_pairs(guide, random)
    answers = read_pairs(guide, pairs)
    assert not answers.faults, (pairs, answers.faults)
    return answers


def random_pairs(guide: Guide, random: Random) -> list[str]:
    """The same as "question=value" texts."""
    chosen: dict[str, str] = {}
    share = random.choice(SHARES_OF_DETAILS)
    for question in guide.questions:
        if question.where == "path":
            if question.id in _asked_after(guide, tuple(chosen.items())):
                chosen[question.id] = random.choice(question.choices).id
        elif random.random() < share:
            chosen[question.id] = _detail(guide, question, random)
    return [f"{name}={text}" for name, text in chosen.items()]


@cache
def _asked_after(guide: Guide, chosen: tuple[tuple[str, str], ...]) -> frozenset[str]:
    """Questions of the short path that apply after these choices and are not answered by them."""
    known = implied(guide, read_pairs(guide, [f"{name}={text}" for name, text in chosen]))
    path = (question for question in guide.questions if question.where == "path")
    return frozenset(each.id for each in path if applies(each, known) and each.id not in known)


def concrete_states(conversation: Conversation) -> list[Answers]:
    """Every way through the short path, with a definite choice for each question that applies."""
    return [branch.answers for branch in conversation.branches(Answers({}))]


def _detail(guide: Guide, question: Question, random: Random) -> str:
    if question.choices:
        return random.choice([choice.id for choice in question.choices])
    if question.kind in ("count", "latitude", "month", "money"):
        return _number(float(question.low), float(question.high), random, 0)
    if question.kind == "quantity":
        low, high = read(question.low, question.unit), read(question.high, question.unit)
        return f"{_number(low, high, random, 3)} {question.unit}"
    return _OTHERS[question.kind](guide, random)


def random_loads(guide: Guide, random: Random) -> str:
    """A list of loads, known and own ones."""
    return ",".join(_load(guide, random) for _ in range(random.randint(1, 7)))


def _bay(_guide: Guide, random: Random) -> str:
    sides = (random.uniform(0.1, 1.5), random.uniform(0.1, 1.5), random.uniform(0.08, 0.6))
    return "x".join(f"{side:.3f} m" for side in sides)


def _existing(_guide: Guide, random: Random) -> str:
    return (
        f"{random.randint(1, 8)}x {random.choice((50, 100, 220, 400))}Ah "
        f"{random.choice((6, 12, 12.8, 24, 25.6, 48, 51.2))}V "
        f"{random.choice(('lifepo4', 'agm', 'flooded'))} {random.randint(0, 15)}y"
    )


def _unit(guide: Guide, random: Random) -> str:
    return random.choice(guide.catalogue.inverters).id


_OTHERS: dict[str, Callable[[Guide, Random], str]] = {
    "loads": random_loads,
    "bay": _bay,
    "existing-bank": _existing,
    "unit": _unit,
}


def _number(low: float, high: float, random: Random, digits: int) -> str:
    """Mostly within, sometimes exactly at an end, and often small, as people's figures are."""
    how = random.random()
    if how < 0.08:
        value = low
    elif how < 0.16:
        value = high
    elif how < 0.5:
        value = low + (high - low) * random.random() ** 3
    else:
        value = random.uniform(low, high)
    inside = min(max(round(value, digits), low), high)
    return f"{inside:.6f}".rstrip("0").rstrip(".")


def _load(guide: Guide, random: Random) -> str:
    if random.random() < 0.7:
        text = random.choice(guide.appliances).id
    else:
        text = random.choice(("drill", "thing 2", "lamp", "saw"))
    if random.random() < 0.3:
        text += f"*{random.randint(1, 4)}"
    known = not text.startswith(("drill", "thing", "lamp", "saw"))
    if not known or random.random() < 0.3:
        text += f":{random.choice((5, 60, 350, 999, 1000, 1500, 4800))}W"
    if random.random() < 0.4:
        text += f":{random.choice((0, 0.1, 1, 3, 8, 24))}h"
    if not known and random.random() < 0.3:
        text += f":{random.choice(('dc', 'dc48', 'leg', 'legs'))}"
    if random.random() < 0.2:
        text += f":{random.choice(('together', 'alone'))}"
    return text


def unsure_somewhere(guide: Guide, answers: Answers, random: Random) -> Answers:
    """The same answers with one question of the short path left to "not sure"."""
    path = [question.id for question in guide.questions if question.where == "path"]
    given = [name for name in path if name in answers.values]
    return Answers({**answers.values, random.choice(given): UNSURE})
