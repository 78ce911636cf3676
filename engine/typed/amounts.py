"""Numbers as people write them: "13,500", "4,5", "1 1/2", "½", "twenty-five", "two and a half"."""

import re
from dataclasses import dataclass

from engine.typed.outside import one_line
from engine.typed.words import ABOUT, AND_A_HALF, ARTICLES, HALF, MANY, ONES, TEENS, TENS

LONGEST = 100
"""Characters of a quantity; whatever is longer was not meant as one."""
_ROUGHLY = re.compile(
    rf"(?:{'|'.join(sorted(ABOUT, key=len, reverse=True))})(?:\.? |(?=[0-9]))|[~≈] ?", re.IGNORECASE
)
_GROUPED = r"[1-9][0-9]{0,2}(?:,[0-9]{3})+(?:\.[0-9]+)?"
_COMMA = r"[0-9]+,[0-9]{1,2}|0,[0-9]+"
_DECIMAL = r"[0-9]+(?:\.[0-9]+)?|\.[0-9]+"
_NUMBER = re.compile(rf"([-+−]?)(?:({_GROUPED})|({_COMMA})|({_DECIMAL}))(?![.,/]?[0-9])")
_SIGNS = {"½": 1 / 2, "¼": 1 / 4, "¾": 3 / 4, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 1 / 8, "⅜": 3 / 8}
_SIGNS |= {"⅝": 5 / 8, "⅞": 7 / 8}
_FRACTION = re.compile(
    rf"(?:([0-9]{{1,4}})(?:[ -]|(?=[{''.join(_SIGNS)}])))?"
    rf"(?:([{''.join(_SIGNS)}])|([0-9]{{1,2}})/([0-9]{{1,2}}))(?![./]?[0-9])"
)
# 12/24 V is no fraction but two voltages
_DIVISORS = (2, 3, 4, 8, 16, 32, 64)
_SMALL_WORDS = {word: at for at, word in enumerate((*ONES, *TEENS), 1)}
_TENS = {word: at * 10 for at, word in enumerate(TENS, 2)}
_SMALL = rf"(?:(?:{'|'.join(TENS)})(?:[ -](?:{'|'.join(ONES[:9])}))?|{'|'.join(_SMALL_WORDS)})"
_WORDS = re.compile(
    rf"(?:(?P<half>{'|'.join(HALF)})|(?:(?:(?P<count>{_SMALL}|a) )?(?P<many>{'|'.join(MANY)})"
    rf"(?: (?:and )?(?P<rest>{_SMALL}))?)|(?P<small>{_SMALL})"
    rf"|(?P<one>{'|'.join(ARTICLES)})(?= [a-z]))(?![a-z])",
    re.IGNORECASE,
)
_IN_WORDS = re.compile(rf"(?<![a-z]){_WORDS.pattern}", re.IGNORECASE)
_AND_A_HALF = re.compile(rf" {AND_A_HALF}(?![a-z])", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Number:
    """A number in front of a text: its value, its digits as links hold them, what comes after."""

    value: float
    digits: str
    rest: str


def tidy(text: str) -> str:
    """A text without needless spaces and without a word that says "about".

    >>> tidy("about  20 feet"), tidy("~20 ft"), tidy("approx. 3 kW")
    ('20 feet', '20 ft', '3 kW')
    """
    joined = one_line(text)
    return joined[found.end() :] if (found := _ROUGHLY.match(joined)) else joined


def digits_of(value: float) -> str:
    """A number as links hold it: no thousands, no idle zeros, never in powers of ten.

    >>> digits_of(1.5), digits_of(400.0), digits_of(0.000015)
    ('1.5', '400', '0.000015')
    """
    text = f"{value:.12g}"
    return text if "e" not in text else f"{value:.15f}".rstrip("0").rstrip(".")


def number_in_front(text: str) -> Number | None:
    """The number that a text begins with; None where it begins with none, or with an unclear one.

    >>> number_in_front("13,500 BTU/h")
    Number(value=13500.0, digits='13500', rest='BTU/h')
    >>> number_in_front("twenty-five feet"), number_in_front("12/24 V")
    (Number(value=25.0, digits='25', rest='feet'), None)
    """
    for find in (_fraction, _plain, _words):
        found = find(text)
        if found:
            value, digits, end = found
            half = _AND_A_HALF.match(text, end) if value == int(value) and value > 0 else None
            if half:
                value, end = value + 0.5, half.end()
                digits = digits_of(value)
            return Number(value, digits, _after(text[end:]))
    return None


def _after(rest: str) -> str:
    """What comes after a number; a hyphen may join a word to it, as in 30-amp."""
    rest = rest.strip()
    return rest[1:] if re.match(r"-[^\W\d_]", rest) else rest


def _fraction(text: str) -> tuple[float, str, int] | None:
    found = _FRACTION.match(text)
    if not found:
        return None
    whole = float(found[1] or 0)
    if found[2]:
        part = _SIGNS[found[2]]
    elif int(found[4]) in _DIVISORS and 0 < int(found[3]) < int(found[4]):
        part = int(found[3]) / int(found[4])
    else:
        return None
    return whole + part, digits_of(whole + part), found.end()


def _plain(text: str) -> tuple[float, str, int] | None:
    found = _NUMBER.match(text)
    if not found:
        return None
    sign = "-" if found[1] in ("-", "−") else ""
    unsigned = (found[2] or "").replace(",", "") or (found[3] or "").replace(",", ".") or found[4]
    return float(sign + unsigned), sign + unsigned, found.end()


def _words(text: str) -> tuple[float, str, int] | None:
    found = _WORDS.match(text)
    if not found:
        return None
    if found["half"]:
        value = 0.5
    elif found["many"]:
        count = _small(found["count"] or "a")
        value = count * MANY[found["many"].lower()] + _small(found["rest"])
    else:
        value = _small(found["small"] or "a")
    return value, digits_of(value), found.end()


def in_figures(text: str) -> str:
    """A text with figures for its numbers in words; "a" and "half" stay.

    >>> in_figures("two hundred amp hours of a lithium bank")
    '200 amp hours of a lithium bank'
    """
    return _IN_WORDS.sub(lambda found: _figures(found[0]), text)


def _figures(words: str) -> str:
    found = _words(words)
    keeps = found is None or words.lower() in (*ARTICLES, *HALF)
    return words if found is None or keeps else found[1]


def _small(words: str | None) -> float:
    """A number below a hundred in words; an article counts as one, nothing as none."""
    if not words:
        return 0.0
    if words.lower() in ARTICLES:
        return 1.0
    tens, _, ones = words.lower().replace("-", " ").partition(" ")
    return float(_TENS.get(tens, 0) + _SMALL_WORDS.get(ones or tens, 0))
