"""``python -m tests.browser.screens``: every kind of page at four sizes, on one contact sheet.

``--site FOLDER`` takes a site that is built already, ``--out FOLDER`` says where the pictures go,
``--only TEXT`` keeps the kinds whose name contains the text. ``--measure`` makes no pictures and
measures every full answer, see measures.py; with ``--write`` the benchmarks page shows it.
"""

import argparse
import html
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont
from playwright.sync_api import Browser, sync_playwright

from guide import site
from guide.setup import ROOT, say
from tests import bench_page
from tests.browser import measures
from tests.browser.chromium import launch
from tests.browser.kinds import KINDS, PRINTED, SCHEMES, Kind
from tests.browser.serving import served

OUT = ROOT / "build" / "screens"
SIZES = {
    "small phone": (320, 640),
    "phone": (390, 844),
    "tablet": (820, 1180),
    "desk": (1280, 800),
}
DRAWN = """() => new Promise((done) =>
    requestAnimationFrame(() => requestAnimationFrame(done)))"""
MOST_HEIGHT = 12_000  # of one picture; Chromium cannot paint much more
CELL, GAP, LABEL, TALLEST = 240, 16, 28, 560  # of the contact sheet, in pixels
SHEETS_SHOWN = 8


def shots_of(browser: Browser, origin: str, kind: Kind, out: Path) -> Iterator[tuple[str, Path]]:
    """Make the pictures of one kind of page: what each shows, and its file."""
    for scheme in SCHEMES:
        context = browser.new_context(
            base_url=origin,
            color_scheme="dark" if scheme == "dark" else "light",
            reduced_motion="reduce",
        )
        page = context.new_page()
        kind.open(page)
        for size, (width, height) in SIZES.items():
            page.set_viewport_size({"width": width, "height": height})
            page.evaluate("() => scrollTo(0, 0)")
            page.evaluate(DRAWN)
            tall = page.evaluate("() => document.documentElement.scrollHeight")
            whole = tall <= MOST_HEIGHT and not page.locator("dialog[open]").count()
            file = out / f"{kind.name} {size} {scheme}.png".replace(" ", "-")
            page.screenshot(path=file, full_page=whole)
            yield f"{size}, {scheme}", file
        context.close()


def sheets_of(browser: Browser, origin: str, kind: Kind, out: Path) -> Iterator[tuple[str, Path]]:
    """Print one kind of page and make pictures of its first sheets."""
    page = browser.new_page(base_url=origin)
    kind.open(page)
    stem = out / f"{kind.name} printed".replace(" ", "-")
    page.pdf(path=f"{stem}.pdf", format="A4", prefer_css_page_size=False)
    page.close()
    command = ["pdftoppm", "-r", "60", "-l", str(SHEETS_SHOWN), "-png", f"{stem}.pdf", str(stem)]
    subprocess.run(command, check=True)
    for place, file in enumerate(sorted(out.glob(f"{stem.name}-*.png")), start=1):
        yield f"sheet {place}", file


Row = tuple[str, list[tuple[str, Path]]]


def draw_sheet(rows: list[Row], file: Path) -> None:
    """Draw the contact sheet: a row for each kind, the top of each picture in its cell."""
    columns = max(len(shots) for _, shots in rows)
    cells = [[(label, _small(shot)) for label, shot in shots] for _, shots in rows]
    heights = [max(picture.height for _, picture in row) + 2 * LABEL + GAP for row in cells]
    sheet = Image.new("RGB", (columns * (CELL + GAP) + GAP, sum(heights) + GAP), "#888888")
    pen, font = ImageDraw.Draw(sheet), ImageFont.load_default(16)
    top = GAP
    for (name, _), row, height in zip(rows, cells, heights, strict=True):
        pen.text((GAP, top), name, "#ffffff", font, stroke_width=1)
        for place, (label, picture) in enumerate(row):
            left = GAP + place * (CELL + GAP)
            pen.text((left, top + LABEL), label, "#ffffff", ImageFont.load_default(13))
            sheet.paste(picture, (left, top + 2 * LABEL))
        top += height
    sheet.save(file, optimize=True)


def _small(file: Path) -> Image.Image:
    with Image.open(file) as picture:
        scale = CELL / picture.width
        tall = min(picture.height, round(TALLEST / scale))
        top = picture.convert("RGB").crop((0, 0, picture.width, tall))
        return top.resize((CELL, round(tall * scale)), Image.Resampling.LANCZOS)


def write_page(rows: list[Row], file: Path) -> None:
    """Write the contact sheet as a page, where a click opens a picture at its full size."""
    parts = ["<!doctype html><meta charset=utf-8><title>Screens</title>"]
    parts.append("<style>body{font:1rem sans-serif;background:#888;color:#fff}a{color:inherit}")
    parts.append("div{display:flex;gap:1rem}img{width:15rem;height:34rem;object-fit:cover;")
    parts.append("object-position:top;display:block}</style>")
    for name, shots in rows:
        parts.append(f"<h2>{html.escape(name)}</h2><div>")
        for label, shot in shots:
            picture = f'<img src="{shot.name}" alt="{html.escape(name)}, {html.escape(label)}">'
            parts.append(f'<a href="{shot.name}">{html.escape(label)}{picture}</a>')
        parts.append("</div>")
    file.write_text("\n".join(parts), encoding="utf-8")


def make(built: Path, out: Path, kinds: tuple[Kind, ...]) -> None:
    """Make all pictures and both contact sheets."""
    out.mkdir(parents=True, exist_ok=True)
    rows: list[Row] = []
    with served(built) as origin, sync_playwright() as playwright:
        browser = launch(playwright)
        for kind in kinds:
            say(kind.name)
            rows.append((kind.name, list(shots_of(browser, origin, kind, out))))
        for kind in kinds:
            if kind.name in PRINTED:
                say(f"{kind.name}, printed")
                rows.append((f"{kind.name}, printed", list(sheets_of(browser, origin, kind, out))))
        browser.close()
    draw_sheet(rows, out / "contact-sheet.png")
    write_page(rows, out / "index.html")
    say(f"{out / 'index.html'} and contact-sheet.png beside it")


def main() -> None:
    """Read the command line and make the pictures."""
    parser = argparse.ArgumentParser(prog="python -m tests.browser.screens")
    parser.add_argument("--site", type=Path, help="a site that is built already")
    parser.add_argument("--out", type=Path, default=OUT, help="where the pictures go")
    parser.add_argument("--only", default="", help="kinds of page whose name contains this")
    parser.add_argument("--measure", action="store_true", help="measure every full answer")
    parser.add_argument("--write", action="store_true", help="write what was measured")
    asked = parser.parse_args()
    kinds = tuple(kind for kind in KINDS if asked.only in kind.name)
    if not kinds:
        parser.error(f"no kind of page has “{asked.only}” in its name")
    with tempfile.TemporaryDirectory() as folder:
        built = asked.site or Path(folder) / "site"
        if asked.site is None:
            site.build(built)
        if asked.measure:
            said, count = measures.measured(built)
            if asked.write:
                bench_page.put(measures.SECTION, f"{count} answers, one look at each", said)
            return
        make(built, asked.out, kinds)


if __name__ == "__main__":
    main()
