"""The page of the whole range: every unit of the catalog, drawn to one scale."""

from collections.abc import Sequence
from dataclasses import dataclass

from engine.model.guide import Guide
from engine.model.products import InverterCharger
from engine.pages.answer.offers import offers_of
from engine.pages.answer.other_units import TERMINALS, at_text, legs_text, size_text
from engine.pages.drawings.faces import Face, draw_faces, draw_scale, scale_for
from engine.pages.drawings.svg import Canvas, Picture, Table
from engine.pages.render import environment
from engine.units import show
from engine.wording.tongue import money, speak

PATH = "units/"
"""Where the page lies, below the site's root."""

WIDTH = 350.0
IN_A_ROW = 3
TALLEST = 110.0
ROW_GAP = 26.0

Case = tuple[float, float, float, str, int]


@dataclass(frozen=True, slots=True)
class RangePage:
    """The page, with links relative to its path below the site's root."""

    title: str
    description: str
    path: str
    html: str


def draw_range(guide: Guide) -> RangePage:
    """The page of all units."""
    speak(guide.wording.grammar, guide.shop.currency)
    page = guide.wording.page
    html = (
        environment()
        .get_template("range.html")
        .render(page=page, picture=picture_of(guide), table=table_of(guide), shop=guide.shop)
    )
    return RangePage(page["range"], page["range-hint"], PATH, html)


def cases_of(guide: Guide) -> dict[Case, list[InverterCharger]]:
    """The units by case: equal sides, terminals and legs look alike and are drawn once."""
    found: dict[Case, list[InverterCharger]] = {}
    for unit in guide.catalogue.inverters:
        hots = 2 if unit.output == "split-phase" else unit.legs_passed
        case = (unit.height, unit.width, unit.depth, unit.terminals.kind, hots)
        found.setdefault(case, []).append(unit)
    return found


def picture_of(guide: Guide) -> Picture:
    """One case of each kind, three in a row, all to one scale."""
    page = guide.wording.page
    faces = [
        Face(units[0], 1, (_names(units), size_text(units[0])))
        for units in cases_of(guide).values()
    ]
    rows = [faces[at : at + IN_A_ROW] for at in range(0, len(faces), IN_A_ROW)]
    scale = min(scale_for(row, WIDTH - 8.0, TALLEST) for row in rows)
    canvas = Canvas("rig-svg-range", WIDTH)
    y = 6.0
    for row in rows:
        y = draw_faces(canvas, row, scale, y, columns=IN_A_ROW) + ROW_GAP
    end = draw_scale(canvas, scale, y - 4.0, page["sketch-scale"])
    title, sentence = page["range"], page["compare-to-scale"]
    return Picture("range", title, sentence, canvas.svg(end + 4.0, title, sentence))


def _names(units: Sequence[InverterCharger]) -> str:
    """What the names of all of them begin with, and the rest of each."""
    stems = dict.fromkeys(unit.name.partition(",")[0] for unit in units)
    return ", ".join(stems)


def table_of(guide: Guide) -> Table:
    """Every unit in a line."""
    page = guide.wording.page
    head = (
        page["range-unit"],
        page["compare-price"],
        page["compare-size"],
        page["compare-terminals"],
        page["compare-legs"],
        page["compare-volts"],
        page["compare-power"],
        page["compare-surge"],
        page["compare-relay"],
        page["compare-mass"],
        page["fact-stock"],
    )
    rows = tuple(
        (
            unit.name,
            money(unit.price),
            size_text(unit),
            page.one_of("compare-", unit.terminals.kind, TERMINALS),
            legs_text(page, unit),
            show(unit.dc_nominal, "V"),
            at_text(unit.continuous[0], "degC", "W"),
            at_text(unit.surge[0], "s", "VA"),
            show(unit.pass_through, "A"),
            show(unit.mass, "kg"),
            "; ".join(offers_of(guide, unit.id)),
        )
        for unit in guide.catalogue.inverters
    )
    return Table(head, rows)
