"""The guide as an installed program: its manifest and its icons."""

import io
import json
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageStat
from playwright.sync_api import Browser, Page

from guide.setup import ROOT
from site_src.build.icons import ICONS, Icon
from site_src.build.offline import COLOR, MARK

MOST_DIFFERENCE = 2.0  # of 255, in the mean: browsers smooth edges a little differently


def test_the_guide_can_be_installed(page: Page, site: Path) -> None:
    page.goto("/guide/")
    address = page.evaluate("document.querySelector('link[rel=manifest]').href")
    manifest = json.loads(page.request.get(address).text())
    assert {"name", "start_url", "display", "icons"} <= set(manifest)
    assert (site / manifest["start_url"]).is_file()
    assert all((site / icon["src"]).is_file() for icon in manifest["icons"])
    sizes = {size for icon in manifest["icons"] for size in icon["sizes"].split()}
    assert {"192x192", "512x512"} <= sizes
    session = page.context.new_cdp_session(page)
    faults = session.send("Page.getInstallabilityErrors")["installabilityErrors"]
    assert [fault["errorId"] for fault in faults if fault["errorId"] != "in-incognito"] == []


@pytest.mark.parametrize("icon", ICONS, ids=lambda icon: icon.src)
def test_the_icons_show_the_mark(browser: Browser, site: Path, icon: Icon) -> None:
    lying = Image.open(site / icon.src).convert("RGBA")
    assert lying.size == (icon.size, icon.size)
    mark = Image.open(io.BytesIO(by_browser(browser, icon))).convert("RGBA")
    differences = ImageStat.Stat(ImageChops.difference(lying, mark)).mean
    assert max(differences) < MOST_DIFFERENCE


def by_browser(browser: Browser, icon: Icon) -> bytes:
    """An icon as a browser draws it: the mark, with room where a device cuts its own shape."""
    mark = (ROOT / "site_src" / "theme" / MARK).read_text(encoding="utf-8")
    ground = f"background:{COLOR}" if icon.purpose == "maskable" else ""
    share = 0.72 if icon.purpose == "maskable" else 1.0
    page = browser.new_page(viewport={"width": icon.size, "height": icon.size})
    page.set_content(
        f"<body style='margin:0;display:grid;place-items:center;height:100vh;{ground}'>"
        f"<div style='width:{share:.0%};line-height:0'>{mark}</div>"
    )
    picture = page.screenshot(omit_background=True)
    page.close()
    return picture
