"""Trade words in a text: where each stands, and the first on a page as a link to its meaning."""

import re
from collections import defaultdict
from typing import NamedTuple

from markupsafe import Markup, escape

from engine.kept import kept
from engine.model.guide import TradeWord

GLOSSARY = "glossary"
"""The explanatory page that has an entry for each of them, at its id."""
WORD = re.compile(r"(?<![\w/-])\w+")
ENDS = r"s?(?![\w/]|-\w)"

Forms = dict[str, tuple[tuple[re.Pattern[str], str], ...]]
"""By first word in small letters: the forms that begin with it, longest first, and their ids."""


class Found(NamedTuple):
    """A trade word in a text: where it begins and ends, and its id."""

    start: int
    end: int
    id: str


@kept("guide", 4)
def forms_of(words: tuple[TradeWord, ...]) -> Forms:
    """The forms of these words as they are looked for."""
    found: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for each in words:
        for form in each.linked:
            first = re.findall(r"\w+", form.lower())[0]
            for key in {first, f"{first}s"} if first == form.lower() else {first}:
                found[key].append((form, each.id))
    return {
        key: tuple((_pattern(form), id_) for form, id_ in sorted(forms, key=_longest_first))
        for key, forms in found.items()
    }


def _longest_first(form: tuple[str, str]) -> int:
    return -len(form[0])


def _pattern(form: str) -> re.Pattern[str]:
    """A form that may begin a sentence or be plural; abbreviations and names stay as they are."""
    first, rest = form[0], r"\s+".join(map(re.escape, form[1:].split(" ")))
    begins = f"[{first}{first.upper()}]" if first.islower() else re.escape(first)
    return re.compile(begins + rest + ENDS)


@kept("guide", 4096)
def trade_words_in(words: tuple[TradeWord, ...], text: str) -> tuple[Found, ...]:
    """Every trade word in a text, in the order in which they stand there."""
    forms, found, end = forms_of(words), [], 0
    for begun in WORD.finditer(text):
        if begun.start() < end:
            continue
        for pattern, id_ in forms.get(begun[0].lower(), ()):
            if form := pattern.match(text, begun.start()):
                end = form.end()
                found.append(Found(begun.start(), end, id_))
                break
    return tuple(found)


def linked(words: tuple[TradeWord, ...], text: str, told: set[str], glossary: str) -> str:
    """A text, as markup where a trade word that was not told yet is now a link to its meaning.

    told: ids of the words that stand on the page already; those that are linked here are added
    glossary: address of the glossary, seen from the page
    """
    parts, end = [], 0
    for found in trade_words_in(words, text):
        if found.id in told:
            continue
        told.add(found.id)
        word = link(glossary, text[found.start : found.end], found.id)
        parts += [escape(text[end : found.start]), word]
        end = found.end
    return Markup("").join([*parts, escape(text[end:])]) if parts else text


def link(glossary: str, word: str, id_: str) -> Markup:
    """A trade word that leads to its entry."""
    return Markup('<a class="rig-term" href="{}#{}">{}</a>').format(glossary, id_, word)
