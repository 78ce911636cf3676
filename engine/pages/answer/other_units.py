"""Unit against unit: two or three inverter-chargers side by side for one rig.

What differs comes first, what is the same second, and which one fits, and why, above both.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import get_args

from engine.answer import Advice
from engine.model.answers import Answers
from engine.model.guide import Guide
from engine.model.needs import Needs
from engine.model.products import InverterCharger, Mount, Pairing, TerminalKind
from engine.model.result import Considered
from engine.pages import words
from engine.pages.drawings.faces import Face, draw_faces, draw_scale, scale_for
from engine.pages.drawings.svg import Canvas, Picture
from engine.sizing import fit
from engine.units import show
from engine.wording.sentences import Sentences
from engine.wording.tongue import money, plain

ASKED = ("beside", "beside-too")
"""The questions by which a visitor names the units to set beside the recommended one."""

WIDTH = 350.0
MOST_HEIGHT = 150.0
MOST = 3
SURGE_S = 1.0


@dataclass(frozen=True, slots=True)
class Column:
    """One unit: its name, and what became of its best setup for this rig."""

    unit: InverterCharger
    name: str
    verdict: str
    recommended: bool


@dataclass(frozen=True, slots=True)
class Line:
    """One property, a text for each unit."""

    label: str
    texts: tuple[str, ...]

    @property
    def same(self) -> bool:
        """Whether all units have it alike."""
        return len(set(self.texts)) == 1


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two or three units side by side."""

    columns: tuple[Column, ...]
    differs: tuple[Line, ...]
    same: tuple[Line, ...]
    picture: Picture

    @property
    def others(self) -> str:
        """The units that stand beside the recommended one, by name."""
        return "; ".join(column.name for column in self.columns[1:])

    @property
    def alike(self) -> str:
        """What all of them have alike, in one sentence."""
        return "; ".join(f"{line.label}: {line.texts[0]}" for line in self.same)


def comparison_of(guide: Guide, advice: Advice, answers: Answers) -> Comparison | None:
    """The recommended unit beside those that were asked for, else beside the nearest others."""
    needs, best = advice.outcome.needs, advice.best
    considered = _best_of_each(advice.outcome.considered)
    asked = [guide.in_its_place(answers.choice(question)) for question in ASKED]
    names = dict.fromkeys(each.id for each in asked if each)
    others = [considered[name] for name in names if name in considered]
    chosen = [best, *(each for each in others or _nearest(best, considered.values()))]
    chosen = [
        each
        for place, each in enumerate(chosen)
        if each.candidate.inverter.id not in {one.candidate.inverter.id for one in chosen[:place]}
    ][:MOST]
    if len(chosen) < 2:
        return None
    columns = tuple(_column(guide, best, each) for each in chosen)
    lines = tuple(_lines(guide, needs, chosen))
    return Comparison(
        columns,
        tuple(line for line in lines if not line.same),
        tuple(line for line in lines if line.same),
        picture_of(
            guide, [column.unit for column in columns], "compare", guide.wording.page["compare"]
        ),
    )


def _best_of_each(considered: Sequence[Considered]) -> dict[str, Considered]:
    """The best setup of each unit, nearest first."""
    found: dict[str, Considered] = {}
    for each in considered:
        found.setdefault(each.candidate.inverter.id, each)
    return found


def _nearest(best: Considered, considered: Iterable[Considered]) -> list[Considered]:
    """The best of each other kind, nearest first; of the same kind where there is no other."""
    rest = [each for each in considered if each is not best]
    kinds = {_kind(best)}
    found = []
    for each in rest:
        if _kind(each) not in kinds:
            kinds.add(_kind(each))
            found.append(each)
    return (found or rest)[: MOST - 1]


TERMINALS = get_args(TerminalKind)
PAIRS = get_args(Pairing)
MOUNTS = get_args(Mount)
SHAPES = ("tall", "flat", "square")


def _kind(considered: Considered) -> tuple[str, str, int, str]:
    """What makes two units look and behave differently to who fits them."""
    unit = considered.candidate.inverter
    return shape_of(unit), unit.terminals.kind, unit.legs_passed, unit.output


def _column(guide: Guide, best: Considered, each: Considered) -> Column:
    page = guide.wording.page
    if each is best:
        verdict = page["compare-recommended"]
    elif each.design is not None:
        verdict = page.say("fits-but", say=words.main_reason(best, each))
    else:
        nearest = min(each.failed, key=lambda check: check.margin)
        verdict = words.check_text(guide, nearest)
    unit = each.candidate.inverter
    return Column(unit, unit.name, verdict, each is best)


def _lines(guide: Guide, needs: Needs, chosen: Sequence[Considered]) -> Iterator[Line]:
    """Every property, the telling ones first."""
    page = guide.wording.page

    def line(key: str, texts: Iterator[str]) -> Line:
        return Line(page[key], tuple(texts))

    units = [each.candidate.inverter for each in chosen]
    yield line("compare-setup", (_set_up(guide, each) for each in chosen))
    yield line("compare-size", (size_text(unit) for unit in units))
    yield line(
        "compare-shape", (page.one_of("compare-shape-", shape_of(unit), SHAPES) for unit in units)
    )
    yield line(
        "compare-terminals",
        (page.one_of("compare-", unit.terminals.kind, TERMINALS) for unit in units),
    )
    yield line("compare-legs", (legs_text(page, unit) for unit in units))
    yield line("compare-price", (money(unit.price) for unit in units))
    yield line("compare-whole-price", (_parts_price(each) for each in chosen))
    if any(unit.open_box for unit in units):
        yield line("compare-opened", (_opened(page, unit) for unit in units))
    yield line("compare-mass", (show(unit.mass, "kg") for unit in units))
    yield line("compare-wall", (_wall(each, needs.mount) for each in chosen))
    yield from _electrical(page, units)


