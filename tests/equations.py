"""Equations as they are shown, read by a parser of their own: worked out, and held against numbers.

It knows nothing of the engine: sums Σ over lists, ⌈ ⌉ ⌊ ⌋ | | √ ² ^, min and max, · and /.
"""

import math
import re
from collections.abc import Callable, Iterator, Mapping
from typing import NamedTuple

Value = float | tuple[float, ...]
Inputs = Mapping[str, tuple[Value, str]]
Term = Callable[[Mapping[str, Value]], float]

TOKEN = re.compile(
    r"(?P<number>\d+(?:\.\d+)?)|(?P<name>(?!Σ)[A-Za-zΑ-Ωα-ω]+(?:_[A-Za-z0-9]+)*)|(?P<mark>\S)"
)
SHOWN = re.compile(r"-?\d+(?:,\d{3})*(?:\.\d+)?")
CLOSING = {"(": ")", "⌈": "⌉", "⌊": "⌋", "|": "|"}
FUNCTIONS: dict[str, Callable[..., float]] = {"min": min, "max": max}
HAIR = 1e-9  # by which rounding to whole numbers is blind


class Token(NamedTuple):
    """One word of an equation: its kind and its text."""

    kind: str
    text: str


class EquationError(ValueError):
    """A text that is no equation, or numbers that do not follow one."""


def right_of(equation: str) -> list[Token]:
    """The words of the right side."""
    sides = re.split(r" [=≥] ", equation)
    if len(sides) != 2:
        raise EquationError(f"one = or ≥: {equation}")
    return [Token(str(found.lastgroup), found[0]) for found in TOKEN.finditer(sides[1])]


def symbols_of(equation: str) -> set[str]:
    """The symbols on the right side."""
    return {
        each.text
        for each in right_of(equation)
        if each.kind == "name" and each.text not in FUNCTIONS
    }


def evaluate(equation: str, values: Mapping[str, Value]) -> float:
    """The right side worked out with these values for its symbols."""
    reader = _Reader(right_of(equation))
    term = reader.sum()
    if reader.left:
        raise EquationError(f"more than an equation: {equation}")
    return term(values)


class _Reader:
    """Reads a right side from left to right; each rule gives what works it out."""

    def __init__(self, tokens: list[Token]) -> None:
        self.left = list(tokens)

    def _next(self, *texts: str) -> str | None:
        if self.left and (not texts or self.left[0].text in texts):
            return self.left.pop(0).text
        return None

    def _need(self, text: str) -> None:
        if self._next(text) is None:
            raise EquationError(f"{text} expected before {self.left[:1]}")

    def sum(self) -> Term:
        found = self._product()
        while mark := self._next("+", "−"):
            found = _both(found, self._product(), mark)
        return found

    def _product(self) -> Term:
        found = self._power()
        while mark := self._next("·", "/"):
            found = _both(found, self._power(), mark)
        return found

    def _power(self) -> Term:
        base = self._atom()
        if self._next("²"):
            return lambda values: base(values) ** 2
        if self._next("^"):
            exponent = self._atom()
            return lambda values: base(values) ** exponent(values)
        return base

    def _atom(self) -> Term:
        if not self.left:
            raise EquationError("the equation ends too soon")
        kind, text = self.left.pop(0)
        if kind == "number":
            return lambda _: float(text)
        if text in FUNCTIONS:
            return self._function(FUNCTIONS[text])
        if kind == "name":
            return lambda values: _single(values, text)
        if text == "√":
            root = self._atom()
            return lambda values: math.sqrt(root(values))
        if text == "Σ":
            return _total(self._atom())
        if text not in CLOSING:
            raise EquationError(f"{text} does not begin anything")
        inner = self.sum()
        self._need(CLOSING[text])
        return _rounded(text, inner)

    def _function(self, function: Callable[..., float]) -> Term:
        self._need("(")
        terms = [self.sum()]
        while self._next(","):
            terms.append(self.sum())
        self._need(")")
        return lambda values: function(*(term(values) for term in terms))


