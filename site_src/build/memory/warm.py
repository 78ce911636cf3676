"""Readies the engine before the browser's memory is kept: all that a reply uses is used once."""

import json
from itertools import product
from typing import Any

from engine.browser import KINDS, recall, reply
from engine.conversation import Key
from engine.kept import forget
from engine.links import read_link
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.pages.drawings.diagram_symbols import Symbol
from engine.pages.render import environment
from engine.respond import conversation_of, respond
from engine.tree import follow
from engine.ways import Signature

ANY_SHOP_HAS = "drop"  # the live piece that needs no particular article

TYPED = ("", "cable=25ft&nights=2", "bank=24V&cable=4.5m", "cabel=1&cable=15kg&space=attic")


def warm(guide: Guide, signatures: dict[Key, Signature], symbols: tuple[Symbol, ...]) -> None:
    """Answer requests of every kind, then let go of what only those needed.

    What stays: modules, compiled templates, units that were read, the shape of the short path.
    """
    recall(guide, signatures, symbols)
    for name in environment().list_templates():
        environment().get_template(name)
    paths = kinds_of_page(guide)
    for path, fragment in product(paths, TYPED):
        request(guide, path=path, fragment=fragment, whole=False)
    for path in paths:
        respond(guide, read_link(guide, path), changes=False)
        conversation_of(guide).forget_outcomes()
    visit = {"link": paths[-1], "when": "", "contact": ""}
    for kind in KINDS:
        asked = {"path": "", "link": paths[-1], "kept": paths[-1], "text": "c", "visits": [visit]}
        asked["asks"] = [paths[0].strip("/").replace("/", "&")]
        request(guide, kind=kind, piece=ANY_SHOP_HAS, **asked)
    forget("answer")


def request(guide: Guide, **asked: Any) -> None:
    """Answer as for the page, and keep nothing that can be worked out again."""
    reply(json.dumps({"id": 0, "form": None, **asked}), guide)
    conversation_of(guide).forget_outcomes()


def kinds_of_page(guide: Guide) -> tuple[str, ...]:
    """For each answer to the first question a page that it leads to, first choices after it.

    Paths without "not sure" have few outcomes, so that little is left behind in the memory.
    """
    conversation = conversation_of(guide)
    first = conversation.path_questions[0]
    found = []
    for choice in first.choices:
        answers = follow(conversation, Answers({}), first, choice.id)
        while (question := conversation.next_question(answers)) is not None:
            answers = follow(conversation, answers, question, question.choices[0].id)
        found.append(conversation.place(answers)[0])
    return tuple(found)
