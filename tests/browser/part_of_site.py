"""Parts of the built site, for tests that keep them on a device: each file takes its time."""

import shutil
from pathlib import Path

from engine.model.guide import Guide
from site_src.build.offline import write_offline

EVERY = 12
NOT_NEEDED = ("lunr.*.min.js", "tinyseg.js", "wordcut.js")
"""What the theme's search has for languages that the site does not speak."""


def one_page(site: Path, out: Path, guide: Guide, page: str) -> Path:
    """Copy what one page of the guide needs, and the page for unknown addresses."""
    shutil.copytree(site / "assets", out / "assets", ignore=shutil.ignore_patterns(*NOT_NEEDED))
    for card in sorted((out / "assets" / "cards").glob("*.png"))[1:]:
        card.unlink()
    (out / page).mkdir(parents=True)
    shutil.copy(site / page / "index.html", out / page / "index.html")
    shutil.copy(site / "404.html", out / "404.html")
    write_offline(out, "Guide", "Guide", guide.wording.page)
    return out


def some_pages(site: Path, out: Path, guide: Guide, page: str) -> Path:
    """Copy the site with one of so many pages of the tree, a page that is named among them."""
    shutil.copytree(site, out, ignore=lambda folder, _: ["guide"] if folder == str(site) else [])
    wanted = sorted((site / "guide").rglob("index.html"))[::EVERY]
    for file in {*wanted, site / "guide" / "index.html", site / page / "index.html"}:
        to = out / file.relative_to(site)
        to.parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(file, to)
    write_offline(out, "Guide", "Guide", guide.wording.page)
    return out
