"""Fills the explanatory pages: figures of the engine, pictures, cautions, links into the guide."""

import html
import math
import re
import traceback
from pathlib import PurePosixPath
from types import SimpleNamespace
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, TemplateError

from engine.kept import kept
from engine.links import read_link
from engine.model.guide import Guide
from engine.model.result import CautionNote
from engine.pages.pieces.pieces import piece_html
from engine.pages.render import environment as guide_environment
from engine.respond import conversation_of
from guide.check_pages import DOCS, PICTURES, typed_figures
from guide.fault import Fault
from guide.paths_kept import open_guide
from guide.setup import ROOT
from guide.yaml_text import values_of
from site_src.build.agreement import agreement, by_hand
from site_src.build.doubts import doubts
from site_src.build.examples import Examples, LackingError
from site_src.build.figures import Figures
from site_src.build.figures_dc import DcFigures
from site_src.build.figures_wiring import WiringFigures
from site_src.build.footing import footings
from site_src.build.glossary import PAGE, names_for, terms, with_links
from site_src.build.safety import safety_statements
from site_src.build.source_tables import origins, source_tables

SEARCHES = ROOT / "site_src" / "search.yaml"
TABLE = re.compile(r"<table>.*?</table>", re.DOTALL)
HEADING = re.compile(r"<th[^>]*>(.*?)</th>", re.DOTALL)
TAG = re.compile(r"<[^>]+>")
SENTENCE_END = re.compile(r"(?<=[.!?])\s+")
PAGE_LINK = re.compile(r"\[([^\]]+)\]\(([a-z0-9-]+)\.md\)")
HAS_PIECE = "data-rig-piece="
MANIFEST = "@@rig-manifest@@"
PLACEHOLDER = re.compile(r"\{(\w+)\}")
FILLED_IN = re.compile(r"\{[{%]\s*(?:set |for )?(.*?)\s*[}%]\}")
MEND = "Ask for it by what it is ({{ pick.… }}), or take the page out of explanations.yaml."


LEADS_NOWHERE = (LookupError, StopIteration, TypeError, ValueError, TemplateError)
"""What a page raises that asks for something that is not there."""


class PageError(Exception):
    """Something on an explanatory page leads nowhere, or a figure was typed by hand.

    fault: the same with its place and its mend
    """

    def __init__(self, told: str, fault: Fault | None = None) -> None:
        super().__init__(told)
        self.fault = fault


@kept("guide", 1)
def guide() -> Guide:
    """The guide whose figures the pages show, read once a build."""
    return open_guide()


@kept("guide", 1)
def searches() -> dict[str, list[str]]:
    """What people type who look for a page, by the page's id."""
    read: dict[str, list[str | dict[str, str]]] = values_of(SEARCHES)
    return {
        page: [text for each in listed for text in _texts(each)] for page, listed in read.items()
    }


def _texts(listed: str | dict[str, str]) -> list[str]:
    """What is listed, all names of the load there, or those of the choices of the question there.

    None where this shop's loads or questions lack it.
    """
    if isinstance(listed, str):
        return [listed]
    if "choice" in listed:
        questions = [each for each in guide().questions if each.id == listed["choice"]]
        return [name for each in questions for choice in each.choices for name in choice.also]
    return [
        name
        for each in guide().appliances
        if each.id == listed["load"]
        for name in (each.name, *each.also)
    ]


