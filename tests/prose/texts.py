"""Every text that people read, as Markdown for the linters: content, pages, drawn answers."""

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from engine.links import read_pairs
from engine.model.guide import Guide
from engine.respond import respond
from guide.check_pages import DOCS, prose_of
from guide.content_folder import CONTENT, names_of
from guide.language import STYLE
from guide.yaml_text import values_of
from site_src.build.explained import Filler
from tests.site.reading_grade import SOURCES

TEXT = re.compile(r"[A-Za-z“(][^\n]* [^\n]*")
"""What is prose: more than one word."""
KEYS = {"id", "rule", "source", "means", "only_with", "picture", "as_of"}
"""Keys of content of which the values are no prose."""
MADE_OF_SOURCES = ("sources",)
"""Pages that are drawn from the docstrings of tables."""
STANDS_FOR = "12"
"""What is put in the place of a fact."""
DRAWN = (
    "rig=van",
    "rig=rig-30/scope=whole",
    "rig=coach-50/scope=whole/heavy=1",
    "rig=van/scope=whole/heavy=1/biggest=cooking",
    "rig=van/scope=some/heavy=0",
    "rig=rig-30/scope=whole/heavy=1/biggest=aircon-15k/softstart=no",
    "rig=coach-50/scope=whole/heavy=2/biggest=aircon-13k5/softstart=no/v240=yes",
    "rig=coach-50/scope=whole/heavy=2/biggest=aircon-13k5/softstart=no/v240=no",
    "rig=unsure/plug=unsure/scope=unsure/heavy=unsure",
)
"""Questions and answers that are drawn: every rig, some of each layout, one of the usual case."""
BLOCK = re.compile(
    r"</(?:p|strong|li|h\d|dt|dd|td|th|summary|option|label|button|title|desc)>"
    r"|</a>(?= [A-Z])|<br>"
)
FRONT = re.compile(r"\A---.*?^---\n", re.DOTALL | re.MULTILINE)
HIDDEN = re.compile(
    r"<(script|style|option|text)\b.*?</\1>"
    r"|<span class=\"rig-(?:source|formula|hidden)\">.*?</span>",
    re.DOTALL,
)
"""What is no running text; lines of a drawing, which its description says whole."""
TRADE_WORD = re.compile(r'<a class="rig-term"[^>]*>(.*?)</a>')
"""A word inside a sentence that leads to its meaning."""
SENTENCES = re.compile(r"[^=·×]*[.?!]")
"""Blocks of sentences; not formulas, lists of things and bills of material."""


@dataclass(frozen=True, slots=True)
class Prose:
    """Texts of one file or page: each a paragraph or a whole page of Markdown."""

    name: str
    text: str


def of_content() -> Iterator[Prose]:
    """The texts of each content file, a paragraph each; facts stand as a number."""
    for name in names_of(CONTENT):
        if not name.endswith(f"/{STYLE}.yaml") and name != "coverage.yaml":
            lines = (
                re.sub(r"\{\w+\}", STANDS_FOR, each) for each in _texts(values_of(CONTENT / name))
            )
            yield Prose(name, "\n\n".join(_plain(line) for line in lines) + "\n")


def of_pages(guide: Guide) -> Iterator[Prose]:
    """Each page for readers as it is filled in."""
    filler = Filler(guide)
    for file, name in prose_of():
        if file.stem in MADE_OF_SOURCES:
            continue
        text = file.read_text("utf-8")
        if file.is_relative_to(DOCS):
            text = filler.fill(text, file.relative_to(DOCS).as_posix())
        yield Prose(name, SOURCES.sub("", FRONT.sub("", text)))


def of_drawn(guide: Guide) -> Iterator[Prose]:
    """What is read on drawn pages, a paragraph for each block."""
    for path in DRAWN:
        drawn = respond(guide, read_pairs(guide, path.split("/")), changes=False).html
        read = (_plain(each) for each in blocks(drawn) if SENTENCES.fullmatch(each))
        yield Prose(path, "\n\n".join(read) + "\n")


def blocks(drawn: str) -> list[str]:
    """The texts of a page's HTML, block by block."""
    told = HIDDEN.sub(" ", TRADE_WORD.sub(r"\1", drawn))
    found = (
        " ".join(html.unescape(re.sub(r"<[^>]*>", " ", each)).split()) for each in BLOCK.split(told)
    )
    return [each for each in found if each]


def _texts(values: Any) -> Iterator[str]:
    if isinstance(values, str):
        text = " ".join(values.split())
        if TEXT.fullmatch(text):
            yield text
    elif isinstance(values, dict):
        for key, each in values.items():
            if key not in KEYS:
                yield from _texts(each)
    elif isinstance(values, list):
        for each in values:
            yield from _texts(each)


def _plain(line: str) -> str:
    return line.replace("<", "&lt;").replace("*", "\\*").replace("#", "\\#")
