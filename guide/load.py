"""The content folder -> one validated edition of the guide, and that edition as Python text."""

from collections.abc import Iterable
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any, TypeVar, get_args, get_type_hints

from engine.kept import kept
from engine.model.edition import PastEdition
from engine.model.guide import (
    Appliance,
    Caution,
    CheckWords,
    Explanation,
    Guide,
    LayoutWords,
    Planning,
    Priorities,
    Question,
    Rig,
    SheetLine,
    Shop,
    TradeWord,
    Wording,
)
from engine.model.products import Catalogue
from engine.wording.tongue import Grammar, speak
from guide.check import faults_of
from guide.check_brand import brand_faults
from guide.check_questions import unread_answers, unread_tries
from guide.content_file import fault_of_name, read_text
from guide.content_folder import CONTENT, edition_of, names_of
from guide.content_read import ContentRead
from guide.coverage_file import CoverageFile
from guide.editions import EDITIONS, read_edition
from guide.fault import ContentError, Fault, suggest
from guide.formulas import formulas_of_sizing
from guide.glossary import read_glossary
from guide.language import (
    LISTS,
    ROOMS,
    STYLE,
    TEXTS,
    WORDS,
    Language,
    Unwanted,
    sentences_of,
    spoken,
    with_plural,
)
from guide.reading import CURRENCIES, Message, Record, compose, read_record, read_records
from guide.yaml_text import MappingNode, Node

T = TypeVar("T")

KINDS: dict[str, tuple[Any, bool]] = {
    "shop.yaml": (Shop, False),
    "rigs.yaml": (Rig, True),
    "loads.yaml": (Appliance, True),
    "planning.yaml": (Planning, False),
    "priorities.yaml": (Priorities, False),
    "explanations.yaml": (Explanation, True),
    "sheets.yaml": (SheetLine, True),
    "coverage.yaml": (CoverageFile, False),
}
"""What each single file holds, and whether as a list."""
KINDS_OF_WORDS: dict[str, tuple[Any, bool]] = {
    **{kind: (listed, True) for kind, listed in LISTS.items()},
    **dict.fromkeys(ROOMS, (dict[str, Message], False)),
    "grammar": (Grammar, False),
}
"""What each file holds that every language has."""
FIRST_LANGUAGE = "en"
GLOSSARY_PAGE = "glossary"

QUESTION_FILES = ("short-path", "answer-page", "details")
CATALOGUE_FILES = {
    each.name: f"catalogue/{each.name.replace('_', '-')}.yaml" for each in fields(Catalogue)
}
FILES = frozenset(
    {*KINDS, *(f"questions/{name}.yaml" for name in QUESTION_FILES), *CATALOGUE_FILES.values()}
)
"""Every file that the content must have; any number of cautions/*.yaml come besides."""


def load_guide(folder: Path = CONTENT) -> Guide:
    """Read, validate and check all content.

    Raises
    ------
    ContentError : with every fault of every file, each with its place and its mend.
    """
    return load_content(folder).guide


@dataclass(frozen=True, slots=True)
class Content:
    """Everything in the content folder: the guide, and what `coverage` and `check` are told.

    styles: the unwanted words of each language
    """

    guide: Guide
    coverage: CoverageFile
    styles: dict[str, tuple[Unwanted, ...]]


def load_content(folder: Path = CONTENT) -> Content:
    """The guide with what the authoring tools need besides; raises as load_guide does."""
    files = _Files(folder)
    content = files.content()
    kept = files.editions()
    # what a file that cannot be read would hold, others would miss: it is told alone
    faults = files.faults
    if not files.shut:
        faults += faults_of(content) + brand_faults(content.shop, folder)
    if faults:
        raise ContentError(faults)
    edition = edition_of(folder)
    guide = _guide(edition, content, tuple(each for each in kept if each.id != edition))
    unread = unread_answers(guide, content) + unread_tries(guide, content)
    if unread:
        raise ContentError(unread)
    speak(guide.wording.grammar, guide.shop.currency)
    styles = {name: _all_built(each.style) for name, each in content.languages.items()}
    return Content(guide, _built(content.coverage), styles)


