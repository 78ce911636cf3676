"""What stands beside a recommendation: other setups, and what one thing less would save."""

from dataclasses import dataclass

from engine.model.answers import Answers
from engine.model.result import Considered


@dataclass(frozen=True, slots=True)
class Alternative:
    """One of the setups between which a visitor may choose.

    aim: what it is aimed at, by its id; "" for the shop's own choice
    also: the other aims that lead to the same
    answers: by which it is recommended
    chosen: whether it is the one that this answer recommends
    """

    aim: str
    answers: Answers
    best: Considered
    chosen: bool
    also: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class GiveUp:
    """The one thing whose absence saves most.

    question: id of the question that is answered in another way
    name: of the load that is left out; "" where a choice is another one
    saves: how much less the parts cost
    """

    question: str
    name: str
    answers: Answers
    best: Considered
    saves: float
