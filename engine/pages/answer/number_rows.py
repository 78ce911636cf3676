"""Rows of the numbers: a label and a phrase from the guide's wording, figures put in."""

from dataclasses import dataclass

from engine.answer import Advice
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.result import Design
from engine.units import plain


@dataclass(frozen=True, slots=True)
class Number:
    """A label and its figure, as they are read."""

    label: str
    text: str


class Rows:
    """What every section reads: the guide's words, the needs, the design."""

    def __init__(self, guide: Guide, advice: Advice) -> None:
        if advice.best.design is None:
            raise ValueError("a recommendation has a design")
        self.guide = guide
        self.advice = advice
        self.needs: Needs = advice.outcome.needs
        self.design: Design = advice.best.design
        self._words = guide.wording.numbers

    def say(self, key: str, **facts: str) -> str:
        """A phrase with its facts."""
        return self._words[key].format(**facts)

    def row(self, key: str, text: str, **facts: str) -> Number:
        """A row whose label is this phrase."""
        return Number(self.say(key, **facts), text)


def amps(value: float, digits: int = 1) -> str:
    """A current: "12.5 A"."""
    return f"{plain(value, digits)} A"


def volts(value: float, digits: int = 1) -> str:
    """A voltage: "12.8 V"."""
    return f"{plain(value, digits)} V"


def counted(value: float, one: str, many: str, digits: int = 0) -> str:
    """A number of things: "1 day", "2.5 days"."""
    text = plain(value, digits)
    return f"{text} {one if text == '1' else many}"


def hours(value: float) -> str:
    """A time in hours: "1 hour", "2.5 hours"."""
    return counted(value, "hour", "hours", 1)


def days(value: float) -> str:
    """A time in days: "1 day", "2.5 days"."""
    return counted(value, "day", "days", 1)
