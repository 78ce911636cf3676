"""The explanatory pages and their pictures: every figure comes from the engine, none is typed."""

import json
import pickle
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from jinja2 import Environment, nodes

from engine.model.guide import Guide
from guide.fault import Fault
from guide.setup import ROOT

DOCS = ROOT / "site_src" / "docs"
PICTURES = ROOT / "site_src" / "pictures"
INDEX = "index.md"

# Names of services, systems and gauges are names; every other number with a unit is a figure.
NAMES = re.compile(
    r"\b(?:(?:15|20|30|50) A|120 V|240 V|120/240 V|12 V|24 V|48 V|12, 24 (?:or|and) 48 V)(?!\w)"
)
UNITS = (
    r"V|A|kA|mA|W|VA|kVA|kW|Wh|kWh|Ah|Ω|mΩ|volts?|amps?|watts?|ohms?|mm²?|cm²?|m³/h|m|inch(?:es)?|ft|feet|AWG|BTU|BTU/h|lb|kg"
    r"|°[CF]|degrees?|%|percent|hours?|minutes?|seconds?|CFM|USD"
    r"|in(?! (?:the|an?|part|its|this|each|every|one)\b)"  # inches, not the word
)
FIGURE = re.compile(rf"(?<![\w.-])\d+(?:[.,]\d+)*\s?(?:{UNITS})(?![\w-])|\$\d[\d.,]*")
FILLED_IN = re.compile(r"\{[{%#].*?[}%#]\}", re.DOTALL)
MEND = "Let the engine say it: {{ fig.… }} or {{ dc.… }}, as the other pages do."


@dataclass(frozen=True, slots=True)
class TypedFigure:
    """A figure that somebody typed, and where it stands; line and column count from 1."""

    text: str
    line: int
    column: int


def typed_figures(source: str) -> list[TypedFigure]:
    """Figures in a page's source that do not come from the engine, in the order of their lines.

    A figure in quotes between braces is an input, as long as the page hands it to the engine too.
    """
    bare = FILLED_IN.sub(_blanked, source)
    bare = NAMES.sub(_blanked, bare)
    typed = [
        TypedFigure(found[0], bare.count("\n", 0, at) + 1, at - bare.rfind("\n", 0, at))
        for found in FIGURE.finditer(bare)
        for at in (found.start(),)
    ]
    return sorted([*typed, *_quoted(source)], key=lambda each: (each.line, each.column))


def _blanked(found: re.Match[str]) -> str:
    return re.sub(r"[^\n]", " ", found[0])


def _quoted(source: str) -> Iterator[TypedFigure]:
    lines = source.splitlines()
    tree = Environment(autoescape=True).parse(source)  # parsed only; nothing is drawn
    shown = [
        each
        for output in tree.find_all(nodes.Output)
        for each in output.nodes
        if isinstance(each, nodes.Const) and isinstance(each.value, str)
    ]
    own = {id(each) for each in shown}
    handed_over = {
        _plain(each.value)
        for each in tree.find_all(nodes.Const)
        if id(each) not in own and isinstance(each.value, str)
    }
    for each in shown:
        text = NAMES.sub("", each.value)
        if FIGURE.search(text) and _plain(each.value) not in handed_over:
            column = lines[each.lineno - 1].find(each.value) + 1
            yield TypedFigure(each.value, each.lineno, column)


def _plain(text: str) -> str:
    return text.replace(",", "").strip()


def pages_of(guide: Guide) -> list[Path]:
    """The pages that this shop shows: the first one, and those of explanations.yaml."""
    explained = DOCS / "explained"
    listed = [explained / f"{each.id}.md" for each in guide.explanations]
    return [DOCS / INDEX, explained / INDEX, *listed]


def prose_of() -> list[tuple[Path, str]]:
    """The pages that are written for readers, each with the name that faults call it."""
    files = [DOCS / INDEX, *sorted((DOCS / "explained").glob("*.md"))]
    files += [*sorted((DOCS / "owner").glob("*.md")), ROOT / "README.md"]
    return [(file, file.relative_to(ROOT).as_posix()) for file in files if file.is_file()]


def page_faults(guide: Guide) -> list[Fault]:
    """Every figure that is typed on a page or picture of this shop, and every missing page."""
    found = []
    for file in [*pages_of(guide), *sorted(PICTURES.glob("*.html"))]:
        name = file.relative_to(ROOT).as_posix()
        if not file.is_file():
            what, why = f"page “{file.stem}”", "explanations.yaml names it, and it is not there"
            found.append(Fault(name, 1, 1, what, why, "Write it, or take it out of the list."))
            continue
        for typed in typed_figures(file.read_text(encoding="utf-8")):
            why = "this figure is typed, and the engine computes it"
            found.append(Fault(name, typed.line, typed.column, f"“{typed.text}”", why, MEND))
    return found


def filled_faults(guide: Guide) -> list[Fault]:
    """What a build would trip over: every page is filled in by what the build fills it with.

    That stands above this room, and is asked as a command, as the whole build is.
    """
    done = subprocess.run(
        [sys.executable, "-m", "site_src.build.page_faults"],
        cwd=ROOT,
        input=pickle.dumps(guide),
        stdout=subprocess.PIPE,
        check=True,
    )
    return [Fault(*each) for each in json.loads(done.stdout)]
