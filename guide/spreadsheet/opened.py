"""Opened units in one cell, a line for each offer: "2 x 1110 USD: opened, complete"."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from guide.spreadsheet.edit import Edit, end_of, number, scalar
from guide.yaml_text import MappingNode, Node, ScalarNode, SequenceNode

EXAMPLE = "2 x 1110 USD: opened at a show, complete"
KEYS = ("condition", "price", "count")
_LINE = re.compile(r"([0-9]+) ?[x×*] ?([^:]+?) ?: ?(.+)")
_ALONE = re.compile(r"[0-9.,]+")


class OfferError(ValueError):
    """A line of a cell is no offer; its text is that line."""


@dataclass(frozen=True, slots=True)
class Offer:
    """What is offered: the condition, the price of one with its currency, and how many."""

    condition: str
    price: str
    count: str

    def __str__(self) -> str:
        return f"{self.count} x {self.price}: {self.condition}"


def offers_of(text: str, currency: str = "") -> tuple[Offer, ...]:
    """The offers of a cell; a price alone is in the shop's currency.

    Raises
    ------
    OfferError : if a line is none.

    >>> [str(each) for each in offers_of("1 × 900: scratched", "USD")]
    ['1 x 900 USD: scratched']
    """
    return tuple(_offer(line, currency) for line in text.splitlines() if line.strip())


def cell_of(offers: tuple[Offer, ...]) -> str:
    """The text of a cell that says these offers."""
    return "\n".join(map(str, offers))


def said_by(node: SequenceNode) -> tuple[Offer, ...]:
    """The offers that a file has in a list."""
    members = [each for each in node.value if isinstance(each, MappingNode)]
    return tuple(Offer(*(_said(_node(each, key)) for key in KEYS)) for each in members)


def edits_of(node: SequenceNode, offers: tuple[Offer, ...]) -> Iterator[Edit]:
    """Only what differs is exchanged where there are as many offers; else the whole list."""
    before = said_by(node)
    if len(before) != len(offers):
        yield Edit(node.start_mark.index, end_of(node), written(offers))
        return
    for entry, old, new in zip(node.value, before, offers, strict=True):
        for key in KEYS:
            found, now = _node(entry, key), getattr(new, key)
            if found is not None and getattr(old, key) != now:
                text = number(now) if key == "count" else scalar(now)
                yield Edit(found.start_mark.index, found.end_mark.index, text)


def written(offers: tuple[Offer, ...]) -> str:
    """The offers as a file has them in one line."""
    said = (
        f"{{condition: {scalar(each.condition)}, price: {scalar(each.price)}, count: {each.count}}}"
        for each in offers
    )
    return f"[{', '.join(said)}]"


def _offer(line: str, currency: str) -> Offer:
    found = _LINE.fullmatch(" ".join(line.split()))
    if found is None:
        raise OfferError(line.strip())
    price = f"{found[2]} {currency}" if _ALONE.fullmatch(found[2]) and currency else found[2]
    return Offer(found[3], price, found[1])


def _node(entry: MappingNode, key: str) -> Node | None:
    return next((value for name, value in entry.value if str(name.value) == key), None)


def _said(found: Node | None) -> str:
    return " ".join(str(found.value).split()) if isinstance(found, ScalarNode) else ""
