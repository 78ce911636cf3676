"""Fills the explanatory pages: figures of the engine, pictures, cautions, links into the guide."""

import html
import math
import re
from functools import lru_cache
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from ruamel.yaml import YAML

from engine.model.answers import UNSURE
from engine.model.guide import Guide, Question
from engine.pages.render import environment as guide_environment
from engine.respond import conversation_of
from engine.tree import states
from guide.load import load_guide
from guide.setup import ROOT
from site_src.build.figures import Figures
from site_src.build.figures_dc import DcFigures
from site_src.build.source_tables import source_tables

PICTURES = ROOT / "site_src" / "pictures"
DOCS = ROOT / "site_src" / "docs"
SEARCHES = ROOT / "site_src" / "search.yaml"

# Names of services, systems and gauges are names; every other number with a unit is a figure.
NAMES = re.compile(
    r"\b(?:(?:15|20|30|50) A|120 V|240 V|120/240 V|12 V|24 V|48 V|12, 24 (?:or|and) 48 V)(?!\w)"
)
UNITS = (
    r"V|A|W|VA|kVA|kW|Wh|kWh|Ah|Ω|mm²?|cm²?|m³/h|m|inch(?:es)?|ft|feet|AWG|BTU|BTU/h|lb|kg"
    r"|°[CF]|degrees?|%|percent|hours?|minutes?|seconds?|CFM|USD"
    r"|in(?! (?:the|an?|part|its|this|each|every|one)\b)"  # inches, not the word
)
FIGURE = re.compile(rf"(?<![\w.-])\d+(?:[.,]\d+)*\s?(?:{UNITS})(?![\w-])|\$\d")
TABLE = re.compile(r"<table>.*?</table>", re.DOTALL)
HEADING = re.compile(r"<th[^>]*>(.*?)</th>", re.DOTALL)
TAG = re.compile(r"<[^>]+>")
SEARCH_DIALOG = 'data-md-component="search" role="dialog" aria-label="Search"'
SHIM = re.compile(r'<script src="[^"]*iframe-worker\.js"></script>')
THEME_SCRIPT = re.compile(r'<script src="[^"]*/bundle\.[^"]*"></script>')
SENTENCE_END = re.compile(r"(?<=[.!?])\s+")
PLACEHOLDER = re.compile(r"\{(\w+)\}")
FILLED_IN = re.compile(r"\{[{%#].*?[}%#]\}", re.DOTALL)


class PageError(Exception):
    """Something on an explanatory page leads nowhere, or a figure was typed by hand."""


def typed_figures(source: str) -> list[str]:
    """Numbers with a unit that stand in a page's source and do not come from the engine."""
    return FIGURE.findall(NAMES.sub("", FILLED_IN.sub("", source)))


@lru_cache(maxsize=1)
def guide() -> Guide:
    """The guide whose figures the pages show, read once a build."""
    return load_guide()


@lru_cache(maxsize=1)
def searches() -> dict[str, list[str]]:
    """What people type who look for a page, by the page's id."""
    found: dict[str, list[str]] = YAML(typ="safe").load(SEARCHES)
    return found


def sought(page: str) -> list[str]:
    """What people type who look for a page of this source; nothing where it explains nothing."""
    room, _, file = page.partition("/")
    return searches().get(file.removesuffix(".md"), []) if room == "explained" else []


def is_left_out(page: str, guide: Guide) -> bool:
    """Whether a page explains something that this shop's explanations.yaml does not list."""
    room, _, file = page.partition("/")
    kept = {"index.md", *(f"{each.id}.md" for each in guide.explanations)}
    return room == "explained" and file not in kept


def navigation_of(nav: Any, guide: Guide) -> Any:
    """The navigation without the pages that are left out, and without sections that are empty."""
    if isinstance(nav, list):
        return [kept for each in nav if (kept := navigation_of(each, guide))]
    if isinstance(nav, dict):
        return {title: kept for title, each in nav.items() if (kept := navigation_of(each, guide))}
    return None if is_left_out(str(nav), guide) else nav


