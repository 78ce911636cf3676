"""``python -m tests.browser.narrow``: whatever a link holds, no page is wider than a telephone.

It draws every hostile link in each browser that is on this machine; the tests draw a sample.
"""

import re
import sys
import tempfile
from collections.abc import Iterable
from pathlib import Path
from typing import TypedDict

from playwright.sync_api import sync_playwright

from engine.links import read_link
from engine.model.guide import Guide
from engine.respond import respond
from guide import setup_browser
from guide.load import load_guide
from guide.setup import say
from guide.site import build
from tests import hostile
from tests.browser.chromium import launch
from tests.browser.drivers import firefox, webkit
from tests.browser.serving import served

WIDTH_PX = 360
"""Of the narrowest telephones that are common (common practice, no source)."""
LINKS = tuple(dict.fromkeys(hostile.links()))
SAMPLE = LINKS[::23]
"""So far apart that each text and each place has its turn."""
ANSWER = "guide/rig=coach-50/scope=whole/heavy=2/biggest=aircon-15k/softstart=yes/v240=no"
NO_SCRIPTS = re.compile(
    r"<script\b.*?</script>|<meta http-equiv=.?Content-Security-Policy[^>]*>", re.DOTALL
)
FRAME = (
    "<!doctype html><title>A telephone</title>"
    f'<iframe style="width: {WIDTH_PX}px; height: 740px; border: 0" src="{ANSWER}/"></iframe>'
)
MEASURE = """(async () => {
    const page = document.querySelector("iframe").contentDocument;
    const found = {drawn: 0, wide: {}};
    for (;; found.drawn++) {
        const reply = await fetch(`replies/${found.drawn}.html`);
        if (!reply.ok) return found;
        page.getElementById("rig-answer").outerHTML = await reply.text();
        for (const each of page.querySelectorAll("details")) each.open = true;
        const beyond = page.documentElement.scrollWidth - WIDTH;
        if (beyond > 0) found.wide[found.drawn] = beyond;
    }
})()""".replace("WIDTH", str(WIDTH_PX))
"""Draws each reply in the frame; gives how many there were, and which are how much too wide."""


class Measured(TypedDict):
    """What `MEASURE` gives."""

    drawn: int
    wide: dict[str, int]


def write(site: Path, guide: Guide, links: Iterable[tuple[str, str]], out: Path) -> None:
    """Write a folder that shows each link's answer in a frame as wide as a telephone."""
    page = (site / ANSWER / "index.html").read_text(encoding="utf-8")
    (out / ANSWER).mkdir(parents=True)
    (out / ANSWER / "index.html").write_text(NO_SCRIPTS.sub("", page), encoding="utf-8")
    (out / "assets").symlink_to(site / "assets")
    (out / "index.html").write_text(FRAME, encoding="utf-8")
    (out / "replies").mkdir()
    for at, (path, fragment) in enumerate(links):
        drawn = respond(guide, read_link(guide, path, fragment), changes=False, takeaway=False)
        (out / "replies" / f"{at}.html").write_text(drawn.html, encoding="utf-8")


def main() -> int:
    """Draw every hostile link in each browser and print what is too wide; 1 where something is."""
    worst = 0
    with tempfile.TemporaryDirectory() as folder:
        site, out = Path(folder) / "site", Path(folder) / "narrow"
        build(site)
        write(site, load_guide(), LINKS, out)
        with served(out) as address:
            for name, found in in_each_browser(address).items():
                print(f"{name}: {found['drawn']} links drawn, {len(found['wide'])} too wide")
                for at, beyond in found["wide"].items():
                    print(f"  by {beyond} px: {'#'.join(LINKS[int(at)])[:160]}")
                worst |= bool(found["wide"]) or found["drawn"] < len(LINKS)
    return worst


def in_each_browser(address: str) -> dict[str, Measured]:
    """What each browser of this machine measures."""
    found: dict[str, Measured] = {}
    with sync_playwright() as playwright:
        page = launch(playwright).new_page()
        page.goto(address)
        found["Chromium"] = page.evaluate(MEASURE)
    for name, find, start in (
        ("Firefox", setup_browser.find_firefox, firefox),
        ("WebKitGTK", setup_browser.find_webkit, webkit),
    ):
        if find() is None:
            say(f"{name} is not on this machine")
            continue
        with start() as driver:
            driver.open(address)
            found[name] = driver.evaluate(MEASURE)
    return found


if __name__ == "__main__":
    sys.exit(main())
