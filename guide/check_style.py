"""Words that the guide does not use: where they stand, what to write, and why.

Each language may have a list of them, `words/<language>/style.yaml`. Content, catalog and words are
read as their authors typed them, so that every fault has its line; ids, keys and comments are not
read. Of Markdown pages neither code, links nor what is filled in.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path

from engine.kept import kept
from guide.check_pages import prose_of
from guide.content_file import read_text
from guide.content_read import ContentRead
from guide.fault import Fault
from guide.language import STYLE, WORDS, Unwanted

_OF_YAML = re.compile(
    r"^\s*#.*$|\s#\s.*$"
    r"|^[ -]*(?:(?:id|rule|measure|caution|layout): *[\w-]+ *$|[\w.-]+:(?=\s))"
    r"|\bid: [\w-]+|[\w-]+:(?= [\w\"])|\[[a-z\d, -]+\]",
    re.MULTILINE,
)
"""Comments, keys, and values that are ids."""
_OF_MARKDOWN = re.compile(
    r"^```.*?^```|`[^`\n]*`|\{[{%#].*?[}%#]\}|<[^<>]*>|\]\([^)\n]*\)|\{[#.:][^}\n]*\}|https?://\S+",
    re.MULTILINE | re.DOTALL,
)
"""Code, what is filled in, tags, targets of links, attributes."""
_BEFORE, _AFTER = r"(?<![\w{-])", r"(?!\w)"


def unsound(content: ContentRead) -> Iterator[Fault]:
    """Entries of a list of words that could match nothing, or that are no expressions."""
    for language in content.languages.values():
        for record in language.style:
            word = record.value
            if word is None:
                continue
            if not word.words and not word.pattern:
                why, mend = "it names no words", "Write words: [...] or pattern: ...."
                yield record.fault((), f"“{record.id}”", why, mend)
            fields = [("pattern", word.pattern), *(("unless", each) for each in word.unless)]
            for name, pattern in fields:
                if fault := _unsound(pattern):
                    mend = "Mend the expression; a group is written (?:…)."
                    yield record.fault((name,), f"“{record.id}”, {name}", fault, mend)


def _unsound(pattern: str) -> str:
    try:
        groups = re.compile(pattern).groups
    except re.error as error:
        return f"it is no expression ({error})"
    return "it has a group that is kept" if groups else ""


def style_faults(folder: Path, styles: Mapping[str, tuple[Unwanted, ...]], own: str) -> list[Fault]:
    """Every unwanted word of the content in this folder and of the pages.

    styles: each language's list; own: the language in which the content outside of words is written
    """
    found: list[Fault] = []
    for path in sorted(folder.rglob("*.yaml")):
        name = path.relative_to(folder).as_posix()
        language = name.split("/")[1] if name.startswith(f"{WORDS}/") else own
        text = read_text(path, name)
        if name.endswith(f"/{STYLE}.yaml") or isinstance(text, Fault):
            continue
        found += _faults(name, _OF_YAML.sub(_blanked, text), styles.get(language, ()))
    for path, name in prose_of():
        found += faults_of_page(name, path.read_text(encoding="utf-8"), styles.get("en", ()))
    return found


def faults_of_page(name: str, text: str, style: tuple[Unwanted, ...]) -> list[Fault]:
    """Every unwanted word of a page in Markdown."""
    return list(_faults(name, _OF_MARKDOWN.sub(_blanked, text), style))


def unwanted_in(text: str, style: tuple[Unwanted, ...]) -> Iterator[tuple[Unwanted, int, str]]:
    """Each unwanted word of a text, with where it begins and as it stands there."""
    if not style:
        return
    small = text.lower()
    for found in _expression(style, _met(style, small)).finditer(small):
        if found.lastgroup and found.lastgroup[0] in "wp":
            yield (
                style[int(found.lastgroup[1:].partition("_")[0])],
                found.start(),
                text[found.start() : found.end()],
            )


def _faults(name: str, text: str, style: tuple[Unwanted, ...]) -> Iterator[Fault]:
    for word, at, said in unwanted_in(text, style):
        line, column = text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at)
        what = f"“{' '.join(said.split())}”"
        yield Fault(name, line, column, what, word.why, f"Write: {word.say}.")


def _met(style: tuple[Unwanted, ...], text: str) -> tuple[int, ...]:
    """Places of those with a pattern that stands somewhere in a text, as few do."""
    return tuple(at for at, pattern in _patterns(style).items() if pattern.search(text))


@kept("never", 8)
def _patterns(style: tuple[Unwanted, ...]) -> dict[int, re.Pattern[str]]:
    return {at: _compiled(each.pattern) for at, each in enumerate(style) if each.pattern}


def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(pattern.replace(" ", r"\s+"))


@kept("never", 64)
def _expression(style: tuple[Unwanted, ...], met: tuple[int, ...]) -> re.Pattern[str]:
    """All in one expression: what is right all the same first, then what is unwanted.

    met: those whose patterns are looked for, which are tried at every place

    What begins a word stands behind one look at what is before it: nine of ten places have nothing
    else to be looked at. Of the words those are tried that begin with the letter that is there.
    """
    right = [pattern for each in style for pattern in each.unless]
    by_letter: dict[str, list[str]] = {}
    for at, each in enumerate(style):
        for letter, rests in _spelled(each.words).items():
            named = f"(?P<w{at}_{ord(letter)}>"
            by_letter.setdefault(letter, []).append(f"{named}(?:{'|'.join(rests)}){_AFTER})")
    words = [f"{re.escape(letter)}(?:{'|'.join(each)})" for letter, each in by_letter.items()]
    patterns = [f"(?P<p{at}>{style[at].pattern})" for at in met]
    begun = [f"{_BEFORE}(?:{'|'.join((*right, *words))})"] if right or words else []
    return _compiled("|".join([*begun, *patterns]))


def _spelled(words: Iterable[str]) -> dict[str, list[str]]:
    """What is left of words and groups of words after their first letter, by that."""
    found: dict[str, list[str]] = {}
    for each in sorted(words, key=len, reverse=True):
        first, *rest = each.lower().split()
        spelled = " ".join(re.escape(part) for part in (first[1:], *rest))
        found.setdefault(first[0], []).append(spelled)
    return found


def _blanked(found: re.Match[str]) -> str:
    return re.sub(r"[^\n]", "\0", found[0])  # no white space: words do not meet across it
