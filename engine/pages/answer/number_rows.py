"""Rows of the numbers: a label and a phrase from the guide's wording, figures put in."""

from dataclasses import dataclass

from engine.answer import Advice
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.wording.tongue import plain


@dataclass(frozen=True, slots=True)
class Number:
    """A label and its figure, as they are read; `id` is the key of its label, "" for none."""

    label: str
    text: str
    id: str = ""


class Rows:
    """What every section reads: the guide's words, the needs, the design."""

    def __init__(self, guide: Guide, advice: Advice) -> None:
        if advice.best.design is None:
            raise ValueError("a recommendation has a design")
        self.guide = guide
        self.advice = advice
        self.needs: Needs = advice.outcome.needs
        self.design: Design = advice.best.design
        self.numbers = guide.wording.numbers
        self.say = self.numbers.say
        self.one_of = self.numbers.one_of
        self.count = self.numbers.count

    def row(self, key: str, text: str, **facts: str) -> Number:
        """A row whose label is this phrase."""
        return Number(self.say(key, **facts), text, key)


def amps(value: float, digits: int = 1) -> str:
    """A current: "12.5 A"."""
    return f"{plain(value, digits)} A"


def volts(value: float, digits: int = 1) -> str:
    """A voltage: "12.8 V"."""
    return f"{plain(value, digits)} V"