def sought(page: str) -> list[str]:
    """What people type who look for a page of this source; nothing where it explains nothing."""
    room, _, file = page.partition("/")
    name = file.removesuffix(".md")
    found = [*searches().get(name, []), *names_for(name)]
    return list(dict.fromkeys(found)) if room == "explained" else []


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
    """What a page may use between its braces, and the text that comes of it.

    walked: links are those of the tree's pages, see `Examples`; a check needs no more than answers
    """

    def __init__(self, guide: Guide, *, walked: bool = True) -> None:
        self.guide = guide
        self.walked = walked
        self.env = Environment(
            loader=FileSystemLoader(PICTURES),
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            autoescape=False,  # pages are ours, and Markdown follows
        )
        self.shown = frozenset(page.id for page in guide.explanations)
        self.env.globals |= {
            "fig": Figures(guide),
            "dc": DcFigures(guide),
            "wire": WiringFigures(guide),
            "pick": Examples(guide, walked=walked),
            "invented": guide.wording.page["invented"] if guide.shop.invented else "",
            "guide": guide,
            "picture": self.picture,
            "caution": self.caution,
            "piece": self.piece,
            "wave": wave,
            "source_tables": source_tables,
            "agreement": agreement,
            "by_hand": by_hand,
            "doubts": lambda: doubts(guide),
            "footings": lambda: footings(guide),
            "origins": origins,
            "terms": terms,
            "shown": self.shown,
            "title_of": lambda name: guide.explanation(name).title,
            "safety_statements": safety_statements,
        }

    def fill(self, source: str, file: str) -> str:
        """The Markdown of a page with everything filled in."""
        if file.startswith(("project/", "owner/")):
            return source
        _refuse_typed(source, file)
        try:
            filled = self._rendered(source, "../" * file.count("/"))
        except (*LEADS_NOWHERE, LackingError, PageError) as error:
            raise _page_error(source, file, error) from error
        return PAGE_LINK.sub(self._kept_link, filled)

    def _rendered(self, source: str, root: str) -> str:
        return self.env.from_string(source).render(
            go=lambda path, label, details="": self.go(root, path, label, details),
            link=lambda path, label, details="": self.link(root, path, label, details),
            doors=lambda *doors: self.doors(root, doors),
            explanations=lambda *wanted: self.explanations(root, wanted),
            read_next=self.read_next,
        )

    def _kept_link(self, found: re.Match[str]) -> str:
        """A link between pages; its words alone where this shop does not show the other page."""
        return found[0] if found[2] in self.shown else found[1]

    def read_next(self, *names: str) -> str:
        """A line of links to other pages, as far as this shop shows them."""
        titles = {page.id: page.title for page in self.guide.explanations}
        links = [f"[{titles[name]}]({name}.md)" for name in names if name in titles]
        words = self.guide.wording.page["read-more"]
        return f"**{words}:** {' · '.join(links)}" if links else ""

    def told(self, page: str, file: str) -> str:
        """The content of a page; the first use of each trade word leads to its meaning."""
        name = PurePosixPath(PAGE).stem
        if not file.startswith("explained/") or file == PAGE or name not in self.shown:
            return page
        return with_links(page)

    def picture(self, name: str, caption: str, **values: object) -> str:
        """A picture of the project's own, its numbers filled in like those of a page."""
        source = (PICTURES / f"{name}.html").read_text(encoding="utf-8")
        _refuse_typed(source, f"{name}.html")
        drawn = self.env.from_string(source).render(**values)
        lines = "\n".join(line for line in drawn.splitlines() if line.strip())
        return (
            f'<figure class="rig-figure">\n<div class="rig-panels">\n{lines}\n</div>\n'
            f"<figcaption>{html.escape(caption)}</figcaption>\n</figure>"
        )

    def caution(self, caution_id: str, example: str = "", **facts: object) -> str:
        """A caution of the guide; sentences whose facts only an answer has are left out.

        example: whose figures these are; without it a page would speak of nobody's rig
        """
        if facts and not example:
            raise PageError(f"the caution “{caution_id}” has figures and names no example")
        caution = next((each for each in self.guide.cautions if each.id == caution_id), None)
        if caution is None:
            return ""  # a shop that has no such warning shows the page without it

        def filled(text: str) -> str:
            sentences = []
            for sentence in SENTENCE_END.split(text):
                filled_in = set(PLACEHOLDER.findall(sentence))
                if filled_in and filled_in <= set(facts):
                    sentences.append(f"Example, {example}: {sentence.format(**facts)}")
                elif not filled_in:
                    sentences.append(sentence)
            return " ".join(sentences)

        note = CautionNote(caution, filled(caution.text), filled(caution.do))
        template = guide_environment().get_template("parts.html")
        module: Any = template.make_module()
        drawn = str(
            module.cautions(SimpleNamespace(page=self.guide.wording.page, linked=str), [note])
        )
        return "\n".join(line for line in drawn.splitlines() if line.strip())

    def piece(self, name: str, **typed: str) -> str:
        """A live piece with these first values in its fields."""
        drawn = piece_html(self.guide, name, typed)
        if "rig-piece-fault" in drawn:
            raise PageError(f"the piece “{name}” cannot work with {typed}")
        lines = "\n".join(line for line in drawn.splitlines() if line.strip())
        return (
            f'<section class="rig-piece" data-rig-piece="{name}" data-engine="{MANIFEST}" '
            f'aria-labelledby="rig-piece-title">\n{lines}\n</section>'
        )

    def address(self, root: str, path: str, details: str = "") -> str:
        """Where a state of the guide lies, seen from a page; details as "cable=15ft&bank=24V"."""
        here = read_link(self.guide, path)
        if self.walked and conversation_of(self.guide).place(here)[0] != path:
            raise PageError(f"the guide has no page {path!r}")
        if faults := read_link(self.guide, path, details).faults:
            raise PageError(f"{path}#{details}: {faults[0].message}")
        return f"{root}guide/{path}index.html{'#' if details else ''}{html.escape(details)}"

    def go(self, root: str, path: str | None, label: str, details: str = "") -> str:
        """A large link into the guide; nothing where this shop has lacks the rig or the detail."""
        if path is None or not self._has(details):
            return ""
        address = self.address(root, path, details)
        return f'<a class="rig-go" href="{address}">{html.escape(label)}</a>'

    def link(self, root: str, path: str | None, label: str, details: str = "") -> str:
        """A link into the guide inside a sentence; its words alone where it would lead nowhere."""
        if path is None or not self._has(details):
            return html.escape(label)
        return f'<a href="{self.address(root, path, details)}">{html.escape(label)}</a>'

    def _has(self, details: str) -> bool:
        """Whether this shop has the choices and the loads that these details name."""
        kinds = {each.id: each.kind for each in self.guide.questions}
        faults = read_link(self.guide, "", details).faults
        return not any(kinds.get(fault.question) in ("choice", "loads") for fault in faults)

    def doors(self, root: str, doors: tuple[tuple[str, str, str, str], ...]) -> str:
        """Ways into the site as cards: address, label, hint and picture of each.

        Without those that lead to an explanatory page that this shop does not show.
        """
        rows = [
            f'<li><a class="rig-choice" href="{root}{address}"><img class="rig-picture"'
            f' src="{root}assets/pictures/{picture}.svg" alt="" width="96" height="96">'
            f'<span class="rig-words"><span class="rig-label">{html.escape(label)}</span>'
            f'<span class="rig-hint">{html.escape(hint)}</span></span></a></li>'
            for address, label, hint, picture in doors
            if not is_left_out(address.replace(".html", ".md"), self.guide)
        ]
        return "\n".join(['<ul class="rig-choices rig-doors">', *rows, "</ul>"])

    def explanations(self, root: str, wanted: tuple[str, ...]) -> str:
        """Explanatory pages with their titles, as far as this shop shows them.

        Those that are named, in that order; all of them in the order of the content if none is.
        """
        for page in self.guide.explanations:
            if not (DOCS / "explained" / f"{page.id}.md").is_file():
                raise PageError(
                    f"explanations.yaml names “{page.id}”; explained/{page.id}.md is missing"
                )
        titles = {page.id: page.title for page in self.guide.explanations}
        rows = [
            f'<li><a href="{root}explained/{name}.html">{html.escape(titles[name])}</a></li>'
            for name in wanted or titles
            if name in titles
        ]
        return "\n".join(['<ul class="rig-pages">', *rows, "</ul>"]) if rows else ""


