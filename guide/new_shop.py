"""The content of a new shop: everything but products, and a list of the fewest that it needs."""

import re
import shutil
from collections.abc import Callable, Collection
from pathlib import Path
from typing import Any

from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.products import Article, InverterCharger
from engine.respond import conversation_of
from engine.usual import usual_case
from guide.editions import EDITIONS
from guide.fault import visible
from guide.load import CATALOGUE_FILES
from guide.new_entry import NewError
from guide.spreadsheet.book import Content, Head, Sheet, write_tables
from guide.spreadsheet.columns import OFFERS, WANTED, Column, columns_of
from guide.spreadsheet.export import sheet_of
from guide.spreadsheet.shelf import Entry, read_shelf

NEEDED, WORKBOOK = "needed.md", "needed.xlsx"
OWN = {
    "name": "Your shop",
    "place": "Your town",
    "phone": "555-0100",
    "email": "you@your-shop.example",
    "site": "your-shop.example",
    "note": "This guide is being set up. Nothing in it is an offer.",
}
"""What stands in shop.yaml until the owner writes it."""
DEMO_PAGE = "demo-data"
KEPT_OUT = ("name", "maker", "price", "mass", "height", "width", "depth", "delivery", "as_of")
"""What the list does not say of a product: it is the owner's, and no answer needs a certain one."""
MOST_SAID = 6
"""Figures that tell what a product must be; its others are for its data sheet to say."""
ABOUT = (
    "One row for each product that a shop needs so that all its kinds of rig get an answer.",
    "The first column says what it must be. Write your own product into the row: its item number",
    "as “id”, and every value from its data sheet. Then: rig-guide catalogue import needed.xlsx",
)


def new_shop(template: Path, guide: Guide, folder: Path) -> int:
    """Make the content folder of a new shop; returns how many products it needs.

    Raises
    ------
    NewError : if the folder is there and holds something.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise NewError(f"{visible(str(folder))} holds something. Name a new folder.")
    needed = smallest_set(guide)
    left = shutil.ignore_patterns(EDITIONS)
    shutil.copytree(template, folder, dirs_exist_ok=True, ignore=left)
    coverage = folder / "coverage.yaml"
    head = _head(coverage.read_text(encoding="utf-8"))
    coverage.write_text(f"{head}accepted: []\ntries: []\n", encoding="utf-8")
    sheets = []
    for family, file in CATALOGUE_FILES.items():
        shelf = read_shelf(template, family)
        (folder / file).write_text(f"{_head(shelf.source)}[]\n", encoding="utf-8")
        entries = [each for name, each in shelf.entries.items() if name in needed]
        if entries:
            sheets.append(_blank(sheet_of(shelf, guide.shop.currency), family, entries))
    _rewrite(folder / "shop.yaml", _own_shop)
    _rewrite(folder / "explanations.yaml", _without_demo)
    write_tables(folder / WORKBOOK, sheets, ABOUT)
    (folder / NEEDED).write_text(_as_list(sheets), encoding="utf-8")
    return len(needed)


def smallest_set(guide: Guide) -> frozenset[str]:
    """The products without which a kind of rig would have no whole answer, or a choice no product.

    They are those of the answer that each kind of rig gets in its usual case, and one for each
    choice of a question for which something must be sold.
    """
    conversation = conversation_of(guide)
    found: dict[str, None] = {}
    for rig in guide.rigs:
        best = conversation.outcome(usual_case(guide, Answers({"rig": rig.id}))).best
        if best is None or best.design is None:
            raise NewError(f"the kind of rig “{rig.id}” has no answer in its usual case.")
        found |= {line.product: None for line in best.design.parts if line.product}
    return frozenset(_with_choices(guide, found))


def _with_choices(guide: Guide, found: dict[str, None]) -> dict[str, None]:
    """The same with a product for each choice of voltage, kind of battery and mounting position."""
    units, batteries = guide.catalogue.inverters, guide.catalogue.batteries
    wanted: list[tuple[tuple[Article, ...], Callable[[Any], Collection[str]], str]] = [
        *((units, _voltage, f"{one.dc_nominal:g} V") for one in units),
        *((units, lambda each: each.mounts, mount) for one in units for mount in one.mounts),
        *((batteries, lambda each: {each.chemistry}, one.chemistry) for one in batteries),
    ]
    for shelf, kinds, kind in wanted:
        fitting = [each.id for each in shelf if kind in kinds(each)]
        if not any(name in found for name in fitting):
            found[fitting[0]] = None
    return found


def _voltage(unit: InverterCharger) -> set[str]:
    return {f"{unit.dc_nominal:g} V"}


def _head(source: str) -> str:
    """The line that names the schema, where there is one."""
    first = source.partition("\n")[0]
    return f"{first}\n" if first.startswith("# yaml-language-server:") else ""


def _blank(sheet: Sheet, family: str, entries: list[Entry]) -> Sheet:
    """A table with a row for each product: what it must be, and room for the owner's own."""
    heads = (Head(WANTED, "What this product must be.", (), True), *sheet.heads)
    rows: list[tuple[Content, ...]] = [
        (_says(entry, family), *(None for _ in sheet.heads)) for entry in entries
    ]
    return Sheet(sheet.name, heads, tuple(rows), frozenset())


def _says(entry: Entry, family: str) -> str:
    """What a product is, without what is the owner's own."""
    told = [
        f"{column.key.replace('_', ' ')} {entry.text(column)}"
        for column in columns_of(family)
        if _tells(column) and entry.text(column)
    ]
    return ", ".join(told[:MOST_SAID]) or family.replace("_", " ")


def _tells(column: Column) -> bool:
    if column.key in (*KEPT_OUT, "id", "stock", "successor") or len(column.path) > 1:
        return False
    return column.kind not in ("curve", OFFERS)


def _as_list(sheets: list[Sheet]) -> str:
    lines = [
        "# What this shop still needs",
        "",
        f"1. `shop.yaml`: your own {', '.join(OWN)}, and the day of your prices. "
        "Then `invented: false`, and an `estimate` if you want one.",
        f"2. The products below: write yours into `{WORKBOOK}`, then import it.",
        "3. `rig-guide check` and `rig-guide coverage` with `--content` and this folder.",
    ]
    for sheet in sheets:
        lines += ["", f"## {sheet.name.replace('_', ' ')}", ""]
        lines += [f"- {row[0]}" for row in sheet.rows]
    return "\n".join(lines) + "\n"


def _own_shop(text: str) -> str:
    text = re.sub(r"^# Everything in this folder.*\n(?:#.*\n)*", "", text, flags=re.MULTILINE)
    text = re.sub(r"(?:^#.*\n)*^estimate:\n(?:  .*\n)+", "", text, flags=re.MULTILINE)
    text = re.sub(r"^note: >-\n(?:  .*\n)+", "note: \n", text, flags=re.MULTILINE)
    for key, value in OWN.items():
        text = re.sub(rf"^{key}:.*$", f"{key}: {value}", text, flags=re.MULTILINE)
    return text


def _without_demo(text: str) -> str:
    return re.sub(rf"^- id: {DEMO_PAGE}\n(?:  .*\n)*", "", text, flags=re.MULTILINE)


def _rewrite(place: Path, change: Callable[[str], str]) -> None:
    place.write_text(change(place.read_text(encoding="utf-8")), encoding="utf-8")
