"""The guide as an installed program: its manifest and its icons."""

import io
import json
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageStat
from playwright.sync_api import Browser, Page

from site_src.build.offline import ICONS, Icon
from tests.browser.icons import ASSETS, drawn

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
def test_the_icons_show_the_mark(browser: Browser, icon: Icon) -> None:
    lying = Image.open(ASSETS / icon.src).convert("RGBA")
    assert lying.size == (icon.size, icon.size)
    mark = Image.open(io.BytesIO(drawn(browser, icon))).convert("RGBA")
    differences = ImageStat.Stat(ImageChops.difference(lying, mark)).mean
    assert max(differences) < MOST_DIFFERENCE, "draw them again: python -m tests.browser.icons"
