"""How the language that is spoken writes numbers, money, lists and counted things."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from engine.kept import forget, kept


@dataclass(frozen=True, slots=True, kw_only=True)
class Grammar:
    """The rules of one language, as its folder states them.

    thousands, decimal: the signs in a number
    between, and_last, or_last: a list's items but the last, and how the last one joins them
    money: a price with its sign; money_by_code: with the code of a currency that has no sign
    signs: the signs of currencies by their codes
    plural: for each form but "other" when it is used, as Python about n, i, v, w, f and t;
        made from the published rules of `plural_of`
    """

    thousands: str
    decimal: str
    between: str
    and_last: str
    or_last: str
    money: str
    money_by_code: str
    plural_of: str
    signs: dict[str, str] = field(default_factory=dict)
    plural: dict[str, str] = field(default_factory=dict)


PLAIN = Grammar(
    thousands=",", decimal=".", between=", ", and_last="{first}, {last}",
    or_last="{first}, {last}", money="{sign}{amount}", money_by_code="{amount} {code}",
    plural_of="",
)  # fmt: skip
"""What is written while nothing is loaded: figures, no words."""


class _Tongue:
    """The grammar and currency in which this process speaks; one guide is shown at a time."""

    def __init__(self) -> None:
        self.grammar, self.currency = PLAIN, ""
        self.signs: dict[int, str] = {}
        self.forms: dict[str, Callable[..., bool]] = {}

    def turn(self, grammar: Grammar, currency: str) -> None:
        self.grammar, self.currency = grammar, currency
        marks = {",": grammar.thousands, ".": grammar.decimal}
        self.signs = {ord(sign): mark for sign, mark in marks.items() if sign != mark}
        self.forms = {
            form: eval(
                f"lambda n, i, v, w, f, t, c=0, e=0: {rule}", {"__builtins__": {"range": range}}
            )
            for form, rule in grammar.plural.items()
        }


_tongue = _Tongue()


def speak(grammar: Grammar, currency: str) -> None:
    """Speak this language and currency from now on; every door that shows a guide says so."""
    if grammar is not _tongue.grammar or currency != _tongue.currency:
        _tongue.turn(grammar, currency)
        forget("language")


@kept("language", 4096)
def plain(value: float, digits: int = 0) -> str:
    """A number with thousands marked and no trailing zeros: 12000 -> "12,000".

    >>> plain(12000), plain(0.1932, 3), plain(2.50, 2)
    ('12,000', '0.193', '2.5')
    """
    text = f"{value:,.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text.translate(_tongue.signs)


@kept("language", 4096)
def money(value: float) -> str:
    """A price in whole units of the shop's currency: "$1,250", "1,250 SEK"."""
    grammar, code = _tongue.grammar, _tongue.currency
    sign, amount = grammar.signs.get(code), plain(abs(value))
    if sign:
        text = grammar.money.format_map({"sign": sign, "amount": amount})
    else:
        text = grammar.money_by_code.format_map({"code": code, "amount": amount})
    return f"−{text}" if round(value) < 0 else text


def all_of(items: Sequence[str]) -> str:
    """Items as a list in a sentence: "a, b and c"."""
    return _joined(items, _tongue.grammar.and_last)


def one_of(items: Sequence[str]) -> str:
    """Items of which one is meant: "a, b or c"."""
    return _joined(items, _tongue.grammar.or_last)


def _joined(items: Sequence[str], last: str) -> str:
    if len(items) < 2:
        return "".join(items)
    first = _tongue.grammar.between.join(items[:-1])
    return last.format_map({"first": first, "last": items[-1]})


def plural_form(value: float, digits: int = 0) -> str:
    """The form that a number takes as `plain` writes it: "one", "few", "other" …"""
    text = f"{abs(value):.{digits}f}"
    whole, _, decimals = text.partition(".")
    decimals = decimals.rstrip("0")
    n = float(text)
    facts = (n, int(whole), len(decimals), len(decimals), int(decimals or 0), int(decimals or 0))
    return next((form for form, holds in _tongue.forms.items() if holds(*facts)), "other")
