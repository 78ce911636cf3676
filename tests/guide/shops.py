"""Guides that several tests share: the demo, a small one that is walked fast, edited copies."""

import shutil
from dataclasses import fields, replace
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from engine.model.guide import Choice, Guide, Question
from engine.model.products import Catalogue
from engine.wording.tongue import speak
from guide.content_folder import CONTENT
from guide.coverage_sweep import sweep
from guide.editions import keep
from guide.load import load_guide
from guide.paths_kept import open_guide

KEPT = {
    "rig": ("van",),
    "scope": ("whole", "some"),
    "heavy": ("0", "1"),
    "biggest": ("aircon-15k", "cooking"),
    "softstart": ("yes", "no"),
    "tools": ("screwdriver", "crimper"),
    "place": ("chicago",),
}
"""Questions and choices of the small guide; details that are no choices stay as they are.

The place is one whose kind of sky is the one that is planned with, the only one that stays.
"""


@cache
def _demo() -> Guide:
    return open_guide()


def demo() -> Guide:
    """The demo's guide, read once a process; from now on its language is spoken."""
    guide = _demo()
    speak(guide.wording.grammar, guide.shop.currency)
    return guide


def demo_again() -> None:
    """Have the demo's guide read again when it is needed next."""
    _demo.cache_clear()


def small(guide: Guide) -> Guide:
    """The same shop with a few questions only, which is walked in a second or two."""
    kept = []
    for question in guide.questions:
        if question.id in KEPT:
            kept.append(_shortened(question))
        elif question.where == "detail" and question.kind != "choice":
            kept.append(question)
        elif question.where == "detail":
            kept.append(replace(question, choices=_taken(guide, question)))
    return replace(guide, questions=tuple(kept))


def lean(guide: Guide) -> Guide:
    """The small guide with a short shelf: what it lists in the demo, and all batteries.

    `coverage` finds out of each article that is never listed why that is, which takes most of its
    time: a test that is about such an article puts it on the shelf.
    """
    shelves: dict[str, Any] = {
        kind.name: tuple(
            each for each in getattr(guide.catalogue, kind.name) if each.id in listed()
        )
        for kind in fields(Catalogue)
    }
    shelves["batteries"] = guide.catalogue.batteries
    return replace(small(guide), catalogue=Catalogue(**shelves))


@cache
def listed() -> frozenset[str]:
    """Ids of the articles that some answer of the small demo lists."""
    found = sweep(small(demo()), ())
    assert [each.error for row in found.tried for each in row if each.error] == []
    return frozenset(found.used())


def _taken(guide: Guide, question: Question) -> tuple[Choice, ...]:
    """The choices that are taken where nobody answers; else the first that means nothing else."""
    usual = _usual(guide, question)
    if usual:
        return tuple(each for each in question.choices if each.id in usual)

    def kept(name: str, text: str) -> bool:
        named = guide.question(name)
        return named.kind != "choice" or text in _usual(guide, named)

    return tuple(
        each
        for each in question.choices
        if all(kept(name, text) for name, text in each.means.items())
    )[:1]


def _usual(guide: Guide, question: Question) -> set[str]:
    taken = {question.default, *(rig.taken.get(question.id) for rig in guide.rigs)}
    return {each.id for each in question.choices if each.id in taken}


def _shortened(question: Question) -> Question:
    choices = tuple(each for each in question.choices if each.id in KEPT[question.id])
    only_with: dict[str, Any] = {
        name: accepted for name, accepted in question.only_with.items() if name in KEPT
    }
    return replace(question, choices=choices, only_with=only_with)


OTHER = Path(__file__).resolve().parent.parent / "other_shop"


def language_of(folder: Path) -> str:
    """The folder of words that a shop names."""
    shop = yaml.safe_load((folder / "shop.yaml").read_text(encoding="utf-8"))
    return str(shop["language"])


def other_shop(folder: Path) -> Path:
    """The content of the second shop: all its own but what speaks of no product.

    That is the wording, and the list of the explanatory pages, of which it shows every one.

    Its words have a folder of their own and are British, so that the list of the house's words does
    not hold for it.
    """
    shutil.copytree(OTHER, folder, dirs_exist_ok=True)
    shutil.copy(CONTENT / "explanations.yaml", folder)
    words, style = folder / "words" / language_of(folder), shutil.ignore_patterns("style.yaml")
    shutil.copytree(CONTENT / "words" / "en", words, ignore=style)
    return folder


DEARER = ("catalogue/inverters.yaml", "price: 1090 CAD", "price: 1990 CAD")


SENT_ON = "2025-11-05"
"""Day on which the edition before was published, two days after that of its prices."""


def dearer_shop(sent: Path, folder: Path) -> Path:
    """The content of the second shop after a price was edited, with the former edition kept."""
    edited(folder, DEARER, content=sent)
    keep(load_guide(sent), folder, SENT_ON)
    return folder


def edited(folder: Path, *edits: tuple[str, str, str], content: Path = CONTENT) -> Path:
    """A copy of a content with texts replaced, each of which must be there."""
    shutil.copytree(content, folder, dirs_exist_ok=True)
    for name, old, new in edits:
        file = folder / name
        text = file.read_text(encoding="utf-8")
        assert old in text, f"{old!r} is not in {name}"
        file.write_text(text.replace(old, new, 1), encoding="utf-8")
    return folder
