"""The picture of a link's preview: one for each different recommendation, shared by its pages."""

import hashlib
import unicodedata
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from PIL import Image, ImageDraw, ImageFont

from engine.kept import kept
from engine.model.guide import Guide
from engine.respond import Page
from site_src.build.brand import color_of

FOLDER = "assets/cards"
WIDTH, HEIGHT = 1200, 630
SIZE = (800, 420)
"""Of the file: large enough for a large preview, and half the bytes of the drawing's own size."""
MARGIN = 64
STEPS = 2
"""Colours between the ground and each ink, for smooth edges; so few keep a card small."""
LEAST_HEIGHT, MOST_WIDTH, GAP = 60, 560, 1.15
MOST_LINES = 3


Ink = tuple[int, int, int]


class Inks(NamedTuple):
    """Colors of a card: of the ground, of marks, and of letters."""

    ground: Ink
    mark: Ink
    letters: Ink


@dataclass(frozen=True, slots=True)
class Card:
    """What one picture says and shows; cases are width and height [m] of each unit."""

    kicker: str
    headline: str
    lines: tuple[str, ...]
    foot: str
    inks: Inks
    cases: tuple[tuple[float, float], ...] = ()

    @property
    def name(self) -> str:
        """File name, the same for equal cards."""
        return f"{hashlib.sha256(repr(self).encode()).hexdigest()[:12]}.png"

    @property
    def text(self) -> str:
        """The card in words."""
        return ". ".join(filter(None, (self.kicker, self.headline, *self.lines)))


def inks_of(guide: Guide) -> Inks:
    """The shop's colors, or the theme's."""
    found = [bytes.fromhex(color_of(guide, name)[1:]) for name in ("brand", "accent", "on_brand")]
    return Inks(*((red, green, blue) for red, green, blue in found))


def card_of(guide: Guide, page: Page) -> Card:
    """The card of a page in the shop's colors: its recommendation, or its question."""
    answer, wording, inks = page.answer, guide.wording.page, inks_of(guide)
    if answer.next_question:
        return Card(wording["start"], answer.next_question.ask, (), guide.shop.name, inks)
    if answer.advice is None or answer.advice.best.design is None:
        return Card(wording["none-fits"], wording["none-fits-title"], (), guide.shop.name, inks)
    candidate = answer.advice.best.design.candidate
    unit = candidate.inverter
    starters = wording["soft-starters"] if candidate.soft_starters else ""
    return Card(
        wording["recommended"],
        f"{candidate.units} × {unit.maker} {unit.name}",
        tuple(filter(None, (guide.layout_words(candidate.layout).name, starters))),
        guide.shop.name,
        inks,
        ((unit.width, unit.height),) * candidate.units,
    )


def general_card(guide: Guide, title: str) -> Card:
    """The card of a page that is no answer."""
    start = guide.wording.page["start"]
    return Card(start, title, (), guide.shop.name, inks_of(guide))


def write_card(site: Path, card: Card) -> None:
    """Draw a card into the site, unless it is there."""
    file = site / FOLDER / card.name
    if file.exists():
        return
    file.parent.mkdir(parents=True, exist_ok=True)
    draw(card).save(file, optimize=True)


def drawable(text: str) -> str:
    """The text in the letters of the font, which has plain Latin ones only.

    >>> drawable("2 × Zürn")
    '2 x Zurn'
    """
    apart = unicodedata.normalize("NFKD", text.replace("×", "x"))
    return apart.encode("ascii", "ignore").decode()


def draw(card: Card) -> Image.Image:
    """The card as a picture of few colors."""
    inks = card.inks
    picture = Image.new("RGB", (WIDTH, HEIGHT), inks.ground)
    pen = ImageDraw.Draw(picture)
    pen.rectangle((0, HEIGHT - 14, WIDTH, HEIGHT), inks.mark)
    pen.text((MARGIN, 52), drawable(card.kicker), inks.mark, _font(40), stroke_width=1)
    y = 116.0
    for line in _wrapped(pen, card.headline, 66, WIDTH - 2 * MARGIN):
        pen.text((MARGIN, y), line, inks.letters, _font(66), stroke_width=1)
        y += 80
    y += 6
    for text in card.lines:
        for line in _wrapped(pen, text, 36, WIDTH - 2 * MARGIN):
            pen.text((MARGIN, y), line, inks.letters, _font(36))
            y += 46
    _cases(pen, card, y + 24)
    shop = drawable(card.foot)
    foot = pen.textlength(shop, _font(32))
    pen.text((WIDTH - MARGIN - foot, HEIGHT - 74), shop, inks.letters, _font(32))
    small = picture.resize(SIZE, Image.Resampling.BOX)
    return small.quantize(palette=_palette(inks), dither=Image.Dither.NONE)


@kept("never", None)
def _palette(inks: Inks) -> Image.Image:
    """The colors of every card."""
    ground = inks.ground
    found = [*ground]
    for ink in inks[1:]:
        for step in range(1, STEPS + 2):
            share = step / (STEPS + 1)
            found += [round(a + (b - a) * share) for a, b in zip(ground, ink, strict=True)]
    picture = Image.new("P", (1, 1))
    picture.putpalette(found)
    return picture


def _cases(pen: ImageDraw.ImageDraw, card: Card, top: float) -> None:
    """The units on one ground line, as wide and as high as each other's measures ask."""
    cases, ground, left = card.cases, HEIGHT - 46.0, float(MARGIN)
    if not cases or ground - top < LEAST_HEIGHT:
        return
    tallest_m = max(height for _, height in cases)
    scale = min((ground - top) / tallest_m, MOST_WIDTH / sum(width * GAP for width, _ in cases))
    for width, height in cases:
        box = (left, ground - height * scale, left + width * scale, ground)
        pen.rectangle(box, card.inks.ground, card.inks.mark, 6)
        left += width * GAP * scale


def _wrapped(pen: ImageDraw.ImageDraw, text: str, size: int, width: float) -> list[str]:
    lines = [""]
    for word in drawable(text).split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and pen.textlength(longer, _font(size)) > width:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines[:MOST_LINES]


@kept("never", None)
def _font(size: int) -> ImageFont.FreeTypeFont:
    """The font that Pillow brings along, so that every machine draws the same."""
    font = ImageFont.load_default(size)
    if not isinstance(font, ImageFont.FreeTypeFont):
        raise TypeError("this Pillow was built without FreeType")
    return font