def _guide(edition: str, content: ContentRead, kept: tuple[PastEdition, ...]) -> Guide:
    language = content.languages[_built(content.shop).language]
    return spoken(_written(edition, content, language, kept), language.texts)


def _written(
    edition: str, content: ContentRead, language: Language, kept: tuple[PastEdition, ...]
) -> Guide:
    """The guide in the words of this language, its content's own texts as they are written."""
    shelves = {kind: _all_built(records) for kind, records in content.catalogue.items()}
    return Guide(
        edition=edition,
        shop=_built(content.shop),
        questions=_all_built(content.questions),
        rigs=_all_built(content.rigs),
        appliances=_all_built(content.appliances),
        planning=_built(content.planning),
        priorities=_built(content.priorities),
        catalogue=Catalogue(
            **{kind: tuple(each for each in shelf if each.sold) for kind, shelf in shelves.items()}
        ),
        discontinued=tuple(each for shelf in shelves.values() for each in shelf if not each.sold),
        editions=kept,
        cautions=_all_built(content.cautions),
        sheets=_all_built(content.sheets),
        explanations=_all_built(content.explanations),
        wording=Wording(
            layouts=_all_built(language.layouts),
            checks=_all_built(language.checks),
            grammar=with_plural(_built(language.grammar)),
            **{room: sentences_of(_built(language.rooms[room])) for room in ROOMS},
        ),
        formulas=formulas_of_sizing(),
        trade_words=_trade_words(language, _all_built(content.explanations)),
    )


def _trade_words(language: Language, pages: tuple[Explanation, ...]) -> tuple[TradeWord, ...]:
    """The words that lead to the glossary, which is written in one language."""
    if language.name != FIRST_LANGUAGE or GLOSSARY_PAGE not in {page.id for page in pages}:
        return ()
    return tuple(TradeWord(each.id, each.linked) for each in read_glossary() if each.linked)


def as_module(guide: Guide) -> str:
    """Python source that holds this edition as GUIDE, for where neither YAML nor pydantic is."""
    return (
        '"""One edition of the guide, written by guide.load; do not edit."""\n\n'
        "from engine.model.brand import *\n"
        "from engine.model.edition import *\n"
        "from engine.model.guide import *\n"
        "from engine.model.products import *\n"
        "from engine.wording.sentences import *\n"
        "from engine.wording.tongue import *\n\n"
        f"GUIDE = {guide!r}\n"
    )


def _currency_of(shop: Node) -> str:
    """The currency that the shop names, by which its own prices are read, too; "" for none."""
    pairs = shop.value if isinstance(shop, MappingNode) else []
    named = next((str(value.value) for key, value in pairs if key.value == "currency"), "")
    return named if named in CURRENCIES else ""  # told once, of the shop


def _built(record: Record[T]) -> T:
    if record.value is None:
        raise AssertionError(f"{record.file} was broken without a fault")
    return record.value


def _all_built(records: list[Record[T]]) -> tuple[T, ...]:
    return tuple(_built(record) for record in records)


@kept("never", None)
def _product_kinds() -> dict[str, type[Any]]:
    return {name: get_args(hint)[0] for name, hint in get_type_hints(Catalogue).items()}


def kind_of_file(name: str) -> tuple[Any, bool] | None:
    """What a content file holds, and whether as a list; None for a file that is not known."""
    if name.startswith("cautions/"):
        return Caution, True
    if name.startswith("questions/"):
        return Question, True
    catalogue = {file: kind for kind, file in CATALOGUE_FILES.items()}
    if name in catalogue:
        return _product_kinds()[catalogue[name]], True
    return kind_of_words(name) or KINDS.get(name)


def kind_of_words(name: str) -> tuple[Any, bool] | None:
    """What a file of words holds, in the folder of any language."""
    folder, _, file = name.rpartition("/")
    kind = file.removesuffix(".yaml")
    if not folder.startswith(f"{WORDS}/"):
        return None
    if kind in TEXTS:
        return TEXTS[kind][0], True
    if kind == STYLE:
        return Unwanted, True
    return KINDS_OF_WORDS.get(kind)


def languages_in(names: Iterable[str]) -> set[str]:
    """The languages that have a file of words among these."""
    return {name.split("/")[1] for name in names if kind_of_words(name)}


