"""The words of RV power on the explanatory pages: the first use of each leads to its meaning."""

from html.parser import HTMLParser

from markupsafe import Markup

from engine.kept import kept
from engine.model.guide import Guide, TradeWord
from engine.pages.trade_words import GLOSSARY, linked
from guide.glossary import Term, read_glossary
from site_src.build.filled import filled

SCRIPT = "tips.js"
PAGE = "explained/glossary.md"
ADDRESS = "glossary.html"
VOID = frozenset({"area", "br", "col", "hr", "img", "input", "link", "meta", "source", "wbr"})
LINKS = frozenset({"a", "button", "label", "form", "summary"})
HEADINGS = frozenset({"h1", "h2", "h3", "h4", "h5", "h6", "th"})
PLAIN = LINKS | HEADINGS | {"code", "pre", "figure", "section", "script", "style", "svg"}
"""Elements in which a word stays as it is: links, headings, pictures, forms and live pieces."""
PLAIN_CLASSES = frozenset({"rig-source", "rig-fill", "rig-cases"})
HAS_LINKS = 'class="rig-term"'


@kept("guide", 1)
def terms() -> list[Term]:
    """The words of the glossary, read once a build."""
    return read_glossary()


def names_for(page: str) -> list[str]:
    """Every name of the words about which this explanatory page tells more."""
    return [name for term in terms() if term.page == page for name in term.names]


def with_links(page: str) -> str:
    """The content of a page; the first use of each word leads to its entry."""
    writer = _Links(tuple(TradeWord(each.id, each.linked) for each in terms() if each.linked))
    writer.feed(page)
    writer.close()
    return "".join(writer.parts)


def with_script(page: str, root: str) -> str:
    """The page with what opens the meanings; root: where the site's root lies, seen from it."""
    if HAS_LINKS not in page:
        return page
    needs = f'<script defer src="{root}assets/engine/{SCRIPT}"></script>'
    return page.replace("</head>", f"{needs}</head>", 1)


def script(guide: Guide) -> str:
    """What opens the meanings, with the meanings in it: a page in a folder can fetch nothing."""
    about = next((page.title for page in guide.explanations if page.id == GLOSSARY), "")
    told = {"about": about, "words": {each.id: [each.word, each.means] for each in terms()}}
    return filled(SCRIPT, told)


class _Links(HTMLParser):
    """Copies a page and puts the links in."""

    def __init__(self, words: tuple[TradeWord, ...]) -> None:
        super().__init__(convert_charrefs=False)
        self.words = words
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
        """Copy text, with links at the words that come in it for the first time."""
        plain = any(stays for _, stays in self.stack)
        text = Markup(data)  # it is markup already: its signs are copied by themselves
        self.parts.append(data if plain else linked(self.words, text, self.told, ADDRESS))

    def handle_entityref(self, name: str) -> None:
        """Copy a sign that is written by its name."""
        self.parts.append(f"&{name};")

    def handle_charref(self, name: str) -> None:
        """Copy a sign that is written by its number."""
        self.parts.append(f"&#{name};")

    def handle_comment(self, data: str) -> None:
        """Copy a comment."""
        self.parts.append(f"<!--{data}-->")
