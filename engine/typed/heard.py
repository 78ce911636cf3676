"""What a caller says, word by word, and how well it says one thing or another."""

import re
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from engine.kept import kept
from engine.typed.amounts import number_in_front
from engine.typed.outside import one_line
from engine.typed.words import (
    BEHIND_A_NUMBER,
    NEGATIONS,
    NOT_SO,
    NOT_SURE,
    SAYS_NOTHING,
    SPANS,
    SPOKEN,
    YES,
)

_THOUSANDS = re.compile(r"(?<=[0-9]),(?=[0-9]{3})")
_LETTERED = re.compile(r"\b(class) ([a-z])\b")
_SLASHED = re.compile(r"\b([a-z])/([a-z])\b")
_PIECE = re.compile(r"[0-9]+(?:\.[0-9]+)?|[^\W\d_]+")
_APOSTROPHES = str.maketrans("", "", "'’")
_SPANS = re.compile(rf"\b(?:{'|'.join(SPANS)})\b", re.IGNORECASE)
_NOT_SO = re.compile("|".join(NOT_SO))
_COUNT_OF_WATTS = re.compile(r"^([0-9]{1,2}|[a-z]+) (?=[0-9]+ ?w(?:att|atts)?\b)", re.IGNORECASE)
_LONGEST_NUMBER = 3
"""Words of the longest number in words, as in "twenty five hundred"."""


@kept("language", 4096)  # nearly all are the guide's own, looked at again with each letter
def words_of(text: str) -> tuple[str, ...]:
    """The words and figures of a text; numbers in words are figures; A/C and "class A" one word.

    >>> words_of("Thirty-amp A/C, 13,500 BTU, class A")
    ('30', 'amp', 'ac', '13500', 'btu', 'classa')
    """
    plain = _SLASHED.sub(r"\1\2", one_line(text).lower().translate(_APOSTROPHES))
    plain = _NOT_SO.sub("no", _LETTERED.sub(r"\1\2", plain))
    pieces = _PIECE.findall(_THOUSANDS.sub("", plain))
    found, at = [], 0
    while at < len(pieces):
        word, taken = _figure(pieces[at:])
        found.append(SPOKEN.get(word, word))
        at += taken
    return tuple(found)


def _figure(pieces: list[str]) -> tuple[str, int]:
    """The figure that the first words stand for, and how many they are; else the first word."""
    for count in range(min(_LONGEST_NUMBER, len(pieces)), 0, -1):
        number = number_in_front(" ".join(pieces[:count])) if pieces[0].isalpha() else None
        if number and not number.rest and pieces[0] not in SAYS_NOTHING:
            return number.digits, count
    return pieces[0], 1


def meant_by(text: str) -> tuple[str, ...]:
    """The words that say which answer is meant; all of them where none does.

    >>> meant_by("we have a 30 amp trailer")
    ('30', 'amp', 'trailer')
    """
    words = words_of(text)
    return tuple(word for word in words if word not in SAYS_NOTHING) or words


def spans_in_days(text: str) -> str:
    """A text with days for the spans that have a name.

    >>> spans_in_days("we boondock for a long weekend"), spans_in_days("two weeks")
    ('we boondock for 3 days', 'two weeks')
    """
    return _SPANS.sub(lambda found: SPANS[found[0].lower()], text)


def as_product(text: str) -> str:
    """A text with a sign between a count and the watts of each.

    >>> as_product("two 100 watt panels"), as_product("2 100 W"), as_product("100 W")
    ('2 x 100 watt panels', '2 x 100 W', '100 W')
    """
    found = _COUNT_OF_WATTS.match(text)
    count = _figure([found[1].lower()])[0] if found else ""
    return f"{count} x {text[found.end() :]}" if found and is_figure(count) else text


def says_nothing(word: str, before: str) -> bool:
    """Whether a word says nothing of a value; behind a number, "in" is a unit.

    >>> says_nothing("in", "15"), says_nothing("in", "degrees"), says_nothing("of", "15")
    (False, True, True)
    """
    behind = is_figure(before) or before == "and"
    return word in SAYS_NOTHING and not (word in BEHIND_A_NUMBER and behind)


def says_unsure(text: str) -> bool:
    """Whether a text says that the answer is not known.

    >>> says_unsure("I don't know")
    True
    """
    words = words_of(text)
    return " ".join(words) in NOT_SURE or " ".join(meant_by(text)) in NOT_SURE


def says_more(words: Iterable[str]) -> bool:
    """Whether one of the words is neither a number nor a mere yes or no.

    >>> says_more(("no", "2")), says_more(("no", "inlet"))
    (False, True)
    """
    return any(not is_figure(word) and word not in NEGATIONS and word != YES for word in words)


def is_said(phrase: str, words: Collection[str]) -> bool:
    """Whether words can mean a phrase: where it says no, or begins with figures, so must they.

    >>> is_said("no inlet", ("inlet",)), is_said("30 amp class A", ("classa",))
    (False, False)
    >>> is_said("one AC", ("ac",))
    True
    """
    said = words_of(phrase)
    must = NEGATIONS.intersection(said) | set(said[:1] if is_figure(phrase) else ())
    return must.issubset(words)


def is_figure(word: str) -> bool:
    """Whether it is a number."""
    return word[:1].isdigit()


@dataclass(frozen=True, slots=True)
class Hearing:
    """How well words say something: how many it has whole, how many only begun, and which not."""

    whole: int
    begun: int
    lacks: tuple[str, ...]


def heard(wanted: Iterable[str], said: Iterable[str]) -> Hearing:
    """How well these words say something that goes by those.

    >>> heard(("30", "amps", "trav", "toy"), ("30", "amp", "travel"))
    Hearing(whole=2, begun=1, lacks=('toy',))
    """
    known = frozenset(said)
    whole, begun, lacks = 0, 0, []
    for word in wanted:
        if word in known or word.removesuffix("s") in known or f"{word}s" in known:
            whole += 1
        elif word not in NEGATIONS and any(each.startswith(word) for each in known):
            begun += 1
        else:
            lacks.append(word)
    return Hearing(whole, begun, tuple(lacks))
