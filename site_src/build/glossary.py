"""The words of RV power on the explanatory pages: the first use of each leads to its meaning."""

import html
import re
from html.parser import HTMLParser

from engine.kept import kept
from guide.glossary import Term, read_glossary

PAGE = "explained/glossary.md"
ADDRESS = "glossary.html"
VOID = frozenset({"area", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr"})
LINKS = frozenset({"a", "button", "label", "form", "summary"})
HEADINGS = frozenset({"h1", "h2", "h3", "h4", "h5", "h6", "th"})
PLAIN = LINKS | HEADINGS | {"code", "pre", "figure", "section", "script", "style", "svg"}
"""Elements in which a word stays as it is: links, headings, pictures, forms and live pieces."""
PLAIN_CLASSES = frozenset({"rig-source", "rig-fill", "rig-cases"})
HAS_TIPS = 'class="rig-term"'


@kept("guide", 1)
def terms() -> list[Term]:
    """The words of the glossary, read once a build."""
    return read_glossary()


def names_for(page: str) -> list[str]:
    """Every name of the words about which this explanatory page tells more."""
    return [name for term in terms() if term.page == page for name in term.names]


def with_tips(page: str, about: str) -> str:
    """The content of a page; the first use of each word is a link with a short tip behind it.

    about: what the link inside a tip is called
    """
    writer = _Tips(terms(), about)
    writer.feed(page)
    writer.close()
    return "".join(writer.parts)


def with_script(page: str, root: str) -> str:
    """The page with what opens its tips; root: where the site's root lies, seen from the page."""
    if HAS_TIPS not in page:
        return page
    needs = f'<script defer src="{root}assets/engine/tips.js"></script>'
    return page.replace("</head>", f"{needs}</head>", 1)


def pattern_of(words: list[Term]) -> re.Pattern[str]:
    """Any form of any word, the longest first, in the singular or plural."""
    forms = sorted((form for each in words for form in each.linked), key=len, reverse=True)
    return re.compile(rf"(?<![\w/-])(?:{'|'.join(map(_either_case, forms))})s?(?![\w/]|-\w)")


def _either_case(form: str) -> str:
    """A form that may begin a sentence; abbreviations and names stay as they are."""
    first, rest = form[0], r"\s+".join(map(re.escape, form[1:].split(" ")))
    return f"[{first}{first.upper()}]{rest}" if first.islower() else f"{first}{rest}"


class _Tips(HTMLParser):
    """Copies a page and puts the tips in."""

    def __init__(self, words: list[Term], about: str) -> None:
        super().__init__(convert_charrefs=False)
        self.about = about
        self.pattern = pattern_of(words)
        self.left = {form.lower(): each for each in words for form in each.linked}
        self.told: set[str] = set()
        self.stack: list[tuple[str, bool]] = []
        self.parts: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Copy a tag, and remember what stands in it."""
        self.parts.append(self.get_starttag_text() or "")
        if tag not in VOID:
            classes = set((dict(attrs).get("class") or "").split())
            self.stack.append((tag, tag in PLAIN or bool(classes & PLAIN_CLASSES)))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Copy a tag that holds nothing."""
        del tag, attrs
        self.parts.append(self.get_starttag_text() or "")

    def handle_endtag(self, tag: str) -> None:
        """Copy the end of an element."""
        while self.stack and self.stack.pop()[0] != tag:
            pass
        self.parts.append(f"</{tag}>")

    def handle_data(self, data: str) -> None:
        """Copy text, with the tips of the words that come in it for the first time."""
        plain = any(stays for _, stays in self.stack)
        self.parts.append(data if plain else self.pattern.sub(self._linked, data))

    def handle_entityref(self, name: str) -> None:
        """Copy a sign that is written by its name."""
        self.parts.append(f"&{name};")

    def handle_charref(self, name: str) -> None:
        """Copy a sign that is written by its number."""
        self.parts.append(f"&#{name};")

    def handle_comment(self, data: str) -> None:
        """Copy a comment."""
        self.parts.append(f"<!--{data}-->")

    def _linked(self, found: re.Match[str]) -> str:
        form = " ".join(found[0].lower().split())
        term = self.left.get(form) or self.left[form.removesuffix("s")]
        if term.id in self.told:
            return found[0]
        self.told.add(term.id)
        link = f"{ADDRESS}#{term.id}"
        word, means = html.escape(term.word), html.escape(term.means)
        return (
            f'<a class="rig-term" href="{link}">{found[0]}</a>'
            f'<span class="rig-tip" id="tip-{term.id}" popover hidden data-search-exclude="true">'
            f'<b>{word}</b> {means} <a href="{link}">{html.escape(self.about)}</a></span>'
        )
