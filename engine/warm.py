"""Readies the engine before the browser's memory is kept: all that a reply uses is used once."""

import gc
import json
from itertools import product

from engine.browser import reply
from engine.conversation import Key, Signature
from engine.model.answers import UNSURE
from engine.model.guide import Guide
from engine.pages.diagram_symbols import ELEMENTS, symbol
from engine.pages.render import environment
from engine.respond import conversation_of
from engine.tree import states

KEPT_IN_BROWSER = 250  # outcomes of 0.15 MB each; a phone has little memory

TYPED = ("", "cable=25ft&nights=2", "bank=24V&cable=4.5m", "cabel=1&cable=15kg&space=attic")


def recall(guide: Guide, signatures: dict[Key, Signature]) -> None:
    """Take over what the build worked out, so that the first reply need not."""
    conversation = conversation_of(guide)
    conversation.keep = KEPT_IN_BROWSER
    conversation.remember(signatures)


def warm(guide: Guide, signatures: dict[Key, Signature]) -> None:
    """Answer requests of every kind, then let go of what only those needed.

    What stays: modules, compiled templates, units that were read, the shape of the short path.
    """
    recall(guide, signatures)
    for name in ELEMENTS:  # schemdraw's files are not there after a restore
        symbol(name)
    for name in environment().list_templates():
        environment().get_template(name)
    paths = kinds_of_page(guide)
    for path, fragment in product(paths, TYPED):
        request(guide, path, fragment, changes=False)
    request(guide, min(paths, key=len), "", changes=True)
    gc.collect()


def request(guide: Guide, path: str, fragment: str, *, changes: bool) -> None:
    """Answer as for the page, and keep nothing that can be worked out again."""
    asked = {"id": 0, "path": path, "fragment": fragment, "form": None, "changes": changes}
    reply(json.dumps(asked), guide)
    conversation_of(guide).forget_outcomes()


def kinds_of_page(guide: Guide) -> tuple[str, ...]:
    """For each answer to the first question the longest path that it begins, and the longest in
    which nothing is left unsure: only a recommendation has pictures.
    """
    found: dict[tuple[str, bool], str] = {}
    for path in sorted(states(conversation_of(guide)), key=len):
        found[path.partition("/")[0], UNSURE in path] = path
    return tuple(dict.fromkeys(found.values()))