class Filler:
    """What a page may use between its braces, and the text that comes of it."""

    def __init__(self, guide: Guide) -> None:
        self.guide = guide
        self.env = Environment(
            loader=FileSystemLoader(PICTURES),
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            autoescape=False,  # pages are ours, and Markdown follows
        )
        self.paths = frozenset(states(conversation_of(guide)))
        self.env.globals |= {
            "fig": Figures(guide),
            "dc": DcFigures(guide),
            "guide": guide,
            "picture": self.picture,
            "caution": self.caution,
            "wave": wave,
            "source_tables": source_tables,
        }

    def fill(self, source: str, file: str) -> str:
        """The Markdown of a page with everything filled in."""
        if file.startswith(("project/", "owner/")):
            return source
        found = typed_figures(source)
        if found:
            raise PageError(f"{file} types figures that the engine computes: {', '.join(found)}")
        root = "../" * file.count("/")
        return self.env.from_string(source).render(
            go=lambda path, label: self.go(root, path, label),
            link=lambda path, label: self.link(root, path, label),
            choices=lambda question_id: self.choices(root, question_id),
            explanations=lambda: self.explanations(root),
        )

    def picture(self, name: str, caption: str, **values: object) -> str:
        """A picture of the project's own, its numbers filled in like those of a page."""
        source = (PICTURES / f"{name}.html").read_text(encoding="utf-8")
        found = typed_figures(source)
        if found:
            raise PageError(f"{name}.html types figures: {', '.join(found)}")
        drawn = self.env.from_string(source).render(**values)
        lines = "\n".join(line for line in drawn.splitlines() if line.strip())
        return (
            f'<figure class="rig-figure">\n<div class="rig-panels">\n{lines}\n</div>\n'
            f"<figcaption>{html.escape(caption)}</figcaption>\n</figure>"
        )

    def caution(self, caution_id: str, **facts: object) -> str:
        """A caution of the guide; sentences whose facts only an answer has are left out."""
        caution = next(each for each in self.guide.cautions if each.id == caution_id)
        sentences = [
            sentence.format(**facts)
            for sentence in SENTENCE_END.split(caution.text)
            if set(PLACEHOLDER.findall(sentence)) <= set(facts)
        ]
        note = {"caution": caution, "text": " ".join(sentences)}
        template = guide_environment().get_template("parts.html")
        module: Any = template.make_module()
        drawn = str(module.cautions({"page": self.guide.wording.page}, [note]))
        return "\n".join(line for line in drawn.splitlines() if line.strip())

    def address(self, root: str, path: str) -> str:
        """Where a state of the guide lies, seen from a page."""
        if path not in self.paths:
            raise PageError(f"the guide has no page {path!r}")
        return f"{root}guide/{path}index.html"

    def go(self, root: str, path: str, label: str) -> str:
        """A large link into the guide."""
        return f'<a class="rig-go" href="{self.address(root, path)}">{html.escape(label)}</a>'

    def link(self, root: str, path: str, label: str) -> str:
        """A link into the guide inside a sentence."""
        return f'<a href="{self.address(root, path)}">{html.escape(label)}</a>'

    def choices(self, root: str, question_id: str) -> str:
        """The choices of the guide's first question as cards."""
        question: Question = self.guide.question(question_id)
        cards = [
            (choice.id, choice.label, choice.hint, choice.picture) for choice in question.choices
        ]
        cards.append((UNSURE, self.guide.wording.page["not-sure"], "", UNSURE))
        rows = [
            f'<li><a class="rig-choice{" rig-choice-unsure" * (id_ == UNSURE)}"'
            f' href="{self.address(root, f"{question_id}={id_}/")}"><img class="rig-picture"'
            f' src="{root}assets/pictures/{picture}.svg" alt="" width="96" height="96">'
            f'<span class="rig-words"><span class="rig-label">{html.escape(label)}</span>'
            f'<span class="rig-hint">{html.escape(hint)}</span></span></a></li>'
            for id_, label, hint, picture in cards
        ]
        return "\n".join(['<ul class="rig-choices">', *rows, "</ul>"])

    def explanations(self, root: str) -> str:
        """Every explanatory page with its title, in the order of the content."""
        for page in self.guide.explanations:
            if not (DOCS / "explained" / f"{page.id}.md").is_file():
                raise PageError(
                    f"explanations.yaml names “{page.id}”; explained/{page.id}.md is missing"
                )
        rows = [
            f'<li><a href="{root}explained/{page.id}.html">{html.escape(page.title)}</a></li>'
            for page in self.guide.explanations
        ]
        return "\n".join(['<ul class="rig-pages">', *rows, "</ul>"])


def scrolling_tables(page: str) -> str:
    """Put each table of a page into a region that can be scrolled, named by its headings."""

    def wrap(found: re.Match[str]) -> str:
        heads = [TAG.sub("", head).strip() for head in HEADING.findall(found[0])]
        name = html.escape(html.unescape(", ".join(filter(None, heads))))
        table = found[0].replace("<table>", '<table class="rig-grid">', 1)
        return (
            f'<div class="rig-scroll" tabindex="0" role="group" aria-label="{name}">{table}</div>'
        )

    return TABLE.sub(wrap, page)


def late_shim(page: str) -> str:
    """The page with the search's shim beside the theme's script, where it holds up no painting.

    It is for pages opened from a folder; the theme puts it into the head. ValueError where either
    script is missing.
    """
    shim, script = SHIM.search(page), THEME_SCRIPT.search(page)
    if shim is None or script is None:
        raise ValueError("a page of the theme has lost its script or the shim of the search")
    early, between, rest = page[: shim.start()], page[shim.end() : script.start()], script.start()
    return f"{early}{between}{shim[0]}{page[rest:]}"


def named_search(page: str) -> str:
    """The page with a name on its search dialog, which the theme leaves out."""
    return page.replace('data-md-component="search" role="dialog"', SEARCH_DIALOG)


def wave(x: float, y: float, width: float, height: float, turns: float, shift: float) -> str:
    """Path of a sine wave; the shift is in turns."""
    points = 48
    steps = [
        (
            x + width * place / points,
            y - height * math.sin(2 * math.pi * (turns * place / points + shift)),
        )
        for place in range(points + 1)
    ]
    return "M" + "L".join(f"{across:.1f} {up:.1f}" for across, up in steps)


@lru_cache(maxsize=1)
def filler() -> Filler:
    """The filler of this build."""
    return Filler(guide())