def _electrical(page: Sentences, units: Sequence[InverterCharger]) -> Iterator[Line]:
    def line(key: str, texts: Iterator[str]) -> Line:
        return Line(page[key], tuple(texts))

    def yes(holds: bool) -> str:
        return page["compare-yes" if holds else "compare-no"]

    yield line("compare-volts", (show(unit.dc_nominal, "V") for unit in units))
    yield line("compare-power", (at_text(unit.continuous[0], "degC", "W") for unit in units))
    yield line("compare-heat", (at_text(unit.continuous[-1], "degC", "W") for unit in units))
    yield line("compare-surge", (at_text(unit.surge[0], "s", "VA") for unit in units))
    yield line("compare-relay", (show(unit.pass_through, "A") for unit in units))
    yield line("compare-pairs", (_pairs(page, unit) for unit in units))
    yield line("compare-charge", (show(unit.charge_current, "A") for unit in units))
    yield line("compare-idle", (show(unit.idle, "W") for unit in units))
    yield line("compare-search", (show(unit.search, "W") for unit in units))
    yield line("compare-best", (_best_efficiency(unit) for unit in units))
    yield line("compare-cable", (f"{unit.dc_largest_awg} AWG, {unit.dc_stud}" for unit in units))
    yield line("compare-bond", (yes(unit.bond_relay) for unit in units))
    yield line("compare-generator", (yes(unit.generator_support) for unit in units))
    yield line("compare-mounts", (_mounts(page, unit) for unit in units))


def _set_up(guide: Guide, each: Considered) -> str:
    count = each.candidate.units
    return f"{guide.layout_words(each.candidate.layout).name}, {count} ×"


def _opened(page: Sentences, unit: InverterCharger) -> str:
    offers = (
        page.say(
            "compare-opened-offer",
            count=each.count,
            price=money(each.price),
            condition=each.condition,
        )
        for each in unit.open_box
    )
    return "; ".join(offers) or "–"


def size_text(unit: InverterCharger) -> str:
    """Height, width and depth in inches."""
    sides = (unit.height, unit.width, unit.depth)
    return " × ".join(plain(side / 0.0254, 1) for side in sides) + " in"


def shape_of(unit: InverterCharger) -> str:
    """ "tall", "flat" or "square": how the face of the case looks."""
    if unit.height > unit.width:
        return "tall"
    return "flat" if unit.width > unit.height else "square"


def legs_text(page: Sentences, unit: InverterCharger) -> str:
    """Which legs of the shore cord it passes on."""
    if unit.output == "split-phase":
        return page["compare-legs-native"]
    return page["compare-legs-two" if unit.legs_passed == 2 else "compare-legs-one"]


def _pairs(page: Sentences, unit: InverterCharger) -> str:
    if not unit.pairs:
        return page["compare-no"]
    return ", ".join(page.one_of("compare-pair-", pair, PAIRS) for pair in unit.pairs)


def _mounts(page: Sentences, unit: InverterCharger) -> str:
    return ", ".join(page.one_of("compare-mount-", mount, MOUNTS) for mount in unit.mounts)


def _parts_price(each: Considered) -> str:
    return money(round(each.design.parts_price, -1)) if each.design else "–"


def _wall(each: Considered, mount: str) -> str:
    unit, count = each.candidate.inverter, each.candidate.units
    box = fit.Box(unit.height, unit.width, unit.depth)
    free = fit.Clearances(
        unit.clearances.top, unit.clearances.bottom, unit.clearances.sides, unit.clearances.front
    )
    return show(count * fit.wall_area_m2(box, mount, free), "m^2")


def at_text(point: tuple[float, float], where: str, unit: str) -> str:
    """A point of a maker's curve: the value, and where it holds."""
    return f"{show(point[1], unit)} ({show(point[0], where).partition(' (')[0]})"


def _best_efficiency(unit: InverterCharger) -> str:
    return show(max(share for _, share in unit.efficiency), "share")


def picture_of(guide: Guide, units: Sequence[InverterCharger], name: str, title: str) -> Picture:
    """These units to one scale."""
    faces = [Face(unit, 1, (unit.name, size_text(unit))) for unit in units]
    canvas = Canvas(f"rig-svg-{name}", WIDTH)
    scale = scale_for(faces, WIDTH - 8.0, MOST_HEIGHT)
    low = draw_faces(canvas, faces, scale, 6.0)
    end = draw_scale(canvas, scale, low + 16.0, guide.wording.page["sketch-scale"])
    sentence = guide.wording.page["compare-to-scale"]
    return Picture(name, title, sentence, canvas.svg(end + 4.0, title, sentence))