class _Files:
    """The files of one folder, read once each; faults are collected, not raised.

    shut: whether one that is needed is missing or cannot be read at all
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.names = frozenset(names_of(folder))
        self.faults = [fault for name in sorted(self.names) if (fault := fault_of_name(name))]
        self.currency = "USD"
        self.shut = False

    def content(self) -> ContentRead:
        names = self.names
        cautions = sorted(name for name in names if name.startswith("cautions/"))
        wanted = FILES | {
            f"{WORDS}/{language}/{kind}.yaml"
            for language in languages_in(names) or {FIRST_LANGUAGE}
            for kind in KINDS_OF_WORDS
        }
        for name in sorted(wanted - names):
            self.faults.append(Fault(name, 1, 1, "the file", "it is missing", f"Write {name}."))
        may = {name for name in names if kind_of_words(name)}
        for name in sorted(names - wanted - may - set(cautions)):
            self.faults.append(
                Fault(
                    name, 1, 1, "the file is not known", "it is read nowhere", suggest(name, wanted)
                )
            )
        return ContentRead(
            shop=self.one("shop.yaml", Shop),
            questions=[
                record
                for name in QUESTION_FILES
                for record in self.list_of(f"questions/{name}.yaml", Question)
            ],
            rigs=self.list_of("rigs.yaml", Rig, may_be_empty=False),
            appliances=self.list_of("loads.yaml", Appliance),
            planning=self.one("planning.yaml", Planning),
            priorities=self.one("priorities.yaml", Priorities),
            catalogue={
                kind: self.list_of(name, _product_kinds()[kind])
                for kind, name in CATALOGUE_FILES.items()
            },
            cautions=[record for name in cautions for record in self.list_of(name, Caution)],
            sheets=self.list_of("sheets.yaml", SheetLine),
            explanations=self.list_of("explanations.yaml", Explanation),
            languages=self.languages(names),
            coverage=self.one("coverage.yaml", CoverageFile),
        )

    def languages(self, names: Iterable[str]) -> dict[str, Language]:
        """The words of every language that has a folder."""
        return {
            language: Language(
                name=language,
                layouts=self.list_of(f"{WORDS}/{language}/layouts.yaml", LayoutWords),
                checks=self.list_of(f"{WORDS}/{language}/checks.yaml", CheckWords),
                grammar=self.one(f"{WORDS}/{language}/grammar.yaml", Grammar),
                rooms={
                    room: self.one(f"{WORDS}/{language}/{room}.yaml", dict[str, Message])
                    for room in ROOMS
                },
                texts={
                    kind: self.list_of(name, text)
                    for kind, (text, _) in TEXTS.items()
                    if (name := f"{WORDS}/{language}/{kind}.yaml") in names
                },
                style=self.list_of(name, Unwanted)
                if (name := f"{WORDS}/{language}/{STYLE}.yaml") in names
                else [],
            )
            for language in sorted(languages_in(names))
        }

    def editions(self) -> tuple[PastEdition, ...]:
        """Older editions, the newest first."""
        found = []
        for path in sorted((self.folder / EDITIONS).glob("*.json"), reverse=True):
            kept = read_edition(path)
            if isinstance(kept, Fault):
                self.faults.append(kept)
            else:
                found.append(kept)
        return tuple(found)

    def one(self, name: str, kind: type[T]) -> Record[T]:
        node = self.node(name)
        if node is None:
            return Record(name, None, "", {})
        if kind is Shop:
            self.currency = _currency_of(node)
        return read_record(name, node, kind, self.faults, self.currency)

    def list_of(self, name: str, kind: type[T], *, may_be_empty: bool = True) -> list[Record[T]]:
        node = self.node(name)
        if node is None:
            return []
        if node.value == [] and not may_be_empty:
            mend = 'Begin each entry with "- id: …".'
            self.faults.append(Fault(name, 1, 1, "the file", "it lists nothing", mend))
        return read_records(name, node, kind, self.faults, self.currency)

    def node(self, name: str) -> Node | None:
        if name not in self.names:
            self.shut = True
            return None  # told already
        text = read_text(self.folder / name, name)
        found = text if isinstance(text, Fault) else compose(name, text)
        if isinstance(found, Fault):
            self.faults.append(found)
            self.shut = True
            return None
        return found