def _refuse_typed(source: str, file: str) -> None:
    found = typed_figures(source)
    if found:
        told = ", ".join(f"{each.text} (line {each.line})" for each in found)
        raise PageError(f"{file} types figures that the engine computes: {told}")


def _page_error(source: str, file: str, error: Exception) -> PageError:
    """What went wrong on a page, with its line, the figure there and the mend."""
    frames = traceback.extract_tb(error.__traceback__)
    line = next((each.lineno or 1 for each in frames if each.filename == "<template>"), 1)
    lines = source.splitlines()
    asked = FILLED_IN.findall(lines[line - 1] if line <= len(lines) else "")
    figure = asked[0] if len(asked) == 1 else f"line {line}"
    why = error.why if isinstance(error, LackingError) else f"it leads nowhere ({_told(error)})"
    mend = error.mend if isinstance(error, LackingError) else MEND
    name = (DOCS / file).relative_to(ROOT).as_posix()
    fault = Fault(name, line, 1, f"“{figure}”", why, mend)
    return PageError(str(fault), fault)


def _told(error: Exception) -> str:
    if isinstance(error, PageError):
        return str(error)
    return f"{type(error).__name__}: {error}" if str(error) else type(error).__name__


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


def with_piece(page: str, root: str, manifest: str) -> str:
    """The page with what its live piece needs: style, script, the engine's list of files.

    root: where the site's root lies, seen from the page
    """
    if HAS_PIECE not in page:
        return page
    needs = (
        f'<link rel="stylesheet" href="{root}assets/piece.css">'
        f'<script type="module" src="{root}assets/engine/piece.js"></script>'
    )
    return page.replace("</head>", f"{needs}</head>", 1).replace(MANIFEST, manifest)


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


@kept("guide", 1)
def filler() -> Filler:
    """The filler of this build."""
    return Filler(guide())
