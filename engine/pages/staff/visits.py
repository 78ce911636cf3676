"""Visits that people agreed to leave with the shop, as a file for a spreadsheet."""

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass

from engine.answer import answer_of
from engine.completion import read_any
from engine.conversation import Conversation
from engine.pages import words
from engine.pages.print.exports import safe
from engine.past import link_of
from engine.typed.outside import one_line

LONGEST_CONTACT = 80
COLUMNS = ("when", "contact", "recommendation", "price", "currency", "link", "edition")


@dataclass(frozen=True, slots=True)
class Visit:
    """What is kept of a visit: its answers as a link, when it was, and what the visitor wrote."""

    link: str
    when: str
    contact: str


def visits_csv(conversation: Conversation, visits: Iterable[Visit]) -> str:
    """The visits as CSV after RFC 4180, one a line, worked out by today's edition."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for visit in visits:
        writer.writerow([safe(cell) for cell in _row(conversation, visit)])
    return out.getvalue()


def _row(conversation: Conversation, visit: Visit) -> tuple[str, ...]:
    guide = conversation.guide
    answers = read_any(conversation, visit.link)
    answer = answer_of(conversation, answers, changes=False)
    best = answer.advice.best.design if answer.advice else None
    return (
        one_line(visit.when)[:LONGEST_CONTACT],
        one_line(visit.contact)[:LONGEST_CONTACT],
        words.standing(guide, answer),
        f"{best.parts_price:.2f}" if best else "",
        guide.shop.currency if best else "",
        link_of(conversation, answers),
        guide.edition,
    )
