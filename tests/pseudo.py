"""A language made by a script: every letter accented, every sentence bracketed and a third longer.

``python -m tests.pseudo FOLDER`` puts it into a content folder, and the shop speaks it.
"""

import sys
from collections.abc import Mapping
from dataclasses import fields
from pathlib import Path
from string import Formatter
from typing import Any

from yaml import safe_dump

from engine.model.guide import Guide
from guide.language import STYLE, TEXTS
from guide.load import load_guide
from guide.yaml_text import values_of

LANGUAGE = "x"
PLAIN = "abcdefghijklmnopqrstuvwxyz"
ACCENTED = "áƀćďéƒǵĥíĵķĺḿńóṕʠŕśťúṽẃẍýź"
LETTERS = str.maketrans(PLAIN + PLAIN.upper(), ACCENTED + ACCENTED.upper())
OPEN, CLOSE = "⟦", "⟧"
LONGER = " ~~~~"


def pseudo(text: str) -> str:
    """A sentence as the language says it; what is filled in stays as it is."""
    if not text:
        return text
    said = "".join(
        literal.translate(LETTERS).replace("{", "{{").replace("}", "}}")
        + ("" if fact is None else f"{{{fact}}}")
        for literal, fact, _, _ in Formatter().parse(text)
    )
    more = LONGER * (len(text) // 3 // len(LONGER) + 1)
    return f"{OPEN}{said}{more[: len(text) // 3]}{CLOSE}"


def named(text: str) -> str:
    """The name of an appliance: what stands before its comma is said alone in a sentence."""
    return ", ".join(pseudo(part) for part in text.split(", "))


SAID_IN_PARTS = {("loads", "name"): named}


def words_of(texts: Any) -> Any:
    """A file of words in this language: of what is listed, all but the ids."""
    if isinstance(texts, str):
        return pseudo(texts)
    if isinstance(texts, Mapping):
        return {key: each if key == "id" else words_of(each) for key, each in texts.items()}
    return [words_of(each) for each in texts]


def texts_of(guide: Guide, kind: str) -> list[dict[str, Any]]:
    """The content's own texts of one kind in this language."""
    text, own = TEXTS[kind]
    if kind == "priorities":
        return [{"id": each.measure, "say": pseudo(each.say)} for each in guide.priorities.list]
    found = []
    for record in getattr(guide, own):
        said: dict[str, Any] = {"id": record.id}
        for name in (each.name for each in fields(text) if each.name not in ("id", "choices")):
            say = SAID_IN_PARTS.get((kind, name), pseudo)
            said[name] = say(getattr(record, name))
        if kind == "questions":
            said["choices"] = {
                each.id: {"label": pseudo(each.label), "hint": pseudo(each.hint)}
                for each in record.choices
            }
        found.append(said)
    return found


def add_pseudo(content: Path) -> None:
    """Add the language to a content folder, and let the shop speak it."""
    guide = load_guide(content)
    folder = content / "words" / LANGUAGE
    folder.mkdir()
    for file in sorted((content / "words" / guide.shop.language).glob("*.yaml")):
        if file.stem == STYLE:
            continue  # of no use in another language
        texts = values_of(file)
        made = _grammar(texts) if file.name == "grammar.yaml" else words_of(texts)
        (folder / file.name).write_text(safe_dump(made, allow_unicode=True), "utf-8")
    for kind in TEXTS:
        (folder / f"{kind}.yaml").write_text(
            safe_dump(texts_of(guide, kind), allow_unicode=True), "utf-8"
        )
    shop = content / "shop.yaml"
    shop.write_text(f"{shop.read_text('utf-8')}\nlanguage: {LANGUAGE}\n", encoding="utf-8")


def _grammar(texts: dict[str, Any]) -> dict[str, Any]:
    """Other signs than those of the first language, so that a number written past it shows."""
    said = {name: pseudo(texts[name]) for name in ("and_last", "or_last")}
    return {**texts, "thousands": "’", "decimal": "٫", "money": "{amount} {sign}", **said}


if __name__ == "__main__":
    add_pseudo(Path(sys.argv[1]))