def _both(first: Term, second: Term, mark: str) -> Term:
    works: dict[str, Callable[[float, float], float]] = {
        "+": lambda a, b: a + b,
        "−": lambda a, b: a - b,
        "·": lambda a, b: a * b,
        "/": lambda a, b: a / b,
    }
    return lambda values: works[mark](first(values), second(values))


def _rounded(mark: str, inner: Term) -> Term:
    if mark == "⌈":
        return lambda values: math.ceil(inner(values) - HAIR)
    if mark == "⌊":
        return lambda values: math.floor(inner(values) + HAIR)
    if mark == "|":
        return lambda values: abs(inner(values))
    return inner


def _single(values: Mapping[str, Value], name: str) -> float:
    try:
        value = values[name]
    except KeyError:
        raise EquationError(f"{name} is not explained") from None
    if isinstance(value, tuple):
        raise EquationError(f"{name} is a list and stands outside of a sum")
    return float(value)


def _total(term: Term) -> Term:
    def total(values: Mapping[str, Value]) -> float:
        lists = {name: value for name, value in values.items() if isinstance(value, tuple)}
        count = max(map(len, lists.values()))
        return sum(
            term({**values, **{name: value[at] for name, value in lists.items()}})
            for at in range(count)
        )

    return total


def follow(equation: str, inputs: Inputs, numbers: str) -> None:
    """Refuse numbers that are not the equation's own, each in its place, to its digits.

    Raises
    ------
    EquationError : that says what was expected where.
    """
    rest = numbers
    for expected in _spelled(right_of(equation), inputs):
        rest = rest.lstrip()
        if isinstance(expected, str):
            if not rest.startswith(expected):
                raise EquationError(f"{expected} expected before “{rest}”: {numbers}")
            rest = rest[len(expected) :]
        else:
            rest = _past_number(rest, *expected)
    if rest.strip():
        raise EquationError(f"“{rest}” is too much: {numbers}")


def _spelled(
    tokens: list[Token], inputs: Inputs, at: int | None = None
) -> Iterator[str | tuple[float, str]]:
    """What must stand in the numbers, one thing after the other."""
    while tokens:
        kind, text = tokens.pop(0)
        if text == "Σ":
            yield from _sum_spelled(tokens, inputs)
        elif kind == "name" and text not in FUNCTIONS:
            value, unit = inputs[text]
            if isinstance(value, tuple):
                if at is None:
                    raise EquationError(f"{text} is a list and stands outside of a sum")
                value = value[at]
            yield value, unit
        else:
            yield text


def _sum_spelled(tokens: list[Token], inputs: Inputs) -> Iterator[str | tuple[float, str]]:
    inner = [tokens.pop(0)]
    bracket = inner[0].text == "("
    if bracket:
        while tokens[0].text != ")":
            inner.append(tokens.pop(0))
        inner, _ = inner[1:], tokens.pop(0)
        yield "("
    lists = [inputs[each.text][0] for each in inner if each.kind == "name"]
    count = max((len(each) for each in lists if isinstance(each, tuple)), default=0)
    for at in range(count):
        if at:
            yield "+"
        yield from _spelled(list(inner), inputs, at)
    if not count:
        yield "0"
    if bracket:
        yield ")"


def _past_number(text: str, value: float, unit: str) -> str:
    """What follows a number with its unit; it may stand in brackets of its own."""
    bare = text.removeprefix("(")
    wrapped = bare != text
    found = SHOWN.match(bare)
    if not found:
        raise EquationError(f"{value} {unit} expected before “{text}”")
    shown = float(found[0].replace(",", ""))
    digit = 10.0 ** (math.floor(math.log10(abs(value))) - 3) if value else 1e-9
    if abs(shown - value) > 0.5 * digit * (1 + 1e-6):
        raise EquationError(f"{shown} is not {value} to its digits")
    rest = bare[found.end() :]
    for part in (f" {unit}" if unit else "", ")" if wrapped else ""):
        if not rest.startswith(part):
            raise EquationError(f"“{part}” expected before “{rest}”")
        rest = rest[len(part) :]
    if rest[:1].strip() and rest[0] not in "),⌉⌋|²^":
        raise EquationError(f"“{rest}” follows a number at once")
    return rest
